//! Cases with an outcome known beforehand, from published tables or from similar triangles.

use super::*;
use crate::kit::{Movement, Pattern, ReachLeft, Tier};
use crate::plan::DoorState;

fn heat(angle: f64, range: f64, tiers: &[(f64, f64)]) -> Detection {
    let tier = |(from, to): &(f64, f64)| Tier { from: Angle::degrees(*from), to: Angle::degrees(*to) };
    let pattern = Pattern::Fan { angle: Angle::degrees(angle), range: Length::mm(range) };
    Detection { tiers: tiers.iter().map(tier).collect(), ..Detection::plain(Sense::BodyHeat, pattern) }
}

fn on_floor() -> Question {
    Question { target: Target::Floor, ..Question::default() }
}

/// Where along +x from an eye at the origin a region begins and ends, mm, to 0.01 mm.
fn along_x(region: &Region, far: f64) -> Option<(f64, f64)> {
    let covered = |x: f64| region.contains(Point::new(x, 0.003));
    let hits: Vec<f64> =
        (0..=4000).map(|step| far * (step as f64 + 0.37) / 4000.0).filter(|x| covered(*x)).collect();
    let step = far / 4000.0;
    let edge = |mut outside: f64, mut inside: f64| {
        while (outside - inside).abs() > 0.001 {
            let middle = f64::midpoint(outside, inside);
            if covered(middle) { inside = middle } else { outside = middle }
        }
        inside
    };
    Some((edge(hits.first()? - step, *hits.first()?), edge(hits.last()? + step, *hits.last()?)))
}

/// “Range and detection of room occupancy sensor”, table 1: mounting height h, blind strip b and aim a on the floor, cm.
/// The page's figures are h · tan 33.6° and h · tan 67°, rounded; a layer from 23° to 56.4° below level is that.
#[test]
fn the_blind_strip_and_the_aim_are_those_of_a_published_table() {
    for (height, blind, aim) in
        [(1500.0, 100.0, 353.0), (1800.0, 120.0, 424.0), (2100.0, 140.0, 495.0), (2350.0, 156.0, 554.0)]
    {
        let plan = Drawn::new(2600.0);
        let seen = plan.seen(
            &plan.at(0.0, 0.0, height, 0.0, 0.0),
            &heat(90.0, 20_000.0, &[(23.0, 56.4)]),
            on_floor(),
        );
        let (near, far) = along_x(&seen.region, 20_000.0).unwrap();
        // Chords stand off the circle by 0.25 mm at most.
        assert!((near / 10.0 - blind).abs() <= 0.53, "{height}: {near}");
        assert!((far / 10.0 - aim).abs() <= 0.53, "{height}: {far}");
        assert!((near - height * 33.6_f64.to_radians().tan()).abs() < 0.3, "{height}: {near}");
        assert!((far - height * 67.0_f64.to_radians().tan()).abs() < 0.3, "{height}: {far}");
        assert!((seen.blind_strip.unwrap() - near).abs() < 0.3);
    }
}

/// A camera's near edge at h / tan(tilt + half the view) and its far edge at h / tan(tilt − half the view), for a drop h
/// from the camera to the target (plane trigonometry).
#[test]
fn a_picture_begins_and_ends_where_trigonometry_says() {
    for (height, target, tilt, view) in [
        (3000.0, 0.0, 20.0, 34.0),
        (3000.0, 1600.0, 20.0, 34.0),
        (2200.0, 1300.0, 0.0, 40.0),
        (2400.0, 0.0, 60.0, 30.0),
    ] {
        let plan = Drawn::new(2600.0);
        let half: f64 = view / 2.0;
        let detection = Detection { sense: Sense::Camera, ..heat(60.0, 30_000.0, &[(-half, half)]) };
        let question = Question { target: Target::At(Length::mm(target)), ..Question::default() };
        let seen = plan.seen(&plan.at(0.0, 0.0, height, 0.0, tilt), &detection, question);
        let drop = height - target;
        let (near, far) = along_x(&seen.region, 30_000.0).unwrap();
        let expected = drop / (tilt + half).to_radians().tan();
        assert!((near - expected).abs() < 0.1, "{near} {expected}");
        let limit =
            if tilt > half { (drop / (tilt - half).to_radians().tan()).min(30_000.0) } else { 30_000.0 };
        assert!((far - limit).abs() < 0.3, "{far} {limit}");
        assert!((seen.blind_strip.unwrap() - expected).abs() < 1e-6);
    }
}

