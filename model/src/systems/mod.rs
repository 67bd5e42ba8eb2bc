//! Decisions that tie devices together: zones of points, scenes, house modes, rules over points, and scripts
//! that rehearse them.

pub mod mode;
pub mod point;
pub mod rule;
pub mod scene;
pub mod script;
pub mod zone;

pub use mode::{HouseMode, Mode};
pub use point::PointRef;
pub use rule::{
    Action, Comparison, Condition, Deed, Gesture, Rule, RuleBody, Setting, SunEvent, Target, Trigger, Until,
    Value, Weekday, Weekdays,
};
pub use scene::Scene;
pub use script::Script;
pub use zone::{Zone, ZonePurpose};
