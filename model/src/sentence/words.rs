//! The words for what points do and report, as a client would say them.
//!
//! A kind's points have the trade's names (`set point`, `locked`, `leak`); in a sentence they become verbs about
//! the device: it is locked, it finds water, it is kept at 20 °C. A name that is not known here is said as it is.

use crate::systems::{Comparison, Value};

/// Words before and after the name of what they speak of.
pub(super) type Around = (String, String);

/// The name of a point without the number of its channel (`level 2` is a level).
pub(super) fn base_of(point: &str) -> &str {
    point.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end()
}

/// The unit of a point's figures, with the space before it; empty for what has none.
pub(super) fn unit_of(point: &str) -> &'static str {
    match base_of(point) {
        "level" | "position" | "loop" | "volume" | "humidity" => " %",
        "temperature" | "set point" => " °C",
        "light" => " lx",
        "carbon dioxide" => " ppm",
        "colour temperature" => " K",
        "wind" => " m/s",
        "flow" => " l/min",
        "power" => " W",
        "energy" => " kWh",
        _ => "",
    }
}

/// A value in words (`on`, `20 %`, `#ffaa00`); a figure has the unit that is given.
pub(super) fn value_words(value: Value, unit: &str) -> String {
    match value {
        Value::On => "on".to_owned(),
        Value::Off => "off".to_owned(),
        Value::Number(figure) => format!("{figure}{unit}"),
        Value::Colour([red, green, blue]) => format!("#{red:02x}{green:02x}{blue:02x}"),
    }
}

fn around(before: &str, after: &str) -> Around {
    (before.to_owned(), after.to_owned())
}

/// Whether a point's own name is left out, because the verb says it.
pub(super) fn goes_without_saying(point: &str) -> bool {
    matches!(
        point,
        "on" | "level" | "position" | "set point" | "open" | "locked" | "armed" | "demand" | "ring"
    ) || matches!(point, "playing" | "picture" | "volume" | "release")
}

/// To give a point a value.
pub(super) fn giving(point: &str, value: Value) -> Around {
    let unit = unit_of(point);
    match (base_of(point), value) {
        ("open", Value::On) => around("open ", ""),
        ("open", Value::Off) => around("shut ", ""),
        ("locked", Value::On) => around("lock ", ""),
        ("locked", Value::Off) => around("unlock ", ""),
        ("armed", Value::On) => around("set ", ""),
        ("armed", Value::Off) => around("unset ", ""),
        ("ring", Value::On) => around("ring ", ""),
        ("demand", Value::On) => around("call for heat from ", ""),
        ("release", Value::On) => around("release ", ""),
        ("playing", Value::On) => around("start ", " playing"),
        ("playing", Value::Off) => around("stop ", " playing"),
        ("picture", Value::On) => around("show the picture on ", ""),
        ("picture", Value::Off) => around("put out the picture on ", ""),
        // The same in meaning, yet each said in its own way, so that a sentence reads back as it was written.
        ("level", Value::Off) => around("switch ", " off"),
        ("level", Value::Number(0.0)) | (_, Value::Off) => around("turn ", " off"),
        (_, Value::On) => around("turn ", " on"),
        ("position", Value::Number(0.0)) => around("close ", ""),
        ("position", Value::Number(100.0)) => around("open ", ""),
        ("position", Value::Number(_)) => around("set ", &format!(" to {} open", value_words(value, unit))),
        ("volume", _) => around("set the volume of ", &format!(" to {}", value_words(value, unit))),
        _ => around("set ", &format!(" to {}", value_words(value, unit))),
    }
}

/// To hold a point at a value.
pub(super) fn holding(point: &str, value: Value) -> Around {
    let unit = unit_of(point);
    match (base_of(point), value) {
        ("open", Value::Off) | ("position", Value::Number(0.0)) => around("keep ", " shut"),
        ("open", Value::On) | ("position", Value::Number(100.0)) => around("keep ", " open"),
        ("locked", Value::On) => around("keep ", " locked"),
        ("locked", Value::Off) => around("keep ", " unlocked"),
        ("armed", Value::On) => around("keep ", " set"),
        ("armed", Value::Off) => around("keep ", " unset"),
        ("playing", Value::On) => around("keep ", " playing"),
        ("playing", Value::Off) => around("keep ", " silent"),
        ("picture", Value::On) => around("show the picture on ", ""),
        ("demand", Value::On) => around("call for heat from ", ""),
        ("level", Value::Off) => around("keep ", " switched off"),
        ("level", Value::Number(0.0)) | (_, Value::Off) => around("keep ", " off"),
        (_, Value::On) => around("keep ", " on"),
        ("position", Value::Number(_)) => around("hold ", &format!(" at {} open", value_words(value, unit))),
        ("volume", _) => around("hold the volume of ", &format!(" at {}", value_words(value, unit))),
        _ => around("hold ", &format!(" at {}", value_words(value, unit))),
    }
}

/// To change a point to what it is not.
pub(super) fn toggling(point: &str) -> Around {
    match base_of(point) {
        "open" | "position" => around("open or close ", ""),
        "locked" => around("lock or unlock ", ""),
        "armed" => around("set or unset ", ""),
        "playing" => around("start or stop ", " playing"),
        _ => around("turn ", " on or off"),
    }
}