/// The footprint of a picture on the plane of the target: corners by rays through the corners of the picture.
#[test]
fn a_tilted_picture_is_a_trapezium() {
    let plan = Drawn::new(2600.0);
    let detection = Detection { sense: Sense::Camera, ..heat(60.0, 20_000.0, &[(-15.0, 15.0)]) };
    let seen = plan.seen(&plan.at(0.0, 0.0, 3000.0, 0.0, 45.0), &detection, on_floor());
    let (tilt, across) = (45.0_f64.to_radians(), 30.0_f64.to_radians().tan());
    let corner = |down: f64| {
        let (along, below) = (1.0, down.to_radians().tan());
        let (ahead, drop) =
            (along * tilt.cos() - below * tilt.sin(), along * tilt.sin() + below * tilt.cos());
        (3000.0 * ahead / drop, 3000.0 * across / drop)
    };
    let ((near, narrow), (far, wide)) = (corner(15.0), corner(-15.0));
    let expected = (far - near) * (narrow + wide);
    assert!((seen.region.area() - expected).abs() < 10.0, "{} {expected}", seen.region.area());
    assert_eq!(seen.region.shapes.len(), 1);
    assert_eq!(seen.region.shapes[0].outer.without_collinear_points(1e-3).len(), 4);
}

/// Upright on a ceiling of 2.5 m, layers to 60° from straight down: the floor within 2.5 · tan 60° = 4.33 m, seated
/// people within 1.7 · tan 60°.
#[test]
fn a_ceiling_detector_counts_its_layers_from_straight_down() {
    let plan = Drawn::new(2500.0);
    let detection =
        Detection { pattern: Pattern::Round { radius: Length::m(8.0) }, ..heat(360.0, 1.0, &[(0.0, 60.0)]) };
    for (target, drop) in [(Target::Floor, 2500.0), (Target::Seated, 1700.0)] {
        let device = plan.device(Mount::Ceiling { at: Point::ZERO }, None, 0.0, 0.0);
        let seen = plan.seen(&device, &detection, Question { target, ..Question::default() });
        let radius = drop * 60.0_f64.to_radians().tan();
        let exact = std::f64::consts::PI * radius * radius;
        // A chord within 0.25 mm of the circle takes 0.25 · 4/3 / r of its area at most.
        assert!((seen.region.area() - exact).abs() / exact < 0.34 / radius, "{}", seen.region.area());
        assert_eq!(seen.blind_strip, Some(0.0));
    }
}

/// A room with a partition across it at x = 3 m. What lies beyond is seen over, through or not at all.
#[test]
fn each_sense_passes_what_it_passes() {
    let shut = || Some((door(DoorState::Shut), 2100.0));
    let open = || Some((door(DoorState::Open(Angle::degrees(90.0))), 2100.0));
    let pane = || Some((window(900.0), 2100.0));
    for (sense, height, make_up, hole, beyond) in [
        // A partition as high as the ceiling stops body heat; one of 1.2 m is seen over; one of 1.5 m hides what is near.
        (Sense::BodyHeat, 2400.0, MakeUp::Block, None, false),
        (Sense::BodyHeat, 1200.0, MakeUp::Block, None, true),
        (Sense::BodyHeat, 2400.0, MakeUp::Block, open(), true),
        (Sense::BodyHeat, 2400.0, MakeUp::Block, shut(), false),
        (Sense::BodyHeat, 2400.0, MakeUp::Block, pane(), false),
        (Sense::BodyHeat, 2400.0, MakeUp::Glazed, None, false),
        (Sense::Camera, 2400.0, MakeUp::Glazed, None, true),
        (Sense::Camera, 2400.0, MakeUp::Block, pane(), true),
        (Sense::Camera, 2400.0, MakeUp::Block, shut(), false),
        (Sense::Microwave, 2400.0, MakeUp::Stud, None, true),
        (Sense::Microwave, 2400.0, MakeUp::Block, None, false),
        (Sense::Microwave, 2400.0, MakeUp::Glazed, None, true),
        (Sense::Microwave, 2400.0, MakeUp::Block, shut(), true),
        (Sense::Sound, 2400.0, MakeUp::Block, shut(), true),
        (Sense::Sound, 2400.0, MakeUp::Stud, None, false),
        (Sense::Sound, 2400.0, MakeUp::Block, pane(), false),
        (Sense::Dual, 2400.0, MakeUp::Stud, None, false),
        (Sense::Dual, 2400.0, MakeUp::Block, open(), true),
    ] {
        let mut plan = Drawn::new(2400.0);
        plan.box_of_walls(0.0, 0.0, 8000.0, 4000.0);
        let wall = plan.wall((3000.0, 0.0), (3000.0, 4000.0), height, make_up);
        if let Some((form, head)) = hole {
            plan.hole(wall, 2000.0, 900.0, head, form);
        }
        let left = ReachLeft { through_board: 0.6, ..ReachLeft::WHOLE };
        let detection = Detection { sense, reach_left: left, ..heat(90.0, 7000.0, &[]) };
        let seen = plan.seen(&plan.at(500.0, 2000.0, 2000.0, 0.0, 0.0), &detection, Question::default());
        assert!(seen.region.contains(Point::new(2500.0, 2010.0)));
        let found = seen.region.contains(Point::new(4000.0, 2010.0));
        assert_eq!(found, beyond, "{sense:?} {height} {make_up:?} {hole:?}");
    }
}

