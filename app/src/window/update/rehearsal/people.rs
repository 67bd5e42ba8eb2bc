//! Somebody in the house while it is rehearsed: led by the pointer, or on a walk of the plan.

use kurbo::Point;
use pattress_model::id::Id;
use pattress_model::plan::Walk;
use pattress_model::studies::rehearsal::Incoming;
use pattress_model::systems::Value;

use crate::window::board::Board;
use crate::window::rehearsal::person::{Person, Walking, noticed};

use super::super::refuse;
use super::{clock, say, things};

/// Somebody steps into the house; whoever was there is gone.
pub(super) fn step_in(board: &mut Board, ctx: &egui::Context, at: Point) {
    let Some(live) = board.live.as_deref_mut() else { return };
    live.sensors.ask(board.session.project(), board.in_place, ctx);
    let level = board.session.level();
    if let Some(Person::Led { level: was_on, at: was_at }) = live.person
        && was_on == level
        && (was_at - at).hypot() < NEAR_MM
    {
        return;
    }
    leave(board);
    report(board, None, Some(at));
}

/// Within so much of somebody, they are taken by the hand rather than another one let in, plan mm.
const NEAR_MM: f64 = 500.0;

/// Somebody who is in the house goes on; the clock goes by what their way takes.
pub(super) fn lead_to(board: &mut Board, to: Point) {
    let level = board.session.level();
    match board.live.as_deref().and_then(|live| live.person.as_ref()) {
        Some(Person::Led { level: on, at }) if *on == level => {
            let at = *at;
            report(board, Some(at), Some(to));
        }
        _ => report(board, None, Some(to)),
    }
}

/// Whoever is in the house leaves it.
pub(super) fn leave(board: &mut Board) {
    let Some(live) = board.live.as_deref_mut() else { return };
    match live.person.take() {
        Some(Person::Led { level, at }) => {
            live.person = Some(Person::Led { level, at });
            report(board, Some(at), None);
        }
        Some(Person::Walking(mut walking)) => {
            // What saw them last sees them no more.
            while let Some(step) = walking.take(pattress_model::calendar::UtcTime::from_ms(i64::MAX)) {
                let Some(point) = live.book().number(&step.point).filter(|_| !step.seen) else { continue };
                let _ = things::take_in(live, Incoming::Value { point, value: Value::Off });
            }
        }
        None => {}
    }
}

/// Somebody goes from one place to another on the storey they are on: time passes, sensors report.
fn report(board: &mut Board, from: Option<Point>, to: Option<Point>) {
    let project = board.session.project();
    let Some(live) = board.live.as_deref_mut() else { return };
    let level = match &live.person {
        Some(Person::Led { level, .. }) => *level,
        _ => board.session.level(),
    };
    let sensors = live.sensors.known().unwrap_or_default();
    let (found, takes_ms) = noticed(project, &sensors, level, from, to);
    let set_out = live.now();
    live.person = to.map(|at| Person::Led { level, at });
    for noticed in found {
        clock::pass_wholly(live, set_out.after_ms(noticed.after_ms));
        let Some(point) = live.book().number(&noticed.point) else { continue };
        let value = if noticed.seen { Value::On } else { Value::Off };
        let _ = things::take_in(live, Incoming::Value { point, value });
    }
    clock::pass_wholly(live, set_out.after_ms(takes_ms));
}

/// Somebody walks a walk of the plan, once it is known what sensors cover.
pub(super) fn walk(board: &mut Board, ctx: &egui::Context, walk: Id<Walk>) {
    leave(board);
    let project = board.session.project();
    let Some(live) = board.live.as_deref_mut() else { return };
    if !project.walks.contains(walk) {
        return refuse(board, "this walk is gone".to_owned());
    }
    live.sensors.ask(project, board.in_place, ctx);
    live.to_walk = Some(walk);
    if live.sensors.known().is_none() {
        say(board, "What the sensors cover is being worked out; the walk begins when that is known.");
    }
    keep_up(board);
}

/// Sets out on a walk that waits.
pub(super) fn keep_up(board: &mut Board) {
    let project = board.session.project();
    let Some(live) = board.live.as_deref_mut() else { return };
    let (Some(walk), Some(sensors)) = (live.to_walk, live.sensors.known()) else { return };
    live.to_walk = None;
    let Some(walk) = project.walks.get(walk) else { return };
    let first = walk.points.first().map(|point| point.level);
    let walking = Walking::set_out(project, walk, &sensors, live.now());
    live.person = Some(Person::Walking(walking));
    live.plays = true;
    let sentence = format!("Somebody walks “{}”.", walk.name);
    if let Some(level) = first {
        board.session.level = level;
    }
    say(board, &sentence);
}
