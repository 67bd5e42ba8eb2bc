//! What each verb does to a small house, and what it refuses.

use kurbo::{Point, Rect, Vec2};

use super::*;
use crate::edit::{Change, History, Subject};
use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount, MountKind, PointRole, PointSpec, PointType, Symbol};
use crate::plan::{
    DoorState, Hand, Joinery, JoineryForm, Level, MakeUp, Opening, OpeningForm, Room, RoomUse, Side, Wall,
};
use crate::project::Project;
use crate::systems::{Action, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value, ZonePurpose};
use crate::units::{Angle, Length, Seconds, TimeOfDay};

pub(super) const SPEC: WallSpec =
    WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Stud };

pub(super) fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

pub(super) fn kind(name: &str, code: &str, mount: MountKind) -> Kind {
    let point = |name: &str, role| PointSpec { name: name.to_owned(), point_type: PointType::State, role };
    Kind {
        default_height: Some(Length::mm(1100.0)),
        points: vec![point("on", PointRole::Does), point("motion", PointRole::Reports)],
        ..Kind::bare(name, Family::Luminaires, code, Symbol::CodeInSquare, mount)
    }
}

/// A house that is changed verb by verb, as the window changes it.
pub(super) struct House {
    pub(super) project: Project,
    pub(super) history: History,
    pub(super) level: Id<Level>,
}

impl House {
    /// A room of 4 by 3 m, a door in its lower wall, an island, and three kinds in the Kit used.
    pub(super) fn new() -> Self {
        let project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut house = Self { project, history: History::default(), level };
        house.does(draw_room(&house.project, level, Rect::new(0.0, 0.0, 4000.0, 3000.0), SPEC));
        let form = OpeningForm::Door { hinge: Hand::Start, swing: Side::Left, state: DoorState::Shut };
        let (wall, head) = (house.wall(0), Length::mm(2040.0));
        let door = Opening { wall, centre: Length::mm(2000.0), width: Length::mm(800.0), head, form };
        house.does(add_opening(&house.project, door));
        let island = Joinery {
            level,
            name: "Island".to_owned(),
            form: JoineryForm::Island,
            centre: at(2000.0, 1500.0),
            width: Length::mm(1200.0),
            depth: Length::mm(600.0),
            turn: Angle::ZERO,
            base: Length::ZERO,
            top: Length::mm(900.0),
            leaves: Vec::new(),
        };
        house.does(add_joinery(&house.project, island));
        for (name, code, mount) in [
            ("Wall light", "WL", MountKind::Wall),
            ("Downlight", "DL", MountKind::Ceiling),
            ("Drawer light", "JL", MountKind::Joinery),
        ] {
            let imported = import_kind(&house.project, &kind(name, code, mount)).1.unwrap();
            house.does(Ok(Change::new("Bring in kind", vec![imported])));
        }
        house
    }

    pub(super) fn does(&mut self, change: Result<Change, String>) {
        let change = change.unwrap();
        self.history.apply(&mut self.project, change).unwrap();
    }

    fn wall(&self, index: usize) -> Id<Wall> {
        self.project.walls.ids().nth(index).unwrap()
    }

    fn kind(&self, index: usize) -> Id<Kind> {
        self.project.kinds.ids().nth(index).unwrap()
    }

    fn place(&mut self, kind: usize, mount: Mount) -> Id<Device> {
        let placing = Placing { kind: self.kind(kind), level: self.level, turn: Angle::ZERO, height: None };
        let change = place_device(&self.project, placing, mount).unwrap();
        let Subject::Device(id) = new_things(&self.project, &change)[0] else { panic!("no device") };
        self.does(Ok(change));
        id
    }

    fn place_on_wall(&mut self, wall: usize, along: f64) -> Id<Device> {
        let mount = Mount::WallFace { wall: self.wall(wall), side: Side::Left, along: Length::mm(along) };
        self.place(0, mount)
    }

    fn at(&self, id: Id<Device>) -> Point {
        crate::units::round_point(self.project.position_of(self.project.devices.get(id).unwrap()).unwrap())
    }
}

