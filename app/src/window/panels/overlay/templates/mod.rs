//! Rules to start from: each fills in what the plan has in a room and says what is missing where it can't.
//!
//! A new one is a row in [`templates`] and a function in the file of its sort.

mod of_house;
mod of_room;

use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::kit::{Device, Family, PointRole, PointType};
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::systems::{Action, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value, ZonePurpose};
use pattress_model::units::{Seconds, TimeOfDay};

use super::offered::{Offered, Point};
use super::rule_parts::trigger_of;

/// A rule to start from.
pub struct Template {
    /// What it is for, in a few words.
    pub name: &'static str,
    /// The rule with what the plan has, or what it lacks.
    pub rule: Result<Rule, &'static str>,
}

/// What templates look at: the plan, and the room they are for.
pub struct Look<'a> {
    /// The plan.
    pub project: &'a Project,
    /// What can be picked.
    pub offered: &'a Offered,
    /// The room; `None` for the whole house.
    pub room: Option<Id<Room>>,
}

/// Every template, filled in.
pub fn templates(look: &Look<'_>, selection: impl Iterator<Item = Subject>) -> Vec<Template> {
    let template = |name: &'static str, body: Result<RuleBody, &'static str>| Template {
        name,
        rule: body.map(|body| Rule {
            name: look.named(name),
            room: look.room,
            enabled: true,
            comment: String::new(),
            body,
        }),
    };
    vec![
        template("A rule of its own", Ok(plain(look, selection))),
        template("Light on motion", of_room::light_on_motion(look)),
        template("Light while it is open", of_room::light_while_open(look)),
        template("Film", of_room::film(look)),
        template("Film ends", of_room::film_ends(look)),
        template("Key goes round", of_room::key_round(look)),
        template("Wired key", of_room::wired_key(look)),
        template("Wake", of_room::wake(look)),
        template("Goodnight", of_house::goodnight(look)),
        template("Away", of_house::away(look)),
        template("Doorbell", of_house::doorbell(look)),
        template("Seen at the door", of_house::seen_at_door(look)),
        template("Outside at night", of_house::outside_at_night(look)),
        template("Leak", of_house::leak(look)),
    ]
}

impl<'a> Look<'a> {
    /// A name that no other rule has.
    pub fn named(&self, name: &str) -> String {
        let room = self.room.and_then(|room| self.project.rooms.get(room));
        let stem = match (name, room) {
            ("A rule of its own", _) => "Rule".to_owned(),
            (name, Some(room)) => format!("{name}, {}", room.name.to_lowercase()),
            (name, None) => name.to_owned(),
        };
        let taken = |wanted: &str| self.project.rules.iter().any(|(_, rule)| rule.name == wanted);
        if name != "A rule of its own" && !taken(&stem) {
            return stem;
        }
        let mut number = if name == "A rule of its own" { self.project.rules.len() + 1 } else { 2 };
        while taken(&format!("{stem} {number}")) {
            number += 1;
        }
        format!("{stem} {number}")
    }

    fn reports(&self, name: &str) -> Option<PointRef> {
        self.find(|point| point.spec.role == PointRole::Reports && point.spec.name == name)
    }

    fn key(&self) -> Option<PointRef> {
        self.find(|point| point.is_event() && point.spec.name.starts_with("key"))
    }

    fn find(&self, fits: impl Fn(&Point) -> bool) -> Option<PointRef> {
        self.offered.in_room(self.room).find(|point| fits(point)).map(|point| point.point.clone())
    }

    /// Zones of a purpose that lie within the room, else those that reach into it; for the whole house, all.
    fn zones(&self, purpose: ZonePurpose) -> Vec<Target> {
        let within = |point: &PointRef| {
            self.room.is_none() || self.offered.get(point).is_some_and(|found| found.room == self.room)
        };
        let of = |wholly: bool| -> Vec<Target> {
            self.project
                .zones
                .iter()
                .filter(|(_, zone)| zone.purpose == purpose && zone.points.iter().any(within))
                .filter(|(_, zone)| !wholly || zone.points.iter().all(within))
                .map(|(id, _)| Target::Zone(id))
                .collect()
        };
        let inside = of(true);
        if inside.is_empty() { of(false) } else { inside }
    }

