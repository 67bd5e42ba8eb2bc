//! Rules to start from that reach through the house: goodnight, away, somebody at the door, movement outside, a leak.

use pattress_model::id::Id;
use pattress_model::kit::{Device, Family, PointType};
use pattress_model::systems::{Action, Condition, Deed, HouseMode, RuleBody, Target, Value, ZonePurpose};
use pattress_model::units::Seconds;

use super::super::offered::Point;
use super::super::rule_parts::trigger_of;
use super::{Look, NO_KEY, NO_LIGHT, set, when};

fn tell(message: &str, picture: Option<Id<Device>>) -> Action {
    Action::new(None, Deed::Notify { text: message.to_owned(), picture })
}

pub(super) fn goodnight(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let key = look.key().ok_or(NO_KEY)?;
    // Everything goes off, whichever room the key is in.
    let house = look.of_house();
    let mut actions = house.set_lights(0.0, Seconds(5.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(house.set_blinds(0.0));
    actions.extend(enter(look, "night"));
    Ok(when(trigger_of(key, PointType::Event), actions))
}

pub(super) fn away(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = look.of_house();
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
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(enter(look, "away"));
    Ok(when(set_by, actions))
}

/// Enters the mode of that name, where the house has one.
fn enter(look: &Look<'_>, name: &str) -> Option<Action> {
    let found = look.project.modes.iter().find(|(_, mode)| mode.name.to_lowercase().contains(name));
    found.map(|(mode, _)| Action::new(None, Deed::EnterMode(HouseMode::Named(mode))))
}

/// Ringing takes a picture, tells the household and sounds the chime.
pub(super) fn doorbell(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = look.of_house();
    let bell = look.reports("ring").or_else(|| house.reports("ring")).ok_or("there is no bell push")?;
    let chime = house.find(|point| point.obeys() && point.spec.name == "ring");
    let picture = look.camera_at(Some(bell.device));
    let mut actions = vec![tell("Someone is at the door", picture)];
    actions.extend(chime.map(|chime| set(Value::On, Target::Point(chime), Seconds::ZERO)));
    Ok(when(trigger_of(bell, PointType::Event), actions))
}

/// A visitor is seen before ringing.
pub(super) fn seen_at_door(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = look.of_house();
    let of_station = |point: &Point| {
        let kind = look.project.devices.get(point.point.device).map(|device| device.kind);
        let kind = kind.and_then(|kind| look.project.kinds.get(kind));
        point.spec.name == "motion" && kind.is_some_and(|kind| kind.point("ring").is_some())
    };
    let motion = house.find(of_station).ok_or("there is no door station that sees who comes")?;
    let picture = look.camera_at(Some(motion.device));
    let mut actions = vec![tell("Somebody comes to the door", picture)];
    let screen = house.find(|point| point.obeys() && point.spec.name == "picture");
    actions.extend(screen.map(|screen| set(Value::On, Target::Point(screen), Seconds::ZERO)));
    Ok(when(trigger_of(motion, PointType::State), actions))
}

/// Movement outside at night lights, records and tells the household.
pub(super) fn outside_at_night(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = look.of_house();
    let outside = |point: &Point| point.room.is_none();
    let motion = house
        .find(|point| outside(point) && point.spec.name == "motion")
        .ok_or("there is nothing outdoors that senses movement")?;
    let lights = house.offered.points().iter().filter(|point| outside(point) && point.obeys());
    let is_light = |point: &&Point| look.family(&point.point) == Some(Family::Luminaires);
    let lights = lights.filter(is_light).filter(|point| matches!(point.spec.name.as_str(), "level" | "on"));
    let mut actions: Vec<Action> = lights
        .map(|point| {
            let target = Target::Point(point.point.clone());
            set(look.light_value(&target, 100.0), target, Seconds::ZERO)
        })
        .collect();
    actions.push(tell("Somebody moves outside", look.camera_at(Some(motion.device))));
    let trigger = trigger_of(motion, PointType::State);
    Ok(RuleBody::When { trigger, conditions: vec![Condition::Dark], actions })
}

pub(super) fn leak(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let house = look.of_house();
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
    actions.push(tell("Water is where it should not be", None));
    Ok(when(trigger_of(leak, PointType::State), actions))
}
