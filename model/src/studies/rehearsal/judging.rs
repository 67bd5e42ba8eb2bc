//! What a round's changes bring about: which rules start, which hold, and which ends of what is by hand have come.

use super::book::{End, NOT_DUE, PointNumber, RuleBook, all_hold};
use super::journal::{EntryNumber, What};
use super::run::Rehearsal;
use super::state::Due;
use super::value::Has;

impl Rehearsal {
    /// Which rules start: those whose trigger the round has and whose conditions hold, once each, by id.
    pub(super) fn judge_starts(&mut self, book: &RuleBook, round: u8) {
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

    pub(super) fn judge_stays(&mut self, book: &RuleBook) {
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

    pub(super) fn judge_holds(&mut self, book: &RuleBook, round: u8) {
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
    pub(super) fn judge_hands(&mut self, book: &RuleBook, round: u8) {
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
