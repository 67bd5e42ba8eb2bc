//! A moment, round by round: take in, judge, do, and see what shows. The order is that of `rules.md`.

use std::sync::Arc;

use super::almanac::Mark;
use super::book::{PointNumber, RuleBook};
use super::journal::{EntryNumber, Incoming, What};
use super::round::MOST_ROUNDS;
use super::run::Rehearsal;
use super::state::Due;
use super::value::Has;
use super::way::Way;
use crate::calendar::UtcTime;

impl Rehearsal {
    /// Takes in what came from outside, and works off what follows.
    pub(super) fn take_in(&mut self, what: Incoming) {
        self.state.rounds += 1;
        let because = self.write(0, What::CameIn(what), EntryNumber::NONE);
        match what {
            Incoming::Gesture { point, gesture } if self.state.running => {
                self.current.events.push((point, gesture, because));
            }
            Incoming::Gesture { point, gesture } => self.press_without_hub(point, gesture, because),
            Incoming::Value { point, value } => {
                let Some(nature) = self.book.nature(point) else { return };
                let Some(has) = nature.given(value) else { return };
                if nature.does {
                    self.give_base(point, has, 0, because);
                    self.set_bare(point);
                    self.settle(0, true);
                } else {
                    self.reported(point, has, because);
                }
            }
            Incoming::Mode(mode) => {
                if let Some(mode) = self.book.mode_number(mode) {
                    self.current.entered = Some((mode, because));
                    self.settle(0, true);
                }
            }
            Incoming::HubStops => self.stop_hub(),
            // A start works off its own rounds.
            Incoming::HubStarts if !self.state.running => return self.start_hub(because),
            Incoming::HubStarts => {}
            Incoming::HubRestarts => {
                self.stop_hub();
                return self.start_hub(because);
            }
        }
        if self.state.running {
            self.work_off();
        } else {
            self.current.clear();
        }
    }

    fn reported(&mut self, point: PointNumber, has: Has, because: EntryNumber) {
        let Some(state) = self.state.points.get_mut(point.index()) else { return };
        let before = state.seen;
        if before == has {
            return;
        }
        (state.base, state.seen, state.way) = (has, has, Way::there(has));
        self.current.changes.push((point, before, has, because));
        let book = Arc::clone(&self.book);
        self.state.point_changed(&book, point, because);
    }

    /// All that falls due at a moment, as one first round.
    pub(super) fn fall_due(&mut self, at: UtcTime) {
        self.state.rounds += 1;
        let clock_is_due = self.state.next_mark <= at && self.book.watches_clock();
        let mut falls_due = clock_is_due && self.clock_comes(at);
        while let Some(std::cmp::Reverse((when, _, due))) = self.state.due.peek().copied() {
            if when > at {
                break;
            }
            self.state.due.pop();
            if self.state.is_wanted(when, due) {
                self.falls_due(due);
                falls_due = true;
            }
        }
        // Where the clock was only looked at there is no round, which would judge anew what a loop left.
        if falls_due {
            self.work_off();
        }
    }

    /// What the clock brings; whether that is anything.
    fn clock_comes(&mut self, at: UtcTime) -> bool {
        let book = Arc::clone(&self.book);
        let marks = self.almanac.marks(&book, at);
        let is_news = |mark: &Mark| match mark {
            Mark::Start(_) => true,
            Mark::Truth(atom, truth) => self.state.truths.get(*atom as usize) != Some(truth),
        };
        let brings = marks.iter().any(|(_, mark)| is_news(mark));
        if brings {
            let because = self.write(0, What::Clock, EntryNumber::NONE);
            for (_, mark) in marks.iter() {
                match *mark {
                    Mark::Start(starter) => self.current.starts.push((starter, because)),
                    Mark::Truth(atom, truth) => self.state.set_truth(&book, atom, truth, because),
                }
            }
        }
        self.look_ahead();
        brings
    }

    fn falls_due(&mut self, due: Due) {
        match due {
            Due::Action { starter, action, because, .. } => {
                let Some(rule) = self.book.starters.get(starter as usize).map(|starter| starter.rule) else {
                    return;
                };
                if let Some(waiting) = self.state.waiting.get_mut(starter as usize) {
                    *waiting = waiting.saturating_sub(1);
                }
                let entry = self.write(0, What::Waited { rule, action }, because);
                self.current.waited.push((starter, action, entry));
            }
            Due::Linger(hold) => self.current.lingers.push(hold),
            Due::Stay(stay) => self.current.stays.push(stay),
            Due::Hand(point) => self.current.hands.push(point),
        }
    }

    /// Works off the round at hand and all that follow from it.
    pub(super) fn work_off(&mut self) {
        let book = Arc::clone(&self.book);
        for round in 0..=MOST_ROUNDS {
            self.judge_starts(&book, round);
            self.do_all(&book, round);
            self.settle(round, false);
            self.current.clear();
            if self.next.has_nothing() {
                break;
            }
            if round == MOST_ROUNDS {
                let because = self.next.first_cause();
                self.write(round, What::LoopStopped, because);
                self.next.clear();
                break;
            }
            std::mem::swap(&mut self.current, &mut self.next);
            self.state.rounds += 1;
        }
    }

    /// What waited, then rules that start, then *stays*, then *while* rules, then ends of what is by hand.
    fn do_all(&mut self, book: &RuleBook, round: u8) {
        for (starter, action, because) in std::mem::take(&mut self.current.waited) {
            self.act(book, round, (starter, action), because);
        }
        let mut started = std::mem::take(&mut self.current.started);
        for (starter, because) in started.drain(..) {
            self.start_rule(book, round, starter, because);
        }
        self.current.started = started;
        self.judge_stays(book);
        self.judge_holds(book, round);
        self.judge_hands(book, round);
    }
}