#[test]
fn devices_are_tagged_in_turn_and_a_removed_tag_is_not_given_again() {
    let mut house = House::new();
    let first = house.place(1, Mount::Ceiling { at: at(1000.04, 1000.0) });
    assert_eq!(house.history.undo_label(), Some("Place DL-01"));
    assert_eq!(house.at(first), at(1000.0, 1000.0));
    assert_eq!(house.project.devices.get(first).unwrap().height_affl, Some(Length::mm(1100.0)));
    house.does(remove_things(&house.project, &[Subject::Device(first)]));
    let second = house.place(1, Mount::Ceiling { at: at(1000.0, 1000.0) });
    assert_eq!(house.project.devices.get(second).unwrap().tag.to_string(), "DL-02");
}

#[test]
fn an_array_is_one_change_with_a_tag_each() {
    let mut house = House::new();
    let placing = Placing { kind: house.kind(1), level: house.level, turn: Angle::ZERO, height: None };
    let points = array_points(Rect::new(50.0, 50.0, 3950.0, 2950.0), 2, 3);
    house.does(place_many(&house.project, placing, &points, "Spot"));
    assert_eq!(house.history.undo_label(), Some("Place 6 devices"));
    let last = house.project.devices.iter().next_back().unwrap().1;
    assert_eq!((last.tag.to_string(), last.name.as_str()), ("DL-06".to_owned(), "Spot 6"));
    let on_wall = Placing { kind: house.kind(0), ..placing };
    assert!(place_many(&house.project, on_wall, &points, "").unwrap_err().contains("wall"));
}

#[test]
fn a_moved_wall_keeps_its_corners_and_what_is_on_it() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    house.does(move_things(&house.project, &[Subject::Wall(house.wall(0))], Vec2::new(0.0, -500.0)));
    assert_eq!(house.history.undo_label(), Some("Move wall"));
    assert_eq!(house.at(light), at(500.0, -450.0));
    let walls: Vec<(Point, Point)> =
        house.project.walls.iter().map(|(_, wall)| (wall.start, wall.end)).collect();
    assert_eq!(walls[1], (at(4000.0, -500.0), at(4000.0, 3000.0)));
    assert_eq!(walls[3], (at(0.0, 3000.0), at(0.0, -500.0)));
}

#[test]
fn things_on_a_wall_keep_their_distance_from_the_end_that_stays() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 3500.0);
    house.does(move_wall_end(&house.project, house.wall(0), Hand::Start, at(-1000.0, 0.0)));
    assert_eq!(house.at(light), at(3500.0, 50.0));
    house.does(set_wall_length(&house.project, house.wall(0), Length::m(6.0)));
    assert_eq!(house.at(light), at(3500.0, 50.0));
    let refusal = set_wall_length(&house.project, house.wall(0), Length::m(3.0)).unwrap_err();
    assert!(refusal.contains("fit") || refusal.contains("beyond"), "{refusal}");
    assert!(set_wall_length(&house.project, house.wall(0), Length::ZERO).is_err());
}

#[test]
fn a_device_slides_along_its_wall_past_the_door_and_is_rehosted_when_dropped_elsewhere() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    for (by, landing) in [
        (Vec2::new(200.0, 900.0), at(700.0, 50.0)),
        (Vec2::new(1000.0, 0.0), at(1525.0, 50.0)),
        (Vec2::new(600.0, 0.0), at(2475.0, 50.0)),
        (Vec2::new(9000.0, 0.0), at(3950.0, 50.0)),
    ] {
        house.does(move_things(&house.project, &[Subject::Device(light)], by));
        assert_eq!(house.at(light), landing);
    }
    house.does(rehost_device(&house.project, light, at(3900.0, 1200.0)));
    assert_eq!(house.at(light), at(3950.0, 1200.0));
    house.does(rehost_device(&house.project, light, at(2000.0, 1500.0)));
    let loose = house.project.devices.get(light).unwrap();
    assert_eq!(loose.mount, Mount::Loose { at: at(2000.0, 1500.0) });
    assert_eq!(loose.turn.as_degrees().round(), 180.0);
    house.does(rehost_device(&house.project, light, at(500.0, 60.0)));
    assert_eq!(house.project.facing_of(house.project.devices.get(light).unwrap()).as_degrees().round(), 90.0);
}

