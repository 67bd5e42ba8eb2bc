//! The words on a key: those somebody decided, else a short form of what the key does.
//!
//! The short form is the name of the scene, of the mode or of what is worked on, without the name of the room in which
//! the plate hangs, and one word for what is done; where several things are done it is the name of the rule.

use super::device_words;
use super::keys::{KeyUse, Plate, PlateKey, plate};
use crate::id::Id;
use crate::kit::{Device, KeyLegend, MOST_LETTERS_OF_A_LINE};
use crate::plan::Room;
use crate::project::Project;
use crate::systems::{Action, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Value};

/// Words of at most so many letters stand on one line.
const ONE_LINE_LETTERS: usize = 11;

/// What stands on a key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Legend {
    /// One or two lines; the first is never empty where the second is not.
    pub words: [String; 2],
    /// Whether somebody decided them; else they say what the key does.
    pub is_decided: bool,
}

/// What stands on a key of a plate that hangs in a room.
pub fn legend_of(project: &Project, device: Id<Device>, key: &PlateKey, room: Option<Id<Room>>) -> Legend {
    let decided = project.devices.get(device).and_then(|device| device.legend.of(&key.key));
    match decided {
        Some(decided) => {
            let [first, second] = decided.words.clone();
            let words = if first.is_empty() { [second, first] } else { [first, second] };
            Legend { words, is_decided: true }
        }
        None => Legend { words: in_two_lines(&short_words(project, key, room)), is_decided: false },
    }
}

/// What is kept when the legend of a plate is marked final: for every key its words and what it does now. `None` for
/// what has no keys.
pub fn agreed_legend(
    project: &Project,
    device: Id<Device>,
    room: Option<Id<Room>>,
) -> Option<Vec<KeyLegend>> {
    let Plate { keys, .. } = plate(project, device)?;
    let agreed = |key: &PlateKey| KeyLegend {
        key: key.key.clone(),
        words: legend_of(project, device, key, room).words,
        did: key.told(),
    };
    Some(keys.iter().map(agreed).collect())
}

/// A short form of what a key does; empty where it does nothing.
pub fn short_words(project: &Project, key: &PlateKey, room: Option<Id<Room>>) -> String {
    let first = key
        .deeds
        .iter()
        .min_by_key(|deed| match deed.used {
            KeyUse::Gesture(Gesture::Press) => 0,
            KeyUse::Wired => 1,
            KeyUse::EndsHand(_) => 3,
            _ => 2,
        })
        .and_then(|deed| project.rules.get(deed.rule));
    let Some(rule) = first else { return String::new() };
    let room = room.and_then(|room| project.rooms.get(room)).map_or("", |room| room.name.as_str());
    match &rule.body {
        RuleBody::Wired { target, .. } => name_of(project, target, room),
        RuleBody::When { actions, .. } => match actions.as_slice() {
            [only] => of_action(project, rule, only, room),
            _ => of_rule(rule, room),
        },
        RuleBody::While { settings, .. } => match settings.as_slice() {
            [Setting { target, value, .. }] => {
                with_word(&name_of(project, target, room), value_word(project, target, *value))
            }
            _ => of_rule(rule, room),
        },
    }
}

fn of_action(project: &Project, rule: &Rule, action: &Action, room: &str) -> String {
    match (&action.deed, &action.target) {
        (Deed::RunScene(scene), _) => project
            .scenes
            .get(*scene)
            .map_or_else(|| of_rule(rule, room), |scene| without_room(&scene.name, room)),
        (Deed::EnterMode(mode), _) => super::mode_words(project, *mode),
        (Deed::Toggle, Some(target)) => name_of(project, target, room),
        (Deed::Set(value), Some(target)) => {
            with_word(&name_of(project, target, room), value_word(project, target, *value))
        }
        (Deed::Step(percent), Some(target)) => {
            let word = match (base_point(project, target).as_str(), *percent >= 0) {
                ("position", true) => "open more",
                ("position", false) => "close more",
                ("volume", true) => "louder",
                ("volume", false) => "softer",
                (_, true) => "brighter",
                (_, false) => "dimmer",
            };
            with_word(&name_of(project, target, room), word.to_owned())
        }
        (Deed::Cycle(_), Some(target)) => with_word(&name_of(project, target, room), "change".to_owned()),
        (Deed::ReleaseHand, Some(target)) => {
            with_word(&name_of(project, target, room), "by itself".to_owned())
        }
        (Deed::ReleaseHand, None) => "All by itself".to_owned(),
        _ => of_rule(rule, room),
    }
}

