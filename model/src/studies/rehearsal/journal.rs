//! What happened, each thing with what it happened because of, so that every change can be followed back to the
//! event, the rule, the condition and the hold that made it.

use super::book::PointNumber;
use super::value::Has;
use crate::calendar::UtcTime;
use crate::id::Id;
use crate::systems::{Gesture, HouseMode, Rule, Value};

/// The place of an entry in the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryNumber(u32);

impl EntryNumber {
    /// No entry.
    pub(super) const NONE: Self = Self(u32::MAX);

    /// The place in [`Journal::entries`].
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// What comes in from outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Incoming {
    /// Something is done to a key, or an event happens.
    Gesture {
        /// The key, or what tells of the event.
        point: PointNumber,
        /// What is done to it.
        gesture: Gesture,
    },
    /// A point reports a value, or someone gives a point that does things a value at the device itself.
    Value {
        /// The point.
        point: PointNumber,
        /// The value.
        value: Value,
    },
    /// Someone sets the house mode at a screen.
    Mode(HouseMode),
    /// The hub stops.
    HubStops,
    /// The hub starts again.
    HubStarts,
    /// The hub stops and starts in one moment.
    HubRestarts,
}

/// One thing that happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What {
    /// It came in from outside.
    CameIn(Incoming),
    /// The clock came to a time, or the sun to where a rule waits for it.
    Clock,
    /// The run began, or the hub started.
    HubStarted,
    /// An action that waited fell due.
    Waited {
        /// The rule whose action it is.
        rule: Id<Rule>,
        /// Which of its actions, from 0.
        action: u32,
    },
    /// A condition had lasted for as long as a rule asks.
    Lasted(Id<Rule>),
    /// The time after the end of what a rule waits for is over.
    LingerOver(Id<Rule>),
    /// What was done by hand came to its end.
    HandOver(PointNumber),
    /// A *when* rule, or a wired key, started.
    Started(Id<Rule>),
    /// An action of a rule was put to wait.
    Waits {
        /// The rule.
        rule: Id<Rule>,
        /// Which of its actions, from 0.
        action: u32,
        /// Until then.
        until: UtcTime,
    },
    /// What a rule waited to do was dropped.
    Dropped(Id<Rule>),
    /// A *while* rule began to hold.
    HoldBegan(Id<Rule>),
    /// The conditions of a *while* rule ceased, and it goes on holding until then unless they come back.
    Lingers {
        /// The rule.
        rule: Id<Rule>,
        /// Until then.
        until: UtcTime,
    },
    /// The conditions of a lingering *while* rule came back.
    HoldKept(Id<Rule>),
    /// A *while* rule ended to hold.
    HoldEnded(Id<Rule>),
    /// A value was given beneath what shows, so that nobody sees it yet.
    GivenBeneath {
        /// The point.
        point: PointNumber,
        /// The value.
        value: Has,
    },
    /// What shows at a point changed.
    Changed {
        /// The point.
        point: PointNumber,
        /// What showed.
        from: Has,
        /// What shows now, as a goal.
        to: Has,
    },
    /// A rule made an event happen: a bell rung.
    Happened(PointNumber),
    /// The house went into a mode.
    ModeBecame(HouseMode),
    /// A message was sent.
    Sent {
        /// The rule.
        rule: Id<Rule>,
        /// Which of its actions, from 0, with the words and the camera.
        action: u32,
    },
    /// The rules went round in a circle and were stopped.
    LoopStopped,
}

/// A line of the journal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// When.
    pub at: UtcTime,
    /// In which round of that moment, from 0.
    pub round: u8,
    /// What.
    pub what: What,
    because: EntryNumber,
}

impl Entry {
    /// What it happened because of; `None` for what came in or fell due by the clock.
    pub fn because(&self) -> Option<EntryNumber> {
        (self.because != EntryNumber::NONE).then_some(self.because)
    }
}

/// Everything that happened, in order.
#[derive(Clone, Debug)]
pub struct Journal {
    entries: Vec<Entry>,
    kept: bool,
}

/// No run writes more than this many lines (a run that would is cut in two).
const MOST_ENTRIES: usize = 100_000_000;

impl Journal {
    pub(super) const fn new(kept: bool) -> Self {
        Self { entries: Vec::new(), kept }
    }

    pub(super) fn write(&mut self, at: UtcTime, round: u8, what: What, because: EntryNumber) -> EntryNumber {
        if !self.kept || self.entries.len() >= MOST_ENTRIES {
            return EntryNumber::NONE;
        }
        let number = EntryNumber(self.entries.len() as u32);
        self.entries.push(Entry { at, round, what, because });
        number
    }

    pub(super) fn cut(&mut self, length: usize) {
        self.entries.truncate(length);
    }

    /// Every entry, in order.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entry at a place.
    pub fn get(&self, number: EntryNumber) -> Option<&Entry> {
        self.entries.get(number.index())
    }

    /// The number of the entry at a place in [`Self::entries`].
    pub fn number_at(&self, index: usize) -> Option<EntryNumber> {
        (index < self.entries.len()).then_some(EntryNumber(index as u32))
    }

    /// An entry and all it happened because of, back to what came in or fell due.
    pub fn chain(&self, number: EntryNumber) -> Vec<EntryNumber> {
        let mut chain = Vec::new();
        let mut next = Some(number);
        while let Some(number) = next.filter(|number| number.index() < self.entries.len()) {
            chain.push(number);
            // What it happened because of always stands before it.
            next = self.get(number).and_then(Entry::because).filter(|because| *because < number);
        }
        chain
    }
}
