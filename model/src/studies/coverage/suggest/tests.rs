//! Suggestions in small rooms, held to what the checks say and to figures worked out by hand.

use super::*;
use crate::checks::{CHECKS, House};
use crate::kit::{Detection, Family, Optics, ReachLeft};
use crate::plan::{DoorState, Joinery, JoineryForm, OpeningForm, Sense, SpotUse};
use crate::small_house::plain_kind;
use crate::studies::coverage::rooms::small_rooms::{TwoRooms, detector, door, two_rooms};

fn wall_detector(degrees: f64, metres: f64) -> Kind {
    let mut kind = plain_kind("Wall detector", Family::Presence, "PIR", MountKind::Wall, &["motion"]);
    kind.default_height = Some(Length::mm(2000.0));
    let pattern = Pattern::Fan { angle: Angle::degrees(degrees), range: Length::m(metres) };
    kind.detection = Some(Detection::plain(Sense::BodyHeat, pattern));
    kind
}

fn kitchen(rooms: &TwoRooms, kind: &Kind, wish: Wish) -> Suggestion {
    suggest(&rooms.house.project, rooms.house.kitchen, kind, wish)
}

fn window(rooms: &mut TwoRooms, wall: usize, centre: f64) -> Id<Opening> {
    let wall = rooms.house.walls[wall];
    rooms.house.put(Opening {
        wall,
        centre: Length::mm(centre),
        width: Length::mm(1200.0),
        head: Length::mm(2100.0),
        form: OpeningForm::Window { sill: Length::mm(900.0) },
    })
}

fn spot(rooms: &mut TwoRooms, spot_use: SpotUse, at: (f64, f64), height: f64) -> Id<Spot> {
    let (level, name) = (rooms.house.ground, "Spot".to_owned());
    rooms.house.put(Spot { level, name, spot_use, at: at.into(), height_affl: Length::mm(height) })
}

#[test]
fn a_corner_that_sees_the_whole_room_is_best_and_the_three_differ() {
    let mut rooms = two_rooms();
    rooms.way(1500.0, door(DoorState::Shut));
    let answer = kitchen(&rooms, &wall_detector(90.0, 12.0), Wish::LightByMotion);
    assert!((100..=MOST_POSES).contains(&answer.tried), "{}", answer.tried);
    assert!(answer.said.contains(&answer.tried.to_string()) && answer.said.contains("share of the floor"));
    assert_eq!(answer.best.len(), 3);
    for (index, pose) in answer.best.iter().enumerate() {
        // Of a room of 3.9 m by 2.9 m, 90° from 100 mm beside a corner leaves a wedge of 100 mm along one wall and
        // nothing more: 3.9 × 0.1 + 0.1² / 2 m² of 11.31 at most, 3.5 %.
        assert!(pose.share > 0.96, "{} {}", pose.at, pose.share);
        assert_eq!(pose.ways_unseen, 0);
        let walked = pose.first_seen.unwrap().as_m();
        assert!((pose.score - (pose.share - 0.1 * walked)).abs() < 1e-9);
        for other in &answer.best[..index] {
            assert!(other.at.distance(pose.at) >= 1000.0 && other.score >= pose.score);
        }
    }
    assert_eq!(answer, kitchen(&rooms, &wall_detector(90.0, 12.0), Wish::LightByMotion));
}

