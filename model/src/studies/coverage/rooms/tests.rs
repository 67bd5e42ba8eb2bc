//! Small rooms with distances worked out by hand.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};
use proptest::prelude::*;

use super::lighters::lighters;
use super::small_rooms::{TwoRooms, detector, door, lit_by_motion, sensor_of, square, two_rooms};
use super::walks::walks;
use super::*;
use crate::geometry::sector::ARC_TOLERANCE;
use crate::kit::{Family, Mount, MountKind, ReachLeft};
use crate::plan::{
    DoorState, DoorsAs, Level, OpeningForm, Room, RoomLine, RoomUse, Sense, Spot, SpotUse, Walk, WalkPoint,
    WalkPurpose,
};
use crate::small_house::plain_kind;
use crate::studies::coverage::{Options, coverage};
use crate::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value, Zone, ZonePurpose,
};
use crate::units::{Length, Seconds};

/// What the kitchen answers under these sensors.
fn kitchen(rooms: &TwoRooms, sensors: &[SensorCoverage]) -> RoomCoverage {
    let (whereabouts, project) = (rooms.whereabouts(), &rooms.house.project);
    let lighters = lighters(project, &whereabouts);
    let answers = of_house(project, &whereabouts, &lighters, sensors);
    answers.into_iter().find(|answer| answer.room == rooms.house.kitchen).unwrap()
}

#[test]
fn the_longer_of_two_straight_lines_from_the_way_in_counts() {
    // The kitchen's floor is 50..3950 by 50..2950 and its middle (2000, 1500). Somebody comes in at x = 3950.
    // What is seen reaches from the left wall to `edge`. Straight in that is 3950 - edge. From y = 600 the line
    // to the middle runs 2147.7 mm for 1950 mm of x, so the distance is (3950 - edge) × 2147.7 / 1950.
    let slant = (1950.0f64 * 1950.0 + 900.0 * 900.0).sqrt() / 1950.0;
    for (y, edge, straight, to_middle) in [
        (1500.0, 2000.0, 1950.0, 1950.0),
        (600.0, 2000.0, 1950.0, 1950.0 * slant),
        (600.0, 3950.0, 0.0, 0.0),
        (600.0, 3000.0, 950.0, 950.0 * slant),
    ] {
        let mut rooms = two_rooms();
        rooms.way(y, OpeningForm::Plain);
        let sensor = rooms.sees(2000.0, 1500.0, Rect::new(50.0, 50.0, edge, 2950.0));
        let answer = kitchen(&rooms, std::slice::from_ref(&sensor));
        let entry = answer.entries[0];
        assert_eq!((answer.entries.len(), entry.way_in.from), (1, Some(rooms.hall)));
        assert_eq!(entry.way_in.at, Point::new(3950.0, y));
        let after = |line: Option<Line>| line.unwrap().seen.unwrap().after.as_mm();
        assert!((after(entry.straight) - straight).abs() < 0.01, "{y} {edge} {entry:?}");
        assert!((after(entry.to_middle) - to_middle).abs() < 0.01, "{y} {edge} {entry:?}");
        let seen = entry.first_seen().unwrap();
        assert!((seen.after.as_mm() - to_middle).abs() < 0.01 && seen.by == sensor.device);
        assert!((entry.time().unwrap().0 - to_middle / 1300.0).abs() < 1e-4);
    }
}

