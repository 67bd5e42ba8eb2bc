//! What actions do to points, and what shows once a round has done all it does.

use std::sync::Arc;

use super::book::{Act, Doing, End, NOT_DUE, PointNumber, RuleBook};
use super::clock::next_time;
use super::journal::{EntryNumber, What};
use super::run::Rehearsal;
use super::state::{Due, Layer};
use super::value::Has;
use super::way::{Way, duration_ms};
use crate::kit::PointType;
use crate::systems::{Comparison, Gesture, Value};

/// How an action gives a value: in which round, over which time, by hand until which end, and because of what.
#[derive(Clone, Copy)]
struct Giving {
    round: u8,
    fade_ms: i64,
    by_hand: Option<u32>,
    because: EntryNumber,
}

impl Rehearsal {
    /// Starts a rule: what it still waits to do is dropped, then its actions are done or put to wait.
    pub(super) fn start_rule(&mut self, book: &RuleBook, round: u8, number: u32, because: EntryNumber) {
        let Some(starter) = book.starters.get(number as usize) else { return };
        let because = self.write(round, What::Started(starter.rule), because);
        self.drop_waiting(book, round, number, because);
        if let Some(points) = &starter.wired_to {
            self.work_wired(points, round, because);
            return;
        }
        for (action, act) in starter.acts.iter().enumerate() {
            let action = action as u32;
            if act.after_ms == 0 {
                self.act(book, round, (number, action), because);
                continue;
            }
            let until = self.state.now.after_ms(act.after_ms);
            let dropped = self.state.dropped.get(number as usize).copied().unwrap_or(0);
            self.state.put_due(until, Due::Action { starter: number, action, dropped, because });
            if let Some(waiting) = self.state.waiting.get_mut(number as usize) {
                *waiting += 1;
            }
            self.write(round, What::Waits { rule: starter.rule, action, until }, because);
        }
    }

    fn drop_waiting(&mut self, book: &RuleBook, round: u8, number: u32, because: EntryNumber) {
        let at = number as usize;
        let waits = self.state.waiting.get_mut(at).is_some_and(|waiting| std::mem::take(waiting) > 0);
        if waits
            && let (Some(dropped), Some(starter)) = (self.state.dropped.get_mut(at), book.starters.get(at))
        {
            *dropped = dropped.wrapping_add(1);
            self.write(round, What::Dropped(starter.rule), because);
        }
    }

    /// Does one action of a rule.
    pub(super) fn act(&mut self, book: &RuleBook, round: u8, which: (u32, u32), because: EntryNumber) {
        let (number, action) = which;
        let Some(starter) = book.starters.get(number as usize) else { return };
        let Some(Act { doing, fade_ms, by_hand, .. }) = starter.acts.get(action as usize) else { return };
        let how = Giving { round, fade_ms: *fade_ms, by_hand: *by_hand, because };
        match doing {
            Doing::Set { points, value } => self.give_all(points, *value, how),
            Doing::Toggle(points) => {
                let is_on = points.iter().any(|point| self.read(*point, how).is_on());
                self.give_all(points, if is_on { Value::Off } else { Value::On }, how);
            }
            Doing::Step { points, percent } => {
                for point in points {
                    if let Has::Number(figure) = self.read(*point, how) {
                        self.give(*point, Value::Number(figure + f64::from(*percent)), how);
                    }
                }
            }
            Doing::Cycle { points, values } => {
                let has = points.first().map_or(Has::Nothing, |point| self.read(*point, how));
                let now = values.iter().position(|value| has.compares(Comparison::Is, *value));
                let next = now.map_or(0, |at| (at + 1) % values.len());
                if let Some(value) = values.get(next) {
                    self.give_all(points, *value, how);
                }
            }
            Doing::Scene(settings) => {
                for setting in settings {
                    let fade_ms = if *fade_ms > 0 { *fade_ms } else { setting.fade_ms };
                    self.give_all(&setting.points, setting.value, Giving { fade_ms, ..how });
                }
            }
            Doing::Notify => {
                self.write(round, What::Sent { rule: starter.rule, action }, because);
            }
            Doing::Cancel(Some(other)) => self.drop_waiting(book, round, *other, because),
            Doing::Enter(mode) => self.current.entered = Some((*mode, because)),
            Doing::Release(Some(points)) => points.iter().for_each(|point| self.end_hand(*point, because)),
            Doing::Release(None) => {
                (0..book.points.len()).for_each(|at| self.end_hand(PointNumber(at as u32), because));
            }
            Doing::Cancel(None) | Doing::Nothing => {}
        }
    }