#[test]
fn no_place_that_is_tried_is_one_that_a_check_warns_of() {
    // A door that swings into the kitchen, a window that reaches to the height, and a wardrobe in a corner.
    let mut rooms = two_rooms();
    let into_kitchen = OpeningForm::Door {
        hinge: crate::plan::Hand::End,
        swing: crate::plan::Side::Left,
        state: DoorState::Shut,
    };
    rooms.way(2300.0, into_kitchen);
    window(&mut rooms, 0, 2000.0);
    let level = rooms.house.ground;
    rooms.house.put(Joinery {
        level,
        name: "Wardrobe".to_owned(),
        form: JoineryForm::Wardrobe,
        centre: Point::new(400.0, 2650.0),
        width: Length::mm(700.0),
        depth: Length::mm(600.0),
        turn: Angle::ZERO,
        base: Length::ZERO,
        top: Length::mm(2100.0),
        leaves: Vec::new(),
    });
    let kind = wall_detector(90.0, 12.0);
    let kind_id = rooms.house.put(kind.clone());
    let whereabouts = rooms.whereabouts();
    let project = rooms.house.project.clone();
    let outline = whereabouts.outline(&project, rooms.house.kitchen).unwrap();
    let height = Length::mm(2000.0);
    let wanted = Wanted { project: &project, level, outline, kind: &kind, height };
    let made = |mount| Device {
        kind: kind_id,
        level,
        tag: Tag { code: "PIR".to_owned(), number: 1 },
        name: String::new(),
        mount,
        height_affl: Some(height),
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: Default::default(),
    };
    let places = places::on_walls(&wanted, 200, made);
    assert!(places.len() > 80, "{}", places.len());
    for (index, device) in places.iter().enumerate() {
        let mount = device.mount;
        rooms
            .house
            .put(Device { tag: Tag { code: "PIR".to_owned(), number: index as u32 + 1 }, ..made(mount) });
        let at = project.position_of(device).unwrap();
        assert!(!(at.x < 750.0 && at.y > 2350.0), "behind the wardrobe: {at}");
    }
    let house = House::of(&rooms.house.project);
    let mut found = Vec::new();
    for check in CHECKS.iter().filter(|check| ["in-opening", "behind-door"].contains(&check.name)) {
        (check.run)(&house, &mut found);
    }
    assert!(found.is_empty(), "{:?}", found.first());
    // The gap from 1900 to 2700 along the wall, and the face behind the leaf beyond it, are left out.
    assert!(places.iter().all(|device| {
        let Mount::WallFace { wall, along, .. } = device.mount else { return false };
        wall != rooms.house.walls[1] || !(1800.0..2950.0).contains(&along.as_mm())
    }));
}

#[test]
fn a_pose_that_faces_a_window_gives_way_to_one_that_does_not() {
    let mut rooms = two_rooms();
    let window = window(&mut rooms, 2, 2000.0);
    let answer = kitchen(&rooms, &wall_detector(90.0, 12.0), Wish::LightByMotion);
    // The north wall has the window; from it, or along it, the glass is not in view.
    assert!(answer.best[0].windows_faced.is_empty(), "{:?}", answer.best[0].at);
    let project = rooms.house.project.clone();
    let (whereabouts, kind) = (rooms.whereabouts(), wall_detector(90.0, 12.0));
    let outline = whereabouts.outline(&project, rooms.house.kitchen).unwrap();
    let room = (rooms.house.kitchen, outline);
    let mut ids = project.fresh_ids();
    let mut judge =
        Judge::new(&project, &whereabouts, room, &kind, ids.issue(), Wish::LightByMotion).unwrap();
    let facing = Device {
        kind: ids.issue(),
        level: rooms.house.ground,
        tag: Tag { code: "PIR".to_owned(), number: 1 },
        name: String::new(),
        mount: rooms.house.on_wall(0, 2000.0),
        height_affl: kind.default_height,
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: Default::default(),
    };
    let pose = judge.pose(&facing).unwrap();
    assert_eq!(pose.windows_faced, [window]);
    // 90° from the middle of the long wall of 3.9 m leaves two triangles of 1.95² / 2 m² at its sides: 3.80 of 11.31.
    assert!((pose.share - (1.0 - 1.95 * 1.95 / (3.9 * 2.9))).abs() < 1e-3, "{}", pose.share);
    assert!((pose.score - (pose.share - 0.1)).abs() < 1e-9);
}

#[test]
fn a_presence_detector_is_put_where_it_notices_the_desk() {
    let mut kind = detector(Sense::BodyHeat, 3000.0);
    if let Some(detection) = &mut kind.detection {
        detection.reach_left = ReachLeft { still: 0.5, ..ReachLeft::WHOLE };
    }
    let mut rooms = two_rooms();
    spot(&mut rooms, SpotUse::Desk, (500.0, 500.0), 800.0);
    let answer = kitchen(&rooms, &kind, Wish::Sitting);
    assert!((100..=MOST_POSES).contains(&answer.tried), "{}", answer.tried);
    for pose in &answer.best {
        assert_eq!(pose.dwelt_in, (1, 1), "{}", pose.at);
        assert!(pose.at.distance(Point::new(500.0, 500.0)) <= 1500.0);
        assert!(pose.at.x >= 350.0 && pose.at.y >= 350.0, "300 mm from the walls: {}", pose.at);
    }
    // Nearest to the middle of the room within those 1.5 m, but for the grid's step of 0.25 m.
    assert!(answer.best[0].share > 0.45, "{}", answer.best[0].share);
}