#[test]
fn a_way_by_which_nobody_is_seen_comes_first_and_says_why() {
    let mut rooms = two_rooms();
    rooms.way(560.0, OpeningForm::Plain);
    rooms.way(2400.0, door(DoorState::Shut));
    assert_eq!(kitchen(&rooms, &[]).entries[0].reason(), Some("no sensor lights this room"));
    // Sees the far lower corner only, up to y = 590. From the upper door the line straight in (y = 2400) misses it,
    // and so does the line through the middle, which ends on the left wall at y = 600. From the lower way the line
    // straight in (y = 560) enters it at x = 900; the other, which rises, misses it.
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(50.0, 50.0, 900.0, 590.0));
    let answer = kitchen(&rooms, &[sensor]);
    let [unseen, seen] = answer.entries[..] else { panic!("two ways in") };
    assert_eq!((unseen.way_in.at.y, unseen.first_seen()), (2400.0, None));
    assert_eq!(unseen.reason(), Some("no sensor that lights this room sees somebody who comes in here"));
    assert_eq!(seen.way_in.way.name(), "opening");
    assert!((seen.first_seen().unwrap().after.as_mm() - 3050.0).abs() < 0.01);
    // The line to the middle and on to the left wall, unseen: 3900 mm of x.
    let slant = (1950.0f64 * 1950.0 + 940.0 * 940.0).sqrt() / 1950.0;
    assert!((seen.unseen().unwrap().as_mm() - 3900.0 * slant).abs() < 0.01);
}

#[test]
fn a_room_is_entered_over_the_line_that_parts_it_from_the_next() {
    let mut rooms = two_rooms();
    let level = rooms.house.ground;
    rooms.house.put(RoomLine { level, start: Point::new(1000.0, 0.0), end: Point::new(1000.0, 3000.0) });
    let seed = Point::new(500.0, 500.0);
    let nook = Room { level, name: "Nook".to_owned(), room_use: RoomUse::Dining, seed, ceiling: None };
    let nook = rooms.house.put(nook);
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(2000.0, 50.0, 3950.0, 2950.0));
    let answer = kitchen(&rooms, &[sensor]);
    let [entry] = answer.entries[..] else { panic!("one way in: {:?}", answer.entries) };
    assert_eq!((entry.way_in.way.name(), entry.way_in.from), ("room line", Some(nook)));
    assert!(entry.way_in.at.distance(Point::new(1000.0, 1500.0)) < 0.6, "{:?}", entry.way_in.at);
    // From the line, at x = 1000, to where the sensor begins to see, at x = 2000.
    assert!((entry.first_seen().unwrap().after.as_mm() - 1000.0).abs() < 0.1);
    assert!((answer.area.as_mm2() - 2950.0 * 2900.0).abs() < 50.0);
}

#[test]
fn a_sensor_next_door_counts_where_a_rule_lights_the_room_by_it_and_not_where_none_does() {
    let mut rooms = two_rooms();
    rooms.way(1500.0, OpeningForm::Plain);
    let own = rooms.sees(500.0, 500.0, Rect::new(50.0, 50.0, 950.0, 2950.0));
    let next_door = rooms.sees(5000.0, 1500.0, Rect::new(3000.0, 1100.0, 5950.0, 1900.0));
    let views = [own.clone(), next_door.clone()];
    let first = |rooms: &TwoRooms| {
        let seen = kitchen(rooms, &views).entries[0].first_seen().unwrap();
        (seen.after.as_mm().round(), seen.by)
    };
    assert_eq!(first(&rooms), (3000.0, own.device));
    let lamp = rooms.lamp(2000.0, 2000.0);
    let rule = rooms.house.put(lit_by_motion(next_door.device, lamp, 60.0));
    assert_eq!(first(&rooms), (0.0, next_door.device));
    let lighting = kitchen(&rooms, &views).lighters;
    assert_eq!(lighting.len(), 1);
    assert_eq!(lighting[0].rule, Some(rule));
    assert_eq!(lighting[0].stays_on, StaysOn::AfterLast(Seconds(60.0)));
}

