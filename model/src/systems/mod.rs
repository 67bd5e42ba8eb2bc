//! Decisions that tie devices together: zones of points, and rules over points.

pub mod point;
pub mod rule;
pub mod zone;

pub use point::PointRef;
pub use rule::{
    Action, Comparison, Condition, Deed, Gesture, Rule, RuleBody, Setting, SunEvent, Target, Trigger, Value,
};
pub use zone::{Zone, ZonePurpose};
