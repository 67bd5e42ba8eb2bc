//! The commands, run as the shell runs them: by their arguments, their two streams and their exit codes.

use std::path::{Path, PathBuf};

use kurbo::Point;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::kit::{Device, Kind, Mount, PlateLegend};
use pattress_model::plan::{Level, MakeUp, Room, RoomUse, Side, Wall};
use pattress_model::project::Project;
use pattress_model::store::Media;
use pattress_model::systems::{PointRef, Zone, ZonePurpose};
use pattress_model::units::{Angle, Length};
use pattress_tests::command_line::pattress;
use serde_json::Value;

fn put<T: pattress_model::project::Kept>(project: &mut Project, thing: T) -> Id<T> {
    let id = project.fresh_ids().issue();
    History::default().apply(project, Change::new("Put", vec![Op::put(id, thing)])).unwrap();
    id
}

/// A garden room of 3.9 m by 2.9 m with a ceiling light, a plate, a motion detector and a smoke alarm.
fn garden_room(with_smoke_alarm: bool) -> Project {
    let mut project = Project::new();
    let level: Id<Level> = project.levels.ids().next().unwrap();
    let corners = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)];
    let walls: Vec<Id<Wall>> = (0..4)
        .map(|index| {
            let (start, end) = (corners[index], corners[(index + 1) % 4]);
            let wall = Wall {
                level,
                start: Point::new(start.0, start.1),
                end: Point::new(end.0, end.1),
                thickness: Length::mm(100.0),
                height: Length::mm(2400.0),
                make_up: MakeUp::Stud,
            };
            put(&mut project, wall)
        })
        .collect();
    let seed = Point::new(2000.0, 1500.0);
    put(
        &mut project,
        Room { level, name: "Garden room".to_owned(), room_use: RoomUse::Study, seed, ceiling: None },
    );
    let on_wall = |wall: usize, along: f64| Mount::WallFace {
        wall: walls[wall],
        side: Side::Left,
        along: Length::mm(along),
    };
    let mut devices = vec![
        ("ceiling-light", Mount::Ceiling { at: Point::new(2000.0, 1500.0) }),
        ("plate-2", on_wall(0, 1000.0)),
        ("wall-motion-12m", on_wall(2, 2000.0)),
    ];
    if with_smoke_alarm {
        devices.push(("smoke-alarm", Mount::Ceiling { at: Point::new(3000.0, 1500.0) }));
    }
    for (key, mount) in devices {
        let kind = kind_by_key(key).unwrap();
        let (code, height_affl) = (kind.code.clone(), kind.default_height);
        let kind: Id<Kind> = put(&mut project, kind);
        let tag = project.next_tag(&code, 0);
        let (name, turn, note) = (String::new(), Angle::ZERO, String::new());
        let tilt = pattress_model::units::Angle::ZERO;
        let legend = PlateLegend::default();
        let device = Device { kind, level, tag, name, mount, height_affl, turn, tilt, note, legend };
        let device = put(&mut project, device);
        if key == "ceiling-light" {
            let points = vec![PointRef::new(device, "level")];
            let name = "Garden room light".to_owned();
            put(&mut project, Zone { name, purpose: ZonePurpose::Lighting, points });
        }
    }
    project
}

/// The garden room as a plan on disk.
fn saved(folder: &Path, project: &Project) -> PathBuf {
    let path = folder.join("garden-room.pattress");
    pattress::files::save(&path, project, &Media::default()).unwrap();
    path
}

/// Every file below a folder with its bytes, by path.
fn content(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in std::fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
                found.push((name, std::fs::read(&path).unwrap()));
            }
        }
    }
    found.sort();
    found
}