#[test]
fn a_contact_lights_the_room_for_whoever_opens_its_door() {
    // Two doors in one wall, 600 and 2400 mm along it; the contact is on the frame of the upper one.
    let mut rooms = two_rooms();
    rooms.way(600.0, door(DoorState::Shut));
    let upper = rooms.way(2400.0, door(DoorState::Shut));
    let kind = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
    let kind = rooms.house.put(kind);
    let contact = rooms.house.place(kind, rooms.house.on_wall(1, 2820.0), Some(2050.0));
    let lamp = rooms.lamp(2000.0, 2000.0);
    let mut rule = lit_by_motion(contact, lamp, 5.0);
    rule = rule.with_points(&|point| match point.point.as_str() {
        "motion" => PointRef::new(point.device, "open"),
        _ => point.clone(),
    });
    rooms.house.put(rule);
    let answer = kitchen(&rooms, &[]);
    assert_eq!(answer.entries[0].first_seen(), None);
    assert_eq!(answer.entries[1].way_in.way, Way::Door(upper));
    assert_eq!(answer.entries[1].first_seen(), Some(Seen { after: Length::ZERO, by: contact }));
    // Somebody who walks through the upper door has light from the wall on, 1950 mm from where they start.
    rooms.walk(&[(5950.0, 2400.0), (500.0, 2400.0)]);
    assert_eq!(stretches(&rooms, &[])[1..], [(1900.0, 1950.0, Light::NotYet), (1950.0, 5450.0, Light::On)]);
    // A sensor of people in the room stands in for the other door, which has no contact.
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(50.0, 50.0, 2000.0, 2950.0));
    assert_eq!(
        kitchen(&rooms, std::slice::from_ref(&sensor)).entries[0].first_seen().unwrap().by,
        sensor.device
    );
}

#[test]
fn which_rules_make_a_sensor_light_a_room() {
    let on = |point: &PointRef| Condition::Point {
        point: point.clone(),
        comparison: Comparison::Is,
        value: Value::On,
    };
    let becomes = |point: &PointRef, value| Trigger::Becomes {
        point: point.clone(),
        comparison: Comparison::Is,
        value,
    };
    let set = |target: &Target, value| Action::new(Some(target.clone()), Deed::Set(value));
    type Body = dyn Fn(&PointRef, &Target) -> RuleBody;
    let when = |trigger, actions| RuleBody::When { trigger, conditions: Vec::new(), actions };
    let cases: [(&str, bool, Box<Body>); 7] = [
        (
            "motion sets it on",
            true,
            Box::new(move |motion, lamp| when(becomes(motion, Value::On), vec![set(lamp, Value::On)])),
        ),
        (
            "motion ends and sets it on",
            false,
            Box::new(move |motion, lamp| when(becomes(motion, Value::Off), vec![set(lamp, Value::On)])),
        ),
        (
            "motion sets it off",
            false,
            Box::new(move |motion, lamp| {
                when(becomes(motion, Value::On), vec![set(lamp, Value::Number(0.0))])
            }),
        ),
        (
            "motion toggles it",
            true,
            Box::new(move |motion, lamp| {
                when(becomes(motion, Value::On), vec![Action::new(Some(lamp.clone()), Deed::Toggle)])
            }),
        ),
        (
            "motion is only a condition",
            false,
            Box::new(move |motion, lamp| RuleBody::When {
                trigger: Trigger::Time(crate::units::TimeOfDay::parse("07:00").unwrap()),
                conditions: vec![on(motion)],
                actions: vec![set(lamp, Value::On)],
            }),
        ),
        (
            "the tamper contact sets it on",
            false,
            Box::new(move |motion, lamp| {
                let tamper = PointRef::new(motion.device, "tamper");
                when(becomes(&tamper, Value::On), vec![set(lamp, Value::On)])
            }),
        ),
        (
            "no motion for a while",
            false,
            Box::new(move |motion, lamp| {
                let condition = Condition::Not(Box::new(on(motion)));
                when(Trigger::Stays { condition, lasting: Seconds(60.0) }, vec![set(lamp, Value::On)])
            }),
        ),
    ];
    for (name, lights, body) in cases {
        for in_zone in [false, true] {
            let mut rooms = two_rooms();
            let sensor = rooms.sees(5000.0, 1500.0, Rect::new(0.0, 0.0, 1.0, 1.0));
            let lamp = PointRef::new(rooms.lamp(2000.0, 1500.0), "level");
            let target = if in_zone {
                let name = "Kitchen".to_owned();
                Target::Zone(rooms.house.put(Zone {
                    name,
                    purpose: ZonePurpose::Lighting,
                    points: vec![lamp],
                }))
            } else {
                Target::Point(lamp)
            };
            let motion = PointRef::new(sensor.device, "motion");
            let mut rule = lit_by_motion(sensor.device, sensor.device, 0.0);
            rule.body = body(&motion, &target);
            rule.enabled = true;
            let id = rooms.house.put(rule.clone());
            let lighting = |rooms: &TwoRooms| {
                let by_room = lighters(&rooms.house.project, &rooms.whereabouts());
                by_room.get(&rooms.house.kitchen).map_or(0, Vec::len)
            };
            assert_eq!(lighting(&rooms), usize::from(lights), "{name}, in a zone: {in_zone}");
            rooms.house.project.rules.put(id, std::sync::Arc::new(Rule { enabled: false, ..rule }));
            assert_eq!(lighting(&rooms), 0, "{name}, off");
        }
    }
}

