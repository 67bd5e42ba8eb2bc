//! Sheets as they are issued: everything lies in the frame, nothing lies on anything else, the cautions are
//! there, and what is missing is said, on every paper and for small and crowded houses alike.

use std::sync::OnceLock;

use kurbo::{Point, Rect, Shape as _};
use pattress_model::drawing::labels::text_bounds;
use pattress_model::drawing::sheets::{
    CAUTIONS, Discipline, STANDARD_SCALES, SheetOptions, frame_of, level_sheet, sheet_set, title_block_of,
};
use pattress_model::drawing::{Item, Layer, Paper, Role, Shape, Sheet, lettering};
use pattress_model::edit::{Change, History, Op};
use pattress_model::kit::catalogue::{catalogue, kind_by_key};
use pattress_model::kit::{Device, MountKind};
use pattress_model::plan::{JoineryForm, MakeUp, RoomUse};
use pattress_model::project::{Project, Site};
use pattress_model::systems::ZonePurpose;
use pattress_tests::builder::{House, Way};

fn site() -> Site {
    Site {
        project_name: "Orchard End".to_owned(),
        address: "3 Mill Lane, Lower Sallow".to_owned(),
        client: "R. and J. Penhale".to_owned(),
        legal_owner: "Hollin Integration".to_owned(),
        creator: "T. Ashworth".to_owned(),
        approver: "M. Oyelaran".to_owned(),
        drawing_prefix: "OE".to_owned(),
        issue_date: "2026-03-31".to_owned(),
        ..Site::default()
    }
}

/// Two rooms, 9.1 by 5.2 m over all, with a zone, a camera outdoors and a detector.
fn small_house() -> Project {
    let mut house = House::new(site(), kind_by_key);
    house.walls(
        300.0,
        MakeUp::Masonry,
        &[(0.0, 0.0), (9000.0, 0.0), (9000.0, 5000.0), (0.0, 5000.0), (0.0, 0.0)],
    );
    house.walls(100.0, MakeUp::Stud, &[(5000.0, 0.0), (5000.0, 5000.0)]);
    house.window((2500.0, 0.0), 1800.0, 900.0, 2100.0);
    house.door((5000.0, 1000.0), 800.0, Way::Down, Way::Right);
    house.door((7000.0, 5000.0), 900.0, Way::Left, Way::Down);
    house.room("Living room", RoomUse::Living, (2000.0, 2500.0));
    house.room("Kitchen", RoomUse::Kitchen, (7000.0, 2500.0));
    house.joinery("worktop", JoineryForm::Worktop, [8250.0, 400.0, 8850.0, 3000.0], Way::Left, (0.0, 900.0));
    house.on_wall_turned("wall-motion-battery", "", (150.0, 4700.0), Way::Right, 2300.0, -45.0);
    house.on_wall("alarm-keypad", "", (5050.0, 2200.0), Way::Right, 1450.0);
    house.on_wall("room-thermostat", "", (4950.0, 2600.0), Way::Left, 1450.0);
    house.on_ceiling("smoke-alarm", "", (7000.0, 2500.0));
    house.on_ceiling("presence-ceiling", "", (2500.0, 2500.0));
    house.outdoors("camera-bullet", "", (9400.0, 5300.0), 2600.0, 45.0);
    let lights = house.downlights("downlight-damp", [300.0, 300.0, 4700.0, 4700.0], 3, 2);
    house.zone("Living room", ZonePurpose::Lighting, &lights, "level");
    house.finish()
}

