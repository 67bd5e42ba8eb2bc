//! What is done: on what, what, when, over which time, and whether by hand.

use super::{Condition, Gesture, Value};
use crate::id::Id;
use crate::kit::Device;
use crate::systems::{HouseMode, PointRef, Rule, Scene, Zone};
use crate::units::{Seconds, TimeOfDay};

/// What an action works on.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Target {
    /// One point.
    Point(PointRef),
    /// Every point of a zone.
    Zone(Id<Zone>),
}

/// What is done.
#[derive(Clone, Debug, PartialEq)]
pub enum Deed {
    /// Give it a value.
    Set(Value),
    /// All off if any of it is on, all on if none is.
    Toggle,
    /// Raise or lower by so many percent.
    Step(i8),
    /// Give it the next of these values after the one it has, the first where it has none of them.
    Cycle(Vec<Value>),
    /// Set all that a scene sets. Needs no target.
    RunScene(Id<Scene>),
    /// Send the household a message, with a still picture of a camera if one is named. Needs no target.
    Notify {
        /// The message.
        text: String,
        /// The camera whose picture goes with it.
        picture: Option<Id<Device>>,
    },
    /// Drop what a rule still waits to do. Needs no target.
    Cancel(Id<Rule>),
    /// Put the house into a mode. Needs no target.
    EnterMode(HouseMode),
    /// End what was done by hand at the target; everywhere where there is none.
    ReleaseHand,
}

impl Deed {
    /// A message without a picture.
    pub fn notify(text: impl Into<String>) -> Self {
        Self::Notify { text: text.into(), picture: None }
    }

    /// Whether it works on a target: on a point or on a zone.
    pub const fn has_target(&self) -> bool {
        match self {
            Self::Set(_) | Self::Toggle | Self::Step(_) | Self::Cycle(_) | Self::ReleaseHand => true,
            Self::RunScene(_) | Self::Notify { .. } | Self::Cancel(_) | Self::EnterMode(_) => false,
        }
    }
}

/// How long what is done by hand stands over what rules hold.
#[derive(Clone, Debug, PartialEq)]
pub enum Until {
    /// Until a rule gives it back.
    Released,
    /// For so long.
    For(Seconds),
    /// Until that time of day next comes.
    Time(TimeOfDay),
    /// Until a condition has held for so long on end: until the room has been empty for ten minutes.
    Holds {
        /// What must hold.
        condition: Condition,
        /// For so long without a break.
        lasting: Seconds,
    },
    /// Until something happens.
    Event {
        /// The point at which it happens.
        point: PointRef,
        /// What is done to it.
        gesture: Gesture,
    },
}

/// One thing that a *when* rule does.
#[derive(Clone, Debug, PartialEq)]
pub struct Action {
    /// On what; a message alone needs no target.
    pub target: Option<Target>,
    /// What.
    pub deed: Deed,
    /// So long after the trigger.
    pub after: Seconds,
    /// Spread over so long.
    pub fade: Seconds,
    /// Done by hand: it goes over what *while* rules hold, until this. `None` where it sets what lies beneath
    /// them.
    pub by_hand: Option<Until>,
}

impl Action {
    /// A deed at a target, done at once and beneath whatever is held.
    pub const fn new(target: Option<Target>, deed: Deed) -> Self {
        Self { target, deed, after: Seconds::ZERO, fade: Seconds::ZERO, by_hand: None }
    }
}

/// A target held at a value by a *while* rule, or set to it by a scene.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What is held.
    pub target: Target,
    /// At what.
    pub value: Value,
    /// Spread over so long.
    pub fade: Seconds,
}
