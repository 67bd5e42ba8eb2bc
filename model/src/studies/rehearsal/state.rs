//! Where a house stands at a moment: what each point has, what is held, what waits. Cheap to copy, so that a
//! run can be stepped back and a search can try many ways on from one place.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::book::{Atom, NOT_DUE, PointNumber, RuleBook};
use super::journal::EntryNumber;
use super::value::Has;
use super::way::Way;
use crate::calendar::UtcTime;

/// What of a point shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Layer {
    Base,
    Hand,
    Hold(u32),
}

/// One point.
#[derive(Clone, Copy, Debug)]
pub(super) struct PointState {
    pub(super) base: Has,
    pub(super) base_fade_ms: i64,
    /// What is done by hand; `Nothing` where nothing is.
    pub(super) hand: Has,
    pub(super) hand_fade_ms: i64,
    /// The place of its end in the book.
    pub(super) hand_end: u32,
    pub(super) hand_due: UtcTime,
    /// What shows, as a goal, since the end of the last round.
    pub(super) seen: Has,
    pub(super) showing: Layer,
    pub(super) showing_fade_ms: i64,
    pub(super) way: Way,
    /// Holds don't count here until the hub starts: someone worked it while the hub was stopped.
    pub(super) bare: bool,
    /// The round in which base and hand were given last.
    pub(super) base_given: u64,
    pub(super) hand_given: u64,
    /// Whether it was touched in this round, and by what last.
    pub(super) touched: bool,
    pub(super) touched_by: EntryNumber,
}

impl PointState {
    fn new(has: Has) -> Self {
        Self {
            base: has,
            base_fade_ms: 0,
            hand: Has::Nothing,
            hand_fade_ms: 0,
            hand_end: 0,
            hand_due: NOT_DUE,
            seen: has,
            showing: Layer::Base,
            showing_fade_ms: 0,
            way: Way::there(has),
            bare: false,
            base_given: 0,
            hand_given: 0,
            touched: false,
            touched_by: EntryNumber::NONE,
        }
    }
}

/// One *while* rule.
#[derive(Clone, Copy, Debug)]
pub(super) struct HoldState {
    /// Whether it holds its points, lingering included.
    pub(super) holding: bool,
    /// Whether its conditions held when last judged.
    pub(super) met: bool,
    /// The round in which it began; later means higher among equal ranks.
    pub(super) began: u64,
    /// The end of its lingering.
    pub(super) due: UtcTime,
}

/// What falls due.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Due {
    /// An action of a starter, if nothing was dropped since.
    Action {
        starter: u32,
        action: u32,
        dropped: u32,
        because: EntryNumber,
    },
    Linger(u32),
    Stay(u32),
    Hand(PointNumber),
}

/// Where a house stands.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub(super) now: UtcTime,
    pub(super) running: bool,
    pub(super) mode: u32,
    pub(super) points: Vec<PointState>,
    pub(super) truths: Vec<bool>,
    pub(super) holds: Vec<HoldState>,
    /// For each *stays* trigger: whether its condition held when last judged, and when it will have lasted.
    pub(super) stays: Vec<(bool, UtcTime)>,
    /// How often what a starter waited to do was dropped, and how much waits since.
    pub(super) dropped: Vec<u32>,
    pub(super) waiting: Vec<u32>,
    /// By each end in the book: the points that are by hand until a condition has lasted, or until an event.
    pub(super) hands: Vec<Vec<PointNumber>>,
    pub(super) due: BinaryHeap<Reverse<(UtcTime, u64, Due)>>,
    /// Counts what was put to wait, so that equal times keep their order.
    pub(super) put: u64,
    /// Counts rounds.
    pub(super) rounds: u64,
    /// When the clock brings something next, or when to look again.
    pub(super) next_mark: UtcTime,
    /// Rules to judge again, with what changed them.
    pub(super) holds_to_judge: Vec<(u32, EntryNumber)>,
    pub(super) stays_to_judge: Vec<(u32, EntryNumber)>,
    /// Ends to judge again; one that stands here twice is judged twice, to the same end.
    pub(super) ends_to_judge: Vec<u32>,
    pub(super) hold_marked: Vec<bool>,
    pub(super) stay_marked: Vec<bool>,
}

impl State {
    pub(super) fn new(book: &RuleBook, at: UtcTime) -> Self {
        let first = |point: &super::book::Point| PointState::new(Has::first(point.nature.point_type));
        Self {
            now: at,
            running: false,
            mode: 0,
            points: book.points.iter().map(first).collect(),
            truths: vec![false; book.atoms.len()],
            holds: vec![HoldState { holding: false, met: false, began: 0, due: NOT_DUE }; book.holds.len()],
            stays: vec![(false, NOT_DUE); book.stays.len()],
            dropped: vec![0; book.starters.len()],
            waiting: vec![0; book.starters.len()],
            hands: vec![Vec::new(); book.ends.len()],
            due: BinaryHeap::new(),
            put: 0,
            rounds: 0,
            next_mark: at,
            holds_to_judge: Vec::new(),
            stays_to_judge: Vec::new(),
            ends_to_judge: Vec::new(),
            hold_marked: vec![false; book.holds.len()],
            stay_marked: vec![false; book.stays.len()],
        }
    }

