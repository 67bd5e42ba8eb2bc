//! Tables of pointers and what they catch, on a small house drawn here.

use kurbo::{Point, Vec2};

use super::*;
use crate::edit::verbs::{WallSpec, add_opening, draw_room, draw_walls};
use crate::edit::{Change, History, Subject};
use crate::id::Id;
use crate::kit::{Family, Kind, Mount, MountKind, Symbol};
use crate::plan::{DoorState, Hand, Level, MakeUp, Opening, OpeningForm, Side};
use crate::project::Project;
use crate::units::{Angle, Length};

const SPEC: WallSpec =
    WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Stud };

fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn apply(project: &mut Project, change: Result<Change, String>) {
    History::default().apply(project, change.unwrap()).unwrap();
}

/// A room of 4 by 3 m on its axes, with a door of 800 in the middle of its lower wall (wall 2) and a window
/// of 1000 with a sill at 900 in the middle of its upper wall (wall 4).
fn house() -> (Project, Id<Level>) {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let room = draw_room(&project, level, kurbo::Rect::new(0.0, 0.0, 4000.0, 3000.0), SPEC);
    apply(&mut project, room);
    let door = OpeningForm::Door {
        hinge: Hand::Start,
        swing: Side::Left,
        state: DoorState::Open(Angle::degrees(90.0)),
    };
    let window = OpeningForm::Window { sill: Length::mm(900.0) };
    for (wall, width, form) in [(2, 800.0, door), (4, 1000.0, window)] {
        let opening = Opening {
            wall: Id::from_number(wall),
            centre: Length::mm(2000.0),
            width: Length::mm(width),
            head: Length::mm(2040.0),
            form,
        };
        let added = add_opening(&project, opening);
        apply(&mut project, added);
    }
    (project, level)
}

fn kind(mount: MountKind, family: Family, height: Option<f64>) -> Kind {
    Kind {
        default_height: height.map(Length::mm),
        ..Kind::bare("Thing", family, "T", Symbol::CodeInSquare, mount)
    }
}

#[test]
fn a_point_catches_the_first_of_what_is_within_reach() {
    use SnapReason::*;
    let (project, level) = house();
    let index = SnapIndex::of_level(&project, level);
    for (pointer, from, landing, why) in [
        (at(30.0, -20.0), None, at(0.0, 0.0), WallEnd),
        (at(2030.0, 40.0), None, at(2000.0, 0.0), WallMiddle),
        (at(1204.0, 30.0), None, at(1204.0, 0.0), OnWall),
        (at(1204.0, 30.0), Some(at(1160.0, 900.0)), at(1160.0, 0.0), OnWallSquare),
        (at(1503.0, 1230.0), Some(at(600.0, 1200.0)), at(1500.0, 1200.0), RightAngle),
        (at(630.0, 2230.0), Some(at(600.0, 1200.0)), at(600.0, 2230.0), RightAngle),
        (at(6000.0, 1230.0), Some(at(600.0, 1200.0)), at(6000.0, 1200.0), RightAngle),
        (at(4030.0, 5030.0), None, at(4000.0, 5030.0), InLineWithCorner),
        (at(6503.0, 3020.0), None, at(6500.0, 3000.0), InLineWithCorner),
        (at(6504.0, 5506.0), None, at(6500.0, 5510.0), Grid),
    ] {
        let request = SnapRequest { at: pointer, reach_mm: 60.0, from, skip: Vec::new() };
        let caught = snap(&index, &request);
        assert_eq!((caught.at, caught.why), (landing, why), "pointer {pointer}, from {from:?}");
        assert!(!caught.why.words().is_empty());
    }
    let off = SnapRequest { at: at(30.04, -20.0), reach_mm: 0.0, from: None, skip: Vec::new() };
    assert_eq!(snap(&index, &off).at, at(30.0, -20.0));
}

