//! A moment, round by round: take in, judge, do, and see what shows. The order is that of `rules.md`.

use std::sync::Arc;

use super::almanac::Mark;
use super::book::{End, NOT_DUE, PointNumber, RuleBook, all_hold};
use super::journal::{EntryNumber, Incoming, What};
use super::run::Rehearsal;
use super::state::Due;
use super::value::Has;
use super::way::Way;
use crate::calendar::UtcTime;
use crate::systems::Gesture;

/// So many rounds follow the first before what goes on is taken for a loop.
pub const MOST_ROUNDS: u8 = 16;

/// What a round has: what came in or fell due, or what the round before made.
#[derive(Clone, Debug, Default)]
pub(super) struct Round {
    pub(super) events: Vec<(PointNumber, Gesture, EntryNumber)>,
    /// Points whose seen value changed: from, to.
    pub(super) changes: Vec<(PointNumber, Has, Has, EntryNumber)>,
    pub(super) mode: Option<EntryNumber>,
    /// Rules whose time came.
    pub(super) starts: Vec<(u32, EntryNumber)>,
    /// Actions that waited.
    pub(super) waited: Vec<(u32, u32, EntryNumber)>,
    pub(super) stays: Vec<u32>,
    pub(super) lingers: Vec<u32>,
    pub(super) hands: Vec<PointNumber>,
    /// Points touched in this round.
    pub(super) touched: Vec<PointNumber>,
    /// Points given by hand in this round, until an end that is looked out for.
    pub(super) by_hand: Vec<PointNumber>,
    /// The mode that something put the house into in this round.
    pub(super) entered: Option<(u32, EntryNumber)>,
    /// Rules that start, with what starts them.
    started: Vec<(u32, EntryNumber)>,
}

impl Round {
    fn has_nothing(&self) -> bool {
        self.events.is_empty() && self.changes.is_empty() && self.mode.is_none()
    }

    fn clear(&mut self) {
        self.events.clear();
        self.changes.clear();
        self.mode = None;
        self.starts.clear();
        self.waited.clear();
        self.stays.clear();
        self.lingers.clear();
        self.hands.clear();
        self.touched.clear();
        self.by_hand.clear();
        self.entered = None;
        self.started.clear();
    }

