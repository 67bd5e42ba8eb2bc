//! The words in which a script says points, values, gestures and modes; [`super::read_script`] reads them back.

use crate::project::Project;
use crate::systems::{Gesture, HouseMode, PointRef, Value};

/// A point as a script says it: tag and name; `None` where its device is gone.
pub fn point_words(project: &Project, point: &PointRef) -> Option<String> {
    Some(format!("{} {}", project.devices.get(point.device)?.tag, point.point))
}

/// A value as a script says it.
pub fn value_words(value: Value) -> String {
    match value {
        Value::On => "on".to_owned(),
        Value::Off => "off".to_owned(),
        Value::Number(figure) => figure.to_string(),
        Value::Colour([red, green, blue]) => format!("#{red:02x}{green:02x}{blue:02x}"),
    }
}

/// The line of something done to a point, or that happens at it.
pub(in crate::studies::rehearsal) fn gesture_line(gesture: Gesture, at: &str) -> String {
    match gesture {
        Gesture::Happens => format!("happens {at}"),
        Gesture::Press => format!("press {at}"),
        Gesture::PressTwice => format!("press {at} twice"),
        Gesture::PressThrice => format!("press {at} three times"),
        Gesture::Hold => format!("hold {at}"),
        Gesture::Release => format!("release {at}"),
    }
}

/// The line of a house mode that somebody sets; `None` where it is gone.
pub(in crate::studies::rehearsal) fn mode_line(project: &Project, mode: HouseMode) -> Option<String> {
    Some(match mode {
        HouseMode::AtHome => "mode at home".to_owned(),
        HouseMode::Named(mode) => format!("mode {}", project.modes.get(mode)?.name),
    })
}