/// To give a point the next of some values, after its name.
pub(super) fn cycling(point: &str, values: &[Value]) -> String {
    let words: Vec<String> = values.iter().map(|value| value_words(*value, unit_of(point))).collect();
    match words.as_slice() {
        [] => " to the next of nothing".to_owned(),
        [only] => format!(" to {only}"),
        [all @ .., last] => format!(" to the next of {} and {last}", all.join(", ")),
    }
}

/// To raise or lower a point.
pub(super) fn stepping(point: &str, percent: i8) -> Around {
    let before = match (base_of(point), percent >= 0) {
        ("level", true) => "brighten ",
        ("level", false) => "dim ",
        ("position", true) => "open ",
        ("position", false) => "close ",
        ("volume", true) => "turn up ",
        ("volume", false) => "turn down ",
        (_, true) => "raise ",
        (_, false) => "lower ",
    };
    around(before, &format!(" by {} %", percent.unsigned_abs()))
}

/// What a point that is on or off says of its device, after the device's name; `None` for a name not known
/// here. `begins` where it only now comes to be so.
pub(super) fn state_words(point: &str, on: bool, begins: bool) -> Option<&'static str> {
    Some(match (point, on, begins) {
        ("motion", true, _) => " senses movement",
        ("motion", false, true) => " no longer senses movement",
        ("motion", false, false) => " senses no movement",
        ("open", true, true) => " is opened",
        ("open", true, false) => " is open",
        ("open", false, _) => " is shut",
        ("locked", true, _) => " is locked",
        ("locked", false, true) => " is unlocked",
        ("locked", false, false) => " is not locked",
        ("armed", true, _) => " is set",
        ("armed", false, true) => " is unset",
        ("armed", false, false) => " is not set",
        ("leak", true, _) => " finds water",
        ("leak", false, _) => " finds no water",
        ("rain", true, _) => " senses rain",
        ("rain", false, _) => " senses no rain",
        ("alarm", true, true) => " goes into alarm",
        ("alarm", true, false) => " is in alarm",
        ("alarm", false, _) => " is not in alarm",
        ("tamper", true, _) => " is tampered with",
        ("battery low", true, _) => " has a low battery",
        ("mains failed", true, _) => " has lost the mains",
        ("obstructed", true, _) => " is obstructed",
        ("playing", true, true) => " starts playing",
        ("playing", true, false) => " is playing",
        ("playing", false, true) => " stops playing",
        ("playing", false, false) => " is not playing",
        ("on", true, true) => " is turned on",
        ("on", true, false) => " is on",
        ("on", false, true) => " is turned off",
        ("on", false, false) => " is off",
        _ => return None,
    })
}

/// What happens at an event point of that name, after the device's name; `None` for a name not known here.
pub(super) fn event_words(point: &str) -> Option<&'static str> {
    Some(match point {
        "ring" => " rings",
        "set" => " is set",
        "unset" => " is unset",
        "wrong code" => " is given a wrong code",
        "right code" => " is given the right code",
        "known tag" => " reads a known tag",
        "unknown tag" => " reads an unknown tag",
        "pressed" => " is pressed",
        "touched" => " is touched",
        "answer" => " is answered",
        "release" => " lets someone in",
        _ => return None,
    })
}

/// How a comparison is said. `begins` where it only now comes to hold.
pub(super) const fn comparing(comparison: Comparison, begins: bool) -> &'static str {
    match (comparison, begins) {
        (Comparison::Is, true) => "becomes",
        (Comparison::IsNot, true) => "is no longer",
        (Comparison::Below, true) => "falls below",
        (Comparison::Above, true) => "rises above",
        _ => comparison.phrase(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said((before, after): Around) -> String {
        format!("{before}X{after}")
    }

    #[test]
    fn values_have_the_unit_of_their_point() {
        for (point, value, expected) in [
            ("level", Value::Number(60.0), "set X to 60 %"),
            ("level 3", Value::Number(0.0), "turn X off"),
            ("set point", Value::Number(20.5), "set X to 20.5 °C"),
            ("position", Value::Number(40.0), "set X to 40 % open"),
            ("position", Value::Number(100.0), "open X"),
            ("colour temperature", Value::Number(2700.0), "set X to 2700 K"),
            ("volume", Value::Number(20.0), "set the volume of X to 20 %"),
            ("open", Value::Off, "shut X"),
            ("on", Value::On, "turn X on"),
            ("", Value::Number(3.0), "set X to 3"),
        ] {
            assert_eq!(said(giving(point, value)), expected);
        }
    }

    #[test]
    fn what_is_held_is_kept() {
        for (point, value, expected) in [
            ("level", Value::Number(70.0), "hold X at 70 %"),
            ("on", Value::On, "keep X on"),
            ("set point", Value::Number(12.0), "hold X at 12 °C"),
            ("position", Value::Number(0.0), "keep X shut"),
        ] {
            assert_eq!(said(holding(point, value)), expected);
        }
    }

    #[test]
    fn states_and_comparisons_are_verbs() {
        assert_eq!(state_words("motion", true, false), Some(" senses movement"));
        assert_eq!(state_words("fault", true, false), None);
        assert_eq!(event_words("ring"), Some(" rings"));
        assert_eq!(comparing(Comparison::Above, true), "rises above");
        assert_eq!(comparing(Comparison::Above, false), "is above");
        assert_eq!((unit_of("light"), unit_of("temperature"), unit_of("loop 4")), (" lx", " °C", " %"));
    }
}
