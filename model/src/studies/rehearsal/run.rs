//! A run: the state of a house, carried forward by what comes in and by the clock.

use std::sync::Arc;

use super::almanac::Almanac;
use super::book::{PointNumber, RuleBook};
use super::clock::{NEVER, whole_ms};
use super::journal::{EntryNumber, Incoming, Journal, What};
use super::round::Round;
use super::sky::{EvenSky, Sky, SkyOver};
use super::state::{Due, Layer, State};
use super::value::Has;
use super::way::Way;
use crate::calendar::{LocalClock, MS_PER_DAY, UtcTime};
use crate::id::Id;
use crate::project::Project;
use crate::systems::{HouseMode, Rule, Value};
use crate::units::Seconds;

/// How long a blind takes from shut to open where nobody says otherwise; common practice, no published source.
pub const FULL_TRAVEL: Seconds = Seconds(25.0);

/// What a run starts from, beside the rules.
#[derive(Clone)]
pub struct Setup {
    /// The moment at which it starts.
    pub start: UtcTime,
    /// How local time follows from universal time.
    pub clock: LocalClock,
    /// Where the sun stands.
    pub sky: Arc<dyn Sky>,
    /// How long a blind, a gate or a door takes over its whole travel where its kind does not say.
    pub full_travel: Seconds,
    /// The mode the house is in.
    pub mode: HouseMode,
    /// What points have that do not start off, at 0 or black.
    pub values: Vec<(PointNumber, Value)>,
    /// Whether a journal is kept; a search over many ways does without.
    pub journal: bool,
}

impl Setup {
    /// A run of a project's house by its own clock and under its own sky; under [`EvenSky`] where nobody said
    /// where it stands.
    pub fn of(project: &Project, start: UtcTime) -> Self {
        let sky: Arc<dyn Sky> = match project.site.place {
            Some(place) => Arc::new(SkyOver(place)),
            None => Arc::new(EvenSky),
        };
        Self::at(start, project.site.clock, sky)
    }

    /// A run that starts at a moment with everything off, at home, and blinds of the usual travel.
    pub fn at(start: UtcTime, clock: LocalClock, sky: Arc<dyn Sky>) -> Self {
        Self {
            start,
            clock,
            sky,
            full_travel: FULL_TRAVEL,
            mode: HouseMode::AtHome,
            values: Vec::new(),
            journal: true,
        }
    }
}

/// Why something that comes in is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// It lies before the moment that the run has come to.
    #[error("the clock of a rehearsal goes forward only: start the run again for an earlier time")]
    Past,
    /// There is no such point, or no such mode.
    #[error(
        "there is no such point or mode in these rules: it was removed, or the rules are of another plan"
    )]
    Unknown,
    /// The value is no number, or the point can make nothing of it.
    #[error(
        "the point can't have such a value: give a state on or off, a number a figure, a colour a colour"
    )]
    WrongValue,
}

/// What of a point shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Showing {
    /// What was set last.
    Base,
    /// What was done by hand.
    Hand,
    /// What this *while* rule holds.
    Held(Id<Rule>),
}

/// Where a run stood, to go back to.
#[derive(Clone, Debug)]
pub struct Snapshot {
    state: State,
    journal_length: usize,
}

impl Snapshot {
    /// The moment at which it was taken.
    pub const fn at(&self) -> UtcTime {
        self.state.now
    }

    /// How many entries the journal had.
    pub const fn journal_length(&self) -> usize {
        self.journal_length
    }
}

/// A house with its rules, played on a simulated clock.
#[derive(Clone)]
pub struct Rehearsal {
    pub(super) book: Arc<RuleBook>,
    pub(super) state: State,
    pub(super) journal: Journal,
    pub(super) almanac: Almanac,
    pub(super) full_travel_ms: i64,
    /// What the round at hand has, and what it makes for the next.
    pub(super) current: Round,
    pub(super) next: Round,
}

impl Rehearsal {
    /// Starts a run.
    ///
    /// # Errors
    /// [`Refused`] where a value or the mode does not fit the rules.
    pub fn start(book: Arc<RuleBook>, setup: &Setup) -> Result<Self, Refused> {
        let mut state = State::new(&book, setup.start);
        state.mode = book.mode_number(setup.mode).ok_or(Refused::Unknown)?;
        for (point, value) in &setup.values {
            let has = takes(&book, *point, *value)?;
            let point = state.points.get_mut(point.index()).ok_or(Refused::Unknown)?;
            (point.base, point.seen, point.way) = (has, has, Way::there(has));
        }
        let mut run = Self {
            state,
            journal: Journal::new(setup.journal),
            almanac: Almanac::new(setup.clock, Arc::clone(&setup.sky)),
            full_travel_ms: whole_ms(setup.full_travel),
            current: Round::default(),
            next: Round::default(),
            book,
        };
        run.start_hub(EntryNumber::NONE);
        Ok(run)
    }

    /// Carries the run forward to a moment and takes in what comes then.
    ///
    /// # Errors
    /// [`Refused`], and nothing has happened.
    pub fn come_in(&mut self, at: UtcTime, what: Incoming) -> Result<(), Refused> {
        if at < self.state.now {
            return Err(Refused::Past);
        }
        match what {
            Incoming::Value { point, value } => {
                takes(&self.book, point, value)?;
            }
            Incoming::Gesture { point, .. } if point.index() >= self.book.points.len() => {
                return Err(Refused::Unknown);
            }
            Incoming::Mode(mode) if self.book.mode_number(mode).is_none() => return Err(Refused::Unknown),
            _ => {}
        }
        self.run_until(at);
        self.take_in(what);
        Ok(())
    }