#[test]
fn openings_slide_to_their_neighbours_and_never_overlap() {
    let mut house = House::new();
    let door = house.project.openings.ids().next().unwrap();
    let window = OpeningForm::Window { sill: Length::mm(900.0) };
    let mut second = house.project.openings.get(door).unwrap().clone();
    second.form = window;
    assert!(add_opening(&house.project, second.clone()).unwrap_err().contains("overlap"));
    second.centre = Length::mm(3400.0);
    house.does(add_opening(&house.project, second));
    for (wanted, landing) in [(2900.0, 2600.0), (100.0, 400.0), (9000.0, 2600.0), (3300.0, 2600.0)] {
        house.does(slide_opening(&house.project, door, Length::mm(wanted)));
        assert_eq!(house.project.openings.get(door).unwrap().centre, Length::mm(landing), "{wanted}");
    }
    house.does(flip_hinge(&house.project, door));
    house.does(flip_swing(&house.project, door));
    let form = house.project.openings.get(door).unwrap().form;
    assert_eq!(form, OpeningForm::Door { hinge: Hand::End, swing: Side::Right, state: DoorState::Shut });
}

#[test]
fn joinery_takes_its_devices_along_and_a_quarter_turn_turns_them() {
    let mut house = House::new();
    let island = house.project.joinery.ids().next().unwrap();
    let light = house.place(2, Mount::Joinery { joinery: island, offset: at(400.0, -300.0) });
    house.does(move_things(
        &house.project,
        &[Subject::Joinery(island), Subject::Device(light)],
        Vec2::new(100.0, 0.0),
    ));
    assert_eq!(house.history.undo_label(), Some("Move 2 things"));
    assert_eq!(house.at(light), at(2500.0, 1200.0));
    house.does(turn_things(
        &house.project,
        &[Subject::Joinery(island)],
        Angle::degrees(90.0),
        at(2100.0, 1500.0),
    ));
    assert_eq!(house.at(light), at(2400.0, 1900.0));
}

#[test]
fn mirroring_twice_is_no_change() {
    for line in [MirrorLine::Upright, MirrorLine::Level] {
        let mut house = House::new();
        let island = house.project.joinery.ids().next().unwrap();
        let on_wall = house.place_on_wall(0, 500.0);
        let on_island = house.place(2, Mount::Joinery { joinery: island, offset: at(400.0, -300.0) });
        let ceiling = house.place(1, Mount::Ceiling { at: at(1000.0, 700.0) });
        for id in [on_wall, on_island, ceiling] {
            house.does(set_turn(&house.project, &[Subject::Device(id)], Angle::degrees(30.0)));
        }
        let before = house.project.clone();
        let mut all: Vec<Subject> = house.project.walls.ids().map(Subject::Wall).collect();
        all.extend([Subject::Joinery(island), Subject::Device(ceiling)]);
        house.does(mirror_things(&house.project, &all, line, at(1000.0, 1000.0)));
        for id in [on_wall, on_island, ceiling] {
            let (was, is) = (before.devices.get(id).unwrap(), house.project.devices.get(id).unwrap());
            let (from, to) = (before.position_of(was).unwrap(), house.project.position_of(is).unwrap());
            let (looked, looks) =
                (before.facing_of(was).direction(), house.project.facing_of(is).direction());
            let (place, look) = match line {
                MirrorLine::Upright => (at(2000.0 - from.x, from.y), Vec2::new(-looked.x, looked.y)),
                MirrorLine::Level => (at(from.x, 2000.0 - from.y), Vec2::new(looked.x, -looked.y)),
            };
            assert!((to - place).hypot() < 0.2, "{line:?} {id:?}: {to} for {place}");
            assert!((looks - look).hypot() < 1e-6, "{line:?} {id:?}: {looks:?} for {look:?}");
        }
        house.does(mirror_things(&house.project, &all, line, at(1000.0, 1000.0)));
        for (now, then) in house.project.entities().iter().zip(before.entities()) {
            assert_eq!(now.subject(), then.subject());
        }
        for id in [on_wall, on_island, ceiling] {
            assert_eq!(house.project.devices.get(id), before.devices.get(id));
        }
        assert_eq!(house.project.openings, before.openings);
    }
}