#[test]
fn the_light_goes_out_as_the_rules_say() {
    let mut rooms = two_rooms();
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(0.0, 0.0, 1.0, 1.0));
    let lamp = rooms.lamp(2000.0, 1500.0);
    let target = Target::Point(PointRef::new(lamp, "level"));
    let point = PointRef::new(sensor.device, "motion");
    let when = |trigger, deed, after| {
        let action = Action { after: Seconds(after), ..Action::new(Some(target.clone()), deed) };
        let body = RuleBody::When { trigger, conditions: Vec::new(), actions: vec![action] };
        Rule { body, ..lit_by_motion(sensor.device, lamp, 0.0) }
    };
    let becomes = |value| Trigger::Becomes { point: point.clone(), comparison: Comparison::Is, value };
    let lasts = |rooms: &TwoRooms| {
        lighters(&rooms.house.project, &rooms.whereabouts())[&rooms.house.kitchen][0].stays_on
    };
    rooms.house.put(when(becomes(Value::On), Deed::Set(Value::On), 0.0));
    assert_eq!(lasts(&rooms), StaysOn::Unsaid);
    rooms.house.put(when(becomes(Value::Off), Deed::Set(Value::Off), 90.0));
    assert_eq!(lasts(&rooms), StaysOn::AfterLast(Seconds(90.0)));
    let condition = Condition::Point { point: point.clone(), comparison: Comparison::Is, value: Value::Off };
    let stays = Trigger::Stays { condition, lasting: Seconds(30.0) };
    rooms.house.put(when(stays, Deed::Set(Value::Number(0.0)), 5.0));
    assert_eq!(lasts(&rooms), StaysOn::AfterLast(Seconds(35.0)));
    rooms.house.put(lit_by_motion(sensor.device, lamp, 20.0));
    assert_eq!(lasts(&rooms), StaysOn::AfterLast(Seconds(20.0)));
}

#[test]
fn blind_floor_and_overlaps_add_up() {
    // The floor is 3900 by 2900 = 11.31 m². Two views of 1000 by 2900 that overlap by 500, a strip of 1 mm by 2900
    // left between the second and a third: 2.9 mm² × 1000, a sliver. Seen: 50..1550, and 1551..3050.
    let mut rooms = two_rooms();
    let level = rooms.house.ground;
    let first = rooms.sees(500.0, 500.0, Rect::new(50.0, 50.0, 1050.0, 2950.0));
    let second = sensor_of(first.device, level, Rect::new(550.0, 50.0, 1550.0, 2950.0));
    let third = sensor_of(first.device, level, Rect::new(1551.0, 50.0, 3050.0, 2950.0));
    let floor = kitchen(&rooms, &[first, second, third]).floor;
    assert!((floor.shares[&Sense::BodyHeat] - 2999.0 / 3900.0).abs() < 1e-6);
    assert_eq!((floor.blind.areas.len(), floor.blind.slivers), (1, 1));
    assert!((floor.blind.area().as_mm2() - 900.0 * 2900.0).abs() < 1.0);
    assert!((floor.blind.in_slivers.as_mm2() - 2900.0).abs() < 1.0);
    assert!((floor.overlap.area() - 500.0 * 2900.0).abs() < 1.0);
    assert_eq!(floor.blind_by_sense[&Sense::BodyHeat], floor.blind);
    let bare = kitchen(&rooms, &[]).floor;
    assert!((bare.blind.largest().as_mm2() - 3900.0 * 2900.0).abs() < 1.0 && bare.shares.is_empty());
}