    /// What acts: zones of a purpose, else the single points of that name.
    fn acting(&self, purpose: ZonePurpose, point_name: &str) -> Vec<Target> {
        let zones = self.zones(purpose);
        if !zones.is_empty() {
            return zones;
        }
        let points = self.offered.in_room(self.room);
        points
            .filter(|point| point.obeys() && point.spec.name == point_name)
            .map(|point| Target::Point(point.point.clone()))
            .collect()
    }

    fn lights(&self) -> Vec<Target> {
        self.acting(ZonePurpose::Lighting, "level")
    }

    fn blinds(&self) -> Vec<Target> {
        self.acting(ZonePurpose::Blinds, "position")
    }

    /// A value for a light: figures where it dims, on or off where it only switches.
    fn light_value(&self, target: &Target, percent: f64) -> Value {
        match self.offered.type_of(self.project, target) {
            PointType::Number => Value::Number(percent),
            _ if percent > 0.0 => Value::On,
            _ => Value::Off,
        }
    }

    fn set_blinds(&self, percent: f64) -> impl Iterator<Item = Action> {
        self.blinds().into_iter().map(move |blind| set(Value::Number(percent), blind, Seconds::ZERO))
    }

    /// The same for the whole house.
    fn of_house(&self) -> Look<'a> {
        Look { project: self.project, offered: self.offered, room: None }
    }

    fn family(&self, point: &PointRef) -> Option<Family> {
        let device = self.project.devices.get(point.device)?;
        Some(self.project.kinds.get(device.kind)?.family)
    }

    /// The device itself if it takes pictures, else a camera outdoors, else any.
    fn camera_at(&self, device: Option<Id<Device>>) -> Option<Id<Device>> {
        let sees = |id: Id<Device>| {
            let kind = self.project.devices.get(id).and_then(|device| self.project.kinds.get(device.kind));
            kind.is_some_and(|kind| kind.optics.is_some())
        };
        let outdoors = self.offered.points().iter().filter(|point| point.room.is_none());
        device
            .filter(|device| sees(*device))
            .or_else(|| outdoors.map(|point| point.point.device).find(|device| sees(*device)))
            .or_else(|| self.project.devices.ids().find(|device| sees(*device)))
    }

    fn set_lights(&self, percent: f64, fade: Seconds) -> Vec<Action> {
        let lights = self.lights().into_iter();
        lights.map(|target| set(self.light_value(&target, percent), target, fade)).collect()
    }
}

fn set(value: Value, target: Target, fade: Seconds) -> Action {
    Action { target: Some(target), deed: Deed::Set(value), after: Seconds::ZERO, fade, by_hand: None }
}

fn when(trigger: Trigger, actions: Vec<Action>) -> RuleBody {
    RuleBody::When { trigger, conditions: Vec::new(), actions }
}

const NO_KEY: &str = "there is no plate with keys here";
const PICK_A_ROOM: &str = "it is for one room: pick which";
const NO_LIGHT: &str = "there is nothing to light here: place a luminaire or make a lighting zone";

/// A rule with nothing done yet; it starts from the selected device where there is one.
fn plain(look: &Look<'_>, selection: impl Iterator<Item = Subject>) -> RuleBody {
    let selected = selection.filter_map(|subject| match subject {
        Subject::Device(id) => Some(id),
        _ => None,
    });
    let devices: Vec<_> = selected.collect();
    let tells = |point: &&Point| point.spec.role == PointRole::Reports;
    let chosen = look
        .offered
        .points()
        .iter()
        .filter(tells)
        .find(|point| devices.contains(&point.point.device))
        .or_else(|| look.offered.in_room(look.room).find(tells));
    let trigger = chosen.map_or(Trigger::Time(TimeOfDay { minutes: 7 * 60 }), |point| {
        trigger_of(point.point.clone(), point.spec.point_type)
    });
    when(trigger, Vec::new())
}