#[test]
fn copies_have_new_tags_and_are_in_no_zone() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    house.does(make_zone(
        &house.project,
        "Hall",
        ZonePurpose::Lighting,
        zone_points_of(&house.project, ZonePurpose::Lighting, &[light]),
    ));
    let change = copy_things(&house.project, &[Subject::Device(light)], Vec2::new(600.0, 0.0)).unwrap();
    let copy = new_things(&house.project, &change);
    house.does(Ok(change));
    let Subject::Device(copy) = copy[0] else { panic!("no device") };
    assert_eq!(house.at(copy), at(1100.0, 50.0));
    assert_eq!(house.project.devices.get(copy).unwrap().tag.to_string(), "WL-02");
    assert_eq!(house.project.zones.iter().next().unwrap().1.points, [PointRef::new(light, "on")]);
}

#[test]
fn a_storey_is_copied_up_and_devices_find_the_walls_above() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    let upper = Level {
        name: "First floor".to_owned(),
        floor_above_datum: Length::mm(2700.0),
        ceiling_affl: Length::mm(2400.0),
    };
    house.does(add_level(&house.project, upper));
    let upper = house.project.levels.ids().next_back().unwrap();
    let mut without_walls = house.project.clone();
    let loose = copy_to_level(&house.project, &[Subject::Device(light)], upper).unwrap();
    History::default().apply(&mut without_walls, loose).unwrap();
    let copy = without_walls.devices.iter().next_back().unwrap().1;
    assert_eq!((copy.mount, copy.level), (Mount::Loose { at: at(500.0, 50.0) }, upper));
    house.does(copy_walls_up(&house.project, house.level, upper));
    assert_eq!(house.history.undo_label(), Some("Copy 4 walls to First floor"));
    assert_eq!(house.project.openings_on(upper).count(), 1);
    let change = copy_to_level(&house.project, &[Subject::Device(light)], upper).unwrap();
    house.does(Ok(change));
    let copy = house.project.devices.iter().next_back().unwrap().1;
    assert!(matches!(copy.mount, Mount::WallFace { .. }) && copy.level == upper);
    house.does(remove_level(&house.project, upper));
    assert!(remove_level(&house.project, house.level).unwrap_err().contains("at least one level"));
}

#[test]
fn things_come_into_line_and_are_spaced_evenly() {
    let mut house = House::new();
    let lights: Vec<Id<Device>> = [(500.0, 700.0), (900.0, 720.0), (3000.0, 690.0)]
        .map(|(x, y)| house.place(1, Mount::Ceiling { at: at(x, y) }))
        .to_vec();
    let picked: Vec<Subject> = lights.iter().map(|id| Subject::Device(*id)).collect();
    let on_wall = house.place_on_wall(0, 1200.0);
    for (edge, ys) in [(Edge::Top, 720.0), (Edge::Bottom, 690.0), (Edge::CentreY, 705.0)] {
        let mut trial = house.project.clone();
        History::default().apply(&mut trial, align(&house.project, &picked, edge).unwrap()).unwrap();
        for id in &lights {
            assert_eq!(trial.position_of(trial.devices.get(*id).unwrap()).unwrap().y, ys, "{edge:?}");
        }
    }
    house.does(distribute(&house.project, &picked, Axis::X));
    assert_eq!(house.at(lights[1]), at(1750.0, 720.0));
    house.does(align(&house.project, &[picked[0], Subject::Device(on_wall)], Edge::Left));
    assert_eq!(house.at(on_wall), at(500.0, 50.0));
    assert!(align(&house.project, &picked[..1], Edge::Left).is_err());
    assert!(distribute(&house.project, &picked[..2], Axis::X).is_err());
}

