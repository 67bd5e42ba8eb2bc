//! Plans come back from the disk as they were: packed or as a folder, byte for byte, and after a crash.

use std::path::Path;

use kurbo::Point;
use pattress::files;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::{
    Device, Family, Kind, Mount, MountKind, PlateLegend, PointRole, PointSpec, PointType, Supply, Symbol,
};
use pattress_model::plan::{
    DoorState, Hand, Level, MakeUp, Opening, OpeningForm, Room, RoomUse, Side, SlopingCeiling, Underlay, Wall,
};
use pattress_model::project::Project;
use pattress_model::store::{Media, read_project, write_project};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value, Zone, ZonePurpose,
};
use pattress_model::units::{Angle, Length, Money, Seconds, TimeOfDay, Watts};
use proptest::prelude::*;

/// What a person drew, as bare figures: a wall of random place, an opening, a device and a name on each.
#[derive(Clone, Debug)]
struct Stroke {
    start: (i32, i32),
    length_tenths: i32,
    direction_millionths: u32,
    choice: u8,
    figure: f64,
    name: String,
}

fn strokes() -> impl Strategy<Value = Vec<Stroke>> {
    let stroke = (
        (-500_000..500_000_i32, -500_000..500_000_i32),
        20_000..200_000_i32,
        0..360_000_000_u32,
        any::<u8>(),
        prop_oneof![-1e6..1e6_f64, Just(0.0), Just(-0.0), Just(0.1 + 0.2), Just(1e-300), Just(123_456_789.0)],
        prop_oneof![".{0,12}", Just("\"\\\n\u{1}“é”\u{1f4a1}".to_owned()), Just(String::new())],
    )
        .prop_map(|(start, length_tenths, direction_millionths, choice, figure, name)| Stroke {
            start,
            length_tenths,
            direction_millionths,
            choice,
            figure,
            name,
        });
    proptest::collection::vec(stroke, 0..12)
}

fn millionths(stroke: &Stroke) -> Angle {
    Angle::degrees(f64::from(stroke.direction_millionths) / 1e6)
}

/// The same within what a door can open to.
fn half_a_turn(stroke: &Stroke) -> Angle {
    Angle::degrees(f64::from(stroke.direction_millionths.rem_euclid(180_000_000)) / 1e6)
}

/// A project drawn from strokes, each of them one change.
fn drawn(strokes: &[Stroke]) -> (Project, Vec<Change>) {
    let mut project = Project::new();
    let mut history = History::default();
    let mut changes = Vec::new();
    let level = project.levels.ids().next().expect("a level");
    for stroke in strokes {
        let change = change_of(&project, level, stroke);
        history.apply(&mut project, change.clone()).expect("sound");
        changes.push(change);
    }
    (project, changes)
}