    /// Carries the run forward to a moment, with all that falls due until then and at it.
    pub fn run_until(&mut self, at: UtcTime) {
        while let Some(next) = self.next_due(at) {
            self.state.now = next;
            self.fall_due(next);
        }
        self.state.now = self.state.now.max(at);
    }

    /// The next moment, up to the last, at which something falls due by itself. The clock may come to a moment
    /// that changes nothing.
    pub fn next_due(&mut self, last: UtcTime) -> Option<UtcTime> {
        if !self.state.running {
            return None;
        }
        if self.state.next_mark <= self.state.now && self.book.watches_clock() {
            self.look_ahead();
        }
        let by_clock = if self.book.watches_clock() { self.state.next_mark } else { NEVER };
        let put = self.state.next_due().unwrap_or(NEVER);
        Some(by_clock.min(put)).filter(|next| *next <= last)
    }

    /// Finds when the clock brings something next, until the end of the day; else the end of the day, when it
    /// is looked again.
    pub(super) fn look_ahead(&mut self) {
        let end_of_day = UtcTime::from_ms((self.state.now.ms.div_euclid(MS_PER_DAY) + 1) * MS_PER_DAY);
        let found = self.almanac.next(&self.book, self.state.now, end_of_day);
        self.state.next_mark = found.unwrap_or(end_of_day);
    }

    /// The moment the run has come to.
    pub const fn now(&self) -> UtcTime {
        self.state.now
    }

    /// The rules.
    pub fn book(&self) -> &Arc<RuleBook> {
        &self.book
    }

    /// How local time follows from universal time.
    pub const fn clock(&self) -> LocalClock {
        self.almanac.clock
    }

    /// Everything that happened.
    pub const fn journal(&self) -> &Journal {
        &self.journal
    }

    /// The mode the house is in.
    pub fn mode(&self) -> HouseMode {
        self.book.mode_of(self.state.mode)
    }

    /// Whether the hub runs.
    pub const fn is_running(&self) -> bool {
        self.state.running
    }

    /// What rules see of a point: the goal of what shows.
    pub fn seen(&self, point: PointNumber) -> Has {
        self.state.point(point).map_or(Has::Nothing, |state| state.seen)
    }

    /// The value of a point now, on its way.
    pub fn shown(&self, point: PointNumber) -> Has {
        self.state.point(point).map_or(Has::Nothing, |state| state.way.value(state.seen, self.state.now))
    }

    /// When a point is where it was told to be; `None` where it is there.
    pub fn arrives(&self, point: PointNumber) -> Option<UtcTime> {
        let ends = self.state.point(point)?.way.ends();
        (ends > self.state.now).then_some(ends)
    }

    /// What was set last at a point, whether it shows or not.
    pub fn base(&self, point: PointNumber) -> Has {
        self.state.point(point).map_or(Has::Nothing, |state| state.base)
    }

    /// What of a point shows.
    pub fn showing(&self, point: PointNumber) -> Showing {
        match self.state.point(point).map(|state| state.showing) {
            Some(Layer::Hand) => Showing::Hand,
            Some(Layer::Hold(hold)) => {
                self.book.holds.get(hold as usize).map_or(Showing::Base, |hold| Showing::Held(hold.rule))
            }
            _ => Showing::Base,
        }
    }

    /// What waits to be done: when, by which rule, which of its actions; the first due first.
    pub fn waiting(&self) -> Vec<(UtcTime, Id<Rule>, u32)> {
        let mut waiting: Vec<_> = self
            .state
            .due
            .iter()
            .filter(|due| self.state.is_wanted(due.0.0, due.0.2))
            .filter_map(|due| match due.0 {
                (at, put, Due::Action { starter, action, .. }) => {
                    Some((at, put, self.book.starters.get(starter as usize)?.rule, action))
                }
                _ => None,
            })
            .collect();
        waiting.sort_unstable_by_key(|(at, put, ..)| (*at, *put));
        waiting.into_iter().map(|(at, _, rule, action)| (at, rule, action)).collect()
    }

    /// Where the run stands, to go back to.
    pub fn snapshot(&self) -> Snapshot {
        Snapshot { state: self.state.clone(), journal_length: self.journal.entries().len() }
    }

    /// Goes back to where the run stood; the journal forgets what came after.
    pub fn go_back(&mut self, snapshot: &Snapshot) {
        self.state = snapshot.state.clone();
        self.journal.cut(snapshot.journal_length);
    }

    pub(super) fn write(&mut self, round: u8, what: What, because: EntryNumber) -> EntryNumber {
        self.journal.write(self.state.now, round, what, because)
    }
}

/// What a point makes of a value that comes in.
fn takes(book: &RuleBook, point: PointNumber, value: Value) -> Result<Has, Refused> {
    let nature = book.nature(point).ok_or(Refused::Unknown)?;
    if matches!(value, Value::Number(figure) if !figure.is_finite()) {
        return Err(Refused::WrongValue);
    }
    nature.given(value).ok_or(Refused::WrongValue)
}
