//! Which sensors put the light on in a room, and how long it stays on after them.
//!
//! A sensor lights a room if an enabled rule starts, or holds, because it notices somebody, and by that gives a
//! luminaire of the room more than nothing. Where no rule does so for a room, every sensor in it that notices
//! people stands in, and the answer says that no rule was found. A contact in a door may light a room too, for
//! whoever comes in by that door.

use std::collections::{BTreeMap, BTreeSet};

use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount, PointRole, PointType};
use crate::plan::{Opening, OpeningForm, Room, Sense};
use crate::project::Project;
use crate::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, Setting, Target, Trigger, Value,
    ZonePurpose,
};
use crate::units::Seconds;

/// How long the light stays on after a sensor noticed somebody, as the rules say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StaysOn {
    /// For so long after somebody was last noticed.
    AfterLast(Seconds),
    /// For so long after somebody was first noticed, noticed again or not.
    AfterFirst(Seconds),
    /// No rule says when it goes out: taken to stay on.
    Unsaid,
}

/// A sensor that puts the light on in a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lighter {
    /// The sensor.
    pub device: Id<Device>,
    /// The rule by which it does; `None` where no rule lights the room and the sensor merely stands in it.
    pub rule: Option<Id<Rule>>,
    /// How long the light stays on; the shortest where several rules say.
    pub stays_on: StaysOn,
    /// The door whose opening it tells, for a contact; `None` for a sensor that notices people.
    pub door: Option<Id<Opening>>,
}

/// Senses that notice people who move about a room.
pub const NOTICES_PEOPLE: [Sense; 3] = [Sense::BodyHeat, Sense::Microwave, Sense::Dual];

/// Whether devices of a kind notice people who move about.
pub fn notices_people(kind: &Kind) -> bool {
    kind.detection.as_ref().is_some_and(|detection| NOTICES_PEOPLE.contains(&detection.sense))
}

/// The sensors that light each room, by id. A room that none lights is not in it.
pub fn lighters(project: &Project, whereabouts: &Whereabouts) -> BTreeMap<Id<Room>, Vec<Lighter>> {
    let mut by_room: BTreeMap<Id<Room>, BTreeMap<Id<Device>, Lighter>> = BTreeMap::new();
    for (id, rule) in project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let noticed: Vec<(PointRef, Option<Id<Opening>>)> = points_that_start(project, rule)
            .into_iter()
            .filter_map(|point| {
                let door = door_told_of(project, &point);
                (door.is_some() || tells_of_people(project, &point)).then_some((point, door))
            })
            .collect();
        if noticed.is_empty() {
            continue;
        }
        let rooms = rooms_lit(project, whereabouts, rule);
        for (point, door) in noticed {
            let stays_on = stays_on(project, rule, &point);
            let lighter = Lighter { device: point.device, rule: Some(id), stays_on, door };
            for room in &rooms {
                by_room
                    .entry(*room)
                    .or_default()
                    .entry(point.device)
                    .and_modify(|known| *known = shorter(*known, lighter))
                    .or_insert(lighter);
            }
        }
    }
    let mut lighters: BTreeMap<Id<Room>, Vec<Lighter>> =
        by_room.into_iter().map(|(room, devices)| (room, devices.into_values().collect())).collect();
    for (room, stand_in) in stand_ins(project, whereabouts) {
        let known = lighters.entry(room).or_default();
        if known.iter().all(|lighter| lighter.door.is_some()) {
            known.extend(stand_in);
        }
    }
    lighters
}

/// Whether a point tells that its sensor notices somebody: what such a sensor reports as a state or an event, but for
/// its tamper contact.
fn tells_of_people(project: &Project, point: &PointRef) -> bool {
    let kind = project.devices.get(point.device).and_then(|device| project.kinds.get(device.kind));
    kind.filter(|kind| notices_people(kind)).and_then(|kind| kind.point(&point.point)).is_some_and(|spec| {
        matches!(spec.point_type, PointType::State | PointType::Event)
            && spec.role == PointRole::Reports
            && spec.name != "tamper"
    })
}

/// The door whose opening a point tells: that of the contact's wall which is nearest to it, where it is on the
/// door's frame.
fn door_told_of(project: &Project, point: &PointRef) -> Option<Id<Opening>> {
    let device = project.devices.get(point.device)?;
    let kind = project.kinds.get(device.kind).filter(|kind| kind.family == Family::Contacts)?;
    kind.point(&point.point).filter(|spec| spec.name == "open")?;
    let Mount::WallFace { wall, along, .. } = device.mount else { return None };
    let beside =
        |opening: &Opening| (along.as_mm() - opening.centre.as_mm()).abs() - opening.width.as_mm() / 2.0;
    project
        .openings
        .iter()
        .filter(|(_, opening)| opening.wall == wall && matches!(opening.form, OpeningForm::Door { .. }))
        .map(|(id, opening)| (id, beside(opening)))
        .filter(|(_, beside)| *beside <= FRAME_MM)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(id, _)| id)
}

