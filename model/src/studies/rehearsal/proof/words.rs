//! Faults, steps and the reach of a search in sentences.

use super::{Fault, HouseProof, RoomProof, Step, TimedStep, Wrong};
use crate::calendar::{LocalClock, UtcTime};
use crate::id::Id;
use crate::plan::Room;
use crate::project::Project;
use crate::sentence::device_words;
use crate::systems::{HouseMode, PointRef, Rule, Value};
use crate::units::Seconds;

/// A fault in one sentence: what, where, and what to do.
pub fn fault_sentence(project: &Project, fault: &Fault) -> String {
    let rules = rules(project, &fault.rules);
    match &fault.wrong {
        Wrong::Loop => format!(
            "{rules} set each other off without end and were stopped: give one of them a condition that breaks the \
             circle."
        ),
        Wrong::Disagree(at) => format!(
            "{rules} give {} different values at one moment: join them, or give them conditions that exclude each \
             other.",
            point(project, at)
        ),
        Wrong::HoldsMeet(at) => format!(
            "{rules} hold {} at different values at one time with equal rank: give one of them a higher rank.",
            point(project, at)
        ),
        Wrong::NeverDark(at) => format!(
            "{} can be lit, and nothing that may happen makes it dark again ({rules}): write what puts it out.",
            point(project, at)
        ),
        Wrong::LeftLit(at) => format!(
            "{} is lit by sensors and burns on when all is at rest ({rules}): write what puts it out.",
            point(project, at)
        ),
    }
}

/// A step with its time (`after 30 s: PL-01 key 1 is pressed`).
pub fn step_sentence(project: &Project, step: &TimedStep) -> String {
    let what = match &step.step {
        Step::Gesture(at, gesture) => format!("{} {}", point(project, at), gesture.phrase()),
        Step::Value(at, value) => format!("{} becomes {}", point(project, at), value_words(*value)),
        Step::Mode(HouseMode::AtHome) => "someone sets the mode to at home".to_owned(),
        Step::Mode(HouseMode::Named(mode)) => {
            let name = project.modes.get(*mode).map_or("(missing)", |mode| mode.name.as_str());
            format!("someone sets the mode to {name}")
        }
        Step::TimeComes { rules: of, .. } => format!("the time of {} comes", lower(&rules(project, of))),
        Step::Wait => "wait until then".to_owned(),
    };
    format!("after {}: {what}", Seconds(step.after_ms as f64 / 1000.0))
}

/// How far a search went, and no further.
pub fn reach_sentence(project: &Project, proof: &RoomProof, clock: LocalClock) -> String {
    let room = project.rooms.get(proof.room).map_or("(missing)", |room| room.name.as_str());
    let mut sentence = format!(
        "{room}: {}, {} of two states, {} that may happen.",
        counted(proof.rules.len(), "rule"),
        counted(proof.two_state_inputs, "input"),
        counted(proof.happenings, "thing")
    );
    for reach in &proof.reaches {
        let at = shown(clock, reach.at);
        sentence += &if reach.whole {
            format!(" With the clock at {at}: all {} states that can be reached were tried.", reach.states)
        } else {
            format!(
                " With the clock at {at}: stopped after {} states; every script of up to {} steps was tried.",
                reach.states, reach.depth
            )
        };
    }
    if proof.clocks_left_out > 0 {
        sentence += &format!(" {} other standings of the clock were not tried.", proof.clocks_left_out);
    }
    sentence
}

fn counted(count: usize, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}

/// How far the search of a house went, in a sentence or two: never further than it did.
pub fn how_far(project: &Project, proof: &HouseProof) -> String {
    let name = |room: &Id<Room>| project.rooms.get(*room).map_or("(missing)", |room| room.name.as_str());
    let rooms = proof.rooms.len() + proof.not_begun.len();
    if rooms == 0 {
        return "No rule that is on works in a room, so there was nothing to try.".to_owned();
    }
    let is_whole = |room: &&RoomProof| room.is_whole();
    let whole = proof.rooms.iter().filter(is_whole).count();
    let mut words = format!("{whole} of {rooms} rooms searched whole");
    let parted: Vec<&RoomProof> = proof.rooms.iter().filter(|room| !room.is_whole()).collect();
    for room in parted.iter().take(MOST_NAMED) {
        words += &format!("; {} up to {} steps", name(&room.room), room.depth());
    }
    if parted.len() > MOST_NAMED {
        let least = parted.iter().map(|room| room.depth()).min().unwrap_or_default();
        words += &format!("; {} more up to {least} steps or more", parted.len() - MOST_NAMED);
    }
    if !proof.not_begun.is_empty() {
        let names: Vec<&str> = proof.not_begun.iter().take(MOST_NAMED).map(name).collect();
        let more = proof.not_begun.len().saturating_sub(MOST_NAMED);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        words += &format!("; not begun: {}{more}", names.join(", "));
    }
    let left_out: usize = proof.rooms.iter().map(|room| room.clocks_left_out).sum();
    if left_out > 0 {
        words += &format!("; {left_out} standings of the clock left out");
    }
    words
        + ". Searched is every order of what may happen in a room to its own rules, with the clock standing still."
}

/// So many rooms are named.
const MOST_NAMED: usize = 6;

fn shown(clock: LocalClock, at: UtcTime) -> String {
    clock.shows(at).map(|shown| shown.to_string()).unwrap_or_default()
}

fn rules(project: &Project, rules: &[Id<Rule>]) -> String {
    let name = |id: &Id<Rule>| match project.rules.get(*id) {
        Some(rule) => format!("“{}”", rule.name),
        None => "(missing)".to_owned(),
    };
    let names: Vec<String> = rules.iter().map(name).collect();
    match names.split_last() {
        Some((last, [])) => format!("The rule {last}"),
        Some((last, others)) => format!("The rules {} and {last}", others.join(", ")),
        None => "The rules".to_owned(),
    }
}

fn lower(words: &str) -> String {
    words.replacen("The", "the", 1)
}

fn point(project: &Project, at: &PointRef) -> String {
    format!("{} {}", device_words(project, at.device), at.point)
}

fn value_words(value: Value) -> String {
    match value {
        Value::On => "on".to_owned(),
        Value::Off => "off".to_owned(),
        Value::Number(figure) => figure.to_string(),
        Value::Colour([red, green, blue]) => format!("the colour {red}, {green}, {blue}"),
    }
}