/// The stretches of the only walk: from, to, light.
fn stretches(rooms: &TwoRooms, sensors: &[SensorCoverage]) -> Vec<(f64, f64, Light)> {
    let (whereabouts, project) = (rooms.whereabouts(), &rooms.house.project);
    let lighters: BTreeMap<_, _> = lighters(project, &whereabouts);
    let answers = walks(project, &whereabouts, &lighters, sensors);
    let stretch = |found: &Stretch| (found.from.as_mm().round(), found.to.as_mm().round(), found.light);
    answers[0].stretches.iter().map(stretch).collect()
}

#[test]
fn along_a_walk_the_light_comes_late_and_goes_early() {
    // From the hall (5500) to the left end of the kitchen (500): 5000 mm. The hall ends at 4050, 1450 mm on, and the
    // wall's 100 mm count with the kitchen. The kitchen's sensor sees x = 3000 to 2000, which is 2500 to 3500 mm
    // on; a linger of 1 s is 1300 mm more.
    let mut rooms = two_rooms();
    rooms.way(1500.0, OpeningForm::Plain);
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(2000.0, 50.0, 3000.0, 2950.0));
    rooms.walk(&[(5500.0, 1500.0), (4500.0, 1500.0), (500.0, 1500.0)]);
    let views = [sensor.clone()];
    assert_eq!(
        stretches(&rooms, &views),
        [(0.0, 1450.0, Light::Unlit), (1450.0, 2500.0, Light::NotYet), (2500.0, 5000.0, Light::On)]
    );
    let lamp = rooms.lamp(2000.0, 2000.0);
    rooms.house.put(lit_by_motion(sensor.device, lamp, 1.0));
    assert_eq!(
        stretches(&rooms, &views)[1..],
        [(1450.0, 2500.0, Light::NotYet), (2500.0, 4800.0, Light::On), (4800.0, 5000.0, Light::GoneOut)]
    );
}

#[test]
fn a_stair_is_climbed_slowly_and_seen_half_from_each_storey() {
    // 1000 mm on the level, then 2000 mm of stair: 1000 / 1300 + 2000 / 450 s. The upper half, 2000 to 3000 mm on,
    // is seen from the first floor, where no walls are drawn, so that it is in no room.
    let mut rooms = two_rooms();
    let up = rooms.house.put(Level {
        name: "First floor".to_owned(),
        floor_above_datum: Length::mm(2600.0),
        ceiling_affl: Length::mm(2400.0),
    });
    let ground = rooms.house.ground;
    let at = |level, x| WalkPoint { level, at: Point::new(x, 1500.0) };
    let points = vec![at(ground, 500.0), at(ground, 1500.0), at(up, 3500.0)];
    rooms.house.put(Walk { name: "Up".to_owned(), purpose: WalkPurpose::Daily, points });
    let sensor = rooms.sees(2000.0, 1500.0, Rect::new(2000.0, 50.0, 3950.0, 2950.0));
    let (whereabouts, project) = (rooms.whereabouts(), &rooms.house.project);
    let by_room = lighters(project, &whereabouts);
    let answer = &walks(project, &whereabouts, &by_room, std::slice::from_ref(&sensor))[0];
    assert!((answer.time.0 - (1000.0 / 1300.0 + 2000.0 / 450.0)).abs() < 1e-9);
    assert_eq!(
        stretches(&rooms, &[sensor]),
        [(0.0, 1500.0, Light::NotYet), (1500.0, 2000.0, Light::On), (2000.0, 3000.0, Light::NoRoom)]
    );
    // The stair is a way into the kitchen, downwards: from x = 1500 to the left.
    let answer = kitchen(&rooms, &[]);
    assert_eq!(answer.entries[0].way_in.way, Way::Stair(up));
    assert_eq!(answer.entries[0].straight.unwrap().length.as_mm().round(), 1450.0);
}

