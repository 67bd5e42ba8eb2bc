//! The steps of a script, as read.

use crate::calendar::Local;
use crate::systems::{Comparison, Gesture, HouseMode, PointRef, Value};
use crate::units::{Seconds, TimeOfDay};

/// What is done.
#[derive(Clone, Debug, PartialEq)]
pub enum Deed {
    /// The run starts at this local date and time.
    Start(Local),
    /// What a point has as the run starts.
    Given(PointRef, Value),
    /// Time passes until the clock shows this.
    At(TimeOfDay),
    /// So much time passes.
    After(Seconds),
    /// A gesture at a key, or an event.
    Gesture(PointRef, Gesture),
    /// A point reports a value, or is given one at the device itself.
    Value(PointRef, Value),
    /// The house mode is set.
    Mode(HouseMode),
    /// The hub stops.
    HubStops,
    /// The hub starts.
    HubStarts,
    /// The hub stops and starts at once.
    HubRestarts,
    /// Somebody walks a walk of the plan.
    Walk(String),
}

/// What is expected.
#[derive(Clone, Debug, PartialEq)]
pub enum Expected {
    /// A point compares so.
    Point {
        /// The point.
        point: PointRef,
        /// How it is compared.
        comparison: Comparison,
        /// With what.
        value: Value,
    },
    /// The house is in a mode.
    Mode(HouseMode),
    /// A message that holds these words is sent.
    Message(String),
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Something is done.
    Do(Deed),
    /// Something must come to be so within a time; a time of zero asks for this very moment.
    Within(Expected, Seconds),
    /// Something must stay so for a time.
    Stays(Expected, Seconds),
}

/// A step with the line it stands on, from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct ScriptStep {
    /// The line, from 1.
    pub line: usize,
    /// What it says.
    pub step: Step,
}
