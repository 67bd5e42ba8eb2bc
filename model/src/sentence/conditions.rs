//! What starts a rule and what must hold, in words.

use super::{Speaker, mode_words, names, words};
use crate::edit::Subject;
use crate::systems::{Comparison, Condition, Gesture, HouseMode, PointRef, SunEvent, Trigger, Value};

impl Speaker<'_> {
    /// How a point compares with a value. `begins` where it only now comes to do so; `or_event` where an event
    /// could be said in the same place.
    pub(super) fn compares(
        &mut self,
        point: &PointRef,
        (comparison, value): (Comparison, Value),
        begins: bool,
        or_event: bool,
    ) {
        let on = match (comparison, value) {
            (Comparison::Is, Value::On) => Some(true),
            (Comparison::Is, Value::Off) => Some(false),
            _ => None,
        };
        let verb = on.and_then(|on| words::state_words(&point.point, on, begins));
        if let Some(verb) =
            verb.filter(|verb| !or_event || !names::is_an_event_too(self.project, point, verb))
        {
            self.device(point);
            self.say(verb);
            return;
        }
        self.point(point);
        let value = words::value_words(value, words::unit_of(&point.point));
        self.say(&format!(" {} {value}", words::comparing(comparison, begins)));
    }

    /// Something happens at a point.
    pub(super) fn event(&mut self, point: &PointRef, gesture: Gesture) {
        match words::event_words(&point.point) {
            Some(words) if gesture == Gesture::Happens => {
                self.device(point);
                self.say(words);
            }
            _ => {
                self.point(point);
                self.say(&format!(" {}", gesture.phrase()));
            }
        }
    }

    pub(super) fn trigger(&mut self, trigger: &Trigger) {
        match trigger {
            Trigger::Event { point, gesture } => self.event(point, *gesture),
            Trigger::Becomes { point, comparison, value } => {
                self.compares(point, (*comparison, *value), true, true);
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
            Condition::Point { point, comparison, value } => {
                self.compares(point, (*comparison, *value), false, false);
            }
            Condition::AnyOf(zone) => {
                self.say("any of ");
                self.zone(*zone);
                let point = names::point_of_zone(self.project, *zone);
                self.say(words::state_words(&point, true, false).unwrap_or(" is on"));
            }
            Condition::AllOf(zone) => {
                self.say("every one of ");
                self.zone(*zone);
                let point = names::point_of_zone(self.project, *zone);
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
            Condition::OneOf(inner) => self.one_of(inner),
        }
    }

    /// Conditions of which one holds or more; in brackets where they stand within others of the sort.
    fn one_of(&mut self, inner: &[Condition]) {
        let (before, after) = match inner {
            [] => return self.say("never"),
            [_] => ("either ", " alone"),
            _ => ("either ", ""),
        };
        let nested = std::mem::replace(&mut self.in_one_of, true);
        self.say(if nested { "(" } else { "" });
        self.say(before);
        self.list(inner, " or ", " or ", |speaker, _, condition| speaker.condition(condition));
        self.say(after);
        self.say(if nested { ")" } else { "" });
        self.in_one_of = nested;
    }

    pub(super) fn mode(&mut self, mode: HouseMode) {
        let words = names::quoted(&mode_words(self.project, mode));
        self.name(
            words,
            match mode {
                HouseMode::AtHome => None,
                HouseMode::Named(id) => Some(Subject::Mode(id)),
            },
        );
    }
}
