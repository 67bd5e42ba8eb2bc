//! What happens at a point, in words, as it is told while the rules are played.

use super::{Phrase, Speaker, words};
use crate::project::Project;
use crate::systems::{Gesture, PointRef, Value};

/// What a point comes to show or report (`Hall lamp goes to 40 %`, `PIR-01 senses movement`).
pub fn becomes_phrases(project: &Project, point: &PointRef, value: Value) -> Vec<Phrase> {
    let mut speaker = Speaker::new(project);
    let on = match value {
        Value::On => Some(true),
        Value::Off => Some(false),
        Value::Number(_) | Value::Colour(_) => None,
    };
    if let Some(words) = on.and_then(|on| words::state_words(&point.point, on, true)) {
        speaker.device(point);
        speaker.say(words);
        return speaker.phrases;
    }
    if words::goes_without_saying(words::base_of(&point.point)) && !has_channel(&point.point) {
        speaker.device(point);
    } else {
        speaker.point(point);
    }
    speaker.say(" ");
    speaker.say(&going(&point.point, value));
    speaker.phrases
}

/// What is done to a key, or happens at an event point (`PL-01 key 3 is pressed`, `DS-01 rings`).
pub fn gesture_phrases(project: &Project, point: &PointRef, gesture: Gesture) -> Vec<Phrase> {
    let mut speaker = Speaker::new(project);
    match words::event_words(&point.point) {
        Some(words) if gesture == Gesture::Happens => {
            speaker.device(point);
            speaker.say(words);
        }
        _ => {
            speaker.point(point);
            speaker.say(&format!(" {}", gesture.phrase()));
        }
    }
    speaker.phrases
}

/// A value of a point in few words, with its unit (`40 %`, `shut`, `on`, `21 °C`, `amber`).
pub fn shown_words(point: &str, value: Value) -> String {
    match (words::base_of(point), value) {
        ("position", Value::Number(figure)) if figure <= 0.0 => "shut".to_owned(),
        ("position", Value::Number(figure)) if figure >= 100.0 => "open".to_owned(),
        ("position", Value::Number(figure)) => format!("{figure:.0} % open"),
        ("level" | "loop" | "volume" | "humidity", Value::Number(figure)) => format!("{figure:.0} %"),
        ("open", Value::On) => "open".to_owned(),
        ("open", Value::Off) => "shut".to_owned(),
        ("locked", Value::On) => "locked".to_owned(),
        ("locked", Value::Off) => "not locked".to_owned(),
        ("armed", Value::On) => "set".to_owned(),
        ("armed", Value::Off) => "not set".to_owned(),
        (_, Value::Number(figure)) => {
            format!("{}{}", (figure * 10.0).round() / 10.0, words::unit_of(point))
        }
        (_, Value::Colour(colour)) => colour_word(colour).to_owned(),
        (_, value) => words::value_words(value, ""),
    }
}

/// How a point goes to a value.
fn going(point: &str, value: Value) -> String {
    match (words::base_of(point), value) {
        ("position", Value::Number(figure)) if figure <= 0.0 => "closes".to_owned(),
        ("position", Value::Number(figure)) if figure >= 100.0 => "opens".to_owned(),
        ("level", Value::Number(figure)) if figure <= 0.0 => "goes out".to_owned(),
        (_, Value::Colour([0, 0, 0])) => "goes out".to_owned(),
        (_, Value::Colour(colour)) => {
            format!("turns {} ({})", colour_word(colour), words::value_words(value, ""))
        }
        (_, Value::On | Value::Off) => format!("goes {}", words::value_words(value, "")),
        (_, Value::Number(_)) => format!("goes to {}", shown_words(point, value)),
    }
}

fn has_channel(point: &str) -> bool {
    words::base_of(point) != point
}

/// The nearest plain word for a colour, by its hue; hues are split where people commonly change the word (from
/// memory, no published source).
pub fn colour_word([red, green, blue]: [u8; 3]) -> &'static str {
    let [red, green, blue] = [red, green, blue].map(f64::from);
    let (high, low) = (red.max(green).max(blue), red.min(green).min(blue));
    let chroma = high - low;
    if high < 10.0 {
        return "black";
    }
    if chroma < 0.12 * high {
        return if high > 140.0 { "white" } else { "grey" };
    }
    let hue = if high == red {
        (60.0 * (green - blue) / chroma).rem_euclid(360.0)
    } else if high == green {
        120.0 + 60.0 * (blue - red) / chroma
    } else {
        240.0 + 60.0 * (red - green) / chroma
    };
    let is_pale = chroma < 0.5 * high;
    match hue {
        20.0..50.0 if is_pale => "warm white",
        190.0..260.0 if chroma < 0.25 * high => "cool white",
        ..15.0 => "red",
        ..35.0 => "orange",
        ..50.0 => "amber",
        ..70.0 => "yellow",
        ..160.0 => "green",
        ..190.0 => "turquoise",
        ..255.0 => "blue",
        ..290.0 => "violet",
        ..345.0 => "pink",
        _ => "red",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_and_colours_have_plain_words() {
        for (point, value, expected) in [
            ("level", Value::Number(40.4), "40 %"),
            ("position", Value::Number(0.0), "shut"),
            ("position 2", Value::Number(37.5), "38 % open"),
            ("position", Value::Number(100.0), "open"),
            ("temperature", Value::Number(21.0), "21 °C"),
            ("light", Value::Number(300.0), "300 lx"),
            ("locked", Value::Off, "not locked"),
            ("on", Value::On, "on"),
            ("colour", Value::Colour([255, 170, 0]), "amber"),
        ] {
            assert_eq!(shown_words(point, value), expected);
        }
        for (colour, expected) in [
            ([255, 255, 255], "white"),
            ([255, 214, 170], "warm white"),
            ([255, 0, 0], "red"),
            ([255, 120, 0], "orange"),
            ([0, 255, 0], "green"),
            ([0, 0, 255], "blue"),
            ([255, 0, 200], "pink"),
            ([90, 90, 90], "grey"),
            ([0, 0, 0], "black"),
        ] {
            assert_eq!(colour_word(colour), expected, "{colour:?}");
        }
    }
}
