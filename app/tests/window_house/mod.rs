//! A small invented house for tests of the window: a kitchen with two downlights, a plate, a motion detector
//! and a leak detector, one zone and one rule.

use kurbo::{Point, Rect};
use pattress_model::edit::verbs::{self, Placing, WallSpec};
use pattress_model::edit::{Change, History};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::kit::{Device, Mount};
use pattress_model::plan::{Level, MakeUp, Room, RoomUse, Side};
use pattress_model::project::Project;
use pattress_model::systems::{
    Action, Deed, Gesture, PointRef, Rule, RuleBody, Target, Trigger, ZonePurpose,
};
use pattress_model::units::{Angle, Length, Seconds};

/// The house as it is put together.
pub struct House {
    pub project: Project,
    history: History,
    level: Id<Level>,
}

impl House {
    fn change(&mut self, change: Result<Change, String>) {
        let change = change.unwrap_or_else(|sentence| panic!("{sentence}"));
        self.history.apply(&mut self.project, change).unwrap();
    }

    /// Places one device of a shipped kind.
    pub fn place(&mut self, key: &str, mount: Mount) -> Id<Device> {
        let kind = kind_by_key(key).unwrap_or_else(|| panic!("no kind {key}"));
        let level = self.level;
        let change = verbs::with_kind(&self.project, &kind, |project, kind| {
            let placing = Placing { kind, level, turn: Angle::ZERO, height: None };
            verbs::place_device(project, placing, mount)
        });
        self.change(change);
        self.project.devices.ids().next_back().unwrap()
    }
}

/// Builds the house.
pub fn kitchen() -> Project {
    let project = Project::new();
    let level = project.levels.ids().next().unwrap();
    let mut house = House { project, history: History::default(), level };
    let spec = WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Block };
    let rect = Rect::new(0.0, 0.0, 5000.0, 4000.0);
    house.change(verbs::draw_room(&house.project, level, rect, spec));
    let seed = Point::new(2500.0, 2000.0);
    let room = Room { level, name: "Kitchen".to_owned(), room_use: RoomUse::Kitchen, seed, ceiling: None };
    house.change(verbs::add_room(&house.project, room));
    let kitchen = house.project.rooms.ids().next().unwrap();
    let wall = house.project.walls.ids().next().unwrap();
    let on_wall = |along: f64| Mount::WallFace { wall, side: Side::Left, along: Length::mm(along) };
    let plate = house.place("plate-4", on_wall(2000.0));
    house.place("wall-motion-12m", on_wall(4000.0));
    let lamps =
        [1500.0, 3500.0].map(|x| house.place("downlight", Mount::Ceiling { at: Point::new(x, 2000.0) }));
    let points = verbs::zone_points_of(&house.project, ZonePurpose::Lighting, &lamps);
    house.change(verbs::make_zone(&house.project, "Kitchen ceiling", ZonePurpose::Lighting, points));
    let zone = house.project.zones.ids().next().unwrap();
    let action = Action {
        target: Some(Target::Zone(zone)),
        deed: Deed::Toggle,
        after: Seconds::ZERO,
        fade: Seconds::ZERO,
        by_hand: None,
    };
    let rule = Rule {
        name: "Kitchen light".to_owned(),
        room: Some(kitchen),
        enabled: true,
        comment: String::new(),
        body: RuleBody::When {
            trigger: Trigger::Event { point: PointRef::new(plate, "key 1"), gesture: Gesture::Press },
            conditions: Vec::new(),
            actions: vec![action],
        },
    };
    house.change(verbs::add_rule(&house.project, rule));
    house.project
}
