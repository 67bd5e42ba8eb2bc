//! Taking values and comparing with them (section 1).

use pattress_model::kit::PointType;
use pattress_model::systems::{Comparison, Value};

/// A value as a point has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// On or off.
    State(bool),
    /// A figure.
    Number(f64),
    /// Red, green, blue.
    Colour([u8; 3]),
}

/// What a point starts with; an event has nothing.
pub fn first(point_type: PointType) -> Option<Held> {
    match point_type {
        PointType::Event => None,
        PointType::State => Some(Held::State(false)),
        PointType::Number => Some(Held::Number(0.0)),
        PointType::Colour => Some(Held::Colour([0, 0, 0])),
    }
}

/// A value turned into a type; `None` where that cannot be.
pub fn turned(value: Value, into: PointType) -> Option<Held> {
    match (value, into) {
        (_, PointType::Event) => None,
        (Value::On, PointType::State) => Some(Held::State(true)),
        (Value::On, PointType::Number) => Some(Held::Number(100.0)),
        (Value::On, PointType::Colour) => Some(Held::Colour([255, 255, 255])),
        (Value::Off, PointType::State) => Some(Held::State(false)),
        (Value::Off, PointType::Number) => Some(Held::Number(0.0)),
        (Value::Off, PointType::Colour) => Some(Held::Colour([0, 0, 0])),
        (Value::Number(figure), PointType::State) => Some(Held::State(figure > 0.0)),
        (Value::Number(figure), PointType::Number) => Some(Held::Number(figure)),
        (Value::Number(_), PointType::Colour) => None,
        (Value::Colour(colour), PointType::Colour) => Some(Held::Colour(colour)),
        (Value::Colour(_), PointType::State | PointType::Number) => None,
    }
}

/// Whether a point that has this is on.
pub fn is_on(held: Option<Held>) -> bool {
    match held {
        None => false,
        Some(Held::State(on)) => on,
        Some(Held::Number(figure)) => figure > 0.0,
        Some(Held::Colour(colour)) => colour != [0, 0, 0],
    }
}

/// Whether a point that has this *is* that.
pub fn is(held: Option<Held>, point_type: PointType, value: Value) -> bool {
    match value {
        Value::On => is_on(held),
        Value::Off => held.is_some() && !is_on(held),
        other => held.is_some() && turned(other, point_type) == held,
    }
}

/// Whether a comparison holds for a point that has this.
pub fn compares(held: Option<Held>, point_type: PointType, comparison: Comparison, value: Value) -> bool {
    match comparison {
        Comparison::Is => is(held, point_type, value),
        Comparison::IsNot => !is(held, point_type, value),
        Comparison::Above => numbers(held, value).is_some_and(|(has, than)| has > than),
        Comparison::Below => numbers(held, value).is_some_and(|(has, than)| has < than),
    }
}

fn numbers(held: Option<Held>, value: Value) -> Option<(f64, f64)> {
    match (held, value) {
        (Some(Held::Number(has)), Value::Number(than)) => Some((has, than)),
        _ => None,
    }
}

/// Milliseconds of a duration: the nearest, halves up (section 3).
pub fn milliseconds(seconds: pattress_model::units::Seconds) -> i64 {
    (1000.0 * seconds.0 + 0.5).floor() as i64
}
