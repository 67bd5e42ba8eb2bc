//! A rule as one plain English sentence.
//!
//! The sentence comes in phrases, so that the side list can point from the words to what they speak of.

mod conditions;
mod deeds;
mod words;

use crate::edit::Subject;
use crate::id::Id;
use crate::project::Project;
use crate::systems::{Condition, HouseMode, PointRef, Rule, RuleBody, Scene, Target, Zone, ZonePurpose};

/// A run of words, and the thing on the plan they speak of, if any.
#[derive(Clone, Debug, PartialEq)]
pub struct Phrase {
    /// The words, with their own spaces and commas.
    pub words: String,
    /// What they speak of.
    pub subject: Option<Subject>,
}

/// The sentence of a rule.
///
/// A reference to something that is gone reads `(missing)`; a project never holds one, a plan being read may.
pub fn sentence(project: &Project, rule: &Rule) -> Vec<Phrase> {
    let mut speaker = Speaker { project, phrases: Vec::new() };
    match &rule.body {
        RuleBody::When { trigger, conditions, actions } => {
            speaker.say("When ");
            speaker.trigger(trigger);
            if !conditions.is_empty() {
                speaker.say(", if ");
                speaker.conditions(conditions);
            }
            speaker.say(": ");
            speaker.list(actions, "; ", "; then ", Speaker::action);
            if actions.is_empty() {
                speaker.say("nothing yet");
            }
        }
        RuleBody::While { conditions, linger, settings, yields_to_hand, .. } => {
            speaker.say("While ");
            if conditions.is_empty() {
                speaker.say("always");
            }
            speaker.conditions(conditions);
            if linger.0 > 0.0 {
                speaker.say(&format!(", and for {linger} after that"));
            }
            speaker.say(": ");
            speaker.list(settings, ", ", " and ", |speaker, setting| {
                speaker.about(&setting.target, |point| words::holding(point, setting.value));
                speaker.fade(setting.fade);
            });
            if settings.is_empty() {
                speaker.say("nothing yet");
            } else if !yields_to_hand {
                speaker.say(", whatever is done by hand");
            }
        }
        RuleBody::Wired { key, target } => {
            speaker.point(key);
            speaker.say(" is wired to ");
            speaker.about(target, |_| (String::new(), String::new()));
            speaker.say(": one press turns it on or off, with the hub or without");
        }
    }
    if !speaker.phrases.last().is_some_and(|last| last.words.ends_with(".”")) {
        speaker.say(".");
    }
    speaker.phrases
}

/// The sentence as plain text.
pub fn sentence_text(project: &Project, rule: &Rule) -> String {
    sentence(project, rule).into_iter().map(|phrase| phrase.words).collect()
}

/// A scene as one sentence: what it sets, in its order.
pub fn scene_sentence(project: &Project, scene: &Scene) -> Vec<Phrase> {
    let mut speaker = Speaker { project, phrases: Vec::new() };
    speaker.say(&format!("The scene “{}”: ", scene.name));
    speaker.list(&scene.settings, ", ", " and ", |speaker, setting| {
        speaker.about(&setting.target, |point| words::giving(point, setting.value));
        speaker.fade(setting.fade);
    });
    speaker.say(if scene.settings.is_empty() { "nothing yet." } else { "." });
    speaker.phrases
}

/// What a house mode is called.
pub fn mode_words(project: &Project, mode: HouseMode) -> String {
    match mode {
        HouseMode::AtHome => "At home".to_owned(),
        HouseMode::Named(id) => {
            project.modes.get(id).map_or_else(|| "(missing)".to_owned(), |mode| mode.name.clone())
        }
    }
}

/// What a device is called in a sentence: its own name, else its kind's name and its tag.
pub fn device_words(project: &Project, device: crate::id::Id<crate::kit::Device>) -> String {
    match project.devices.get(device) {
        None => "(missing)".to_owned(),
        Some(found) if !found.name.is_empty() => found.name.clone(),
        Some(found) => found.tag.to_string(),
    }
}

struct Speaker<'a> {
    project: &'a Project,
    phrases: Vec<Phrase>,
}

impl Speaker<'_> {
    fn say(&mut self, words: &str) {
        match self.phrases.last_mut() {
            Some(last) if last.subject.is_none() => last.words.push_str(words),
            _ => self.phrases.push(Phrase { words: words.to_owned(), subject: None }),
        }
    }

    fn name(&mut self, words: String, subject: Subject) {
        self.phrases.push(Phrase { words, subject: Some(subject) });
    }

    fn list<T>(&mut self, things: &[T], between: &str, last: &str, mut each: impl FnMut(&mut Self, &T)) {
        for (index, thing) in things.iter().enumerate() {
            if index > 0 {
                self.say(if index + 1 == things.len() { last } else { between });
            }
            each(self, thing);
        }
    }

    fn conditions(&mut self, conditions: &[Condition]) {
        self.list(conditions, ", ", " and ", Self::condition);
    }

    /// `Kitchen plate key 1`.
    fn point(&mut self, point: &PointRef) {
        self.name(
            format!("{} {}", device_words(self.project, point.device), point.point),
            Subject::Device(point.device),
        );
    }

    /// The device alone, where the words about it say which point is meant.
    fn device(&mut self, point: &PointRef) {
        self.name(device_words(self.project, point.device), Subject::Device(point.device));
    }

    fn zone(&mut self, zone: Id<Zone>) {
        let words = self.project.zones.get(zone).map_or("(missing)".to_owned(), |found| found.name.clone());
        self.name(words, Subject::Zone(zone));
    }

    /// Says something about a target, in words that depend on the name of its point.
    fn about(&mut self, target: &Target, words: impl Fn(&str) -> words::Around) {
        match target {
            Target::Point(point) => {
                let (before, after) = words(&point.point);
                self.say(&before);
                if words::goes_without_saying(&point.point) {
                    self.device(point);
                } else {
                    self.point(point);
                }
                self.say(&after);
            }
            Target::Zone(zone) => {
                let (before, after) = words(&self.point_of_zone(*zone));
                self.say(&before);
                self.zone(*zone);
                if self.wants_lights(*zone) {
                    self.say(" lights");
                }
                self.say(&after);
            }
        }
    }

    /// The name of the points of a zone, where all have the same but for numbers.
    fn point_of_zone(&self, zone: Id<Zone>) -> String {
        let Some(found) = self.project.zones.get(zone) else { return String::new() };
        let mut names = found.points.iter().map(|point| words::base_of(&point.point));
        let first = names.next().unwrap_or_default();
        // A zone of lamps that dim and lamps that only switch is spoken of as one that dims.
        let is_mixed_light = |name: &str| matches!(name, "level" | "on");
        if names.clone().all(|name| name == first) {
            first.to_owned()
        } else if is_mixed_light(first) && names.all(is_mixed_light) {
            "level".to_owned()
        } else {
            String::new()
        }
    }

    /// Whether the name of a zone leaves unsaid that it is the lights of a place.
    fn wants_lights(&self, zone: Id<Zone>) -> bool {
        self.project.zones.get(zone).is_some_and(|zone| {
            let name = zone.name.to_lowercase();
            zone.purpose == ZonePurpose::Lighting
                && !["light", "lamp", "lantern", "lit"].iter().any(|word| name.contains(word))
        })
    }
}