/// The name of a rule without what tells it from its like (`Goodnight, landing`) and without the room.
fn of_rule(rule: &Rule, room: &str) -> String {
    let name = rule.name.split(',').next().unwrap_or_default();
    without_room(name.trim(), room)
}

fn name_of(project: &Project, target: &Target, room: &str) -> String {
    match target {
        Target::Point(point) => without_room(&device_words(project, point.device), room),
        Target::Zone(zone) => {
            project.zones.get(*zone).map_or_else(String::new, |zone| without_room(&zone.name, room))
        }
    }
}

/// A name without the room's before it, unless nothing would be left; it begins with a capital.
fn without_room(name: &str, room: &str) -> String {
    let rest = name
        .get(..room.len())
        .filter(|start| !room.is_empty() && start.eq_ignore_ascii_case(room))
        .and_then(|_| name.get(room.len()..))
        .filter(|rest| rest.starts_with(' '))
        .map_or(name, str::trim_start);
    let mut letters = rest.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn with_word(name: &str, word: String) -> String {
    if name.is_empty() { word } else { format!("{name} {word}") }
}

/// The name of the points worked on, without numbers; that of the first of a zone.
fn base_point(project: &Project, target: &Target) -> String {
    let point = match target {
        Target::Point(point) => Some(point),
        Target::Zone(zone) => project.zones.get(*zone).and_then(|zone| zone.points.first()),
    };
    point.map_or_else(String::new, |PointRef { point, .. }| super::words::base_of(point).to_owned())
}

fn value_word(project: &Project, target: &Target, value: Value) -> String {
    match (base_point(project, target).as_str(), value) {
        ("position", Value::Number(0.0)) | ("open", Value::Off) => "close".to_owned(),
        ("position", Value::Number(100.0)) | ("open", Value::On) => "open".to_owned(),
        ("locked", Value::On) => "lock".to_owned(),
        ("locked", Value::Off) => "unlock".to_owned(),
        ("armed", Value::On) => "set".to_owned(),
        ("armed", Value::Off) => "unset".to_owned(),
        ("ring", _) => "ring".to_owned(),
        (point, value) => plain_value(point, value),
    }
}

fn plain_value(point: &str, value: Value) -> String {
    match value {
        Value::On => "on".to_owned(),
        Value::Off => "off".to_owned(),
        Value::Number(figure) if figure == 0.0 && matches!(point, "level" | "") => "off".to_owned(),
        Value::Number(figure) => format!("{figure}{}", super::words::unit_of(point)),
        Value::Colour(_) => "colour".to_owned(),
    }
}

/// Words in two lines as even as they can be, cut between words; a line that would be too long ends in dots.
fn in_two_lines(words: &str) -> [String; 2] {
    let length = |line: &str| line.chars().count();
    if length(words) <= ONE_LINE_LETTERS {
        return [words.to_owned(), String::new()];
    }
    let cuts = words.match_indices(' ').map(|(at, _)| (&words[..at], &words[at + 1..]));
    let best = cuts.min_by_key(|(first, second)| length(first).max(length(second)));
    let (first, second) = best.unwrap_or((words, ""));
    [first, second].map(|line| {
        if length(line) <= MOST_LETTERS_OF_A_LINE {
            return line.to_owned();
        }
        let kept: String = line.chars().take(MOST_LETTERS_OF_A_LINE - 1).collect();
        format!("{}…", kept.trim_end())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_room_of_the_plate_goes_without_saying() {
        for (name, room, expected) in [
            ("Living room ceiling", "Living room", "Ceiling"),
            ("Hall", "Hall", "Hall"),
            ("Hallway lights", "Hall", "Hallway lights"),
            ("living room curtains", "Living room", "Curtains"),
            ("Terrace", "", "Terrace"),
        ] {
            assert_eq!(without_room(name, room), expected, "{name}");
        }
    }

    #[test]
    fn words_stand_in_two_even_lines() {
        for (words, first, second) in [
            ("Film", "Film", ""),
            ("Ceiling off", "Ceiling off", ""),
            ("Garden side blinds open", "Garden side", "blinds open"),
            ("Incomprehensibilities", "Incomprehensibilities", ""),
            ("Antidisestablishmentarianism off", "Antidisestablishmentari…", "off"),
        ] {
            assert_eq!(in_two_lines(words), [first.to_owned(), second.to_owned()], "{words}");
        }
    }
}
