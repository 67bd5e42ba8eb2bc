//! Rules to start from that are for one room: light by motion, light while a door is open, film and its end, wake.

use pattress_model::kit::{Family, PointType};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, RuleBody, Setting, Target, Trigger, Value,
    Weekdays,
};
use pattress_model::units::{Seconds, TimeOfDay};

use super::super::rule_parts::trigger_of;
use super::{Look, NO_KEY, NO_LIGHT, PICK_A_ROOM, when};

/// A room lit by motion stays lit while motion goes on and goes dark so long after the last; common practice, no
/// published source.
const STAYS_LIT: Seconds = Seconds(300.0);

/// A strip is brought to about a fifth for a film; common practice, no published source.
const FILM_PERCENT: f64 = 20.0;

pub(super) fn light_on_motion(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let motion = look.reports("motion").ok_or("there is no motion detector here")?;
    let lights = look.lights();
    if lights.is_empty() {
        return Err(NO_LIGHT);
    }
    Ok(held(look, vec![is_on(motion), Condition::Dark], lights, 80.0, STAYS_LIT))
}

/// Light under joinery, in a cupboard or a larder: white while the door is open, and then as it would have been.
pub(super) fn light_while_open(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let contact = look
        .find(|point| point.spec.name == "open" && look.family(&point.point) == Some(Family::Contacts))
        .ok_or("there is no contact at a door, a drawer or a window here")?;
    let lights = look.lights();
    if lights.is_empty() {
        return Err(NO_LIGHT);
    }
    Ok(held(look, vec![is_on(contact)], lights, 100.0, Seconds::ZERO))
}

fn is_on(point: PointRef) -> Condition {
    Condition::Point { point, comparison: Comparison::Is, value: Value::On }
}

fn held(
    look: &Look<'_>,
    conditions: Vec<Condition>,
    lights: Vec<Target>,
    percent: f64,
    linger: Seconds,
) -> RuleBody {
    let setting =
        |target: Target| Setting { value: look.light_value(&target, percent), target, fade: Seconds(1.0) };
    RuleBody::While {
        conditions,
        linger,
        settings: lights.into_iter().map(setting).collect(),
        rank: pattress_model::sentence::USUAL_RANK,
        yields_to_hand: true,
    }
}

pub(super) fn film(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let key = look.key().ok_or(NO_KEY)?;
    let mut actions = look.set_lights(FILM_PERCENT, Seconds(3.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(look.set_blinds(0.0));
    Ok(when(trigger_of(key, PointType::Event), actions))
}

/// The same key, pressed twice, ends it and leaves the room dark for the next day.
pub(super) fn film_ends(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let point = look.key().ok_or(NO_KEY)?;
    let mut actions = look.set_lights(0.0, Seconds(3.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    actions.extend(look.set_blinds(100.0));
    Ok(when(Trigger::Event { point, gesture: Gesture::PressTwice }, actions))
}

/// One key: bright, low, dark, and so on.
pub(super) fn key_round(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let key = look.key().ok_or(NO_KEY)?;
    let light = look.lights().into_iter().next().ok_or(NO_LIGHT)?;
    let values = match look.offered.type_of(look.project, &light) {
        PointType::Number => vec![Value::Number(100.0), Value::Number(20.0), Value::Off],
        _ => vec![Value::On, Value::Off],
    };
    Ok(when(trigger_of(key, PointType::Event), vec![Action::new(Some(light), Deed::Cycle(values))]))
}

pub(super) fn wake(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    look.room.ok_or(PICK_A_ROOM)?;
    let mut actions = look.set_lights(60.0, Seconds(20.0 * 60.0));
    actions.extend(look.set_blinds(100.0));
    if actions.is_empty() {
        return Err(NO_LIGHT);
    }
    Ok(RuleBody::When {
        trigger: Trigger::Time(TimeOfDay { minutes: 7 * 60 }),
        conditions: vec![Condition::Weekdays(Weekdays::WORKING)],
        actions,
    })
}

/// A key that works its light with the hub or without.
pub(super) fn wired_key(look: &Look<'_>) -> Result<RuleBody, &'static str> {
    let key = look.key().ok_or(NO_KEY)?;
    let target = look.lights().into_iter().next().ok_or(NO_LIGHT)?;
    Ok(RuleBody::Wired { key, target })
}