fn change_of(project: &Project, level: Id<Level>, stroke: &Stroke) -> Change {
    let mut ids = project.fresh_ids();
    let tenth = |value: i32| f64::from(value) / 10.0;
    let start = Point::new(tenth(stroke.start.0), tenth(stroke.start.1));
    let length = tenth(stroke.length_tenths);
    let (wall, kind, device) = (ids.issue(), ids.issue(), ids.issue());
    let make_up = MakeUp::ALL[usize::from(stroke.choice) % 4];
    let side = if stroke.choice.is_multiple_of(2) { Side::Left } else { Side::Right };
    let form = match stroke.choice % 4 {
        0 => OpeningForm::Plain,
        1 => OpeningForm::Window { sill: Length::mm(900.0) },
        2 => OpeningForm::Door { hinge: Hand::Start, swing: side, state: DoorState::Shut },
        _ => OpeningForm::Door { hinge: Hand::End, swing: side, state: DoorState::Open(half_a_turn(stroke)) },
    };
    let mount = match stroke.choice % 3 {
        0 => Mount::WallFace { wall, side, along: Length::mm(length / 3.0) },
        1 => Mount::Ceiling { at: start },
        _ => Mount::Loose { at: start },
    };
    let ops = vec![
        Op::put(
            wall,
            Wall {
                level,
                start,
                end: start + millionths(stroke).direction() * length,
                thickness: Length::mm(100.0 + f64::from(stroke.choice) / 10.0),
                height: Length::mm(2400.0),
                make_up,
            },
        ),
        Op::put(
            ids.issue(),
            Opening {
                wall,
                centre: Length::mm(length / 2.0),
                width: Length::mm(762.0),
                head: Length::mm(2040.0),
                form,
            },
        ),
        Op::put(
            ids.issue(),
            Room {
                level,
                name: stroke.name.clone(),
                room_use: RoomUse::ALL[usize::from(stroke.choice) % RoomUse::ALL.len()],
                seed: start,
                ceiling: (stroke.choice.is_multiple_of(3)).then(|| SlopingCeiling {
                    low: Length::mm(900.0),
                    high: Length::mm(2400.0),
                    note: stroke.name.clone(),
                }),
            },
        ),
        Op::put(kind, a_kind(stroke)),
        Op::put(
            device,
            Device {
                kind,
                level,
                tag: project.next_tag("PIR", 0),
                name: stroke.name.clone(),
                mount,
                height_affl: (stroke.choice > 100).then(|| Length::mm(2300.0)),
                turn: millionths(stroke),
                tilt: millionths(stroke),
                note: stroke.name.clone(),
                legend: PlateLegend { is_final: stroke.choice > 100, keys: Vec::new() },
            },
        ),
        Op::put(
            ids.issue(),
            Zone {
                name: stroke.name.clone(),
                purpose: ZonePurpose::ALL[usize::from(stroke.choice) % ZonePurpose::ALL.len()],
                points: vec![PointRef::new(device, "level")],
            },
        ),
        Op::put(ids.issue(), a_rule(stroke, device)),
    ];
    Change::new(stroke.name.clone(), ops)
}

fn a_kind(stroke: &Stroke) -> Kind {
    Kind {
        supply: Supply::ExtraLow { volts: stroke.choice },
        load: Watts(stroke.figure),
        points: vec![PointSpec {
            name: "level".to_owned(),
            point_type: PointType::Number,
            role: PointRole::Does,
        }],
        price: Money { hundredths: i64::from(stroke.start.0) },
        minutes: 20,
        caution: (stroke.choice > 200).then(|| stroke.name.clone()),
        ..Kind::bare(
            &stroke.name,
            Family::ALL[usize::from(stroke.choice) % Family::ALL.len()],
            "PIR",
            Symbol::ALL[usize::from(stroke.choice) % Symbol::ALL.len()],
            MountKind::ALL[usize::from(stroke.choice) % MountKind::ALL.len()],
        )
    }
}

