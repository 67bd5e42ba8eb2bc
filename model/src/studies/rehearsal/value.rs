//! Values inside the engine: what a point of a type makes of a value it is given, and how values compare.

use crate::kit::{PointSpec, PointType};
use crate::systems::{Comparison, Value};

/// What a point has. An event point has nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Has {
    /// No value: an event.
    #[default]
    Nothing,
    /// On or off.
    State(bool),
    /// A figure in the point's unit.
    Number(f64),
    /// A colour, sRGB.
    Colour([u8; 3]),
}

impl Has {
    /// What a point of a type starts with.
    pub const fn first(point_type: PointType) -> Self {
        match point_type {
            PointType::Event => Self::Nothing,
            PointType::State => Self::State(false),
            PointType::Number => Self::Number(0.0),
            PointType::Colour => Self::Colour([0; 3]),
        }
    }

    /// Whether it counts as on.
    pub fn is_on(self) -> bool {
        match self {
            Self::Nothing => false,
            Self::State(on) => on,
            Self::Number(figure) => figure > 0.0,
            Self::Colour(colour) => colour != [0; 3],
        }
    }

    /// As a value of a rule; `None` for an event.
    pub const fn value(self) -> Option<Value> {
        match self {
            Self::Nothing => None,
            Self::State(true) => Some(Value::On),
            Self::State(false) => Some(Value::Off),
            Self::Number(figure) => Some(Value::Number(figure)),
            Self::Colour(colour) => Some(Value::Colour(colour)),
        }
    }

    /// What a point that has this makes of a value; `None` where it can make nothing of it.
    pub fn taking(self, value: Value) -> Option<Self> {
        match (self, value) {
            (Self::Nothing, _) => None,
            (Self::State(_), Value::On) => Some(Self::State(true)),
            (Self::State(_), Value::Off) => Some(Self::State(false)),
            (Self::State(_), Value::Number(figure)) => Some(Self::State(figure > 0.0)),
            (Self::Number(_), Value::On) => Some(Self::Number(100.0)),
            (Self::Number(_), Value::Off) => Some(Self::Number(0.0)),
            (Self::Number(_), Value::Number(figure)) => Some(Self::Number(figure)),
            (Self::Colour(_), Value::On) => Some(Self::Colour([255; 3])),
            (Self::Colour(_), Value::Off) => Some(Self::Colour([0; 3])),
            (Self::Colour(_), Value::Colour(colour)) => Some(Self::Colour(colour)),
            (Self::State(_) | Self::Number(_), Value::Colour(_)) | (Self::Colour(_), Value::Number(_)) => {
                None
            }
        }
    }

    /// Whether it compares so with a value.
    pub fn compares(self, comparison: Comparison, value: Value) -> bool {
        match comparison {
            Comparison::Is => self.is(value),
            Comparison::IsNot => !self.is(value),
            Comparison::Above => matches!((self, value), (Self::Number(a), Value::Number(b)) if a > b),
            Comparison::Below => matches!((self, value), (Self::Number(a), Value::Number(b)) if a < b),
        }
    }

    fn is(self, value: Value) -> bool {
        match value {
            Value::On => self.is_on(),
            Value::Off => self != Self::Nothing && !self.is_on(),
            other => self.taking(other) == Some(self) && self != Self::Nothing,
        }
    }
}

/// What the engine knows of a point beside its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Nature {
    pub(super) point_type: PointType,
    /// Whether it does what it is told; else it reports.
    pub(super) does: bool,
    /// Whether its figures are percent and so lie in 0 to 100.
    pub(super) percent: bool,
    /// Whether it travels to where it is told to be.
    pub(super) travels: bool,
}

impl Nature {
    pub(super) fn of(spec: &PointSpec) -> Self {
        let is_number = spec.point_type == PointType::Number;
        let does = spec.role == crate::kit::PointRole::Does;
        Self {
            point_type: spec.point_type,
            does,
            percent: is_number && matches!(spec.stem(), "level" | "position" | "volume" | "loop"),
            travels: spec.travels(),
        }
    }

    /// What it makes of a value it is given, brought into its bounds.
    pub(super) fn given(self, value: Value) -> Option<Has> {
        Has::first(self.point_type).taking(value).map(|has| self.bounded(has))
    }

    /// A figure in percent brought into 0 to 100.
    pub(super) fn bounded(self, has: Has) -> Has {
        match has {
            Has::Number(figure) if self.percent => Has::Number(figure.clamp(0.0, 100.0)),
            other => other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::PointRole;

    #[test]
    fn a_value_is_turned_into_the_type_of_its_point() {
        let nature = |name: &str, point_type| {
            Nature::of(&PointSpec { name: name.to_owned(), point_type, role: PointRole::Does })
        };
        let white = [255; 3];
        for (name, point_type, value, expected) in [
            ("on", PointType::State, Value::Number(3.0), Some(Has::State(true))),
            ("on", PointType::State, Value::Colour(white), None),
            ("level 2", PointType::Number, Value::On, Some(Has::Number(100.0))),
            ("level 2", PointType::Number, Value::Number(130.0), Some(Has::Number(100.0))),
            ("set point", PointType::Number, Value::Number(130.0), Some(Has::Number(130.0))),
            ("colour", PointType::Colour, Value::On, Some(Has::Colour(white))),
            ("colour", PointType::Colour, Value::Number(1.0), None),
            ("ring", PointType::Event, Value::On, None),
        ] {
            assert_eq!(nature(name, point_type).given(value), expected, "{name}");
        }
    }

    #[test]
    fn comparisons_hold_as_the_page_says() {
        use Comparison::{Above, Below, Is, IsNot};
        for (has, comparison, value, expected) in [
            (Has::Number(40.0), Is, Value::On, true),
            (Has::Number(0.0), Is, Value::Off, true),
            (Has::Number(40.0), Is, Value::Number(40.0), true),
            (Has::Number(40.0), Above, Value::Number(40.0), false),
            (Has::Number(40.0), Below, Value::Number(41.0), true),
            (Has::Number(40.0), Above, Value::Off, false),
            (Has::State(true), Above, Value::Number(0.0), false),
            (Has::State(true), Is, Value::Number(7.0), true),
            (Has::State(true), IsNot, Value::Colour([0; 3]), true),
            (Has::Colour([1, 0, 0]), Is, Value::On, true),
            (Has::Colour([1, 0, 0]), Is, Value::Colour([1, 0, 0]), true),
            (Has::Nothing, Is, Value::Off, false),
            (Has::Nothing, IsNot, Value::Off, true),
        ] {
            assert_eq!(has.compares(comparison, value), expected, "{has:?} {comparison:?} {value:?}");
        }
    }
}