/// Every kind of the Kit in one long room, half of them without a height.
fn crowded_house() -> Project {
    let mut house =
        House::new(Site { issue_date: String::new(), client: String::new(), ..site() }, kind_by_key);
    let entries = catalogue();
    let length = 600.0 * entries.len() as f64 + 1000.0;
    house.walls(
        200.0,
        MakeUp::Block,
        &[(0.0, 0.0), (length, 0.0), (length, 6000.0), (0.0, 6000.0), (0.0, 0.0)],
    );
    house.room("Showroom", RoomUse::Living, (1000.0, 3000.0));
    for (index, entry) in entries.iter().enumerate() {
        let x = 700.0 + 600.0 * index as f64;
        match entry.kind.mount {
            MountKind::Wall => drop(house.on_wall(entry.key, "", (x, 100.0), Way::Up, 1200.0)),
            MountKind::Ceiling => drop(house.on_ceiling(entry.key, "", (x, 3000.0))),
            _ => drop(house.on_floor(entry.key, "", (x, 4500.0), 300.0)),
        }
    }
    let mut project = house.finish();
    let undecided: Vec<Op> = project
        .devices
        .iter()
        .step_by(2)
        .map(|(id, device)| Op::put(id, Device { height_affl: None, ..device.clone() }))
        .collect();
    History::default().apply(&mut project, Change::new("Forget heights", undecided)).unwrap();
    project
}

fn options(paper: Paper) -> SheetOptions {
    SheetOptions { paper, scale: 50, date: "2026-03-31".to_owned(), ..SheetOptions::default() }
}