    pub(super) fn point(&self, point: PointNumber) -> Option<&PointState> {
        self.points.get(point.index())
    }

    /// What shows at a point now, in the midst of a round: the layer, its value and its fade.
    pub(super) fn shows(&self, book: &RuleBook, point: PointNumber) -> (Layer, Has, i64) {
        let Some(state) = self.points.get(point.index()) else { return (Layer::Base, Has::Nothing, 0) };
        let by_hand = state.hand != Has::Nothing;
        let mut best: Option<((u8, u64, u32), Has, i64)> = None;
        if !state.bare {
            for held in book.holds_at.get(point.index()).map_or(&[][..], Vec::as_slice) {
                let Some(hold) = self.holds.get(held.hold as usize).filter(|hold| hold.holding) else {
                    continue;
                };
                let over = (held.rank, hold.began, held.hold);
                if !(by_hand && held.yields) && best.is_none_or(|(highest, ..)| over > highest) {
                    best = Some((over, held.value, held.fade_ms));
                }
            }
        }
        match best {
            Some(((_, _, hold), value, fade_ms)) => (Layer::Hold(hold), value, fade_ms),
            None if by_hand => (Layer::Hand, state.hand, state.hand_fade_ms),
            None => (Layer::Base, state.base, state.base_fade_ms),
        }
    }

    /// Works out the truth of a condition that is not the clock's.
    pub(super) fn truth(&self, atom: &Atom) -> bool {
        let is_on = |point: &PointNumber| self.point(*point).is_some_and(|state| state.seen.is_on());
        match atom {
            Atom::Point { point, comparison, value } => {
                self.point(*point).is_some_and(|state| state.seen.compares(*comparison, *value))
            }
            Atom::AnyOf(points) => points.iter().any(is_on),
            Atom::AllOf(points) => !points.is_empty() && points.iter().all(is_on),
            Atom::Mode(mode) => self.mode == *mode,
            Atom::Clock(_) => false,
        }
    }

    /// Gives a condition its truth; whoever watches it will be judged again if that is new.
    pub(super) fn set_truth(&mut self, book: &RuleBook, atom: u32, truth: bool, because: EntryNumber) {
        let Some(known) = self.truths.get_mut(atom as usize) else { return };
        if *known == truth {
            return;
        }
        *known = truth;
        for hold in book.holds_of_atom.get(atom as usize).map_or(&[][..], Vec::as_slice) {
            if let Some(marked) = self.hold_marked.get_mut(*hold as usize).filter(|marked| !**marked) {
                *marked = true;
                self.holds_to_judge.push((*hold, because));
            }
        }
        for stay in book.stays_of_atom.get(atom as usize).map_or(&[][..], Vec::as_slice) {
            if let Some(marked) = self.stay_marked.get_mut(*stay as usize).filter(|marked| !**marked) {
                *marked = true;
                self.stays_to_judge.push((*stay, because));
            }
        }
        for end in book.ends_of_atom.get(atom as usize).map_or(&[][..], Vec::as_slice) {
            if self.hands.get(*end as usize).is_some_and(|hands| !hands.is_empty()) {
                self.ends_to_judge.push(*end);
            }
        }
    }

    /// Works out again every condition that speaks of a point.
    pub(super) fn point_changed(&mut self, book: &RuleBook, point: PointNumber, because: EntryNumber) {
        for number in book.atoms_of_point.get(point.index()).map_or(&[][..], Vec::as_slice) {
            if let Some(atom) = book.atoms.get(*number as usize) {
                let truth = self.truth(atom);
                self.set_truth(book, *number, truth, because);
            }
        }
    }

    /// Works out again every condition that speaks of the mode.
    pub(super) fn mode_changed(&mut self, book: &RuleBook, because: EntryNumber) {
        for number in &book.mode_atoms {
            if let Some(atom) = book.atoms.get(*number as usize) {
                let truth = self.truth(atom);
                self.set_truth(book, *number, truth, because);
            }
        }
    }

    /// Takes a point out of those that are by hand until an end that is looked out for.
    pub(super) fn forget_hand(&mut self, end: u32, point: PointNumber) {
        if let Some(hands) = self.hands.get_mut(end as usize) {
            hands.retain(|other| *other != point);
        }
    }

    /// Puts something to fall due.
    pub(super) fn put_due(&mut self, at: UtcTime, due: Due) {
        self.put += 1;
        self.due.push(Reverse((at, self.put, due)));
    }

    /// When the next thing falls due, if it is still wanted then.
    pub(super) fn next_due(&mut self) -> Option<UtcTime> {
        while let Some(Reverse((at, _, due))) = self.due.peek() {
            if self.is_wanted(*at, *due) {
                return Some(*at);
            }
            self.due.pop();
        }
        None
    }

    /// Whether what was put is still to come at that moment, and was not dropped or put off.
    pub(super) fn is_wanted(&self, at: UtcTime, due: Due) -> bool {
        match due {
            Due::Action { starter, dropped, .. } => self.dropped.get(starter as usize) == Some(&dropped),
            Due::Linger(hold) => self.holds.get(hold as usize).is_some_and(|hold| hold.due == at),
            Due::Stay(stay) => self.stays.get(stay as usize).is_some_and(|(_, due)| *due == at),
            Due::Hand(point) => self.point(point).is_some_and(|state| state.hand_due == at),
        }
    }
}
