//! One round of a moment: what it has, from outside or from the round before.

use super::book::PointNumber;
use super::journal::EntryNumber;
use super::value::Has;
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
    pub(super) started: Vec<(u32, EntryNumber)>,
}

impl Round {
    pub(super) fn has_nothing(&self) -> bool {
        self.events.is_empty() && self.changes.is_empty() && self.mode.is_none()
    }

    pub(super) fn clear(&mut self) {
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

    pub(super) fn first_cause(&self) -> EntryNumber {
        let change = self.changes.first().map(|(.., because)| *because);
        let event = self.events.first().map(|(.., because)| *because);
        change.or(event).or(self.mode).unwrap_or(EntryNumber::NONE)
    }
}
