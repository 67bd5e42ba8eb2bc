//! A run that can be wound back and forth.
//!
//! It keeps what came in from outside, in order, and snapshots on the way; whatever lies between is played again,
//! which gives the same. What was told so far stays known while the run stands earlier, so that a list of all that
//! happened can be walked through; something new that is done there takes the place of what came after.

use std::sync::Arc;

use super::book::{PointNumber, RuleBook};
use super::journal::{Entry, EntryNumber, Incoming, What};
use super::run::{Refused, Rehearsal, Setup, Snapshot};
use crate::calendar::UtcTime;

/// After so many moments a snapshot is kept.
const BETWEEN_SNAPSHOTS: usize = 64;

/// No more snapshots than this are kept: of more, every second one goes.
const MOST_SNAPSHOTS: usize = 128;

/// How far a run came when it was let go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advanced {
    /// To the moment it was to come to.
    There,
    /// To something that it was to stop at: the place of the entry.
    Stopped(usize),
    /// Not so far yet: it worked off as many moments as it might.
    NotYet,
}

/// A run with all that came in, to be wound back and forth.
#[derive(Clone)]
pub struct Recording {
    run: Rehearsal,
    setup: Setup,
    came: Vec<(UtcTime, Incoming)>,
    /// How many of these the run has taken in.
    taken: usize,
    told: Vec<Entry>,
    snapshots: Vec<(Snapshot, usize)>,
    since_snapshot: usize,
    revision: u64,
}

impl Recording {
    /// Begins a run.
    ///
    /// # Errors
    /// [`Refused`] where the setup does not fit the rules.
    pub fn start(book: Arc<RuleBook>, setup: Setup) -> Result<Self, Refused> {
        let setup = Setup { journal: true, ..setup };
        let run = Rehearsal::start(book, &setup)?;
        let told = run.journal().entries().to_vec();
        let snapshots = vec![(run.snapshot(), 0)];
        Ok(Self { run, setup, came: Vec::new(), taken: 0, told, snapshots, since_snapshot: 0, revision: 0 })
    }

    /// A run that was played elsewhere, wound back to its start: it is played again as it was.
    ///
    /// # Errors
    /// [`Refused`] where the setup does not fit the rules.
    pub fn of(book: Arc<RuleBook>, setup: Setup, played: &Rehearsal) -> Result<Self, Refused> {
        let mut recording = Self::start(book, setup)?;
        recording.told = played.journal().entries().to_vec();
        recording.came = recording
            .told
            .iter()
            .filter_map(|entry| match entry.what {
                What::CameIn(what) => Some((entry.at, what)),
                _ => None,
            })
            .collect();
        Ok(recording)
    }

    /// The house as it stands.
    pub const fn run(&self) -> &Rehearsal {
        &self.run
    }

    /// What the run started from.
    pub const fn setup(&self) -> &Setup {
        &self.setup
    }

    /// Everything that is known to happen, also what lies ahead of where the run stands.
    pub fn told(&self) -> &[Entry] {
        &self.told
    }

    /// How much of [`Self::told`] has happened where the run stands.
    pub fn happened(&self) -> usize {
        self.run.journal().entries().len()
    }

    /// What came in from outside until now.
    pub fn came(&self) -> &[(UtcTime, Incoming)] {
        self.came.get(..self.taken).unwrap_or_default()
    }

    /// Counts what came in, so that lists made of [`Self::told`] are known to be stale.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether something recorded lies ahead.
    pub fn lies_ahead(&self) -> bool {
        self.happened() < self.told.len() || self.taken < self.came.len()
    }

    /// An entry and all it happened because of, back to what came in or fell due.
    pub fn chain(&self, entry: usize) -> Vec<usize> {
        let mut chain = Vec::new();
        let mut next = Some(entry);
        while let Some((index, found)) = next.and_then(|index| Some((index, self.told.get(index)?))) {
            chain.push(index);
            next = found.because().map(EntryNumber::index).filter(|because| *because < index);
        }
        chain
    }

    /// Takes in something that is done now. What was recorded after this moment is forgotten.
    ///
    /// # Errors
    /// [`Refused`], and nothing has happened.
    pub fn come_in(&mut self, what: Incoming) -> Result<(), Refused> {
        let now = self.run.now();
        let happened = self.happened();
        self.run.come_in(now, what)?;
        self.came.truncate(self.taken);
        self.told.truncate(happened);
        self.snapshots.retain(|(snapshot, _)| snapshot.journal_length() <= happened);
        self.came.push((now, what));
        self.revision += 1;
        self.taken += 1;
        self.note(happened);
        Ok(())
    }

    /// Lets time pass until a moment, no more than so many moments at which something falls due or comes in, and
    /// not past an entry to stop at.
    pub fn advance(
        &mut self,
        until: UtcTime,
        most_moments: usize,
        stops_at: impl Fn(&Entry) -> bool,
    ) -> Advanced {
        for _ in 0..most_moments {
            let happened = self.happened();
            if !self.one_moment(until) {
                return Advanced::There;
            }
            let stop = self.told.iter().skip(happened).take(self.happened() - happened).position(&stops_at);
            if let Some(found) = stop {
                return Advanced::Stopped(happened + found);
            }
        }
        if self.run.now() >= until { Advanced::There } else { Advanced::NotYet }
    }