/// A contact is on a door's frame if it is no farther beside the opening than this, mm: the width of an architrave.
/// Common practice, no published source.
const FRAME_MM: f64 = 100.0;

fn is_sensor(project: &Project, device: Id<Device>) -> bool {
    let kind = project.devices.get(device).and_then(|device| project.kinds.get(device.kind));
    kind.is_some_and(notices_people)
}

/// Every sensor that notices people, by the room it is in.
fn stand_ins(project: &Project, whereabouts: &Whereabouts) -> BTreeMap<Id<Room>, Vec<Lighter>> {
    let mut by_room: BTreeMap<Id<Room>, Vec<Lighter>> = BTreeMap::new();
    for (id, device) in project.devices.iter().filter(|(id, _)| is_sensor(project, *id)) {
        if let Some(room) = whereabouts.room_of(project, device) {
            let lighter = Lighter { device: id, rule: None, stays_on: StaysOn::Unsaid, door: None };
            by_room.entry(room).or_default().push(lighter);
        }
    }
    by_room
}

/// The one after which the light goes out sooner.
fn shorter(a: Lighter, b: Lighter) -> Lighter {
    let lasts = |lighter: &Lighter| match lighter.stays_on {
        StaysOn::AfterLast(time) | StaysOn::AfterFirst(time) => time.0,
        StaysOn::Unsaid => f64::INFINITY,
    };
    if lasts(&b) < lasts(&a) { b } else { a }
}

/// Points at which noticing somebody starts a *when* rule, or is among what lets a *while* rule hold.
fn points_that_start(project: &Project, rule: &Rule) -> BTreeSet<PointRef> {
    let mut points = BTreeSet::new();
    match &rule.body {
        RuleBody::When { trigger: Trigger::Event { point, .. }, .. } => {
            points.insert(point.clone());
        }
        RuleBody::When { trigger: Trigger::Becomes { point, comparison, value }, .. } => {
            if is_on(*comparison, *value) {
                points.insert(point.clone());
            }
        }
        RuleBody::When { trigger: Trigger::Stays { condition, .. }, .. } => {
            points_noticed(project, condition, &mut points);
        }
        RuleBody::When { .. } | RuleBody::Wired { .. } => {}
        RuleBody::While { conditions, .. } => {
            conditions.iter().for_each(|condition| points_noticed(project, condition, &mut points));
        }
    }
    points
}

/// Points any of which makes the condition hold, or part of it, once it is on.
fn points_noticed(project: &Project, condition: &Condition, points: &mut BTreeSet<PointRef>) {
    match condition {
        Condition::Point { point, comparison, value } if is_on(*comparison, *value) => {
            points.insert(point.clone());
        }
        Condition::AnyOf(zone) => {
            points.extend(project.zones.get(*zone).into_iter().flat_map(|zone| zone.points.clone()));
        }
        Condition::Not(inner) => {
            if let Condition::Point { point, comparison, value } = inner.as_ref()
                && is_off(*comparison, *value)
            {
                points.insert(point.clone());
            }
        }
        Condition::OneOf(inner) => {
            inner.iter().for_each(|condition| points_noticed(project, condition, points));
        }
        _ => {}
    }
}

fn is_on(comparison: Comparison, value: Value) -> bool {
    match comparison {
        Comparison::Is => gives_light(value),
        Comparison::IsNot => !gives_light(value),
        Comparison::Above => true,
        Comparison::Below => false,
    }
}

fn is_off(comparison: Comparison, value: Value) -> bool {
    match comparison {
        Comparison::Is => !gives_light(value),
        Comparison::IsNot => gives_light(value),
        Comparison::Above => false,
        Comparison::Below => true,
    }
}

/// Whether a luminaire that is given this gives light.
fn gives_light(value: Value) -> bool {
    match value {
        Value::On => true,
        Value::Off => false,
        Value::Number(number) => number > 0.0,
        Value::Colour(channels) => channels != [0, 0, 0],
    }
}

