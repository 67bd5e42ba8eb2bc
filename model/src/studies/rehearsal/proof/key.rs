//! What of a state decides how it goes on: two states with the same key answer everything alike.
//!
//! Left out are the time of day (the clock stands), fades and travel (rules see goals), and every count that only
//! grows. Timers are kept by how much of them is left, and by their order where they run out together.

use super::super::book::{NOT_DUE, RuleBook};
use super::super::clock::ms_between;
use super::super::state::{Due, State};
use super::super::value::Has;
use crate::calendar::UtcTime;

/// The key of a state.
pub(super) fn key(book: &RuleBook, state: &State) -> Box<[u64]> {
    let mut words = Vec::with_capacity(2 * state.points.len() + 3 * state.holds.len() + 8);
    let left = |due: UtcTime| {
        if due == NOT_DUE { u64::MAX } else { ms_between(state.now, due) as u64 }
    };
    words.push(u64::from(state.mode) << 1 | u64::from(state.running));
    for (point, spec) in state.points.iter().zip(&book.points) {
        let Some(base) = bits(point.base) else { continue };
        words.push(base);
        if !spec.nature.does {
            continue;
        }
        let hand = bits(point.hand);
        words.push(u64::from(point.bare) << 1 | u64::from(hand.is_some()));
        if let Some(hand) = hand {
            words.extend([hand, u64::from(point.hand_end), left(point.hand_due)]);
        }
    }
    for hold in &state.holds {
        words.extend([u64::from(hold.met) << 1 | u64::from(hold.holding), left(hold.due)]);
    }
    // Of holds that are on, which began later; by number within a round.
    let mut on: Vec<(u64, usize)> = state
        .holds
        .iter()
        .enumerate()
        .filter(|(_, hold)| hold.holding)
        .map(|(number, hold)| (hold.began, number))
        .collect();
    on.sort_unstable();
    words.extend(on.iter().map(|(_, number)| *number as u64));
    for (held, due) in &state.stays {
        words.extend([u64::from(*held), left(*due)]);
    }
    let mut waiting: Vec<_> = state
        .due
        .iter()
        .filter(|due| state.is_wanted(due.0.0, due.0.2))
        .filter_map(|due| match due.0 {
            (at, put, Due::Action { starter, action, .. }) => Some((at, put, starter, action)),
            _ => None,
        })
        .collect();
    waiting.sort_unstable();
    words.push(waiting.len() as u64);
    for (at, _, starter, action) in waiting {
        words.extend([left(at), u64::from(starter) << 32 | u64::from(action)]);
    }
    // What a loop that was stopped left unjudged.
    words.extend(state.holds_to_judge.iter().map(|(hold, _)| u64::from(*hold)));
    words.push(u64::MAX);
    words.extend(state.stays_to_judge.iter().map(|(stay, _)| u64::from(*stay)));
    words.into()
}

fn bits(has: Has) -> Option<u64> {
    match has {
        Has::Nothing => None,
        Has::State(on) => Some(u64::from(on)),
        Has::Number(figure) => Some(figure.to_bits()),
        Has::Colour([red, green, blue]) => {
            Some(u64::from(red) << 16 | u64::from(green) << 8 | u64::from(blue))
        }
    }
}