#[test]
fn a_leg_lands_square_to_a_slanting_wall_and_skipped_walls_are_not_caught() {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let slanting = draw_walls(&project, level, &[at(0.0, 0.0), at(3000.0, 4000.0)], SPEC);
    apply(&mut project, slanting);
    let index = SnapIndex::of_level(&project, level);
    let mut request = SnapRequest {
        at: at(1500.0, 2000.0) + Vec2::new(0.8, -0.6) * 1000.0 + Vec2::new(0.6, 0.8) * 20.0,
        reach_mm: 60.0,
        from: Some(at(1500.0, 2000.0)),
        skip: Vec::new(),
    };
    let caught = snap(&index, &request);
    assert_eq!((caught.at, caught.why), (at(2300.0, 1400.0), SnapReason::SquareToWall));
    request.skip = vec![Subject::Wall(project.walls.ids().next().unwrap())];
    assert_eq!(snap(&index, &request).why, SnapReason::Grid);
}

#[test]
fn a_device_goes_to_the_face_on_the_pointers_side_and_never_into_a_hole() {
    let (project, level) = house();
    let index = SnapIndex::of_level(&project, level);
    let plate = kind(MountKind::Wall, Family::Plates, Some(1050.0));
    let socket = kind(MountKind::Wall, Family::Network, Some(450.0));
    let contact = kind(MountKind::Wall, Family::Contacts, Some(1050.0));
    for (kind, pointer, landing, why) in [
        (&plate, at(1000.0, 90.0), Some(at(1000.0, 50.0)), SnapReason::WallFace),
        (&plate, at(1000.0, -90.0), Some(at(1000.0, -50.0)), SnapReason::WallFace),
        (&plate, at(1700.0, 90.0), Some(at(1525.0, 50.0)), SnapReason::BesideReveal),
        (&plate, at(2300.0, 90.0), Some(at(2475.0, 50.0)), SnapReason::BesideReveal),
        (&contact, at(1700.0, 90.0), Some(at(1700.0, 50.0)), SnapReason::WallFace),
        (&plate, at(2300.0, 2910.0), Some(at(2575.0, 2950.0)), SnapReason::BesideReveal),
        (&socket, at(2300.0, 2910.0), Some(at(2300.0, 2950.0)), SnapReason::WallFace),
        (&plate, at(20.0, 70.0), Some(at(50.0, 70.0)), SnapReason::WallFace),
        (&plate, at(45.0, 45.0), Some(at(50.0, 50.0)), SnapReason::BesideReveal),
        (&plate, at(2000.0, 1500.0), None, SnapReason::NoHost),
    ] {
        let caught = snap_to_host(&project, &index, kind, None, pointer, 400.0, &[]);
        assert_eq!(caught.why, why, "pointer {pointer}");
        match landing {
            Some(landing) => {
                assert!((caught.at - landing).hypot() < 1e-6, "pointer {pointer} landed at {}", caught.at);
                assert!(matches!(caught.mount, Mount::WallFace { .. }));
            }
            None => assert_eq!(caught.mount, Mount::Loose { at: pointer }),
        }
    }
}

#[test]
fn a_ceiling_device_comes_into_rows_and_onto_centre_lines() {
    use crate::edit::verbs::{Placing, place_device, with_kind};
    let (mut project, level) = house();
    let light = kind(MountKind::Ceiling, Family::Luminaires, Some(2400.0));
    let placed = with_kind(&project, &light, |project, kind| {
        let placing = Placing { kind, level, turn: Angle::ZERO, height: None };
        place_device(project, placing, Mount::Ceiling { at: at(1000.0, 700.0) })
    });
    apply(&mut project, placed);
    let index = SnapIndex::of_level(&project, level);
    for (pointer, landing, why) in [
        (at(1030.0, 2220.0), at(1000.0, 2220.0), SnapReason::InLineWithDevice),
        (at(3034.0, 730.0), at(3030.0, 700.0), SnapReason::InLineWithDevice),
        (at(2020.0, 720.0), at(2000.0, 700.0), SnapReason::InLineWithDevice),
        (at(2020.0, 1490.0), at(2000.0, 1500.0), SnapReason::RoomCentreLine),
        (at(1034.0, 5004.0), at(1000.0, 5000.0), SnapReason::InLineWithDevice),
        (at(3034.0, 2004.0), at(3030.0, 2000.0), SnapReason::Grid),
    ] {
        let caught = snap_to_host(&project, &index, &light, None, pointer, 60.0, &[]);
        assert_eq!((caught.at, caught.why), (landing, why), "pointer {pointer}");
    }
}