#[test]
fn somebody_sits_in_the_dark_where_small_movements_go_unnoticed() {
    // A detector at the ceiling's middle with 3 m for walking: 1.5 m is left for small movements, or none.
    for (still, x, noticed) in [(0.5, 3400.0, true), (0.5, 3600.0, false), (0.0, 2100.0, false)] {
        let mut rooms = two_rooms();
        let mut kind = detector(Sense::BodyHeat, 3000.0);
        if let Some(detection) = &mut kind.detection {
            detection.reach_left = ReachLeft { still, ..ReachLeft::WHOLE };
        }
        let kind = rooms.house.put(kind);
        let sensor = rooms.house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, None);
        rooms.house.put(Spot {
            level: rooms.house.ground,
            name: "Desk".to_owned(),
            spot_use: SpotUse::Desk,
            at: Point::new(x, 1500.0),
            height_affl: Length::mm(800.0),
        });
        let answer = |rooms: &TwoRooms| coverage(&rooms.house.project, Options::default()).dwell[0].clone();
        assert_eq!(answer(&rooms).noticed_by, if noticed { vec![sensor] } else { vec![] }, "{still} {x}");
        // Where no rule puts the light on, none puts it out.
        assert!(!answer(&rooms).sits_in_the_dark());
        let lamp = rooms.lamp(2000.0, 2000.0);
        rooms.house.put(lit_by_motion(sensor, lamp, 60.0));
        assert_eq!(answer(&rooms).sits_in_the_dark(), !noticed, "{still} {x}");
    }
}

#[test]
fn what_is_seen_of_the_hall_through_the_opening_is_a_wedge() {
    // From (2000, 1500) through an opening of 800 mm whose far face is at 4050: half the wedge rises 400 in 2050. In
    // the hall, from x = 4050 to 5950, it holds 400 / 2050 × (3950² - 2050²) = 2.2244 m².
    let mut rooms = two_rooms();
    rooms.way(1500.0, OpeningForm::Plain);
    let kind = rooms.house.put(detector(Sense::BodyHeat, 20_000.0));
    let sensor = rooms.house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, Some(2000.0));
    let report = coverage(&rooms.house.project, Options { doors: DoorsAs::Shut });
    assert_eq!(report.spill.len(), 1);
    assert_eq!((report.spill[0].device, report.spill[0].room), (sensor, rooms.house.kitchen));
    let [into] = report.spill[0].into[..] else { panic!("one other room") };
    assert_eq!(into.room, rooms.hall);
    let wedge = 400.0 / 2050.0 * (3950.0f64.powi(2) - 2050.0f64.powi(2));
    assert!((into.area.as_mm2() - wedge).abs() < 100.0, "{into:?} {wedge}");
}

#[test]
fn a_door_drawn_shut_spills_as_an_open_one_does() {
    let mut rooms = two_rooms();
    rooms.way(1500.0, door(DoorState::Shut));
    let kind = rooms.house.put(detector(Sense::BodyHeat, 20_000.0));
    rooms.house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 1500.0) }, Some(2000.0));
    let report = coverage(&rooms.house.project, Options::default());
    // The leaf, 800 mm from the lower reveal, stands in the lower half of the wedge: it hides what lies below
    // the line past its free end, 400 in 2850, but for the triangle before it.
    let (upper, lower) = (400.0 / 2050.0, 400.0 / 2850.0);
    let squares = (3950.0f64.powi(2) - 2050.0f64.powi(2)) / 2.0;
    let before_leaf = 400.0 * 800.0 - lower * (2850.0f64.powi(2) - 2050.0f64.powi(2)) / 2.0;
    let expected = upper * squares + lower * squares + before_leaf;
    assert!((report.spill[0].into[0].area.as_mm2() - expected).abs() < 100.0, "{:?}", report.spill);
}