    /// What an action reads of a point: what shows where it is done by hand, else the base.
    fn read(&self, point: PointNumber, how: Giving) -> Has {
        if how.by_hand.is_some() {
            self.state.shows(&self.book, point).1
        } else {
            self.state.point(point).map_or(Has::Nothing, |state| state.base)
        }
    }

    fn give_all(&mut self, points: &[PointNumber], value: Value, how: Giving) {
        points.iter().for_each(|point| self.give(*point, value, how));
    }

    fn give(&mut self, point: PointNumber, value: Value, how: Giving) {
        let Some(nature) = self.book.nature(point) else { return };
        if nature.point_type == PointType::Event {
            if value != Value::Off {
                let happened = self.write(how.round, What::Happened(point), how.because);
                self.next.events.push((point, Gesture::Happens, happened));
            }
            return;
        }
        let Some(has) = nature.given(value) else { return };
        match how.by_hand {
            None => self.give_base(point, has, how.fade_ms, how.because),
            Some(end) => self.give_by_hand(point, has, how, end),
        }
    }

    pub(super) fn give_base(&mut self, point: PointNumber, has: Has, fade_ms: i64, because: EntryNumber) {
        let rounds = self.state.rounds;
        if let Some(state) = self.state.points.get_mut(point.index()) {
            (state.base, state.base_fade_ms, state.base_given) = (has, fade_ms, rounds);
        }
        self.touch(point, because);
    }

    fn give_by_hand(&mut self, point: PointNumber, has: Has, how: Giving, end: u32) {
        let (now, rounds) = (self.state.now, self.state.rounds);
        let until = self.book.ends.get(end as usize);
        let due = match until {
            Some(End::For(ms)) => now.after_ms(*ms),
            Some(End::Time(time)) => next_time(self.almanac.clock, now, *time),
            _ => NOT_DUE,
        };
        let is_listed = matches!(until, Some(End::Holds { .. } | End::Event { .. }));
        let Some(state) = self.state.points.get_mut(point.index()) else { return };
        (state.hand, state.hand_fade_ms, state.hand_given) = (has, how.fade_ms, rounds);
        let former = std::mem::replace(&mut state.hand_end, end);
        state.hand_due = due;
        if due != NOT_DUE {
            self.state.put_due(due, Due::Hand(point));
        }
        self.state.forget_hand(former, point);
        if is_listed && let Some(hands) = self.state.hands.get_mut(end as usize) {
            hands.push(point);
            self.current.by_hand.push(point);
        }
        self.touch(point, how.because);
    }

    pub(super) fn end_hand(&mut self, point: PointNumber, because: EntryNumber) {
        let Some(state) = self.state.points.get_mut(point.index()) else { return };
        if state.hand == Has::Nothing {
            return;
        }
        (state.hand, state.hand_due) = (Has::Nothing, NOT_DUE);
        let end = state.hand_end;
        self.state.forget_hand(end, point);
        self.touch(point, because);
    }

    /// A wired key: what shows is switched over, into the base; what was by hand is ended.
    fn work_wired(&mut self, points: &[PointNumber], round: u8, because: EntryNumber) {
        let is_on = points.iter().any(|point| self.state.shows(&self.book, *point).1.is_on());
        let value = if is_on { Value::Off } else { Value::On };
        for point in points {
            self.give(*point, value, Giving { round, fade_ms: 0, by_hand: None, because });
            self.end_hand(*point, because);
            self.set_bare(*point);
        }
    }

