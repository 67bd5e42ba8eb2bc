//! One of everything, for the tests of this module.

use std::sync::Arc;

use kurbo::Point;

use crate::edit::{Change, Entity, History, Op};
use crate::id::Id;
use crate::kit::{
    BackBox, Battery, Detection, Device, Drives, Family, FireAlarm, FireGrade, FireSense, KeyLegend, Kind,
    Lamp, Loudness, Mount, MountKind, Optics, Pattern, PlateFace, PlateLegend, PointRole, PointSpec,
    PointType, ReachAtHeight, ReachLeft, Supply, Symbol, Tier,
};
use crate::plan::{
    DoorState, Hand, Joinery, JoineryForm, Leaf, Level, MakeUp, Opening, OpeningForm, Room, RoomLine,
    RoomUse, ScaleFrom, SecondLength, Sense, Side, SlopingCeiling, Spot, SpotUse, Underlay, Walk, WalkPoint,
    WalkPurpose, Wall,
};
use crate::project::{
    CameraEdition, FireCategory, IntrusionAims, LocalClock, Place, Project, Site, SummerTime,
};
use crate::systems::{
    Action, Comparison, Condition, Deed, Gesture, HouseMode, Mode, PointRef, Rule, RuleBody, Scene, Script,
    Setting, SunEvent, Target, Trigger, Until, Value, Weekdays, Zone, ZonePurpose,
};
use crate::units::{Angle, Length, Lumens, Money, Seconds, TimeOfDay, Watts};

fn mm(value: f64) -> Length {
    Length::mm(value)
}

/// The change that puts one of everything onto the ground floor of a new house.
pub(super) fn one_of_everything(project: &Project) -> Change {
    let mut ids = project.fresh_ids();
    let level: Id<Level> = project.levels.ids().next().unwrap();
    let wall: Id<Wall> = ids.issue();
    let kind: Id<Kind> = ids.issue();
    let room: Id<Room> = ids.issue();
    let joinery: Id<Joinery> = ids.issue();
    let (on_wall, on_ceiling): (Id<Device>, Id<Device>) = (ids.issue(), ids.issue());
    let zone: Id<Zone> = ids.issue();
    let mut ops = vec![
        Op::put(
            wall,
            Wall {
                level,
                start: Point::new(-1200.0, 0.1),
                end: Point::new(5000.3, 0.0),
                thickness: mm(102.5),
                height: mm(2400.0),
                make_up: MakeUp::Block,
            },
        ),
        Op::put(kind, kind_with_everything()),
        Op::put(
            room,
            Room {
                level,
                name: "Küche “large”".to_owned(),
                room_use: RoomUse::Kitchen,
                seed: Point::new(10.0, 20.0),
                ceiling: Some(SlopingCeiling {
                    low: mm(1200.5),
                    high: mm(3100.0),
                    note: "falls to the eaves".to_owned(),
                }),
            },
        ),
        Op::put(
            joinery,
            Joinery {
                level,
                name: "Island".to_owned(),
                form: JoineryForm::WallUnit,
                centre: Point::new(3000.0, 2000.0),
                width: mm(1800.0),
                depth: mm(900.0),
                turn: Angle::degrees(33.3),
                base: mm(0.0),
                top: mm(910.0),
                leaves: vec![Leaf { name: "top drawer".to_owned(), slides: true }],
            },
        ),
        Op::put(
            ids.issue(),
            Underlay {
                level,
                name: "scan.png".to_owned(),
                media: format!("{}.png", "0a".repeat(32)),
                page: 1,
                width: 4961.0,
                height: 3508.0,
                mm_per_unit: 8.466_683_333_3,
                scale_from: Some(ScaleFrom::FourCorners { width: mm(8200.0), depth: mm(5410.5) }),
                second_length: Some(SecondLength { measured: mm(3012.0), known: mm(3000.0) }),
                position: Point::new(0.0, -300.0),
                turn: Angle::degrees(-1.4),
                opacity: 0.5,
                on_sheets: true,
            },
        ),
        Op::put(
            ids.issue(),
            RoomLine { level, start: Point::new(0.0, 1200.5), end: Point::new(900.0, 1200.5) },
        ),
        Op::put(
            ids.issue(),
            Spot {
                level,
                name: "Anna's desk".to_owned(),
                spot_use: SpotUse::BedHead,
                at: Point::new(1.5, 2500.0),
                height_affl: mm(600.0),
            },
        ),
        Op::put(
            ids.issue(),
            Walk {
                name: "to bed".to_owned(),
                purpose: WalkPurpose::Night,
                points: vec![
                    WalkPoint { level, at: Point::new(0.0, 10.5) },
                    WalkPoint { level, at: Point::new(900.0, 10.5) },
                ],
            },
        ),
        Op::Put(Entity::Site(Arc::new(site_with_everything()))),
        Op::put(
            on_wall,
            device(project, kind, level, 0, Mount::WallFace { wall, side: Side::Right, along: mm(900.0) }),
        ),
        Op::put(
            on_ceiling,
            device(project, kind, level, 1, Mount::Joinery { joinery, offset: Point::new(1.0, 2.0) }),
        ),
        Op::put(
            zone,
            Zone {
                name: "Kitchen".to_owned(),
                purpose: ZonePurpose::PartSet,
                points: vec![PointRef::new(on_wall, "motion"), PointRef::new(on_ceiling, "level")],
            },
        ),
    ];
    let mounts = [
        Mount::Ceiling { at: Point::ZERO },
        Mount::Floor { at: Point::ZERO },
        Mount::Outdoors { at: Point::ZERO },
        Mount::Loose { at: Point::ZERO },
    ];
    for (number, mount) in (2..).zip(mounts) {
        ops.push(Op::put(ids.issue(), device(project, kind, level, number, mount)));
    }
    let door = OpeningForm::Door {
        hinge: Hand::End,
        swing: Side::Left,
        state: DoorState::Open(Angle::degrees(77.7)),
    };
    let shut = OpeningForm::Door { hinge: Hand::Start, swing: Side::Right, state: DoorState::Shut };
    for (number, form) in
        [door, shut, OpeningForm::Window { sill: mm(900.0) }, OpeningForm::Plain].into_iter().enumerate()
    {
        let centre = mm(1000.0 + 1000.0 * number as f64);
        ops.push(Op::put(ids.issue(), Opening { wall, centre, width: mm(762.0), head: mm(2040.0), form }));
    }
    let mode = ids.issue();
    ops.push(Op::put(mode, Mode { name: "Night".to_owned() }));
    let scene = ids.issue();
    let settings =
        vec![Setting { target: Target::Zone(zone), value: Value::Number(20.0), fade: Seconds(3.0) }];
    ops.push(Op::put(
        ids.issue(),
        Script {
            name: "Film".to_owned(),
            lines: vec!["start 2026-01-15 20:00".to_owned(), String::new(), "# “quoted”".to_owned()],
        },
    ));
    ops.push(Op::put(scene, Scene { name: "Film".to_owned(), room: Some(room), settings }));
    for body in rule_bodies(on_wall, zone, mode, scene) {
        let rule = Rule {
            name: "Goodnight".to_owned(),
            room: Some(room),
            enabled: true,
            comment: "a\nb".to_owned(),
            body,
        };
        ops.push(Op::put(ids.issue(), rule));
    }
    Change::new("Put one of everything", ops)
}