/// Both houses on every paper, issued once for all tests.
fn all_sets() -> &'static [(&'static str, Paper, Vec<Sheet>)] {
    static SETS: OnceLock<Vec<(&'static str, Paper, Vec<Sheet>)>> = OnceLock::new();
    SETS.get_or_init(|| {
        let mut sets = Vec::new();
        for (house, project) in [("small", small_house()), ("crowded", crowded_house())] {
            for paper in Paper::ALL {
                sets.push((house, paper, sheet_set(&project, &options(paper))));
            }
        }
        sets
    })
}

/// The words of a frame with the rectangles they take, paper mm.
fn lettering_of(sheet: &Sheet) -> Vec<(String, Rect)> {
    sheet
        .frame
        .iter()
        .filter_map(|item| match &item.shape {
            Shape::Text { text, .. } => Some((text.clone(), text_bounds(&item.shape, 1.0)?)),
            _ => None,
        })
        .collect()
}

fn all_words(sheet: &Sheet) -> String {
    lettering_of(sheet).into_iter().map(|(words, _)| words).collect::<Vec<_>>().join(" ")
}

/// Whether a sheet is the drawing list or shows the plan, by its number.
fn is_drawing(sheet: &Sheet) -> bool {
    sheet.number.rsplit('-').next().is_some_and(|figures| figures < "500")
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 - 1e-6 && b.x0 < a.x1 - 1e-6 && a.y0 < b.y1 - 1e-6 && b.y0 < a.y1 - 1e-6
}

#[test]
fn no_words_of_the_frame_lie_outside_it_or_on_each_other() {
    for (house, paper, sheets) in all_sets() {
        for sheet in sheets {
            let place = format!("{house} {} on {}", sheet.number, paper.name());
            let (width, height) = sheet.paper.size_mm();
            let strip = frame_of(sheet.paper).inflate(5.0, 5.0);
            assert!(strip.x0 >= 0.0 && strip.y0 >= 0.0 && strip.x1 <= width && strip.y1 <= height);
            let words = lettering_of(sheet);
            for (index, (text, bounds)) in words.iter().enumerate() {
                assert!(strip.contains_rect(*bounds), "{place}: “{text}” at {bounds} leaves the frame");
                for (other, other_bounds) in &words[index + 1..] {
                    assert!(!overlap(*bounds, *other_bounds), "{place}: “{text}” lies on “{other}”");
                }
            }
        }
    }
}

#[test]
fn no_words_of_the_column_or_list_run_into_the_title_block() {
    for (_, _, sheets) in all_sets() {
        for sheet in sheets {
            let title = title_block_of(sheet.paper);
            for (text, bounds) in lettering_of(sheet) {
                let inside = title.contains_rect(bounds);
                assert!(inside || !overlap(bounds, title), "{}: “{text}” cuts the title block", sheet.number);
            }
        }
    }
}

#[test]
fn the_plan_stays_clear_of_column_and_title_block_or_the_sheet_says_that_it_does_not_fit() {
    for (house, paper, sheets) in all_sets() {
        let title = title_block_of(*paper);
        for sheet in sheets.iter().filter(|sheet| sheet.scale > 0) {
            let overflows = all_words(sheet).contains("at any scale");
            assert!(*house == "crowded" || !overflows, "a small house fits on any paper");
            assert!(*paper < Paper::A2 || !overflows, "even the crowded house fits on {}", paper.name());
            if overflows {
                continue;
            }
            let frame_words: Vec<Rect> = lettering_of(sheet).into_iter().map(|(_, bounds)| bounds).collect();
            for item in &sheet.plan {
                let bounds = match &item.shape {
                    Shape::Path(path) if path.elements().is_empty() => continue,
                    Shape::Path(path) => (sheet.paper_from_plan * path).bounding_box(),
                    shape => sheet
                        .paper_from_plan
                        .transform_rect_bbox(text_bounds(shape, f64::from(sheet.scale)).unwrap()),
                };
                let place =
                    format!("{house} {} on {}: {:?} at {bounds}", sheet.number, paper.name(), item.role);
                assert!(frame_of(*paper).contains_rect(bounds), "{place} leaves the frame");
                assert!(!overlap(bounds, title), "{place} lies on the title block");
                assert!(!frame_words.iter().any(|words| overlap(bounds, *words)), "{place} lies on words");
            }
        }
    }
}

#[test]
fn every_sheet_carries_the_cautions_and_says_what_is_missing() {
    for (house, paper, sheets) in all_sets() {
        for sheet in sheets {
            let place = format!("{house} {} on {}", sheet.number, paper.name());
            let words = all_words(sheet);
            for caution in CAUTIONS {
                // Lines break anywhere, so the caution is looked for word by word in their order.
                let mut rest = words.as_str();
                for word in caution.split([' ', '\u{a0}']) {
                    let found = rest.find(word).unwrap_or_else(|| panic!("{place}: “{word}” of {caution}"));
                    rest = &rest[found + word.len()..];
                }
            }
            assert!(words.contains("BS 7671") && words.contains("BS 5839-6"), "{place}");
            // What is handed to people, and what is engraved, is not fitted at a height.
            if is_drawing(sheet) {
                assert_eq!(words.contains("Height missing"), *house == "crowded", "{place}");
            }
        }
    }
    let project = crowded_house();
    let options = SheetOptions { date: String::new(), ..options(Paper::A1) };
    let devices = &sheet_set(&project, &SheetOptions { only: vec!["oe-101".to_owned()], ..options })[0];
    assert!(all_words(devices).contains("date missing") && all_words(devices).contains("Client missing"));
    let undecided = project.devices.iter().filter(|(_, device)| device.height_affl.is_none());
    let words: String = devices
        .frame
        .iter()
        .filter(|item| item.role == Role::Missing)
        .filter_map(
            |item| if let Shape::Text { text, .. } = &item.shape { Some(text.as_str()) } else { None },
        )
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("Height missing: "));
    for (_, device) in undecided {
        assert!(words.contains(&device.tag.to_string()), "{} is not named", device.tag);
    }
}

#[test]
fn cautions_of_kinds_stand_on_the_sheets_that_show_them_once() {
    let project = small_house();
    let sheet =
        level_sheet(&project, project.levels.ids().next().unwrap(), Discipline::Devices, &options(Paper::A3));
    let words = all_words(&sheet);
    let cautions: Vec<&str> = project.kinds.iter().filter_map(|(_, kind)| kind.caution.as_deref()).collect();
    assert!(cautions.len() > 3);
    for sentence in cautions.iter().flat_map(|caution| caution.split(". ")) {
        let first_words = sentence.split_whitespace().take(2).collect::<Vec<_>>().join(" ");
        assert_eq!(words.matches(&first_words).count(), 1, "{sentence}");
    }
}