#[test]
fn a_camera_is_aimed_and_gives_pixels_by_its_depth() {
    let mut kind = plain_kind("Camera", Family::CamerasAndEntry, "CAM", MountKind::Wall, &[]);
    kind.default_height = Some(Length::mm(2300.0));
    kind.optics = Some(Optics {
        sensor_width: Length::mm(5.37),
        focal_length: Length::mm(4.0),
        pixels_across: 1920,
        pixels_down: 1080,
        stated_view: None,
        drawn_range: Length::m(20.0),
    });
    let mut rooms = two_rooms();
    let face = spot(&mut rooms, SpotUse::ToBeSeen, (3900.0, 1500.0), 1600.0);
    let answer = kitchen(&rooms, &kind, Wish::Camera(face));
    assert!(answer.best.len() >= 2, "{answer:?}");
    for pose in &answer.best {
        let shown = pose.shown.unwrap();
        let across = pose.at.distance(Point::new(3900.0, 1500.0)) / 1000.0;
        // N f / (w D) with D through the air: facts of any lens handbook.
        let depth = across.hypot(0.7);
        assert!((shown.px_per_m - 1920.0 * 4.0 / (5.37 * depth)).abs() < 1.0, "{pose:?}");
        assert!((shown.down.as_degrees() - (0.7 / across).atan().to_degrees()).abs() < 0.1);
        assert!((pose.tilt.as_degrees() - shown.down.as_degrees()).abs() < 0.1);
    }
    // All of the room is within the 5.7 m at which 250 px/m are left, so the flattest look is best: from a far corner,
    // 100 mm beside it, 3.75 m by 1.45 m away.
    let farthest = answer.best[0].at.distance(Point::new(3900.0, 1500.0));
    assert!((farthest - 3750.0f64.hypot(1450.0)).abs() < 60.0, "{}", answer.best[0].at);
    let gone = rooms.house.put(Spot {
        level: rooms.house.ground,
        name: "Outside".to_owned(),
        spot_use: SpotUse::ToBeSeen,
        at: Point::new(2000.0, -3000.0),
        height_affl: Length::mm(1600.0),
    });
    assert!(kitchen(&rooms, &kind, Wish::Camera(gone)).best.is_empty());
    assert_eq!(kitchen(&rooms, &wall_detector(90.0, 12.0), Wish::Camera(face)).tried, 0);
}

#[test]
fn an_intruder_detector_sees_the_inside_of_the_windows() {
    let mut rooms = two_rooms();
    rooms.way(1500.0, door(DoorState::Shut));
    window(&mut rooms, 2, 1000.0);
    let answer = kitchen(&rooms, &wall_detector(90.0, 12.0), Wish::Intrusion);
    assert_eq!(answer.best[0].openings, (2, 2));
    let pose = &answer.best[0];
    let expected = pose.share + 1.0 - 0.1 * pose.windows_faced.len() as f64;
    assert!((pose.score - expected).abs() < 1e-9);
}

#[test]
fn what_cannot_be_tried_says_why() {
    let rooms = two_rooms();
    let kind = wall_detector(90.0, 12.0);
    let plate = plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &[]);
    let undecided = Kind { default_height: None, ..kind.clone() };
    let on_floor = Kind { mount: MountKind::Floor, ..kind.clone() };
    for (kind, why) in
        [(&plate, "senses nothing"), (&undecided, "no usual height"), (&on_floor, "walls and ceilings only")]
    {
        let answer = kitchen(&rooms, kind, Wish::LightByMotion);
        assert_eq!((answer.tried, answer.best.len()), (0, 0));
        assert!(answer.said.contains(why), "{}", answer.said);
    }
    let small = crate::small_house::small_house();
    let (wine, _) = small.project.rooms.iter().find(|(_, room)| room.name == "Wine").unwrap();
    assert!(suggest(&small.project, wine, &kind, Wish::LightByMotion).said.contains("do not close"));
}