/// A loss leaves a share of the whole reach beyond one partition, and its square beyond two.
#[test]
fn every_partition_takes_its_share() {
    let mut plan = Drawn::new(2400.0);
    for x in [1000.0, 1500.0] {
        plan.wall((x, -9000.0), (x, 9000.0), 2400.0, MakeUp::Stud);
    }
    let left = ReachLeft { through_board: 0.5, ..ReachLeft::WHOLE };
    let detection = Detection { sense: Sense::Microwave, reach_left: left, ..heat(120.0, 8000.0, &[]) };
    let seen = plan.seen(&plan.at(0.0, 0.0, 2000.0, 0.0, 0.0), &detection, Question::default());
    for (x, y, covered) in [
        (900.0, 1500.0, true),
        // Before the first partition the whole reach of 8 m, here aside.
        (940.0, 1600.0, true),
        // Between the two 4 m, beyond the second 2 m.
        (1300.0, 2200.0, true),
        (1900.0, 0.0, true),
        (2100.0, 0.0, false),
        (1700.0, 1200.0, false),
        (1600.0, 1100.0, true),
    ] {
        assert_eq!(seen.region.contains(Point::new(x, y)), covered, "{x} {y}");
    }
}

/// A partition of 1.8 m between an eye at 2.2 m and somebody walking: similar triangles put the end of its shadow at
/// its far face times (2.2 − 1.3) / (2.2 − 1.8).
#[test]
fn a_wall_lower_than_the_eye_hides_what_is_near_behind_it() {
    let mut plan = Drawn::new(2400.0);
    plan.wall((2000.0, -3000.0), (2000.0, 3000.0), 1800.0, MakeUp::Block);
    let seen =
        plan.seen(&plan.at(0.0, 0.0, 2200.0, 0.0, 0.0), &heat(90.0, 12_000.0, &[]), Question::default());
    let ends = 2050.0 * 900.0 / 400.0;
    for (x, covered) in
        [(1940.0, true), (1960.0, false), (ends - 2.0, false), (ends + 2.0, true), (11_900.0, true)]
    {
        assert_eq!(seen.region.contains(Point::new(x, 0.0)), covered, "{x}");
    }
}

/// A window from 0.9 m to 2.1 m, a camera at 2.4 m, 3 m before it: through it the camera sees the ground from where the
/// line over its sill meets it, to where the line under its head does.
#[test]
fn a_camera_sees_through_a_window_between_sill_and_head() {
    let mut plan = Drawn::new(2600.0);
    let wall = plan.wall((3000.0, -4000.0), (3000.0, 4000.0), 2600.0, MakeUp::Block);
    plan.hole(wall, 4000.0, 2000.0, 2100.0, window(900.0));
    let detection = Detection { sense: Sense::Camera, ..heat(60.0, 40_000.0, &[]) };
    let seen = plan.seen(&plan.at(0.0, 0.0, 2400.0, 0.0, 0.0), &detection, on_floor());
    let (sill, head) = (3050.0 * 2400.0 / 1500.0, 2950.0 * 2400.0 / 300.0);
    for (x, covered) in [
        (2940.0, true),
        (3100.0, false),
        (sill - 2.0, false),
        (sill + 2.0, true),
        (head - 2.0, true),
        (head + 2.0, false),
    ] {
        assert_eq!(seen.region.contains(Point::new(x, 0.0)), covered, "{x}");
    }
}

#[test]
fn a_movement_that_is_hard_to_notice_is_noticed_nearer() {
    let plan = Drawn::new(2600.0);
    let detection = detection_of("wall-motion-12m");
    let device = plan.at(0.0, 0.0, 2200.0, 0.0, 0.0);
    let far = |movement, warm| {
        let asked = Question { movement, warm, ..Question::default() };
        along_x(&plan.seen(&device, &detection, asked).region, 13_000.0).unwrap().1
    };
    for (movement, warm, expected) in [
        (Movement::Across, false, 12_000.0),
        (Movement::Towards, false, 6000.0),
        (Movement::Still, false, 3000.0),
        (Movement::Still, true, 2100.0),
    ] {
        assert!((far(movement, warm) - expected).abs() < 0.3, "{movement:?} {warm}");
    }
}