fn site_with_everything() -> Site {
    Site {
        place: Some(Place { latitude: Angle::degrees(51.5), longitude: Angle::degrees(-0.125) }),
        clock: LocalClock { ahead_of_utc_minutes: 60, summer_time: SummerTime::Never },
        boundary: vec![Point::ZERO, Point::new(9000.0, 0.0), Point::new(0.0, 7000.5)],
        intrusion: IntrusionAims { grade: Some(2), entry_time: Seconds(40.0), exit_time: Seconds(0.0) },
        fire_category: Some(FireCategory::LD2),
        camera_levels: CameraEdition::Of2014,
        camera_target: Length::mm(1550.0),
        call: "Hollin Integration, 01632 960 000".to_owned(),
        ..Site::default()
    }
}

/// A new house with one of everything.
pub(super) fn full_house() -> Project {
    let mut project = Project::new();
    let change = one_of_everything(&project);
    History::default().apply(&mut project, change).unwrap();
    project
}

fn device(project: &Project, kind: Id<Kind>, level: Id<Level>, number: u32, mount: Mount) -> Device {
    Device {
        kind,
        level,
        tag: project.next_tag("PIR", number),
        name: String::new(),
        mount,
        height_affl: (number > 0).then(|| mm(2300.0)),
        turn: Angle::degrees(12.345_678),
        tilt: Angle::degrees(7.5),
        note: "behind the door".to_owned(),
        legend: PlateLegend {
            is_final: number > 0,
            keys: vec![KeyLegend {
                key: "key 1".to_owned(),
                words: ["All".to_owned(), "off".to_owned()],
                did: vec!["one press: turn Hall lights off".to_owned()],
            }],
        },
    }
}

