//! Words for writing rules in code, so that a rule reads there as it does in the side list.
//!
//! Devices, rooms and zones are called by their names; times are seconds, or `22:30` as people type it. The
//! words only put together what [`pattress_model::systems`] knows.

use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, RuleBody, Setting, SunEvent, Target, Trigger, Value,
};
use pattress_model::units::{Seconds, TimeOfDay};

use crate::builder::House;

/// When this happens, if these hold, do these.
pub fn when(trigger: Trigger, conditions: Vec<Condition>, actions: Vec<Action>) -> RuleBody {
    RuleBody::When { trigger, conditions, actions }
}

/// While these hold, and for so many seconds after, hold these; the higher rank shows.
pub fn hold_while(
    conditions: Vec<Condition>,
    linger_seconds: f64,
    settings: Vec<Setting>,
    rank: u8,
) -> RuleBody {
    RuleBody::While { conditions, linger: Seconds(linger_seconds), settings, rank, yields_to_hand: true }
}

/// A time of day, as people type it.
pub fn time(typed: &str) -> TimeOfDay {
    TimeOfDay::parse(typed).unwrap_or_else(|reason| panic!("{reason}"))
}

/// At a time of day.
pub fn at(typed: &str) -> Trigger {
    Trigger::Time(time(typed))
}

/// So many minutes after sunset (before, if below zero).
pub fn sunset(offset_minutes: i16) -> Trigger {
    Trigger::Sun { event: SunEvent::Set, offset_minutes }
}

/// So many minutes after sunrise (before, if below zero).
pub fn sunrise(offset_minutes: i16) -> Trigger {
    Trigger::Sun { event: SunEvent::Rise, offset_minutes }
}

/// Between two times of day, over midnight if the second comes first.
pub fn between(from: &str, to: &str) -> Condition {
    Condition::Between(time(from), time(to))
}

/// Sends the household a message.
pub fn tell(text: &str) -> Action {
    Action {
        target: None,
        deed: Deed::notify(text),
        after: Seconds::ZERO,
        fade: Seconds::ZERO,
        by_hand: None,
    }
}

/// The same action so many seconds later.
pub fn after(seconds: f64, action: Action) -> Action {
    Action { after: Seconds(seconds), ..action }
}

/// The same action spread over so many seconds.
pub fn over(seconds: f64, action: Action) -> Action {
    Action { fade: Seconds(seconds), ..action }
}

fn deed(target: Target, deed: Deed) -> Action {
    Action { target: Some(target), deed, after: Seconds::ZERO, fade: Seconds::ZERO, by_hand: None }
}

/// Triggers, conditions, actions and settings that speak of named things.
impl House {
    fn point_of(&self, device: &str, point: &str) -> pattress_model::systems::PointRef {
        self.point(self.device(device), point)
    }

    /// A key of a plate is worked like this.
    pub fn key(&self, plate: &str, key: &str, gesture: Gesture) -> Trigger {
        Trigger::Event { point: self.point_of(plate, key), gesture }
    }

    /// A key of a plate is pressed.
    pub fn pressed(&self, plate: &str, key: &str) -> Trigger {
        self.key(plate, key, Gesture::Press)
    }

    /// An event happens at a device.
    pub fn happens(&self, device: &str, event: &str) -> Trigger {
        self.key(device, event, Gesture::Happens)
    }

    /// A point of a device becomes so.
    pub fn becomes(&self, device: &str, point: &str, value: Value) -> Trigger {
        Trigger::Becomes { point: self.point_of(device, point), comparison: Comparison::Is, value }
    }

    /// A point of a device rises above a figure.
    pub fn rises_above(&self, device: &str, point: &str, figure: f64) -> Trigger {
        Trigger::Becomes {
            point: self.point_of(device, point),
            comparison: Comparison::Above,
            value: Value::Number(figure),
        }
    }

    /// A point of a device is so.
    pub fn is(&self, device: &str, point: &str, value: Value) -> Condition {
        self.compares(device, point, Comparison::Is, value)
    }

    /// A point of a device is below a figure.
    pub fn is_below(&self, device: &str, point: &str, figure: f64) -> Condition {
        self.compares(device, point, Comparison::Below, Value::Number(figure))
    }

    /// A point of a device is above a figure.
    pub fn is_above(&self, device: &str, point: &str, figure: f64) -> Condition {
        self.compares(device, point, Comparison::Above, Value::Number(figure))
    }

    fn compares(&self, device: &str, point: &str, comparison: Comparison, value: Value) -> Condition {
        Condition::Point { point: self.point_of(device, point), comparison, value }
    }

    /// Any point of a zone is on.
    pub fn any_of(&self, zone: &str) -> Condition {
        Condition::AnyOf(self.zone_named(zone))
    }

    /// Sets every point of a zone to so many percent (or degrees, for heating).
    pub fn set_zone(&self, zone: &str, figure: f64) -> Action {
        deed(Target::Zone(self.zone_named(zone)), Deed::Set(Value::Number(figure)))
    }

    /// Switches every point of a zone on or off.
    pub fn switch_zone(&self, zone: &str, value: Value) -> Action {
        deed(Target::Zone(self.zone_named(zone)), Deed::Set(value))
    }

    /// Switches a zone over: on if off, off if on.
    pub fn toggle_zone(&self, zone: &str) -> Action {
        deed(Target::Zone(self.zone_named(zone)), Deed::Toggle)
    }

    /// Raises or lowers a zone by so many percent.
    pub fn step_zone(&self, zone: &str, percent: i8) -> Action {
        deed(Target::Zone(self.zone_named(zone)), Deed::Step(percent))
    }

    /// Sets a point of a device.
    pub fn set(&self, device: &str, point: &str, value: Value) -> Action {
        deed(Target::Point(self.point_of(device, point)), Deed::Set(value))
    }

    /// Holds a zone at a figure, reached over so many seconds.
    pub fn zone_at(&self, zone: &str, figure: f64, fade_seconds: f64) -> Setting {
        Setting {
            target: Target::Zone(self.zone_named(zone)),
            value: Value::Number(figure),
            fade: Seconds(fade_seconds),
        }
    }

    /// Holds a zone on or off.
    pub fn zone_held(&self, zone: &str, value: Value) -> Setting {
        Setting { target: Target::Zone(self.zone_named(zone)), value, fade: Seconds::ZERO }
    }

    /// Holds a point of a device at a value.
    pub fn point_at(&self, device: &str, point: &str, value: Value) -> Setting {
        Setting { target: Target::Point(self.point_of(device, point)), value, fade: Seconds::ZERO }
    }
}
