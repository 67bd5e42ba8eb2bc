//! What must hold: for a *when* rule at that moment, for a *while* rule as long as it holds its settings.

use super::{Comparison, Value, Weekdays};
use crate::id::Id;
use crate::systems::{HouseMode, PointRef, Zone};
use crate::units::TimeOfDay;

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
    /// Every point of a zone is on; never so for a zone without points.
    AllOf(Id<Zone>),
    /// The clock lies between two times (from the first, up to but not at the second), over midnight if the
    /// second comes first.
    Between(TimeOfDay, TimeOfDay),
    /// The sun is below the horizon.
    Dark,
    /// The sun is above the horizon.
    Daylight,
    /// The sun's centre stands higher than this.
    SunHigher {
        /// Above the horizon, degrees.
        degrees: f64,
    },
    /// The sun's centre stands lower than this.
    SunLower {
        /// Above the horizon, degrees; below zero where it lies under it.
        degrees: f64,
    },
    /// The sun stands between two bearings, clockwise from the first to the second.
    SunBetween {
        /// From true north, clockwise, degrees.
        from_degrees: f64,
        /// From true north, clockwise, degrees.
        to_degrees: f64,
    },
    /// It is one of these days, by the local date.
    Weekdays(Weekdays),
    /// The house is in this mode.
    Mode(HouseMode),
    /// That does not hold.
    Not(Box<Condition>),
    /// One of these holds, or more; never so where there is none.
    OneOf(Vec<Condition>),
}

impl Condition {
    /// This condition and all those within it, from the outside in.
    pub fn visit<'a>(&'a self, on: &mut impl FnMut(&'a Self)) {
        on(self);
        match self {
            Self::Not(inner) => inner.visit(on),
            Self::OneOf(inner) => inner.iter().for_each(|condition| condition.visit(on)),
            _ => {}
        }
    }

    /// The same, to change them.
    pub fn visit_mut(&mut self, on: &mut impl FnMut(&mut Self)) {
        on(self);
        match self {
            Self::Not(inner) => inner.visit_mut(on),
            Self::OneOf(inner) => inner.iter_mut().for_each(|condition| condition.visit_mut(on)),
            _ => {}
        }
    }
}