fn night_rule(light: Id<Device>, room: Option<Id<Room>>) -> Rule {
    Rule {
        name: "Hall light".to_owned(),
        room,
        enabled: true,
        comment: String::new(),
        body: RuleBody::When {
            trigger: Trigger::Time(TimeOfDay { minutes: 1320 }),
            conditions: Vec::new(),
            actions: vec![Action {
                target: Some(Target::Point(PointRef::new(light, "on"))),
                deed: Deed::Set(Value::On),
                after: Seconds::ZERO,
                fade: Seconds::ZERO,
                by_hand: None,
            }],
        },
    }
}

#[test]
fn what_a_rule_speaks_of_stays_and_the_refusal_names_the_rule() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    let room = Room {
        level: house.level,
        name: "Hall".to_owned(),
        room_use: RoomUse::Circulation,
        seed: at(1000.0, 1000.0),
        ceiling: None,
    };
    house.does(add_room(&house.project, room));
    let room = house.project.rooms.ids().next().unwrap();
    house.does(add_rule(&house.project, night_rule(light, Some(room))));
    let rule = house.project.rules.ids().next().unwrap();
    let zone_points = zone_points_of(&house.project, ZonePurpose::Lighting, &[light]);
    house.does(make_zone(&house.project, "Hall", ZonePurpose::Lighting, zone_points));
    assert_eq!(
        remove_things(&house.project, &[Subject::Device(light)]).unwrap_err(),
        "WL-01 is used by the rule “Hall light”: change the rule first"
    );
    let refusal = remove_things(&house.project, &[Subject::Kind(house.kind(0))]).unwrap_err();
    assert!(refusal.contains("WL-01"), "{refusal}");
    house.does(remove_things(&house.project, &[Subject::Wall(house.wall(0))]));
    assert_eq!(house.project.openings.len(), 0);
    assert_eq!(house.project.devices.get(light).unwrap().mount, Mount::Loose { at: at(500.0, 50.0) });
    house.does(remove_things(&house.project, &[Subject::Room(room)]));
    assert_eq!(house.project.rules.get(rule).unwrap().room, None);
    house.does(remove_things(&house.project, &[Subject::Device(light), Subject::Rule(rule)]));
    assert!(house.project.zones.iter().next().unwrap().1.points.is_empty());
}

#[test]
fn a_renamed_point_keeps_its_zones_and_rules() {
    let mut house = House::new();
    let light = house.place_on_wall(0, 500.0);
    house.does(add_rule(&house.project, night_rule(light, None)));
    let zone_points = zone_points_of(&house.project, ZonePurpose::Lighting, &[light]);
    house.does(make_zone(&house.project, "Hall", ZonePurpose::Lighting, zone_points));
    let id = house.kind(0);
    let mut renamed = house.project.kinds.get(id).unwrap().clone();
    renamed.points[0].name = "level".to_owned();
    assert!(edit_kind(&house.project, id, renamed.clone(), &[]).unwrap_err().contains("“on”"));
    house.does(edit_kind(&house.project, id, renamed, &[("on".to_owned(), "level".to_owned())]));
    let rule = house.project.rules.iter().next().unwrap().1;
    assert_eq!(rule.points(), [&PointRef::new(light, "level")]);
    assert!(copy_kind(&house.project, id, "Downlight").unwrap_err().contains("already"));
    house.does(copy_kind(&house.project, id, "Wall light, ours"));
}

#[test]
fn a_kind_comes_in_with_the_first_device_of_it_and_only_once() {
    let mut house = House::new();
    let camera = kind("Camera", "CAM", MountKind::Outdoors);
    for count in [1, 2] {
        let level = house.level;
        let change = with_kind(&house.project, &camera, |project, kind| {
            let placing = Placing { kind, level, turn: Angle::ZERO, height: None };
            place_device(project, placing, Mount::Outdoors { at: at(9000.0, 0.0) })
        });
        house.does(change);
        assert_eq!((house.project.kinds.len(), house.project.devices.len()), (4, count));
    }
}
