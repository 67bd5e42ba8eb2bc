//! The clock of a rehearsal: let go frame by frame, jumped, stepped and wound back, never for longer in one frame than
//! a hand can feel.

use std::time::{Duration, Instant};

use pattress_model::calendar::{MS_PER_DAY, UtcTime};
use pattress_model::studies::rehearsal::{Advanced, telling};

use crate::window::board::Board;
use crate::window::rehearsal::live::stops_at;
use crate::window::rehearsal::pace::Brings;
use crate::window::rehearsal::person::Person;
use crate::window::rehearsal::{LivePlan, Paused, Running};

use super::things;

/// So long may a frame play; what is left goes on in the next.
const PATIENCE: Duration = Duration::from_millis(8);

/// The clock is asked after so many moments: at the end of each day the sun of the next is worked out, which takes some
/// milliseconds.
const MOMENTS: usize = 8;

/// So far ahead the next thing that happens is looked for.
const LOOKED_AHEAD_MS: i64 = 7 * MS_PER_DAY;

/// Frames this far apart, s, count as no longer: a window that slept does not run a day.
const LONGEST_FRAME: f64 = 0.5;

/// Between frames while something moves, and while only the clock does.
const MOVING: Duration = Duration::from_millis(16);
const AT_REST: Duration = Duration::from_millis(200);

/// Lets the clock go on by what has passed since the last frame.
pub(super) fn keep_up(board: &mut Board, ctx: &egui::Context) {
    let Some(live) = board.live.as_deref_mut() else { return };
    let now = ctx.input(|input| input.time);
    let passed = live.last_frame.map_or(0.0, |last| (now - last).clamp(0.0, LONGEST_FRAME));
    live.last_frame = Some(now);
    if let Some(running) = live.running {
        if pass(live, running.to) {
            live.running = None;
        }
        ctx.request_repaint_after(MOVING);
    } else if live.plays {
        match live.beat.passed(live.pace, passed) {
            Brings::Time(ms) => {
                let until = live.now().after_ms(ms);
                pass(live, until);
            }
            Brings::NextThing => {
                if !next_thing(live) {
                    live.plays = false;
                }
            }
            Brings::Nothing => {}
        }
        let quick = live.moves() || live.pace.ms_a_second().is_none_or(|ms| ms > 1_000.0);
        ctx.request_repaint_after(if quick { MOVING } else { AT_REST });
    }
    if live.plays
        && live.showing().is_some_and(|showing| live.now() >= showing.ends)
        && !live.reel.lies_ahead()
    {
        live.plays = false;
    }
}

/// Lets time pass to a moment, as far as a frame's patience goes; whether it came there or was stopped on the way.
pub(super) fn pass(live: &mut LivePlan, until: UtcTime) -> bool {
    let begun = Instant::now();
    loop {
        let next_step = match &live.person {
            Some(Person::Walking(walking)) => walking.next().filter(|at| *at <= until),
            _ => None,
        };
        let to = next_step.unwrap_or(until);
        let stopping = live.stopping().cloned();
        match live.reel.advance(to, MOMENTS, |entry| stops_at(stopping.as_ref(), entry)) {
            Advanced::Stopped(entry) => {
                stop_at(live, entry);
                return true;
            }
            Advanced::There if next_step.is_none() => return true,
            Advanced::There => {
                if things::footsteps(live, to) {
                    return true;
                }
            }
            Advanced::NotYet => {}
        }
        if begun.elapsed() > PATIENCE {
            return false;
        }
    }
}

/// Lets the short time pass that somebody's step takes, and stops at nothing.
pub(super) fn pass_wholly(live: &mut LivePlan, until: UtcTime) {
    live.reel.advance(until, usize::MAX, |_| false);
}

/// Stops the clock and says why.
pub(super) fn stop_at(live: &mut LivePlan, entry: usize) {
    live.plays = false;
    live.running = None;
    live.chosen = Some(entry);
    let sentence = telling::in_words(live.plan(), live.reel(), entry);
    live.paused = Some(Paused { entry, sentence });
}

/// Goes to a moment: at once where it was, in slices where it comes.
pub(super) fn jump(live: &mut LivePlan, at: UtcTime) {
    let now = live.now();
    let start = live.reel.setup().start;
    live.paused = None;
    if at < now {
        leave_behind(live);
        live.reel.go_to_time(at.max(start), usize::MAX);
    } else {
        live.running = Some(Running { from: now, to: at });
    }
    live.last_frame = None;
}

pub(super) fn step_back(live: &mut LivePlan) -> bool {
    live.plays = false;
    live.paused = None;
    live.reel.step_back()
}

pub(super) fn step_forward(live: &mut LivePlan) -> bool {
    live.plays = false;
    live.paused = None;
    next_thing(live)
}

fn next_thing(live: &mut LivePlan) -> bool {
    let until = match &live.person {
        Some(Person::Walking(walking)) => walking.next(),
        _ => None,
    };
    // A script that is shown is played to its end, and no further by itself.
    let ends =
        live.showing.as_ref().map(|showing| showing.ends).filter(|ends| *ends > live.now() && live.plays);
    let last = until.or(ends).unwrap_or_else(|| live.now().after_ms(LOOKED_AHEAD_MS));
    let before = live.reel.happened();
    match live.reel.step_forward(last, 100_000) {
        Advanced::Stopped(entry) => {
            let happened = live.reel.happened();
            if happened > before {
                live.chosen = Some(entry);
            }
            let told = live.reel.told();
            let stops = |entry: &usize| told.get(*entry).is_some_and(|it| stops_at(live.stopping(), it));
            if let Some(entry) = (before..happened).find(stops) {
                stop_at(live, entry);
            }
            true
        }
        Advanced::There if until.is_some() => {
            things::footsteps(live, last);
            true
        }
        Advanced::There | Advanced::NotYet => false,
    }
}

/// Goes to where an entry has just happened.
pub(super) fn go_to(live: &mut LivePlan, entry: usize) {
    live.plays = false;
    live.paused = None;
    live.chosen = Some(entry);
    live.reel.go_to(entry);
}

/// Somebody led by the pointer is where they are now, not where they were: they are left out of what was.
fn leave_behind(live: &mut LivePlan) {
    if matches!(live.person, Some(Person::Led { .. })) {
        live.person = None;
    }
}
