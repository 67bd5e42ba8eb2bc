//! Rules: *when* something happens, or *while* something holds, under conditions, do this.
//!
//! A rule joins points and zones, never devices, and every reference in it is held by the project's
//! invariants: what a rule speaks of can't be removed from under it. What rules mean, to the millisecond, is
//! written down in `model/rules.md`.

mod action;
mod condition;
mod references;
mod value;

use super::{HouseMode, PointRef};
use crate::id::Id;
use crate::plan::Room;
use crate::units::{Seconds, TimeOfDay};

pub use action::{Action, Deed, Setting, Target, Until};
pub use condition::Condition;
pub use value::{Comparison, Gesture, SunEvent, Value, Weekday, Weekdays};

/// What starts a *when* rule.
#[derive(Clone, Debug, PartialEq)]
pub enum Trigger {
    /// Something happens at an event point.
    Event {
        /// The point.
        point: PointRef,
        /// What is done to it.
        gesture: Gesture,
    },
    /// A point takes a value it did not have.
    Becomes {
        /// The point.
        point: PointRef,
        /// How it is compared.
        comparison: Comparison,
        /// With what.
        value: Value,
    },
    /// A time of day comes.
    Time(TimeOfDay),
    /// Sunrise or sunset, so many minutes after (before, if below zero).
    Sun {
        /// Which.
        event: SunEvent,
        /// Minutes after it.
        offset_minutes: i16,
    },
    /// The house goes from another mode into this one.
    ModeEntered(HouseMode),
    /// A condition has held for so long without a break; once each time that it comes to hold.
    Stays {
        /// What must hold.
        condition: Condition,
        /// For so long.
        lasting: Seconds,
    },
}

/// The forms of rule.
#[derive(Clone, Debug, PartialEq)]
pub enum RuleBody {
    /// When something happens, if conditions hold, do.
    When {
        /// What starts it.
        trigger: Trigger,
        /// All of these must hold at that moment.
        conditions: Vec<Condition>,
        /// What is done, in this order.
        actions: Vec<Action>,
    },
    /// While all conditions hold, and for a time after, hold targets at values.
    While {
        /// All of these must hold.
        conditions: Vec<Condition>,
        /// For how long after they cease to hold.
        linger: Seconds,
        /// What is held at what.
        settings: Vec<Setting>,
        /// Where two rules hold one target, the higher rank shows.
        rank: u8,
        /// Whether what is done by hand goes over it. A hold that does not yield stands over the hand too.
        yields_to_hand: bool,
    },
    /// A key is wired to what it switches, so that one press turns it on or off, hub or no hub.
    Wired {
        /// The key.
        key: PointRef,
        /// What it switches.
        target: Target,
    },
}

/// A rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// What the family calls it (`Goodnight`).
    pub name: String,
    /// The room under which it is listed; `None` for the whole house.
    pub room: Option<Id<Room>>,
    /// A rule that is off is kept but does nothing.
    pub enabled: bool,
    /// A remark, never read by the rule.
    pub comment: String,
    /// What it does.
    pub body: RuleBody,
}