#[test]
fn an_issue_writes_sheets_and_schedules_and_twice_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let issue = |to: &str| {
        let to = folder.path().join(to);
        let given = pattress(&[
            "issue",
            plan.to_str().unwrap(),
            "--out",
            to.to_str().unwrap(),
            "--revision",
            "C01",
            "--status",
            "A4",
            "--date",
            "2026-01-31",
            "--paper",
            "A4",
            "--only",
            "HA-000,devices,zones,rules,kit-list,rooms",
        ]);
        assert_eq!((given.code, given.err.as_str()), (0, ""));
        let files = content(&to);
        assert_eq!(given.out.lines().count(), files.len());
        files
    };
    let first = issue("first");
    assert_eq!(first, issue("second"));
    let names: Vec<&str> = first.iter().map(|(name, _)| name.as_str()).collect();
    for expected in [
        "plans.pdf",
        "schedules.xlsx",
        "schedules/devices.csv",
        "schedules/zones.csv",
        "schedules/rules.csv",
        "schedules/kit-list.csv",
        "schedules/rooms.csv",
        "sheets/HA-000.svg",
        "sheets/HA-000.png",
        "sheets/HA-101.svg",
        "sheets/HA-101.png",
    ] {
        assert!(names.contains(&expected), "{expected} among {names:?}");
    }
    let csv = first.iter().find(|(name, _)| name == "schedules/devices.csv").unwrap();
    assert!(String::from_utf8_lossy(&csv.1).contains("PL-01,"));
}

#[test]
fn only_what_is_named_is_issued() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let to = folder.path().join("out");
    let given = pattress(&[
        "issue",
        plan.to_str().unwrap(),
        "--out",
        to.to_str().unwrap(),
        "--only",
        "kit-list,HA-000",
    ]);
    assert_eq!((given.code, given.err.as_str()), (0, ""));
    let names: Vec<String> = content(&to).into_iter().map(|(name, _)| name).collect();
    let expected =
        ["plans.pdf", "schedules.xlsx", "schedules/kit-list.csv", "sheets/HA-000.png", "sheets/HA-000.svg"];
    assert_eq!(names, expected);
}

#[test]
fn a_plan_without_a_date_of_issue_is_issued_all_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let issue = |to: &str, dated: &[&str]| {
        let to = folder.path().join(to);
        let mut line =
            vec!["issue", plan.to_str().unwrap(), "--only", "HA-000", "--out", to.to_str().unwrap()];
        line.extend(dated);
        let given = pattress(&line);
        assert_eq!((given.code, given.err.as_str()), (0, ""));
        let pdf = std::fs::read(to.join("plans.pdf")).unwrap();
        (lopdf::Document::load_mem(&pdf).unwrap().get_pages().len(), pdf)
    };
    let (pages, undated) = issue("undated", &[]);
    assert_eq!(pages, 1);
    assert_eq!(undated, issue("again", &[]).1);
    // Only what carries a date may say that it is PDF/A.
    let claims =
        |pdf: &[u8]| pdf.windows(12).any(|words| words == b"pdfaid:part>" || words == b"pdfaid:part=");
    assert!(!claims(&undated));
    assert!(claims(&issue("dated", &["--date", "2026-01-31"]).1));
}

#[test]
fn figures_are_those_of_the_room_as_drawn() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let given = pattress(&["figures", plan.to_str().unwrap(), "--json"]);
    assert_eq!((given.code, given.err.as_str()), (0, ""));
    let figures: Value = serde_json::from_str(&given.out).unwrap();
    let room = &figures["levels"][0]["rooms"][0];
    assert_eq!((room["area_m2"].as_f64(), room["perimeter_m"].as_f64()), (Some(11.31), Some(13.6)));
    let sensors = figures["coverage"]["sensors"].as_array().unwrap();
    let motion = sensors.iter().find(|sensor| sensor["tag"] == "PIR-01").unwrap();
    assert_eq!(motion["room"], "Garden room");
    // From the middle of a wall of 3.9 m, a right angle sees the room but for two corners, each a right-angled
    // triangle with equal sides of 1.95 m, and but for the strip beneath its lens, which ends 56.4° below level: at
    // breast height, 0.9 m below the eye, a quarter of a circle about its foot.
    let strip = 0.9 / 56.4_f64.to_radians().tan();
    let expected = 11.31 - 1.95 * 1.95 - std::f64::consts::FRAC_PI_4 * strip * strip;
    assert!((motion["area_m2"].as_f64().unwrap() - expected).abs() < 0.01, "{motion}");
    assert!((motion["share_of_room"].as_f64().unwrap() - expected / 11.31).abs() < 0.001);
    let plate = figures["setting_out"].as_array().unwrap();
    let plate = plate.iter().find(|set_out| set_out["tag"] == "PL-01").unwrap();
    assert_eq!(plate["distance_mm"].as_f64(), Some(950.0));
    assert_eq!(plate["from"], "corner on the right");
    assert_eq!(figures["costs"]["quantity"], 4);
    assert_eq!(given.out, pattress(&["figures", plan.to_str().unwrap(), "--json"]).out);
}