fn kind_with_everything() -> Kind {
    let point = |name: &str, point_type, role| PointSpec { name: name.to_owned(), point_type, role };
    Kind {
        name: "Everything sensor".to_owned(),
        family: Family::FireAndCo,
        code: "PIR".to_owned(),
        symbol: Symbol::CodeInHalfCircle,
        mount: MountKind::Wall,
        default_height: Some(mm(2300.0)),
        back_box: Some(BackBox { gangs: 2, depth: mm(35.0) }),
        supply: Supply::PowerOverEthernet { class: 3 },
        battery: Some(Battery { capacity_mah: 2600.0, ..Battery::INVENTED }),
        load: Watts(3.5),
        points: vec![
            point("motion", PointType::State, PointRole::Reports),
            point("key 1", PointType::Event, PointRole::Reports),
            point("level", PointType::Number, PointRole::Does),
            point("colour", PointType::Colour, PointRole::Does),
        ],
        price: Money { hundredths: 4999 },
        minutes: 25,
        detection: Some(Detection {
            sense: Sense::BodyHeat,
            pattern: Pattern::Fan { angle: Angle::degrees(85.0), range: mm(12_000.0) },
            tiers: vec![Tier { from: Angle::degrees(-3.0), to: Angle::degrees(56.5) }],
            reach_left: ReachLeft { towards: 0.5, still: 0.25, through_board: 0.125, warm: 0.75 },
            by_height: vec![ReachAtHeight {
                mounted: mm(2500.0),
                walking: mm(4000.0),
                seated: Some(mm(3000.0)),
            }],
        }),
        optics: Some(Optics {
            sensor_width: mm(5.37),
            focal_length: mm(2.8),
            pixels_across: 2688,
            pixels_down: 1520,
            stated_view: Some(Angle::degrees(98.0)),
            drawn_range: mm(20_000.0),
        }),
        lamp: Some(Lamp {
            flux: Lumens(806.0),
            beam: Some(Angle::degrees(36.0)),
            colour_temperature_k: 2700,
            dims: true,
        }),
        fire: Some(FireAlarm { notices: FireSense::SmokeAndHeat, grade: FireGrade::D2, interlinked: true }),
        loudness: Some(Loudness { level_dba: 85.0, at: mm(3000.0) }),
        security_grade: Some(2),
        drives: Some(Drives::GarageDoor),
        full_travel: Some(Seconds(22.5)),
        drawn_length: Some(mm(1500.0)),
        face: Some(PlateFace { width: mm(120.5), height: mm(86.0), columns: 2 }),
        caution: Some("Mains inside.".to_owned()),
    }
}

fn rule_bodies(device: Id<Device>, zone: Id<Zone>, mode: Id<Mode>, scene: Id<Scene>) -> Vec<RuleBody> {
    let point = |name: &str| PointRef::new(device, name);
    let conditions = vec![
        Condition::Point { point: point("motion"), comparison: Comparison::IsNot, value: Value::Off },
        Condition::AnyOf(zone),
        Condition::Between(TimeOfDay { minutes: 1350 }, TimeOfDay { minutes: 425 }),
        Condition::Dark,
        Condition::Daylight,
        Condition::AllOf(zone),
        Condition::SunHigher { degrees: 12.5 },
        Condition::SunLower { degrees: -6.0 },
        Condition::SunBetween { from_degrees: 90.0, to_degrees: 202.5 },
        Condition::Weekdays(Weekdays::WEEKEND),
        Condition::Not(Box::new(Condition::Mode(HouseMode::AtHome))),
        Condition::OneOf(vec![Condition::Mode(HouseMode::Named(mode)), Condition::Dark]),
    ];
    let triggers = [
        Trigger::Event { point: point("key 1"), gesture: Gesture::PressTwice },
        Trigger::Becomes { point: point("level"), comparison: Comparison::Above, value: Value::Number(12.5) },
        Trigger::Time(TimeOfDay { minutes: 7 * 60 }),
        Trigger::Sun { event: SunEvent::Set, offset_minutes: -30 },
        Trigger::ModeEntered(HouseMode::Named(mode)),
        Trigger::Stays { condition: Condition::AnyOf(zone), lasting: Seconds(600.0) },
    ];
    let action =
        |target, deed| Action { target, deed, after: Seconds(90.0), fade: Seconds::ZERO, by_hand: None };
    let actions = vec![
        action(Some(Target::Zone(zone)), Deed::Toggle),
        action(Some(Target::Point(point("colour"))), Deed::Set(Value::Colour([255, 170, 0]))),
        action(Some(Target::Point(point("level"))), Deed::Step(-20)),
        action(None, Deed::notify("Door open")),
        action(None, Deed::Notify { text: "Ding".to_owned(), picture: Some(device) }),
        action(Some(Target::Zone(zone)), Deed::Cycle(vec![Value::Number(20.0), Value::Off])),
        action(None, Deed::RunScene(scene)),
        action(None, Deed::EnterMode(HouseMode::Named(mode))),
        action(None, Deed::ReleaseHand),
    ];
    let untils = [
        Until::Released,
        Until::For(Seconds(7200.0)),
        Until::Time(TimeOfDay { minutes: 7 * 60 }),
        Until::Holds { condition: Condition::Daylight, lasting: Seconds(60.0) },
        Until::Event { point: point("key 1"), gesture: Gesture::Hold },
    ];
    let actions: Vec<Action> = actions
        .into_iter()
        .chain(untils.map(|until| Action {
            by_hand: Some(until),
            ..Action::new(Some(Target::Zone(zone)), Deed::Toggle)
        }))
        .collect();
    let mut bodies: Vec<RuleBody> = triggers
        .into_iter()
        .map(|trigger| RuleBody::When { trigger, conditions: conditions.clone(), actions: actions.clone() })
        .collect();
    bodies.push(RuleBody::While {
        conditions,
        linger: Seconds(300.0),
        settings: vec![Setting { target: Target::Zone(zone), value: Value::On, fade: Seconds(1.5) }],
        rank: 3,
        yields_to_hand: false,
    });
    bodies.push(RuleBody::Wired { key: point("key 1"), target: Target::Zone(zone) });
    bodies
}