/// The rooms in which the rule gives a luminaire more than nothing.
fn rooms_lit(project: &Project, whereabouts: &Whereabouts, rule: &Rule) -> BTreeSet<Id<Room>> {
    let mut rooms = BTreeSet::new();
    let mut lit = |target: &Target| rooms.extend(rooms_of(project, whereabouts, rule, target));
    let settings = |settings: &[Setting], lit: &mut dyn FnMut(&Target)| {
        settings.iter().filter(|setting| gives_light(setting.value)).for_each(|setting| lit(&setting.target));
    };
    match &rule.body {
        RuleBody::When { actions, .. } => {
            for Action { target, deed, .. } in actions {
                let lights = match deed {
                    Deed::Set(value) => gives_light(*value),
                    Deed::Toggle => true,
                    Deed::Step(percent) => *percent > 0,
                    Deed::Cycle(values) => values.iter().any(|value| gives_light(*value)),
                    Deed::RunScene(scene) => {
                        if let Some(scene) = project.scenes.get(*scene) {
                            settings(&scene.settings, &mut lit);
                        }
                        false
                    }
                    _ => false,
                };
                if lights {
                    target.iter().for_each(&mut lit);
                }
            }
        }
        RuleBody::While { settings: held, .. } => settings(held, &mut lit),
        RuleBody::Wired { .. } => {}
    }
    rooms
}

/// The rooms of a target's luminaires. A zone for lighting without a luminaire that is in a room (the channels of
/// a dimmer in the rack) lights the room under which the rule is listed.
fn rooms_of(
    project: &Project,
    whereabouts: &Whereabouts,
    rule: &Rule,
    target: &Target,
) -> BTreeSet<Id<Room>> {
    let room_of = |point: &PointRef| {
        let device = project.devices.get(point.device)?;
        let kind = project.kinds.get(device.kind)?;
        let is_luminaire = kind.lamp.is_some() || kind.family == Family::Luminaires;
        if is_luminaire { whereabouts.room_of(project, device) } else { None }
    };
    match target {
        Target::Point(point) => room_of(point).into_iter().collect(),
        Target::Zone(zone) => {
            let Some(zone) = project.zones.get(*zone) else { return BTreeSet::new() };
            let rooms: BTreeSet<Id<Room>> = zone.points.iter().filter_map(room_of).collect();
            let by_name = rooms.is_empty() && zone.purpose == ZonePurpose::Lighting;
            if by_name { rule.room.into_iter().collect() } else { rooms }
        }
    }
}

/// How long the light stays on that a rule gives because a point is on.
fn stays_on(project: &Project, rule: &Rule, point: &PointRef) -> StaysOn {
    let RuleBody::When { actions, .. } = &rule.body else {
        return match &rule.body {
            RuleBody::While { linger, .. } => StaysOn::AfterLast(*linger),
            _ => StaysOn::Unsaid,
        };
    };
    let targets: Vec<&Target> = actions.iter().filter_map(|action| action.target.as_ref()).collect();
    let by_itself = actions
        .iter()
        .filter(|action| puts_out(action, &targets) && action.after.0 > 0.0)
        .map(|action| StaysOn::AfterFirst(action.after));
    let by_another = project.rules.iter().filter(|(_, other)| other.enabled).filter_map(|(_, other)| {
        let RuleBody::When { trigger, actions, .. } = &other.body else { return None };
        let waits = waits_after(trigger, point)?;
        let out = actions.iter().filter(|action| puts_out(action, &targets));
        let after = out.map(|action| action.after.0).min_by(f64::total_cmp)?;
        Some(StaysOn::AfterLast(Seconds(waits + after)))
    });
    let lasts = |stays: &StaysOn| match stays {
        StaysOn::AfterLast(time) | StaysOn::AfterFirst(time) => time.0,
        StaysOn::Unsaid => f64::INFINITY,
    };
    by_itself.chain(by_another).min_by(|a, b| lasts(a).total_cmp(&lasts(b))).unwrap_or(StaysOn::Unsaid)
}

fn puts_out(action: &Action, targets: &[&Target]) -> bool {
    let off = matches!(&action.deed, Deed::Set(value) if !gives_light(*value));
    off && action.target.as_ref().is_some_and(|target| targets.contains(&target))
}

/// How long after a point went off a trigger comes, seconds; `None` where it does not come by that.
fn waits_after(trigger: &Trigger, point: &PointRef) -> Option<f64> {
    match trigger {
        Trigger::Becomes { point: of, comparison, value } => {
            (of == point && is_off(*comparison, *value)).then_some(0.0)
        }
        Trigger::Stays { condition, lasting } => {
            let about = match condition {
                Condition::Point { point, comparison, value } => is_off(*comparison, *value).then_some(point),
                Condition::Not(inner) => match inner.as_ref() {
                    Condition::Point { point, comparison, value } => {
                        is_on(*comparison, *value).then_some(point)
                    }
                    _ => None,
                },
                _ => None,
            };
            (about == Some(point)).then_some(lasting.0)
        }
        _ => None,
    }
}
