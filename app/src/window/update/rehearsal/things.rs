//! What is done to the things of a house while it is rehearsed.

use pattress_model::building::told_open::{OPEN, ToldOpen};
use pattress_model::calendar::UtcTime;
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::kit::{Device, PointRole, PointType};
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::Incoming;
use pattress_model::systems::{Gesture, PointRef, Value};

use crate::window::board::Board;
use crate::window::rehearsal::LivePlan;
use crate::window::rehearsal::live::stops_at;
use crate::window::rehearsal::person::Person;

use super::super::refuse;
use super::clock;

/// Something comes in now.
pub(super) fn come_in(board: &mut Board, what: Incoming) {
    let Some(live) = board.live.as_deref_mut() else { return };
    if let Err(sentence) = take_in(live, what) {
        refuse(board, sentence);
    }
}

/// Lets something come in now, and stops the clock where what follows asks for it.
pub(super) fn take_in(live: &mut LivePlan, what: Incoming) -> Result<(), String> {
    let (before, forgets) = (live.reel.happened(), live.reel.lies_ahead());
    live.reel.come_in(what).map_err(|refused| refused.to_string())?;
    live.paused = None;
    // What is done now is no part of a script that was shown.
    live.showing = None;
    let now = live.now();
    if let Some(Person::Walking(walking)) = live.person.as_mut().filter(|_| forgets) {
        walking.again_from(now);
    }
    if live.chosen.is_some_and(|chosen| chosen >= before) {
        live.chosen = None;
    }
    let stops = (before..live.reel.happened())
        .find(|entry| live.reel.told().get(*entry).is_some_and(|entry| stops_at(live.stopping(), entry)));
    if let Some(entry) = stops {
        clock::stop_at(live, entry);
    }
    Ok(())
}

/// What sensors report as somebody's walk comes to them; whether the clock was stopped by it.
pub(super) fn footsteps(live: &mut LivePlan, until: UtcTime) -> bool {
    loop {
        let Some(Person::Walking(walking)) = &mut live.person else { return false };
        let Some(step) = walking.take(until) else { return false };
        let Some(point) = live.book().number(&step.point) else { continue };
        let value = if step.seen { Value::On } else { Value::Off };
        let _ = take_in(live, Incoming::Value { point, value });
        if live.paused.is_some() {
            return true;
        }
    }
}

/// A thing on the plan is clicked.
pub(super) fn touch(board: &mut Board, subject: Subject) {
    let project = board.session.project();
    let Some(live) = board.live.as_deref_mut() else { return };
    let at_once = match subject {
        Subject::Device(id) => only_deed(project, live, id),
        Subject::Opening(id) => one_contact(live, ToldOpen::Opening(id)),
        Subject::Joinery(id) => one_contact(live, ToldOpen::Joinery(id)),
        _ => None,
    };
    match at_once {
        Some(what) => {
            live.card = live.card.filter(|open| *open == subject);
            come_in(board, what);
        }
        None => live.card = Some(subject),
    }
}

/// A leaf that one contact tells of is opened, or shut.
fn one_contact(live: &LivePlan, told: ToldOpen) -> Option<Incoming> {
    let mut contacts = live.contacts_of(told);
    match (contacts.next(), contacts.next()) {
        (Some(contact), None) => toggled(live, &PointRef::new(contact, OPEN)),
        _ => None,
    }
}

/// What a click does to a device that can do just one thing: a plate of one key, a bell, a contact.
fn only_deed(project: &Project, live: &LivePlan, id: Id<Device>) -> Option<Incoming> {
    let kind = project.kinds.get(project.devices.get(id)?.kind)?;
    let works =
        |name: &str| !matches!(name, "tamper" | "fault" | "battery low" | "mains failed" | "obstructed");
    let mut points = kind.points.iter().filter(|point| works(&point.name));
    let (only, more) = (points.next()?, points.next());
    if more.is_some() {
        return None;
    }
    let at = PointRef::new(id, only.name.as_str());
    match (only.point_type, only.role) {
        (PointType::Event, PointRole::Reports) => {
            let gesture = if only.name.starts_with("key") { Gesture::Press } else { Gesture::Happens };
            Some(Incoming::Gesture { point: live.book().number(&at)?, gesture })
        }
        (PointType::State, PointRole::Reports) if only.name == OPEN => toggled(live, &at),
        _ => None,
    }
}

/// The other state of a point.
fn toggled(live: &LivePlan, at: &PointRef) -> Option<Incoming> {
    let point = live.book().number(at)?;
    let value = if live.run().seen(point).is_on() { Value::Off } else { Value::On };
    Some(Incoming::Value { point, value })
}