fn lengths(distances: &[Distance]) -> Vec<f64> {
    distances.iter().map(|distance| distance.length.as_mm()).collect()
}

#[test]
fn distances_run_to_corners_reveals_and_walls() {
    let (mut project, level) = house();
    let low = Some(Length::mm(450.0));
    let on = |wall: u32, side, along: f64| Mount::WallFace {
        wall: Id::from_number(wall),
        side,
        along: Length::mm(along),
    };
    for (mount, expected) in [
        (on(2, Side::Left, 1000.0), vec![950.0, 600.0]),
        (on(2, Side::Right, 1000.0), vec![1050.0, 600.0]),
        (on(2, Side::Left, 1700.0), vec![100.0, 700.0]),
        (on(4, Side::Left, 2000.0), vec![1950.0, 1950.0]),
        (on(3, Side::Right, 500.0), vec![550.0, 2550.0]),
        (Mount::Ceiling { at: at(1000.0, 500.0) }, vec![950.0, 2950.0, 450.0, 2450.0]),
        (Mount::Ceiling { at: at(-500.0, 9000.0) }, vec![]),
        (Mount::Loose { at: at(1000.0, 500.0) }, vec![]),
    ] {
        assert_eq!(lengths(&distances_for(&project, level, mount, low)), expected, "{mount:?}");
    }
    // Above the sill the window's reveals are nearer than the corners.
    let high = distances_for(&project, level, on(4, Side::Left, 1000.0), Some(Length::mm(1200.0)));
    assert_eq!(lengths(&high), [950.0, 500.0]);
    // A wall drawn in two pieces is one face; a partition that meets it makes a corner.
    let two = draw_walls(&project, level, &[at(0.0, 6000.0), at(1000.0, 6000.0), at(4000.0, 6000.0)], SPEC);
    apply(&mut project, two);
    let first = project.walls.ids().nth(4).unwrap();
    let one_face = distances_for(&project, level, on(first.number(), Side::Left, 600.0), low);
    assert_eq!(lengths(&one_face), [600.0, 3400.0]);
    let partition = draw_walls(&project, level, &[at(2000.0, 6000.0), at(2000.0, 8000.0)], SPEC);
    apply(&mut project, partition);
    let to_partition = distances_for(&project, level, on(first.number(), Side::Left, 600.0), low);
    assert_eq!(lengths(&to_partition), [600.0, 1350.0]);
}

/// A grid of a thousand walls answers a pointer's move well within one frame, also in a debug build.
#[test]
fn a_thousand_walls_answer_at_once() {
    let mut project = Project::new();
    let level = project.levels.ids().next().unwrap();
    for row in 0..32 {
        let y = f64::from(row) * 3000.0;
        let points: Vec<Point> = (0..=32).map(|column| at(f64::from(column) * 3000.0, y)).collect();
        let drawn = draw_walls(&project, level, &points, SPEC);
        apply(&mut project, drawn);
    }
    assert_eq!(project.walls.len(), 1024);
    let index = SnapIndex::of_level(&project, level);
    let plate = kind(MountKind::Wall, Family::Plates, Some(1050.0));
    let moves = 100;
    let before = std::time::Instant::now();
    for step in 0..moves {
        let pointer = at(40_000.0 + f64::from(step) * 7.0, 45_060.0);
        let request = SnapRequest { at: pointer, reach_mm: 60.0, from: Some(at(0.0, 1.0)), skip: Vec::new() };
        assert_ne!(snap(&index, &request).why, SnapReason::Grid);
        let caught = snap_to_host(&project, &index, &plate, None, pointer, 400.0, &[]);
        assert_eq!(distances_for(&project, level, caught.mount, plate.default_height).len(), 2);
    }
    let each = before.elapsed() / moves as u32;
    println!("one move of the pointer over 1,024 walls: {each:?}");
    assert!(each < std::time::Duration::from_millis(100), "one move took {each:?}");
}