#[test]
fn smoke_fills_the_room_it_is_in() {
    let mut plan = Drawn::new(2400.0);
    plan.box_of_walls(0.0, 0.0, 6000.0, 4000.0);
    // A stub of wall hides a corner from sight, not from smoke.
    plan.wall((3000.0, 0.0), (3000.0, 2500.0), 2400.0, MakeUp::Block);
    let device = plan.device(Mount::Ceiling { at: Point::new(1000.0, 500.0) }, None, 0.0, 0.0);
    let seen = plan.seen(&device, &detection_of("smoke-alarm"), Question::default());
    assert!(seen.region.contains(Point::new(4000.0, 400.0)));
    assert!(!seen.region.contains(Point::new(7000.0, 400.0)));
    assert!((seen.region.area() - (5900.0 * 3900.0 - 100.0 * 2450.0)).abs() < 1.0, "{}", seen.region.area());
}

#[test]
fn a_sensor_that_sees_nothing_says_why() {
    let mut plan = Drawn::new(2400.0);
    let walls = plan.box_of_walls(0.0, 0.0, 4000.0, 3000.0);
    let wardrobe = plan.joinery((3000.0, 2000.0), (800.0, 800.0), 0.0, 2300.0);
    let lens = heat(90.0, 12_000.0, &[(0.0, 56.4)]);
    let on_face = Mount::WallFace { wall: walls[0], side: Side::Left, along: Length::mm(2000.0) };
    let built_in = Mount::Joinery { joinery: wardrobe, offset: Point::new(0.0, 100.0) };
    for (device, detection, expected) in [
        (plan.device(on_face, Some(2200.0), 0.0, 0.0), lens.clone(), None),
        (plan.at(2000.0, 0.0, 2200.0, 90.0, 0.0), lens.clone(), Some(Blind::InsideWall)),
        (plan.at(3000.0, 2000.0, 2200.0, 90.0, 0.0), lens.clone(), Some(Blind::InsideJoinery)),
        (plan.device(built_in, Some(2200.0), 180.0, 0.0), lens.clone(), None),
        (plan.at(2000.0, 1500.0, 2200.0, 90.0, 0.0), heat(90.0, 0.0, &[]), Some(Blind::NoReach)),
        (plan.at(2000.0, 1500.0, 2200.0, 90.0, 0.0), heat(360.0, 2000.0, &[]), None),
        (plan.at(2000.0, 1500.0, 1200.0, 90.0, 0.0), lens.clone(), Some(Blind::MissesTarget)),
        (plan.device(on_face, Some(2200.0), 180.0, 0.0), lens.clone(), Some(Blind::Hidden)),
        // Far outside every room it still sees what is around it.
        (plan.at(90_000.0, 90_000.0, 2200.0, 90.0, 0.0), lens.clone(), None),
        (plan.device(Mount::Loose { at: Point::new(1000.0, 1000.0) }, Some(2200.0), 0.0, 0.0), lens, None),
    ] {
        let seen = plan.seen(&device, &detection, Question::default());
        assert_eq!(seen.blind, expected, "{device:?}");
        assert_eq!(seen.region.is_empty(), expected.is_some(), "{device:?}");
    }
}

#[test]
fn what_is_not_known_is_said() {
    let mut plan = Drawn::new(2400.0);
    plan.joinery((2000.0, 0.0), (500.0, 500.0), 0.0, 900.0);
    let mut kind = kind_by_key("wall-motion-12m").unwrap();
    kind.default_height = None;
    let kind = put(&mut plan.project, kind);
    let device = Device { kind, height_affl: None, ..plan.at(0.0, 0.0, 0.0, 0.0, 0.0) };
    let seen = plan.seen(&device, &detection_of("wall-motion-12m"), Question::default());
    assert_eq!(seen.reservations, [Reservation::HeightUnknown]);
    assert!(seen.region.contains(Point::new(100.0, 0.0)) && seen.region.contains(Point::new(4000.0, 0.0)));
    let usual = Device { kind: plan.kind, ..device };
    assert!(plan.seen(&usual, &detection_of("wall-motion-12m"), Question::default()).reservations.is_empty());
    let low = plan.device(Mount::Ceiling { at: Point::ZERO }, Some(1900.0), 0.0, 0.0);
    let seen = plan.seen(&low, &detection_of("presence-ceiling"), Question::default());
    assert_eq!(seen.reservations, [Reservation::BesideTable]);
}
