//! A rule as one plain English sentence.
//!
//! The sentence comes in phrases, so that the side list can point from the words to what they speak of.

use crate::edit::Subject;
use crate::kit::PointType;
use crate::project::Project;
use crate::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, SunEvent, Target, Trigger, Value,
};
use crate::units::Seconds;

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
        RuleBody::While { conditions, linger, settings, .. } => {
            speaker.say("While ");
            if conditions.is_empty() {
                speaker.say("always");
            }
            speaker.conditions(conditions);
            if linger.0 > 0.0 {
                speaker.say(&format!(", and for {linger} after"));
            }
            speaker.say(": ");
            speaker.list(settings, ", ", " and ", |speaker, setting| {
                speaker.say("hold ");
                speaker.target(&setting.target);
                speaker.say(&format!(" at {}", value_words(setting.value)));
                speaker.fade(setting.fade);
            });
            if settings.is_empty() {
                speaker.say("nothing yet");
            }
        }
    }
    speaker.say(".");
    speaker.phrases
}

/// The sentence as plain text.
pub fn sentence_text(project: &Project, rule: &Rule) -> String {
    sentence(project, rule).into_iter().map(|phrase| phrase.words).collect()
}

/// A value in words (`on`, `20 %`, `#ffaa00`).
pub fn value_words(value: Value) -> String {
    match value {
        Value::On => "on".to_owned(),
        Value::Off => "off".to_owned(),
        Value::Number(figure) => format!("{figure} %"),
        Value::Colour([red, green, blue]) => format!("#{red:02x}{green:02x}{blue:02x}"),
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

    /// `the kitchen plate key 1`, or the device alone where its kind has but one point of that sort.
    fn point(&mut self, point: &PointRef) {
        self.name(
            format!("{} {}", device_words(self.project, point.device), point.point),
            Subject::Device(point.device),
        );
    }

    fn target(&mut self, target: &Target) {
        match target {
            Target::Point(point) => self.point(point),
            Target::Zone(zone) => self.zone(*zone),
        }
    }

    fn zone(&mut self, zone: crate::id::Id<crate::systems::Zone>) {
        let words = self.project.zones.get(zone).map_or("(missing)".to_owned(), |found| found.name.clone());
        self.name(words, Subject::Zone(zone));
    }

    fn compares(&mut self, point: &PointRef, comparison: Comparison, value: Value, verb: Option<&str>) {
        self.point(point);
        let unit = self.unit_of(point);
        let words = match value {
            Value::Number(figure) => format!("{figure}{unit}"),
            other => value_words(other),
        };
        match verb {
            Some(verb) if comparison == Comparison::Is => self.say(&format!(" {verb} {words}")),
            Some(verb) => {
                let rest = comparison.phrase().trim_start_matches("is ");
                self.say(&format!(" {verb} {rest} {words}"));
            }
            None => self.say(&format!(" {} {words}", comparison.phrase())),
        }
    }

    fn unit_of(&self, point: &PointRef) -> &'static str {
        let spec = self
            .project
            .devices
            .get(point.device)
            .and_then(|device| self.project.kinds.get(device.kind))
            .and_then(|kind| kind.point(&point.point));
        match spec {
            Some(spec) if spec.point_type == PointType::Number => match spec.name.as_str() {
                "level" | "position" | "humidity" => " %",
                "temperature" => " °C",
                "light" => " lx",
                _ => "",
            },
            _ => "",
        }
    }

    fn trigger(&mut self, trigger: &Trigger) {
        match trigger {
            Trigger::Event { point, gesture } => {
                self.point(point);
                self.say(&format!(" {}", gesture.phrase()));
            }
            Trigger::Becomes { point, comparison, value } => {
                self.compares(point, *comparison, *value, Some("becomes"));
            }
            Trigger::Time(time) => self.say(&format!("it is {time}")),
            Trigger::Sun { event, offset_minutes } => {
                let what = match event {
                    SunEvent::Rise => "the sun rises",
                    SunEvent::Set => "the sun sets",
                };
                match *offset_minutes {
                    0 => self.say(what),
                    after if after > 0 => self.say(&format!("{after} min have passed since {what}")),
                    before => self.say(&format!("it is {} min until {what}", -i32::from(before))),
                }
            }
        }
    }

    fn condition(&mut self, condition: &Condition) {
        match condition {
            Condition::Point { point, comparison, value } => self.compares(point, *comparison, *value, None),
            Condition::AnyOf(zone) => {
                self.say("any of ");
                self.zone(*zone);
                self.say(" is on");
            }
            Condition::Between(from, to) => self.say(&format!("it is between {from} and {to}")),
            Condition::Dark => self.say("it is dark outside"),
            Condition::Daylight => self.say("it is light outside"),
        }
    }

    fn action(&mut self, action: &Action) {
        if action.after.0 > 0.0 {
            self.say(&format!("after {} ", action.after));
        }
        match (&action.deed, &action.target) {
            (Deed::Notify(text), _) => self.say(&format!("send the message “{text}”")),
            (deed, None) => self.say(&format!("{} nothing", deed_verb(deed))),
            (Deed::Set(value), Some(target)) => {
                self.say("set ");
                self.target(target);
                self.say(&format!(" to {}", value_words(*value)));
            }
            (Deed::Toggle, Some(target)) => {
                self.say("switch ");
                self.target(target);
                self.say(" over");
            }
            (Deed::Step(percent), Some(target)) => {
                self.say(if *percent >= 0 { "raise " } else { "lower " });
                self.target(target);
                self.say(&format!(" by {} %", percent.unsigned_abs()));
            }
        }
        self.fade(action.fade);
    }

    fn fade(&mut self, fade: Seconds) {
        if fade.0 > 0.0 {
            self.say(&format!(" over {fade}"));
        }
    }
}

fn deed_verb(deed: &Deed) -> &'static str {
    match deed {
        Deed::Set(_) => "set",
        Deed::Toggle => "switch over",
        Deed::Step(_) => "step",
        Deed::Notify(_) => "tell",
    }
}