/// The leaf swings into the hall, so that it hides nothing of the kitchen when it stands open.
fn shutting_the_door_shortens_nothing(sensor_at: Point, radius: f64, way: f64) -> Result<(), TestCaseError> {
    let mut rooms = two_rooms();
    rooms.way(way, door(square()));
    let kind = rooms.house.put(detector(Sense::BodyHeat, radius));
    let sensor = rooms.house.place(kind, Mount::Ceiling { at: sensor_at }, Some(2000.0));
    let lamp = rooms.lamp(3000.0, 2000.0);
    rooms.house.put(lit_by_motion(sensor, lamp, 60.0));
    let walked = |doors| {
        let report = coverage(&rooms.house.project, Options { doors });
        let kitchen = report.rooms.iter().find(|room| room.room == rooms.house.kitchen).unwrap();
        let (entry, middle) = (kitchen.entries[0], kitchen.middle.unwrap());
        let (from, inwards) = (entry.way_in.at, entry.way_in.inwards.unwrap());
        let lines = [(entry.straight, inwards), (entry.to_middle, (middle - from).normalize())];
        let seen = lines.map(|(line, direction)| {
            let after = line.unwrap().seen.map_or(f64::INFINITY, |seen| seen.after.as_mm());
            (after, from + direction * after)
        });
        (seen, report.sensors[0].polygon.clone())
    };
    let ((open, seen_open), (shut, _)) = (walked(DoorsAs::Open), walked(DoorsAs::Shut));
    for ((open, _), (shut, at)) in open.into_iter().zip(shut) {
        // Both are cut to chords of one circle, which begin at other points of it: the two views may differ by as
        // much as chords stand off it, and along a line that leaves them aslant by more.
        let off = seen_open.rings().map(|ring| ring.distance_to_outline(at)).fold(f64::INFINITY, f64::min);
        let by_chords = !seen_open.contains(at) && off <= ARC_TOLERANCE;
        prop_assert!(shut >= open - 0.1 || by_chords, "{open} {shut}, {off} mm off");
    }
    Ok(())
}

#[test]
fn a_line_that_meets_the_end_of_a_view_aslant_may_tell_its_chords_apart() {
    let at = Point::new(3_411.387_954_058_042_4, 1_999.856_856_754_524_4);
    shutting_the_door_shortens_nothing(at, 1_387.668_675_459_638, 701.850_695_508_128_5).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_shut_door_never_makes_first_seen_shorter(
        x in 200.0..5800.0f64, y in 200.0..2800.0f64, radius in 500.0..6000.0f64, way in 500.0..2500.0f64,
    ) {
        shutting_the_door_shortens_nothing(Point::new(x, y), radius, way)?;
    }

    /// Parts of a walk follow one another without gaps, and its dark and lit parts make up its length.
    #[test]
    fn stretches_cover_the_walk(
        points in prop::collection::vec((-1000.0..7000.0f64, -500.0..3500.0f64), 2..8),
        view in (0.0..5000.0f64, 0.0..2500.0f64), linger in 0.0..3.0f64,
    ) {
        let mut rooms = two_rooms();
        rooms.way(1500.0, OpeningForm::Plain);
        let rect = Rect::new(view.0, view.1, view.0 + 900.0, view.1 + 700.0);
        let sensor = rooms.sees(2000.0, 1500.0, rect);
        let lamp = rooms.lamp(2000.0, 2000.0);
        rooms.house.put(lit_by_motion(sensor.device, lamp, linger));
        rooms.walk(&points);
        let length: f64 = points.windows(2).map(|pair| Point::from(pair[0]).distance(pair[1].into())).sum();
        let (whereabouts, project) = (rooms.whereabouts(), &rooms.house.project);
        let by_room = lighters(project, &whereabouts);
        let answer = &walks(project, &whereabouts, &by_room, &[sensor])[0];
        let mut at = 0.0;
        for stretch in &answer.stretches {
            prop_assert!((stretch.from.as_mm() - at).abs() < 2.1, "{:?}", answer.stretches);
            prop_assert!(stretch.to > stretch.from);
            at = stretch.to.as_mm();
        }
        prop_assert!((at - length).abs() < 2.1);
    }
}