    /// Goes on to the next thing that happens, or to where a fade or a blind arrives, no later than a moment and
    /// within so many moments of the clock.
    pub fn step_forward(&mut self, until: UtcTime, most_moments: usize) -> Advanced {
        for _ in 0..most_moments {
            let (now, happened) = (self.run.now(), self.happened());
            let next = self.next_moment(until).map(|(at, _)| at);
            let arrives = self.next_arrival().filter(|at| next.is_none_or(|next| *at < next) && *at <= until);
            if let Some(at) = arrives {
                self.run.run_until(at);
                return Advanced::Stopped(happened);
            }
            if !self.one_moment(until) {
                return Advanced::There;
            }
            if self.happened() > happened {
                return Advanced::Stopped(happened);
            }
            if self.run.now() == now && self.run.now() >= until {
                return Advanced::There;
            }
        }
        Advanced::NotYet
    }

    /// Goes back to before the last thing that happened; whether there was one.
    pub fn step_back(&mut self) -> bool {
        let happened = self.happened();
        let Some(begins) = (1..happened).rev().find(|index| self.begins_moment(*index)) else { return false };
        self.wind_to(begins);
        if let Some(entry) = self.told.get(begins) {
            // As long as nothing happens the time before it may as well have passed.
            let before = entry.at.after_ms(-1);
            if before > self.run.now() {
                self.run.run_until(before);
            }
        }
        true
    }

    /// Goes to where an entry has just happened, with all of its moment.
    pub fn go_to(&mut self, entry: usize) {
        let ends = (entry + 1..self.told.len()).find(|index| self.begins_moment(*index));
        self.wind_to(ends.unwrap_or(self.told.len()));
    }

    /// Goes to a moment: back to it, or on to it within so many moments of the clock.
    pub fn go_to_time(&mut self, at: UtcTime, most_moments: usize) -> Advanced {
        if at < self.run.now() {
            let happened = self.told.partition_point(|entry| entry.at <= at);
            self.wind_to(happened.max(1));
        }
        self.advance(at, most_moments, |_| false)
    }

    /// The points that are on their way somewhere.
    pub fn under_way(&self) -> impl Iterator<Item = (PointNumber, UtcTime)> + '_ {
        let points = (0..self.run.book().point_count() as u32).map(PointNumber);
        points.filter_map(|point| Some((point, self.run.arrives(point)?)))
    }

    fn next_arrival(&self) -> Option<UtcTime> {
        self.under_way().map(|(_, at)| at).min()
    }

    /// Whether an entry is the first of what came in, or of what fell due together.
    fn begins_moment(&self, index: usize) -> bool {
        let Some(entry) = self.told.get(index) else { return true };
        let before = index.checked_sub(1).and_then(|before| self.told.get(before));
        matches!(entry.what, What::CameIn(_)) || before.is_none_or(|before| before.at != entry.at)
    }

    /// What comes next up to a moment, and whether it comes in from outside.
    fn next_moment(&mut self, until: UtcTime) -> Option<(UtcTime, bool)> {
        let comes = self.came.get(self.taken).map(|(at, _)| *at).filter(|at| *at <= until);
        let due = self.run.next_due(until);
        match (comes, due) {
            // What falls due at a moment goes before what comes in then.
            (Some(comes), due) if due.is_none_or(|due| comes < due) => Some((comes, true)),
            (_, due) => due.map(|at| (at, false)),
        }
    }

    /// Works off the next moment; where there is none up to `until`, time passes to there and this is `false`.
    fn one_moment(&mut self, until: UtcTime) -> bool {
        let happened = self.happened();
        match self.next_moment(until) {
            None => {
                self.run.run_until(until);
                return false;
            }
            Some((at, false)) => self.run.run_until(at),
            Some((at, true)) => {
                if let Some((_, what)) = self.came.get(self.taken) {
                    // It was taken in once before.
                    let _ = self.run.come_in(at, *what);
                }
                self.taken += 1;
            }
        }
        self.note(happened);
        true
    }

    /// Keeps what is new of what the run tells, and now and then a snapshot.
    fn note(&mut self, happened: usize) {
        let entries = self.run.journal().entries();
        if let Some(new) = entries.get(self.told.len()..) {
            self.told.extend_from_slice(new);
        }
        self.since_snapshot += 1;
        let is_farthest = self.snapshots.last().is_none_or(|(last, _)| last.journal_length() < happened);
        if self.since_snapshot >= BETWEEN_SNAPSHOTS && is_farthest {
            self.since_snapshot = 0;
            self.snapshots.push((self.run.snapshot(), self.taken));
            if self.snapshots.len() > MOST_SNAPSHOTS {
                let mut index = 0;
                self.snapshots.retain(|_| {
                    index += 1;
                    index % 2 == 1
                });
            }
        }
    }

    /// Winds to where so many entries have happened.
    fn wind_to(&mut self, happened: usize) {
        let last = happened.checked_sub(1).and_then(|last| self.told.get(last));
        let Some(last) = last.map(|entry| entry.at) else { return };
        let lies_before =
            |snapshot: &Snapshot| snapshot.journal_length() <= happened && snapshot.at() <= last;
        let from = self.snapshots.iter().rev().find(|(snapshot, _)| lies_before(snapshot));
        let Some((snapshot, taken)) = from.or(self.snapshots.first()) else { return };
        self.run.go_back(snapshot);
        self.taken = *taken;
        while self.happened() < happened && self.one_moment(last) {}
    }
}