    fn first_cause(&self) -> EntryNumber {
        let change = self.changes.first().map(|(.., because)| *because);
        let event = self.events.first().map(|(.., because)| *because);
        change.or(event).or(self.mode).unwrap_or(EntryNumber::NONE)
    }
}

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

    /// Which rules start: those whose trigger the round has and whose conditions hold, once each, by id.
    fn judge_starts(&mut self, book: &RuleBook, round: u8) {
        let mut started = std::mem::take(&mut self.current.started);
        started.append(&mut self.current.starts);
        for stay in std::mem::take(&mut self.current.stays) {
            let Some(rule) = book.stays.get(stay as usize) else { continue };
            let was_due = match self.state.stays.get_mut(stay as usize) {
                Some((_, due)) => std::mem::replace(due, NOT_DUE) == self.state.now,
                None => false,
            };
            if was_due
                && rule.must.holds(&self.state.truths)
                && let Some(starter) = book.starters.get(rule.starter as usize)
            {
                let because = self.write(round, What::Lasted(starter.rule), EntryNumber::NONE);
                started.push((rule.starter, because));
            }
        }
        for (point, gesture, because) in &self.current.events {
            for (wanted, starter) in book.events_at.get(point.index()).map_or(&[][..], Vec::as_slice) {
                if wanted == gesture {
                    started.push((*starter, *because));
                }
            }
        }
        if let Some(because) = self.current.mode {
            let entered = book.mode_entered.iter().filter(|(mode, _)| *mode == self.state.mode);
            started.extend(entered.map(|(_, starter)| (*starter, because)));
        }
        for (point, from, to, because) in &self.current.changes {
            for number in book.becomes_at.get(point.index()).map_or(&[][..], Vec::as_slice) {
                let becomes = book.starters.get(*number as usize).and_then(|starter| starter.becomes);
                if let Some((comparison, value)) = becomes
                    && to.compares(comparison, value)
                    && !from.compares(comparison, value)
                {
                    started.push((*number, *because));
                }
            }
        }
        started.retain(|(number, _)| {
            book.starters
                .get(*number as usize)
                .is_some_and(|starter| all_hold(&starter.conditions, &self.state.truths))
        });
        if started.len() > 1 {
            started.sort_by_key(|(starter, _)| *starter);
            started.dedup_by_key(|(starter, _)| *starter);
        }
        self.current.started = started;
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

    fn judge_stays(&mut self, book: &RuleBook) {
        if self.state.stays_to_judge.is_empty() {
            return;
        }
        let mut to_judge = std::mem::take(&mut self.state.stays_to_judge);
        to_judge.sort_unstable();
        for (stay, _) in to_judge.drain(..) {
            self.state.stay_marked[stay as usize] = false;
            let Some(rule) = book.stays.get(stay as usize) else { continue };
            let holds = rule.must.holds(&self.state.truths);
            let until = self.state.now.after_ms(rule.lasting_ms);
            let Some((held, due)) = self.state.stays.get_mut(stay as usize) else { continue };
            match (*held, holds) {
                (false, true) => {
                    (*held, *due) = (true, until);
                    self.state.put_due(until, Due::Stay(stay));
                }
                (true, false) => (*held, *due) = (false, NOT_DUE),
                _ => {}
            }
        }
        self.state.stays_to_judge = to_judge;
    }

    fn judge_holds(&mut self, book: &RuleBook, round: u8) {
        let mut to_judge = std::mem::take(&mut self.state.holds_to_judge);
        to_judge.sort_unstable();
        for (hold, because) in to_judge.drain(..) {
            self.state.hold_marked[hold as usize] = false;
            self.judge_hold(book, round, hold, because);
        }
        self.state.holds_to_judge = to_judge;
        let mut lingers = std::mem::take(&mut self.current.lingers);
        lingers.sort_unstable();
        for hold in lingers {
            let Some(rule) = book.holds.get(hold as usize) else { continue };
            let Some(state) = self.state.holds.get_mut(hold as usize) else { continue };
            if state.due == self.state.now {
                state.due = NOT_DUE;
                let because = self.write(round, What::LingerOver(rule.rule), EntryNumber::NONE);
                self.end_hold(book, round, hold, because);
            }
        }
    }

    fn judge_hold(&mut self, book: &RuleBook, round: u8, hold: u32, because: EntryNumber) {
        let Some(rule) = book.holds.get(hold as usize) else { return };
        let met = all_hold(&rule.conditions, &self.state.truths);
        let (now, rounds) = (self.state.now, self.state.rounds);
        let Some(state) = self.state.holds.get_mut(hold as usize) else { return };
        if met == state.met {
            return;
        }
        state.met = met;
        match (met, state.holding) {
            (true, true) => {
                state.due = NOT_DUE;
                self.write(round, What::HoldKept(rule.rule), because);
            }
            (true, false) => {
                (state.holding, state.began) = (true, rounds);
                let because = self.write(round, What::HoldBegan(rule.rule), because);
                rule.points.iter().for_each(|point| self.touch(*point, because));
            }
            (false, _) if rule.linger_ms > 0 => {
                let until = now.after_ms(rule.linger_ms);
                state.due = until;
                self.state.put_due(until, Due::Linger(hold));
                self.write(round, What::Lingers { rule: rule.rule, until }, because);
            }
            (false, _) => self.end_hold(book, round, hold, because),
        }
    }

    fn end_hold(&mut self, book: &RuleBook, round: u8, hold: u32, because: EntryNumber) {
        let Some(rule) = book.holds.get(hold as usize) else { return };
        if let Some(state) = self.state.holds.get_mut(hold as usize) {
            state.holding = false;
        }
        let because = self.write(round, What::HoldEnded(rule.rule), because);
        rule.points.iter().for_each(|point| self.touch(*point, because));
    }

    /// Ends what is by hand where its end has come, unless it was given in this very round.
    fn judge_hands(&mut self, book: &RuleBook, round: u8) {
        let rounds = self.state.rounds;
        for end in std::mem::take(&mut self.state.ends_to_judge) {
            let hands = self.state.hands.get_mut(end as usize).map(std::mem::take).unwrap_or_default();
            for point in &hands {
                if self.state.point(*point).is_some_and(|state| state.hand_given != rounds) {
                    self.judge_hand(book, *point);
                }
            }
            if let Some(empty) = self.state.hands.get_mut(end as usize) {
                *empty = hands;
            }
        }
        let mut ending: Vec<(PointNumber, EntryNumber)> = Vec::new();
        for (at, how, because) in &self.current.events {
            for (gesture, end) in book.ends_at.get(at.index()).map_or(&[][..], Vec::as_slice) {
                if gesture == how {
                    let hands = self.state.hands.get(*end as usize).map_or(&[][..], Vec::as_slice);
                    let former = |point: &&PointNumber| {
                        self.state.point(**point).is_some_and(|state| state.hand_given != rounds)
                    };
                    ending.extend(hands.iter().filter(former).map(|point| (*point, *because)));
                }
            }
        }
        for point in std::mem::take(&mut self.current.hands) {
            let now = self.state.now;
            let due = self.state.point(point).is_some_and(|state| {
                state.hand != Has::Nothing && state.hand_due == now && state.hand_given != self.state.rounds
            });
            if due {
                ending.push((point, EntryNumber::NONE));
            }
        }
        ending.sort_unstable();
        ending.dedup_by_key(|(point, _)| *point);
        for (point, because) in ending {
            let because = self.write(round, What::HandOver(point), because);
            self.end_hand(point, because);
        }
    }

    /// Whether the condition that ends what is by hand holds: its time starts, or is dropped.
    pub(super) fn judge_hand(&mut self, book: &RuleBook, point: PointNumber) {
        let Some(state) = self.state.point(point) else { return };
        let Some(End::Holds { must, lasting_ms }) = book.ends.get(state.hand_end as usize) else { return };
        let holds = must.holds(&self.state.truths);
        let due = match (holds, state.hand_due == NOT_DUE) {
            (true, true) => self.state.now.after_ms(*lasting_ms),
            (false, false) => NOT_DUE,
            _ => return,
        };
        if let Some(state) = self.state.points.get_mut(point.index()) {
            state.hand_due = due;
        }
        if due != NOT_DUE {
            self.state.put_due(due, Due::Hand(point));
        }
    }
}
