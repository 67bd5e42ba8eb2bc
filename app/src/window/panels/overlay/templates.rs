//! Rules to start from: each fills in what the plan has in a room and says what is missing where it can't.

use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::kit::{PointRole, PointType};
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, Setting, Target, Trigger, Value,
    ZonePurpose,
};
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
        template("Light on motion", light_on_motion(look)),
        template("Film", film(look)),
        template("Wake", wake(look)),
        template("Goodnight", goodnight(look)),
        template("Away", away(look)),
        template("Doorbell", doorbell(look)),
        template("Leak", leak(look)),
    ]
}

impl Look<'_> {
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

    fn set_lights(&self, percent: f64, fade: Seconds) -> Vec<Action> {
        let lights = self.lights().into_iter();
        lights.map(|target| set(self.light_value(&target, percent), target, fade)).collect()
    }
}

fn set(value: Value, target: Target, fade: Seconds) -> Action {
    Action { target: Some(target), deed: Deed::Set(value), after: Seconds::ZERO, fade, by_hand: None }
}

fn tell(message: &str) -> Action {
    Action {
        target: None,
        deed: Deed::notify(message),
        after: Seconds::ZERO,
        fade: Seconds::ZERO,
        by_hand: None,
    }
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

fn light_on_motion(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let motion = look.reports("motion").ok_or("there is no motion detector here")?;
    let lights = look.lights();
    if lights.is_empty() {
        return Err(NO_LIGHT);
    }
    let held = Condition::Point { point: motion, comparison: Comparison::Is, value: Value::On };
    let setting =
        |target: Target| Setting { value: look.light_value(&target, 80.0), target, fade: Seconds(1.0) };
    Ok(RuleBody::While {
        conditions: vec![held, Condition::Dark],
        linger: Seconds(300.0),
        settings: lights.into_iter().map(setting).collect(),
        rank: 1,
        yields_to_hand: true,
    })
}

fn film(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let key = look.key().ok_or(NO_KEY)?;
    let mut actions = look.set_lights(10.0, Seconds(3.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(look.blinds().into_iter().map(|blind| set(Value::Number(0.0), blind, Seconds::ZERO)));
    Ok(when(trigger_of(key, PointType::Event), actions))
}

fn wake(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let mut actions = look.set_lights(60.0, Seconds(20.0 * 60.0));
    actions.extend(look.blinds().into_iter().map(|blind| set(Value::Number(100.0), blind, Seconds::ZERO)));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    Ok(when(Trigger::Time(TimeOfDay { minutes: 7 * 60 }), actions))
}

fn goodnight(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let key = look.key().ok_or(NO_KEY)?;
    // Everything goes off, whichever room the key is in.
    let house = Look { room: None, ..*look };
    let mut actions = house.set_lights(0.0, Seconds(5.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(house.blinds().into_iter().map(|blind| set(Value::Number(0.0), blind, Seconds::ZERO)));
    Ok(when(trigger_of(key, PointType::Event), actions))
}

fn away(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = Look { room: None, ..*look };
    let set_by = house
        .find(|point| point.is_event() && point.spec.name == "set")
        .map(|point| trigger_of(point, PointType::Event))
        .or_else(|| look.key().map(|key| trigger_of(key, PointType::Event)))
        .ok_or("there is neither a keypad that sets the alarm nor a plate with keys")?;
    let mut actions = house.set_lights(0.0, Seconds(5.0));
    actions.extend(
        house
            .acting(ZonePurpose::Heating, "set point")
            .into_iter()
            .filter(|target| house.offered.type_of(house.project, target) == PointType::Number)
            .map(|heating| set(Value::Number(16.0), heating, Seconds::ZERO)),
    );
    if actions.is_empty() { Err(NO_LIGHT) } else { Ok(when(set_by, actions)) }
}

fn doorbell(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = Look { room: None, ..*look };
    let bell = look.reports("ring").or_else(|| house.reports("ring")).ok_or("there is no bell push")?;
    let chime = house.find(|point| point.obeys() && point.spec.name == "ring");
    let mut actions = vec![tell("Someone is at the door")];
    actions.extend(chime.map(|chime| set(Value::On, Target::Point(chime), Seconds::ZERO)));
    Ok(when(trigger_of(bell, PointType::Event), actions))
}

fn leak(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = Look { room: None, ..*look };
    let leak = look.reports("leak").ok_or("there is no leak detector here")?;
    // Not any valve: shutting the heating does not stop the water.
    let of_water = |point: &Point| {
        let kind = look.project.devices.get(point.point.device).map(|device| device.kind);
        let kind = kind.and_then(|kind| look.project.kinds.get(kind));
        kind.is_some_and(|kind| kind.name.to_lowercase().contains("water"))
    };
    let valve = house.find(|point| point.obeys() && point.spec.name == "open" && of_water(point));
    let mut actions: Vec<Action> =
        valve.map(|valve| set(Value::Off, Target::Point(valve), Seconds::ZERO)).into_iter().collect();
    actions.push(tell("Water is where it should not be"));
    Ok(when(trigger_of(leak, PointType::State), actions))
}
