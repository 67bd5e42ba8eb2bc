//! What rules speak of, as it stands in the file: points, values, gestures, modes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{ColourV1, Figure, IdV1};
use super::words;
use crate::systems::{Comparison, Gesture, HouseMode, PointRef, Value};

/// One point of one device.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PointRefV1 {
    device: IdV1,
    point: String,
}

impl From<&PointRef> for PointRefV1 {
    fn from(PointRef { device, point }: &PointRef) -> Self {
        Self { device: (*device).into(), point: point.clone() }
    }
}

impl From<PointRefV1> for PointRef {
    fn from(PointRefV1 { device, point }: PointRefV1) -> Self {
        Self { device: device.into(), point }
    }
}

words! {
    /// What is done to a key, or what an event point tells.
    GestureV1 for Gesture { Happens, Press, PressTwice, PressThrice, Hold, Release }
}

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

/// The mode a house is in.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum HouseModeV1 {
    /// The mode every house has.
    AtHome,
    /// One of the plan's modes.
    Named(IdV1),
}

impl From<HouseMode> for HouseModeV1 {
    fn from(mode: HouseMode) -> Self {
        match mode {
            HouseMode::AtHome => Self::AtHome,
            HouseMode::Named(mode) => Self::Named(mode.into()),
        }
    }
}

impl From<HouseModeV1> for HouseMode {
    fn from(mode: HouseModeV1) -> Self {
        match mode {
            HouseModeV1::AtHome => Self::AtHome,
            HouseModeV1::Named(mode) => Self::Named(mode.into()),
        }
    }
}
