//! Conditions as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{Figure, IdV1, TimeV1};
use super::value::{ComparisonV1, HouseModeV1, PointRefV1, ValueV1};
use super::words;
use crate::systems::{Condition, Weekday, Weekdays};

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