fn a_rule(stroke: &Stroke, device: Id<Device>) -> Rule {
    let point = PointRef::new(device, "level");
    let value = match stroke.choice % 3 {
        0 => Value::Number(stroke.figure),
        1 => Value::Colour([stroke.choice, 0, 255]),
        _ => Value::On,
    };
    Rule {
        name: stroke.name.clone(),
        room: None,
        enabled: stroke.choice > 9,
        comment: String::new(),
        body: RuleBody::When {
            trigger: Trigger::Time(TimeOfDay { minutes: u16::from(stroke.choice) * 5 }),
            conditions: vec![Condition::Point { point: point.clone(), comparison: Comparison::Above, value }],
            actions: vec![Action {
                target: Some(Target::Point(point)),
                deed: Deed::Set(value),
                after: Seconds(stroke.figure.abs()),
                fade: Seconds::ZERO,
                by_hand: None,
            }],
        },
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_written_and_read_is_the_same_plan_and_the_same_text(strokes in strokes()) {
        let (project, _) = drawn(&strokes);
        let text = write_project(&project);
        let back = read_project(&text).map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))?;
        prop_assert_eq!(&back, &project);
        prop_assert_eq!(write_project(&back), text);
    }

    #[test]
    fn undone_and_redone_plans_are_kept_too(strokes in strokes(), back in 0..6_usize) {
        let (mut project, changes) = (Project::new(), drawn(&strokes).1);
        let mut history = History::default();
        for change in changes {
            history.apply(&mut project, change).expect("sound");
        }
        for _ in 0..back {
            history.undo(&mut project);
        }
        let read = read_project(&write_project(&project)).expect("reads");
        prop_assert_eq!(read.next_id(), project.next_id());
        prop_assert_eq!(read.highest_tags(), project.highest_tags());
        prop_assert_eq!(read, project);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_file_and_a_folder_keep_the_same_plan(strokes in strokes(), picture in proptest::collection::vec(any::<u8>(), 1..2000)) {
        let (mut project, _) = drawn(&strokes);
        let mut media = Media::default();
        let change = underlay(&project, media.keep(picture, "png"));
        History::default().apply(&mut project, change).expect("sound");
        let mut with_more = media.clone();
        with_more.keep(vec![7; 2001], "jpg");
        let place = tempfile::tempdir().expect("a folder");
        let texts: Vec<String> = ["house.pattress", "house"]
            .into_iter()
            .map(|name| {
                let path = place.path().join(name);
                files::save(&path, &project, &media).expect("saved");
                // A picture that no underlay shows any more is not written.
                files::save(&path, &project, &with_more).expect("saved over itself");
                let read = files::read(&path).expect("reads");
                assert_eq!((&read.project, &read.media, read.missing_media.len()), (&project, &media, 0));
                write_project(&read.project)
            })
            .collect();
        prop_assert_eq!(&texts[0], &texts[1]);
        let folder_text = std::fs::read_to_string(place.path().join("house/project.json")).expect("there");
        prop_assert_eq!(&folder_text, &texts[1]);
    }

    #[test]
    fn after_a_crash_every_gesture_comes_back(strokes in strokes(), torn in 0..40_usize) {
        let place = tempfile::tempdir().expect("a folder");
        let plan = place.path().join("house.pattress");
        files::save(&plan, &Project::new(), &Media::default()).expect("saved");
        let (project, changes) = drawn(&strokes);
        let log = place.path().join("house.pattress.recovery");
        crash(&plan, &changes);
        let written = std::fs::read(&log).unwrap_or_default();
        // A crash in the midst of a write leaves the start of a line.
        if let Some(change) = changes.last() {
            let line = pattress_model::store::log_line(change);
            let mut torn_log = written.clone();
            torn_log.extend(&line.as_bytes()[..torn.min(line.len() - 1)]);
            std::fs::write(&log, torn_log).expect("written");
        }
        let opened = files::open(&plan).expect("opens");
        prop_assert_eq!(opened.recovered.as_ref().map_or(0, |found| found.changes), changes.len());
        prop_assert_eq!(&opened.project, &project);
        prop_assert!(opened.warnings.is_empty(), "{:?}", opened.warnings);
        drop(opened);
        // The torn line is gone, the whole ones still are there.
        prop_assert_eq!(std::fs::read(&log).unwrap_or_default(), written);
    }
}

/// Opens a plan, makes changes, and goes without saving or closing.
fn crash(plan: &Path, changes: &[Change]) {
    let opened = files::open(plan).expect("opens");
    let mut log = opened.log.expect("a log");
    for change in changes {
        log.append(change, &opened.media).expect("kept");
    }
}

fn underlay(project: &Project, media: String) -> Change {
    let level = project.levels.ids().next().expect("a level");
    let underlay = Underlay {
        level,
        name: "scan.png".to_owned(),
        media,
        page: 1,
        width: 400.0,
        height: 300.0,
        mm_per_unit: 25.4 / 3.0,
        scale_from: None,
        second_length: None,
        position: Point::new(-10.0, 20.0),
        turn: Angle::degrees(-1.4),
        opacity: 0.5,
        on_sheets: false,
    };
    Change::new("Load a picture", vec![Op::put(project.fresh_ids().issue(), underlay)])
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let place = tempfile::tempdir().expect("a folder");
    let mut media = Media::default();
    media.keep(b"one".to_vec(), "png");
    media.keep(b"two".to_vec(), "jpg");
    let bytes: Vec<Vec<u8>> = ["a.pattress", "b.pattress"]
        .into_iter()
        .map(|name| {
            let path = place.path().join(name);
            files::save(&path, &Project::new(), &media).expect("saved");
            std::fs::read(&path).expect("readable")
        })
        .collect();
    assert_eq!(bytes[0], bytes[1]);
    // No time of day went into it: MS-DOS date 1980-01-01, time 00:00 (APPNOTE 4.4.6).
    assert_eq!(&bytes[0][10..14], &[0, 0, 0x21, 0]);
}

