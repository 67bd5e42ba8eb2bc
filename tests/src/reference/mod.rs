//! What rules mean, built a second time from `model/rules.md` alone, to be compared with the engine.
//!
//! It is written to be plainly right and may be slow: it goes from minute to minute, asks every rule every time
//! and keeps no index. [`house`] numbers the points of a plan, [`values`] takes and compares values, [`clock`]
//! tells local time and [`sun`] where the sun stands; [`state`] is what every point has, [`conditions`] and
//! [`deeds`] read and change it, [`rounds`] works off one instant after another. [`random_rules`] and
//! [`random_traces`] make up rules and what happens; numbers in comments are those of the page's sections.

pub mod clock;
pub mod compare;
mod conditions;
mod deeds;
pub mod house;
pub mod random_house;
pub mod random_rules;
pub mod random_traces;
mod rounds;
mod state;
pub mod sun;
pub mod values;
mod watches;

use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::{LocalClock, Project};
use pattress_model::systems::{Gesture, HouseMode, PointRef, Value};

use clock::Clock;
use house::House;
use state::State;
use sun::Sun;
use values::Held;

/// What comes in from outside.
#[derive(Clone, Debug, PartialEq)]
pub enum Incoming {
    /// A gesture at an event point.
    Gesture(PointRef, Gesture),
    /// A device reports a value.
    Report(PointRef, Value),
    /// Somebody gives a point a value at the device itself.
    Given(PointRef, Value),
    /// Somebody sets the mode at a screen.
    Mode(HouseMode),
    /// The hub stops.
    HubStops,
    /// The hub starts.
    HubStarts,
    /// The hub stops and starts in one instant.
    HubRestarts,
}

/// One thing that changed, with its time in milliseconds since 1970-01-01T00:00Z.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// When.
    pub at: i64,
    /// In which round of its instant.
    pub round: u32,
    /// What.
    pub what: What,
}

/// What changed.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A point has another value, as rules see it.
    Seen(PointRef, Held),
    /// A point is on its way from one value to another for so many milliseconds.
    Way(PointRef, Held, Held, i64),
    /// An event happened because a rule made it happen.
    Happened(PointRef),
    /// The house is in another mode.
    Mode(HouseMode),
    /// A message went out.
    Message(String, Option<Id<Device>>),
    /// The sixteenth round still changed something.
    Loop,
}

/// What the run is told beforehand.
pub struct Setup<'a> {
    /// The first millisecond.
    pub starts: i64,
    /// The clock on the walls.
    pub clock: LocalClock,
    /// Where the sun stands at a minute since 1970.
    pub sky: &'a dyn Fn(i64) -> Sun,
    /// Milliseconds of a position's whole travel.
    pub travel_ms: i64,
    /// Values that points start with.
    pub values: Vec<(PointRef, Value)>,
}

/// Changes after which a run stops.
const MOST_RECORDS: usize = 2000;

/// A house that lives by its rules.
pub struct Reference<'a> {
    house: House,
    setup: Setup<'a>,
    clock: Clock,
    state: State,
    round: u32,
    records: Vec<Record>,
}

impl<'a> Reference<'a> {
    /// A run from its first millisecond, which begins with a start of the hub.
    pub fn new(project: &Project, setup: Setup<'a>) -> Self {
        let house = House::of(project);
        let state = State::new(&house, &setup);
        let clock = Clock::of(setup.clock);
        let mut run = Self { house, setup, clock, state, round: 0, records: Vec::new() };
        run.work_off_incoming(&Incoming::HubStarts);
        run
    }

    /// Works off all that falls due up to `at`, that millisecond included; stops where it is full.
    pub fn run_until(&mut self, at: i64) {
        while let Some(next) = self.next_due().filter(|next| *next <= at) {
            if self.is_full() {
                return;
            }
            self.state.at = next;
            self.work_off_due();
        }
        self.state.at = self.state.at.max(at);
    }

    /// Whether so much was recorded that a run is not worth going on with: rules that wait a millisecond for each other
    /// change something eighty-six million times a day.
    pub fn is_full(&self) -> bool {
        self.records.len() > MOST_RECORDS
    }

    /// The millisecond that it has come to.
    pub fn now(&self) -> i64 {
        self.state.at
    }

    /// Works off all that falls due up to `at`, then what comes in there.
    pub fn comes_in(&mut self, at: i64, incoming: &Incoming) {
        self.run_until(at);
        self.work_off_incoming(incoming);
    }

    /// Everything that changed so far, in order.
    pub fn records(&self) -> &[Record] {
        &self.records
    }

    /// The points of the house, in the order in which they are numbered.
    pub fn points(&self) -> impl Iterator<Item = &PointRef> {
        self.house.points.iter().map(|point| &point.name)
    }

    /// The value of a point that rules see; `None` for an event.
    pub fn seen(&self, name: &PointRef) -> Option<Held> {
        self.seen_at(self.house.number(name)?)
    }

    /// The value of a point as it is drawn now, on its way.
    pub fn drawn(&self, name: &PointRef) -> Option<Held> {
        self.drawn_at(self.house.number(name)?)
    }

    /// The mode the house is in.
    pub fn mode(&self) -> HouseMode {
        self.state.mode
    }
}