#[test]
fn one_study_alone_and_words_say_the_same_figure() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let rooms = pattress(&["figures", plan.to_str().unwrap(), "--study", "rooms", "--json"]);
    let rooms: Value = serde_json::from_str(&rooms.out).unwrap();
    let groups: Vec<&String> = rooms.as_object().unwrap().keys().collect();
    assert_eq!(groups, ["plan", "levels"]);
    let words = pattress(&["figures", plan.to_str().unwrap()]);
    assert_eq!(words.code, 0);
    assert!(words.out.contains("floor 11.31 m², perimeter 13.60 m"), "{}", words.out);
}

#[test]
fn findings_exit_by_the_worst_of_them() {
    for (with_smoke_alarm, expected) in [(true, 0), (false, 1)] {
        let folder = tempfile::tempdir().unwrap();
        let plan = saved(folder.path(), &garden_room(with_smoke_alarm));
        let given = pattress(&["findings", plan.to_str().unwrap(), "--json"]);
        assert_eq!((given.code, given.err.as_str()), (expected, ""));
        let found: Value = serde_json::from_str(&given.out).unwrap();
        assert_eq!(found["serious"], u64::from(expected));
        let all = found["findings"].as_array().unwrap();
        assert_eq!(all.iter().any(|finding| finding["check"] == "storey-smoke-alarm"), !with_smoke_alarm);
        let words = pattress(&["findings", plan.to_str().unwrap()]);
        assert_eq!(words.code, expected);
        assert_eq!(words.out.lines().count(), all.len() + 1);
    }
}

#[test]
fn what_cannot_be_read_is_one_line_and_exit_2() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &garden_room(true));
    let plan = plan.to_str().unwrap();
    let garbage = folder.path().join("garbage.pattress");
    std::fs::write(&garbage, "no plan at all").unwrap();
    let nowhere = folder.path().join("nowhere.pattress");
    let (garbage, nowhere) = (garbage.to_str().unwrap(), nowhere.to_str().unwrap());
    let out = folder.path().join("out");
    let out = out.to_str().unwrap();
    for line in [
        vec!["findings", nowhere],
        vec!["findings", garbage],
        vec!["figures", garbage, "--json"],
        vec!["figures", plan, "--study", "nothing"],
        vec!["issue", nowhere, "--out", out],
        vec!["issue", plan],
        vec!["issue", plan, "--out", out, "--paper", "B5"],
        vec!["issue", plan, "--out", out, "--scale", "big"],
        vec!["issue", plan, "--out", out, "--date", "2026-02-30"],
        vec!["issue", plan, "--out", out, "--only", "nothing"],
        vec!["findings"],
        vec!["findings", plan, "--loudly"],
    ] {
        let given = pattress(&line);
        assert_eq!(given.code, 2, "{line:?}: {}", given.err);
        assert!(given.out.is_empty(), "{line:?}");
        assert_eq!(given.err.lines().count(), 1, "{line:?}: {}", given.err);
        assert!(given.err.starts_with("pattress: ") && given.err.len() > 30, "{}", given.err);
    }
    assert!(!Path::new(out).exists(), "nothing is written where the line is wrong");
}

#[test]
fn help_lists_the_commands_and_the_exit_codes() {
    let given = pattress(&["--help"]);
    assert_eq!((given.code, given.err.as_str()), (0, ""));
    for words in ["issue", "figures", "findings", "Exit codes:", "2  the plan cannot be read"] {
        assert!(given.out.contains(words), "{words}: {}", given.out);
    }
}

#[test]
fn ferry_cottage_has_findings_but_none_that_is_serious() {
    let folder = tempfile::tempdir().unwrap();
    let plan = saved(folder.path(), &pattress_tests::ferry_cottage::ferry_cottage());
    let given = pattress(&["findings", plan.to_str().unwrap()]);
    assert_eq!((given.code, given.err.as_str()), (0, ""), "{}", given.out);
    assert!(given.out.contains("note     facing-window: DT-01 (Living room, Ground floor)"), "{}", given.out);
}
