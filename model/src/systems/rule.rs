//! Rules: *when* something happens, or *while* something holds, under conditions, do this.
//!
//! A rule joins points and zones, never devices, and every reference in it is held by the project's
//! invariants: a device or a zone that a rule speaks of can't be removed from under it.

use super::{PointRef, Zone};
use crate::id::Id;
use crate::plan::Room;
use crate::units::{Seconds, TimeOfDay};

/// What is done to a key, or what an event point tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gesture {
    /// The event itself: a bell rung, motion started.
    Happens,
    /// One press.
    Press,
    /// Two presses.
    PressTwice,
    /// Three presses.
    PressThrice,
    /// Held down.
    Hold,
    /// Let go after holding.
    Release,
}

impl Gesture {
    /// Every gesture, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::Happens, Self::Press, Self::PressTwice, Self::PressThrice, Self::Hold, Self::Release];

    /// The words for it, after the point's name (`key 1 is pressed twice`).
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Happens => "happens",
            Self::Press => "is pressed",
            Self::PressTwice => "is pressed twice",
            Self::PressThrice => "is pressed three times",
            Self::Hold => "is held",
            Self::Release => "is released",
        }
    }
}

/// Sunrise or sunset at the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SunEvent {
    /// Sunrise.
    Rise,
    /// Sunset.
    Set,
}

/// A value that a point can have or be given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// On, open, active.
    On,
    /// Off, shut, idle.
    Off,
    /// A figure in the point's own unit (percent for levels and positions).
    Number(f64),
    /// A colour, sRGB.
    Colour([u8; 3]),
}

/// How a value is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Comparison {
    /// The same.
    Is,
    /// Not the same.
    IsNot,
    /// Below.
    Below,
    /// Above.
    Above,
}

impl Comparison {
    /// Every comparison, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Is, Self::IsNot, Self::Below, Self::Above];

    /// The words for it.
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Is => "is",
            Self::IsNot => "is not",
            Self::Below => "is below",
            Self::Above => "is above",
        }
    }
}

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
}

/// What must hold.
#[derive(Clone, Debug, PartialEq)]
pub enum Condition {
    /// A point compares so with a value.
    Point {
        /// The point.
        point: PointRef,
        /// How it is compared.
        comparison: Comparison,
        /// With what.
        value: Value,
    },
    /// Any point of a zone is on: motion in any part of it, any of its doors open.
    AnyOf(Id<Zone>),
    /// The clock lies between two times, over midnight if the second comes first.
    Between(TimeOfDay, TimeOfDay),
    /// The sun is below the horizon.
    Dark,
    /// The sun is above the horizon.
    Daylight,
}

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
    /// On if off, off if on.
    Toggle,
    /// Raise or lower by so many percent.
    Step(i8),
    /// Send the household a message.
    Notify(String),
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
}

/// A target held at a value by a *while* rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// What is held.
    pub target: Target,
    /// At what.
    pub value: Value,
    /// Spread over so long.
    pub fade: Seconds,
}

/// The two forms of rule.
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

impl Rule {
    /// Every point the rule speaks of, in the order in which it does.
    pub fn points(&self) -> Vec<&PointRef> {
        let mut found = Vec::new();
        self.visit(&mut |point| found.push(point), &mut |_| {});
        found
    }

    /// Every zone the rule speaks of, in the order in which it does.
    pub fn zones(&self) -> Vec<Id<Zone>> {
        let mut found = Vec::new();
        self.visit(&mut |_| {}, &mut |zone| found.push(zone));
        found
    }

    fn visit<'a>(&'a self, on_point: &mut impl FnMut(&'a PointRef), on_zone: &mut impl FnMut(Id<Zone>)) {
        let (conditions, targets): (&[Condition], Vec<&Target>) = match &self.body {
            RuleBody::When { trigger, conditions, actions } => {
                if let Trigger::Event { point, .. } | Trigger::Becomes { point, .. } = trigger {
                    on_point(point);
                }
                (conditions, actions.iter().filter_map(|action| action.target.as_ref()).collect())
            }
            RuleBody::While { conditions, settings, .. } => {
                (conditions, settings.iter().map(|setting| &setting.target).collect())
            }
        };
        for condition in conditions {
            match condition {
                Condition::Point { point, .. } => on_point(point),
                Condition::AnyOf(zone) => on_zone(*zone),
                Condition::Between(..) | Condition::Dark | Condition::Daylight => {}
            }
        }
        for target in targets {
            match target {
                Target::Point(point) => on_point(point),
                Target::Zone(zone) => on_zone(*zone),
            }
        }
    }
}
