//! What starts a rule and what must hold, in words.

use super::{Speaker, mode_words, words};
use crate::edit::Subject;
use crate::systems::{Comparison, Condition, Gesture, HouseMode, PointRef, SunEvent, Trigger, Value};

impl Speaker<'_> {
    fn compares(&mut self, point: &PointRef, comparison: Comparison, value: Value, begins: bool) {
        let on = match (comparison, value) {
            (Comparison::Is, Value::On) | (Comparison::IsNot, Value::Off) => Some(true),
            (Comparison::Is, Value::Off) | (Comparison::IsNot, Value::On) => Some(false),
            _ => None,
        };
        if let Some(words) = on.and_then(|on| words::state_words(&point.point, on, begins)) {
            self.device(point);
            self.say(words);
            return;
        }
        self.point(point);
        let value = words::value_words(value, words::unit_of(&point.point));
        self.say(&format!(" {} {value}", words::comparing(comparison, begins)));
    }

    pub(super) fn trigger(&mut self, trigger: &Trigger) {
        match trigger {
            Trigger::Event { point, gesture } => match words::event_words(&point.point) {
                Some(words) if *gesture == Gesture::Happens => {
                    self.device(point);
                    self.say(words);
                }
                _ => {
                    self.point(point);
                    self.say(&format!(" {}", gesture.phrase()));
                }
            },
            Trigger::Becomes { point, comparison, value } => {
                self.compares(point, *comparison, *value, true);
            }
            Trigger::Time(time) => self.say(&format!("it is {time}")),
            Trigger::ModeEntered(mode) => {
                self.say("the house mode becomes ");
                self.mode(*mode);
            }
            Trigger::Stays { condition, lasting } => {
                self.condition(condition);
                self.say(&format!(" for {lasting} on end"));
            }
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

    pub(super) fn condition(&mut self, condition: &Condition) {
        match condition {
            Condition::Point { point, comparison, value } => self.compares(point, *comparison, *value, false),
            Condition::AnyOf(zone) => {
                self.say("any of ");
                self.zone(*zone);
                let point = self.point_of_zone(*zone);
                self.say(words::state_words(&point, true, false).unwrap_or(" is on"));
            }
            Condition::AllOf(zone) => {
                self.say("every one of ");
                self.zone(*zone);
                let point = self.point_of_zone(*zone);
                self.say(words::state_words(&point, true, false).unwrap_or(" is on"));
            }
            Condition::Between(from, to) => self.say(&format!("it is between {from} and {to}")),
            Condition::Dark => self.say("it is dark outside"),
            Condition::Daylight => self.say("it is light outside"),
            Condition::SunHigher { degrees } => self.say(&format!("the sun stands higher than {degrees}°")),
            Condition::SunLower { degrees } => self.say(&format!("the sun stands lower than {degrees}°")),
            Condition::SunBetween { from_degrees, to_degrees } => self.say(&format!(
                "the sun stands between {from_degrees}° and {to_degrees}° clockwise from north"
            )),
            Condition::Weekdays(days) => self.say(&format!("it is {days}")),
            Condition::Mode(mode) => {
                self.say("the house mode is ");
                self.mode(*mode);
            }
            Condition::Not(inner) => {
                self.say("it is not so that ");
                self.condition(inner);
            }
            Condition::OneOf(inner) if inner.is_empty() => self.say("never"),
            Condition::OneOf(inner) => {
                self.say(if inner.len() > 1 { "either " } else { "" });
                self.list(inner, " or ", " or ", Self::condition);
            }
        }
    }

    pub(super) fn mode(&mut self, mode: HouseMode) {
        let words = format!("“{}”", mode_words(self.project, mode));
        match mode {
            HouseMode::AtHome => self.say(&words),
            HouseMode::Named(id) => self.name(words, Subject::Mode(id)),
        }
    }
}