    /// While the hub is stopped, what someone gives at a device shows, whatever was held there.
    pub(super) fn set_bare(&mut self, point: PointNumber) {
        if !self.state.running
            && let Some(state) = self.state.points.get_mut(point.index())
        {
            (state.bare, state.hand, state.hand_due) = (true, Has::Nothing, NOT_DUE);
        }
    }

    /// A press while the hub is stopped: wired keys alone work.
    pub(super) fn press_without_hub(&mut self, point: PointNumber, gesture: Gesture, because: EntryNumber) {
        let book = Arc::clone(&self.book);
        for (wanted, number) in book.events_at.get(point.index()).map_or(&[][..], Vec::as_slice) {
            let Some(starter) = book.starters.get(*number as usize) else { continue };
            if let (true, Some(points)) = (*wanted == gesture, &starter.wired_to) {
                let because = self.write(0, What::Started(starter.rule), because);
                self.work_wired(points, 0, because);
            }
        }
        self.settle(0, true);
        self.next.events.clear();
    }

    pub(super) fn touch(&mut self, point: PointNumber, because: EntryNumber) {
        if let Some(state) = self.state.points.get_mut(point.index()) {
            state.touched_by = because;
            if !state.touched {
                state.touched = true;
                self.current.touched.push(point);
            }
        }
    }

    /// The end of a round: what shows at each point that was touched, from where and how fast; and the changes
    /// that the next round has (or this one, where they were taken in).
    pub(super) fn settle(&mut self, round: u8, taking_in: bool) {
        let book = Arc::clone(&self.book);
        let mut touched = std::mem::take(&mut self.current.touched);
        touched.sort_unstable();
        for point in touched.drain(..) {
            self.settle_point(&book, round, point, taking_in);
        }
        self.current.touched = touched;
        if let Some((mode, because)) = self.current.entered.take()
            && mode != self.state.mode
        {
            self.state.mode = mode;
            let entry = self.write(round, What::ModeBecame(book.mode_of(mode)), because);
            let into = if taking_in { &mut self.current } else { &mut self.next };
            into.mode = Some(entry);
            self.state.mode_changed(&book, entry);
        }
        if !taking_in {
            let mut by_hand = std::mem::take(&mut self.current.by_hand);
            by_hand.drain(..).for_each(|point| self.judge_hand(&book, point));
            self.current.by_hand = by_hand;
        }
    }

    fn settle_point(&mut self, book: &RuleBook, round: u8, point: PointNumber, taking_in: bool) {
        let (layer, value, fade_ms) = self.state.shows(book, point);
        let (now, rounds) = (self.state.now, self.state.rounds);
        let begun = |hold: u32| self.state.holds.get(hold as usize).is_some_and(|hold| hold.began == rounds);
        let Some(state) = self.state.point(point) else { return };
        let given = match layer {
            Layer::Base => state.base_given == rounds,
            Layer::Hand => state.hand_given == rounds,
            Layer::Hold(hold) => begun(hold),
        };
        let mut after = *state;
        if given || layer != state.showing {
            let fade_ms = if given { fade_ms } else { state.showing_fade_ms };
            let from = state.way.value(state.seen, now);
            let travel_ms = book.full_travel_ms(point, self.full_travel_ms);
            after.way = Way { from, begun: now, lasts_ms: duration_ms(from, value, fade_ms, travel_ms) };
        }
        (after.seen, after.showing, after.showing_fade_ms, after.touched) = (value, layer, fade_ms, false);
        let (before, because) = (state.seen, state.touched_by);
        let beneath = if state.base_given == rounds && layer != Layer::Base {
            Some(state.base)
        } else if state.hand_given == rounds && !matches!(layer, Layer::Hand) && state.hand != Has::Nothing {
            Some(state.hand)
        } else {
            None
        };
        if let Some(state) = self.state.points.get_mut(point.index()) {
            *state = after;
        }
        if let Some(value) = beneath {
            self.write(round, What::GivenBeneath { point, value }, because);
        }
        if before != value {
            let entry = self.write(round, What::Changed { point, from: before, to: value }, because);
            let into = if taking_in { &mut self.current } else { &mut self.next };
            into.changes.push((point, before, value, entry));
            self.state.point_changed(book, point, entry);
        }
    }
}
