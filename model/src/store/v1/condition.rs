//! Conditions and values as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{ColourV1, Figure, IdV1, TimeV1};
use super::rule::PointRefV1;
use super::scene::HouseModeV1;
use super::words;
use crate::systems::{Comparison, Condition, Value, Weekday, Weekdays};

words! {
    /// How a value is compared.
    ComparisonV1 for Comparison { Is, IsNot, Below, Above }
}

/// A value that a point can have or be given.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum ValueV1 {
    On,
    Off,
    /// In the point's own unit; percent for levels and positions.
    Number(Figure),
    Colour(ColourV1),
}

impl From<Value> for ValueV1 {
    fn from(value: Value) -> Self {
        match value {
            Value::On => Self::On,
            Value::Off => Self::Off,
            Value::Number(figure) => Self::Number(Figure(figure)),
            Value::Colour(colour) => Self::Colour(ColourV1(colour)),
        }
    }
}

impl From<ValueV1> for Value {
    fn from(value: ValueV1) -> Self {
        match value {
            ValueV1::On => Self::On,
            ValueV1::Off => Self::Off,
            ValueV1::Number(figure) => Self::Number(figure.0),
            ValueV1::Colour(colour) => Self::Colour(colour.0),
        }
    }
}

words! {
    /// A day of the week.
    WeekdayV1 for Weekday { Monday, Tuesday, Wednesday, Thursday, Friday, Saturday, Sunday }
}

/// What must hold.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum ConditionV1 {
    /// A point compares so with a value.
    Point { point: PointRefV1, comparison: ComparisonV1, value: ValueV1 },
    /// Any point of this zone is on.
    AnyOf(IdV1),
    /// Every point of this zone is on.
    AllOf(IdV1),
    /// The clock lies between two times, over midnight if the second comes first.
    Between(TimeV1, TimeV1),
    /// The sun is below the horizon.
    Dark,
    /// The sun is above the horizon.
    Daylight,
    /// The sun's centre stands higher than so many degrees above the horizon.
    SunHigher { degrees: Figure },
    /// The sun's centre stands lower than so many degrees above the horizon.
    SunLower { degrees: Figure },
    /// The sun stands between two bearings, degrees clockwise from true north, clockwise from the first.
    SunBetween { from_degrees: Figure, to_degrees: Figure },
    /// It is one of these days.
    Weekdays(Vec<WeekdayV1>),
    /// The house is in this mode.
    Mode(HouseModeV1),
    /// That does not hold.
    Not(Box<ConditionV1>),
    /// One of these holds, or more.
    OneOf(Vec<ConditionV1>),
}

impl From<&Condition> for ConditionV1 {
    fn from(condition: &Condition) -> Self {
        match condition {
            Condition::Point { point, comparison, value } => {
                Self::Point { point: point.into(), comparison: (*comparison).into(), value: (*value).into() }
            }
            Condition::AnyOf(zone) => Self::AnyOf((*zone).into()),
            Condition::AllOf(zone) => Self::AllOf((*zone).into()),
            Condition::Between(from, to) => Self::Between(TimeV1(*from), TimeV1(*to)),
            Condition::Dark => Self::Dark,
            Condition::Daylight => Self::Daylight,
            Condition::SunHigher { degrees } => Self::SunHigher { degrees: Figure(*degrees) },
            Condition::SunLower { degrees } => Self::SunLower { degrees: Figure(*degrees) },
            Condition::SunBetween { from_degrees, to_degrees } => {
                Self::SunBetween { from_degrees: Figure(*from_degrees), to_degrees: Figure(*to_degrees) }
            }
            Condition::Weekdays(days) => Self::Weekdays(days.days().map(Into::into).collect()),
            Condition::Mode(mode) => Self::Mode((*mode).into()),
            Condition::Not(inner) => Self::Not(Box::new(inner.as_ref().into())),
            Condition::OneOf(inner) => Self::OneOf(inner.iter().map(Into::into).collect()),
        }
    }
}

impl From<ConditionV1> for Condition {
    fn from(condition: ConditionV1) -> Self {
        match condition {
            ConditionV1::Point { point, comparison, value } => {
                Self::Point { point: point.into(), comparison: comparison.into(), value: value.into() }
            }
            ConditionV1::AnyOf(zone) => Self::AnyOf(zone.into()),
            ConditionV1::AllOf(zone) => Self::AllOf(zone.into()),
            ConditionV1::Between(from, to) => Self::Between(from.0, to.0),
            ConditionV1::Dark => Self::Dark,
            ConditionV1::Daylight => Self::Daylight,
            ConditionV1::SunHigher { degrees } => Self::SunHigher { degrees: degrees.0 },
            ConditionV1::SunLower { degrees } => Self::SunLower { degrees: degrees.0 },
            ConditionV1::SunBetween { from_degrees, to_degrees } => {
                Self::SunBetween { from_degrees: from_degrees.0, to_degrees: to_degrees.0 }
            }
            ConditionV1::Weekdays(days) => {
                Self::Weekdays(Weekdays::of(&days.into_iter().map(Into::into).collect::<Vec<_>>()))
            }
            ConditionV1::Mode(mode) => Self::Mode(mode.into()),
            ConditionV1::Not(inner) => Self::Not(Box::new((*inner).into())),
            ConditionV1::OneOf(inner) => Self::OneOf(inner.into_iter().map(Into::into).collect()),
        }
    }
}
