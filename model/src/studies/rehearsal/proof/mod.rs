//! Proof by trying: every order of what may happen in a room, as far as a budget of steps reaches.
//!
//! [`prove_room`] takes the rules that work in a room, lets the clock stand where it makes a difference, and tries
//! every key, sensor, door and timer in every order, breadth first, so that the first script that shows a fault is
//! the shortest. States that are alike are tried once. What was not tried is said, never claimed.

mod faults;
mod graph;
mod house;
mod inputs;
mod key;
mod room;
mod script;
mod search;
mod words;

use std::sync::Arc;

use super::book::RuleBook;
use super::journal::Incoming;
use super::run::Setup;
use super::sky::Sky;
use crate::calendar::{Date, LocalClock, UtcTime};
use crate::id::Id;
use crate::plan::Room;
use crate::project::Project;
use crate::systems::{Gesture, HouseMode, PointRef, Rule, Value};

pub use house::{HouseProof, MOST_STEPS_OF_A_HOUSE, prove_house};
pub use script::script_of;
pub use words::{fault_sentence, how_far, reach_sentence, step_sentence};

/// How much a search may do; counted in steps, so that every machine finds the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Steps of the engine, over all cases of the clock.
    pub most_steps: usize,
    /// States that are kept at a time.
    pub most_states: usize,
}

impl Default for Budget {
    fn default() -> Self {
        Self { most_steps: 300_000, most_states: 60_000 }
    }
}

/// What a search starts from, beside the rules.
#[derive(Clone)]
pub struct Options {
    /// The day whose clock and sun are taken.
    pub date: Date,
    /// How local time follows from universal time.
    pub clock: LocalClock,
    /// Where the sun stands.
    pub sky: Arc<dyn Sky>,
    /// How much it may do.
    pub budget: Budget,
}

impl Options {
    /// The house's own clock and sky on a date, with the usual budget.
    pub fn of(project: &Project, date: Date) -> Self {
        let setup = Setup::of(project, project.site.clock.begins(date));
        Self { date, clock: setup.clock, sky: setup.sky, budget: Budget::default() }
    }
}

/// One step of a script.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Something is done to a key, or an event happens.
    Gesture(PointRef, Gesture),
    /// A sensor reports a value, or someone gives it at the device.
    Value(PointRef, Value),
    /// Someone sets the mode.
    Mode(HouseMode),
    /// The time or the sun comes to where rules wait for it.
    TimeComes {
        /// The rules that wait.
        rules: Vec<Id<Rule>>,
        /// When it first does.
        at: UtcTime,
    },
    /// Nothing is done until the next timer runs out.
    Wait,
}

impl Step {
    /// What a rehearsal of the whole house takes in for it; `None` where only time passes, or where a point is gone.
    pub fn incoming(&self, book: &RuleBook) -> Option<Incoming> {
        match self {
            Self::Gesture(point, gesture) => {
                Some(Incoming::Gesture { point: book.number(point)?, gesture: *gesture })
            }
            Self::Value(point, value) => Some(Incoming::Value { point: book.number(point)?, value: *value }),
            Self::Mode(mode) => Some(Incoming::Mode(*mode)),
            Self::TimeComes { .. } | Self::Wait => None,
        }
    }
}

/// A step with its time.
#[derive(Clone, Debug, PartialEq)]
pub struct TimedStep {
    /// Milliseconds after the start.
    pub after_ms: i64,
    /// What happens.
    pub step: Step,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wrong {
    /// Rules set each other off and were stopped.
    Loop,
    /// Two rules give one point different values in one round.
    Disagree(PointRef),
    /// Two holds of equal rank are at one point with different values.
    HoldsMeet(PointRef),
    /// A lamp that can be lit and that nothing makes dark again.
    NeverDark(PointRef),
    /// A lamp that sensors lit burns on with nobody there and no timer running.
    LeftLit(PointRef),
}

/// A fault, with the shortest script that shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub wrong: Wrong,
    /// The rules that have part in it.
    pub rules: Vec<Id<Rule>>,
    /// The moment at which the script starts, all off and shut.
    pub start: UtcTime,
    /// The script.
    pub script: Vec<TimedStep>,
}

/// How far the search went with the clock standing at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// Where the clock stood.
    pub at: UtcTime,
    /// Different states found.
    pub states: usize,
    /// Steps of the engine.
    pub steps: usize,
    /// Every script of up to so many steps was tried, or one that comes to the same.
    pub depth: usize,
    /// Whether that is every script there is.
    pub whole: bool,
}

/// What a search of a room found, and how far it went.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomProof {
    /// The room.
    pub room: Id<Room>,
    /// The rules that work in it.
    pub rules: Vec<Id<Rule>>,
    /// Sensors, contacts and other inputs with two values.
    pub two_state_inputs: usize,
    /// Everything that may happen: gestures, values, modes, times of rules.
    pub happenings: usize,
    /// How far it went, for each standing of the clock that makes a difference.
    pub reaches: Vec<Reach>,
    /// Standings of the clock that were left out.
    pub clocks_left_out: usize,
    /// What is wrong, each once, in the order of the kinds.
    pub faults: Vec<Fault>,
}

/// Tries every order of what may happen in a room.
pub fn prove_room(project: &Project, room: Id<Room>, options: &Options) -> RoomProof {
    let subject = room::Subject::of(project, room);
    search::prove(&subject, options)
}

/// Tries every room in which a rule works, each with the whole budget.
pub fn prove_rooms(project: &Project, options: &Options) -> Vec<RoomProof> {
    let whereabouts = crate::building::Whereabouts::of(project);
    project
        .rooms
        .ids()
        .map(|room| room::Subject::in_house(project, &whereabouts, room))
        .filter(|subject| !subject.rules.is_empty())
        .map(|subject| search::prove(&subject, options))
        .collect()
}