#[test]
fn the_scale_is_kept_where_the_plan_fits_and_said_where_it_does_not() {
    let project = small_house();
    let level = project.levels.ids().next().unwrap();
    let fits = level_sheet(&project, level, Discipline::Devices, &options(Paper::A3));
    assert_eq!(fits.scale, 50);
    assert!(!all_words(&fits).contains("does not fit"));
    let too_large = SheetOptions { scale: 20, ..options(Paper::A3) };
    let smaller = level_sheet(&project, level, Discipline::Devices, &too_large);
    assert!(smaller.scale > 20 && STANDARD_SCALES.contains(&smaller.scale));
    assert!(all_words(&smaller).contains(&format!("Drawn at 1:{}: at 1:20", smaller.scale)));
}

#[test]
fn ten_metres_of_the_plan_are_200_mm_of_paper_at_one_to_fifty() {
    let project = small_house();
    let level = project.levels.ids().next().unwrap();
    let sheet = level_sheet(&project, level, Discipline::Devices, &options(Paper::A3));
    let (a, b) = (sheet.paper_from_plan * Point::ORIGIN, sheet.paper_from_plan * Point::new(10_000.0, 0.0));
    assert!(((b - a).hypot() - 200.0).abs() < 1e-9);
    assert_eq!((a.x.fract(), a.y.fract()), (0.0, 0.0), "the plan's origin lies on a whole millimetre");
    assert_eq!(sheet.paper_from_plan.as_coeffs()[1], 0.0);
}

#[test]
fn the_set_is_numbered_in_order_and_only_what_is_wanted_comes_out() {
    let project = small_house();
    let numbers = |only: &[&str]| -> Vec<String> {
        let only = only.iter().map(|word| (*word).to_owned()).collect();
        let sheets = sheet_set(&project, &SheetOptions { only, ..options(Paper::A3) });
        sheets.into_iter().map(|sheet| sheet.number).collect()
    };
    assert_eq!(numbers(&[]), ["OE-000", "OE-101", "OE-201", "OE-301", "OE-401"]);
    assert_eq!(numbers(&["detection", "OE-000"]), ["OE-000", "OE-201"]);
    assert!(numbers(&["nothing of the sort"]).is_empty());
    let sheets = sheet_set(&project, &options(Paper::A3));
    assert!(all_words(&sheets[2]).contains("3 of 5"));
    assert!(all_words(&sheets[0]).contains("Ground floor: setting-out"));
}

#[test]
fn coverage_is_cut_at_the_edge_of_the_drawing() {
    let project = small_house();
    let level = project.levels.ids().next().unwrap();
    let sheet = level_sheet(&project, level, Discipline::Detection, &options(Paper::A3));
    let seen: Vec<&Item> = sheet.plan.iter().filter(|item| item.layer == Layer::Coverage).collect();
    assert!(seen.len() >= 3, "camera, detector and presence are drawn");
    for item in seen {
        // Areas and lines of what is covered, and the names of a camera's levels along its lines.
        let bounds = match &item.shape {
            Shape::Path(path) => (sheet.paper_from_plan * path).bounding_box(),
            Shape::Text { at, .. } => {
                kurbo::Rect::from_points(sheet.paper_from_plan * *at, sheet.paper_from_plan * *at)
            }
            Shape::Picture { .. } => panic!("nothing that is covered is a picture"),
        };
        assert!(frame_of(Paper::A3).contains_rect(bounds) && bounds.x1 < 320.0, "{bounds}");
    }
}

#[test]
fn every_letter_of_the_sheets_is_in_the_face() {
    for (_, _, sheets) in all_sets() {
        for sheet in sheets {
            for item in sheet.plan.iter().chain(&sheet.frame) {
                if let Shape::Text { text, weight, .. } = &item.shape {
                    for letter in text.chars() {
                        assert!(
                            lettering::has_letter(letter, *weight),
                            "{}: {letter:?} in “{text}”",
                            sheet.number
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn the_same_project_gives_the_same_sheets() {
    let project = small_house();
    assert_eq!(sheet_set(&project, &options(Paper::A3)), sheet_set(&project, &options(Paper::A3)));
}