#[test]
fn a_plan_is_open_in_one_window_at_a_time() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    files::save(&plan, &Project::new(), &Media::default()).expect("saved");
    let first = files::open(&plan).expect("opens");
    let refusal = files::open(&plan).map(|_| ()).expect_err("opened twice");
    assert!(refusal.to_string().ends_with("is open in another window: go on there, or close it there first"));
    drop(first);
    drop(files::open(&plan).expect("opens again"));
    let left: Vec<_> = std::fs::read_dir(place.path()).expect("a folder").collect();
    assert_eq!(left.len(), 1, "something was left beside the plan: {left:?}");
}

#[test]
fn saving_starts_the_log_anew_and_closing_removes_it() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    files::save(&plan, &Project::new(), &Media::default()).expect("saved");
    let mut opened = files::open(&plan).expect("opens");
    let mut log = opened.log.take().expect("a log");
    // The picture of a change outlives a crash as well.
    let media_name = opened.media.keep(b"picture".to_vec(), "png");
    let change = underlay(&opened.project, media_name);
    History::default().apply(&mut opened.project, change.clone()).expect("sound");
    log.append(&change, &opened.media).expect("kept");
    drop(log);
    let mut again = files::open(&plan).expect("opens");
    assert_eq!(again.recovered, Some(files::Recovered { changes: 1 }));
    assert_eq!(
        (&again.project, &again.media, again.missing_media.len()),
        (&opened.project, &opened.media, 0)
    );
    let mut log = again.log.take().expect("a log");
    let saved = files::save(&plan, &again.project, &again.media).expect("saved");
    log.begin_again(&saved).expect("anew");
    drop(log);
    let third = files::open(&plan).expect("opens");
    assert_eq!((third.recovered.as_ref(), &third.project), (None, &again.project));
    let mut third_log = third.log.expect("a log");
    third_log.append(&Change::new("Nothing", vec![]), &third.media).expect("kept");
    third_log.close();
    let left: Vec<_> = std::fs::read_dir(place.path()).expect("a folder").collect();
    assert_eq!(left.len(), 1, "something was left beside the plan: {left:?}");
}

#[test]
fn a_log_of_another_state_is_set_aside_and_never_played() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    files::save(&plan, &Project::new(), &Media::default()).expect("saved");
    let change = underlay(&Project::new(), format!("{}.png", "ab".repeat(32)));
    crash(&plan, std::slice::from_ref(&change));
    let mut other = Project::new();
    let site = pattress_model::project::Site { client: "A. Client".to_owned(), ..Default::default() };
    History::default().apply(&mut other, Change::of_site("Client", site)).expect("sound");
    files::save(&plan, &other, &Media::default()).expect("saved");
    let opened = files::open(&plan).expect("opens");
    assert_eq!((&opened.project, &opened.recovered), (&other, &None));
    assert!(opened.warnings[0].contains("house.pattress.recovery-aside-1"), "{:?}", opened.warnings);
    let aside = std::fs::read_to_string(place.path().join("house.pattress.recovery-aside-1")).expect("kept");
    assert!(aside.contains(&pattress_model::store::log_line(&change)));
}

#[test]
fn a_damaged_plan_keeps_its_recovery_log() {
    let place = tempfile::tempdir().expect("a folder");
    let plan = place.path().join("house.pattress");
    files::save(&plan, &Project::new(), &Media::default()).expect("saved");
    crash(&plan, &[underlay(&Project::new(), format!("{}.png", "ab".repeat(32)))]);
    let log = place.path().join("house.pattress.recovery");
    let before = std::fs::read(&log).expect("there");
    std::fs::write(&plan, b"PK damaged").expect("written");
    assert!(files::open(&plan).is_err());
    assert_eq!(std::fs::read(&log).expect("still there"), before);
}
