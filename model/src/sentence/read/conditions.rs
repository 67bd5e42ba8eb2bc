//! What starts a rule and what must hold, as typed.

use super::fault::Expected;
use super::text::Reader;
use super::{Ways, one_for_each_end};
use crate::calendar::Weekday;
use crate::sentence::{names, words};
use crate::systems::{Comparison, Condition, Gesture, PointRef, SunEvent, Trigger, Value, Weekdays};
use crate::units::Seconds;

/// No condition lies deeper in others than this; a rule may have them no deeper.
const DEEPEST: usize = 8;

impl Reader<'_> {
    pub(super) fn trigger(&mut self, at: usize) -> Ways<Trigger> {
        let mut ways = Vec::new();
        ways.extend(
            self.event(at)
                .into_iter()
                .map(|(end, (point, gesture))| (end, Trigger::Event { point, gesture })),
        );
        for (end, condition) in self.condition(at, 0) {
            if let Some((end, lasting)) = self.on_end(end) {
                ways.push((end, Trigger::Stays { condition, lasting }));
            }
        }
        let becomes = self.compared(at, true);
        ways.extend(
            becomes.into_iter().map(|(end, (point, comparison, value))| {
                (end, Trigger::Becomes { point, comparison, value })
            }),
        );
        if let Some(at) = self.word(at, "the house mode becomes ") {
            ways.extend(self.mode(at).map(|(end, mode)| (end, Trigger::ModeEntered(mode))));
        }
        if let Some(at) = self.word(at, "it is ") {
            ways.extend(self.time_of_day(at).map(|(end, time)| (end, Trigger::Time(time))));
        }
        ways.extend(self.sun_trigger(at));
        ways
    }

    /// ` for 5 min on end`.
    pub(super) fn on_end(&mut self, at: usize) -> Option<(usize, Seconds)> {
        let at = self.word(at, " for ")?;
        let (at, lasting) = self.duration(at)?;
        Some((self.word(at, " on end")?, lasting))
    }

    fn sun_trigger(&mut self, at: usize) -> Ways<Trigger> {
        let mut ways = Vec::new();
        let found = |(end, event), offset_minutes| (end, Trigger::Sun { event, offset_minutes });
        ways.extend(self.sun_event(at).map(|event| found(event, 0)));
        let most = i32::from(i16::MAX);
        if let Some(from) = self.word(at, "it is ")
            && let Some((end, minutes)) = self.whole_number(from, "minutes such as 30 min", 1, most + 1)
            && !self.rest(end).starts_with(':')
            && let Some(end) = self.word(end, " min until ")
            && let Some(event) = self.sun_event(end)
        {
            ways.push(found(event, (-minutes) as i16));
        }
        if self.rest(at).starts_with(|c: char| c.is_ascii_digit())
            && let Some((end, minutes)) = self.whole_number(at, "minutes such as 30 min", 1, most)
            && let Some(end) = self.word(end, " min have passed since ")
            && let Some(event) = self.sun_event(end)
        {
            ways.push(found(event, minutes as i16));
        }
        ways
    }

    fn sun_event(&mut self, at: usize) -> Option<(usize, SunEvent)> {
        let rises = self.word(at, "the sun rises").map(|end| (end, SunEvent::Rise));
        rises.or_else(|| self.word(at, "the sun sets").map(|end| (end, SunEvent::Set)))
    }

    /// Something that happens at a point.
    pub(super) fn event(&mut self, at: usize) -> Ways<(PointRef, Gesture)> {
        let mut ways = Vec::new();
        for (device_end, point, _, said) in self.points_of_devices(at) {
            if let Some(verb) = words::event_words(&point.point)
                && let Some(end) = self.word(device_end, verb)
            {
                ways.push((end, (point.clone(), Gesture::Happens)));
            }
            let Some(end) = said else { continue };
            for gesture in Gesture::ALL {
                if let Some(end) = self.word(end, &format!(" {}", gesture.phrase())) {
                    ways.push((end, (point.clone(), gesture)));
                }
            }
        }
        ways
    }

    /// A point that compares with a value; `begins` where it only now comes to do so.
    pub(super) fn compared(&mut self, at: usize, begins: bool) -> Ways<(PointRef, Comparison, Value)> {
        let mut ways = Vec::new();
        for (device_end, point, _, said) in self.points_of_devices(at) {
            for (on, value) in [(true, Value::On), (false, Value::Off)] {
                let verb = words::state_words(&point.point, on, begins);
                if let Some(end) = verb.and_then(|verb| self.word(device_end, verb)) {
                    ways.push((end, (point.clone(), Comparison::Is, value)));
                }
            }
            let Some(end) = said else { continue };
            for comparison in Comparison::ALL {
                let words = format!(" {} ", words::comparing(comparison, begins));
                if let Some(end) = self.word(end, &words)
                    && let Some((end, value)) = self.value(end, words::unit_of(&point.point))
                {
                    ways.push((end, (point.clone(), comparison, value)));
                }
            }
        }
        ways
    }

    /// All that must hold: one condition or several, with commas and “and” between them.
    pub(super) fn all_conditions(&mut self, at: usize) -> Ways<Vec<Condition>> {
        let mut found: Ways<Vec<Condition>> = Vec::new();
        let mut begun: Ways<Vec<Condition>> =
            self.condition(at, 0).into_iter().map(|(end, condition)| (end, vec![condition])).collect();
        while !begun.is_empty() {
            let mut longer = Vec::new();
            for (end, conditions) in &begun {
                for between in [", ", " and "] {
                    let Some(at) = self.word(*end, between) else { continue };
                    for (end, condition) in self.condition(at, 0) {
                        longer.push((end, conditions.iter().cloned().chain([condition]).collect()));
                    }
                }
            }
            found.append(&mut begun);
            begun = one_for_each_end(longer);
        }
        one_for_each_end(found)
    }

    pub(super) fn condition(&mut self, at: usize, depth: usize) -> Ways<Condition> {
        let mut ways: Ways<Condition> = Vec::new();
        if depth > DEEPEST {
            let sentence = "a condition that lies less deep within others".to_owned();
            self.wants(self.past_blanks(at), Expected::Words(sentence));
            return ways;
        }
        ways.extend(self.of_zone(at));
        ways.extend(self.of_clock(at));
        ways.extend(self.of_sun(at));
        if let Some(at) = self.word(at, "the house mode is ") {
            ways.extend(self.mode(at).map(|(end, mode)| (end, Condition::Mode(mode))));
        }
        if let Some(at) = self.word(at, "it is not so that ") {
            let inner = self.condition(at, depth + 1).into_iter();
            ways.extend(inner.map(|(end, inner)| (end, Condition::Not(Box::new(inner)))));
        }
        ways.extend(self.word(at, "never").map(|end| (end, Condition::OneOf(Vec::new()))));
        if let Some(at) = self.word(at, "either ") {
            ways.extend(self.one_of(at, depth + 1));
        }
        if self.rest(self.past_blanks(at)).starts_with('(')
            && let Some(at) = self.word(at, "(")
        {
            for (end, inner) in self.condition(at, depth) {
                ways.extend(self.word(end, ")").map(|end| (end, inner)));
            }
        }
        let compared = self.compared(at, false);
        ways.extend(
            compared.into_iter().map(|(end, (point, comparison, value))| {
                (end, Condition::Point { point, comparison, value })
            }),
        );
        one_for_each_end(ways)
    }

    /// Conditions of which one holds, after `either`.
    fn one_of(&mut self, at: usize, depth: usize) -> Ways<Condition> {
        let mut found: Ways<Vec<Condition>> = Vec::new();
        let mut begun: Ways<Vec<Condition>> =
            self.condition(at, depth).into_iter().map(|(end, condition)| (end, vec![condition])).collect();
        for (end, conditions) in &begun {
            found.extend(self.word(*end, " alone").map(|end| (end, conditions.clone())));
        }
        while !begun.is_empty() {
            let mut longer = Vec::new();
            for (end, conditions) in &begun {
                let Some(at) = self.word(*end, " or ") else { continue };
                for (end, condition) in self.condition(at, depth) {
                    longer.push((end, conditions.iter().cloned().chain([condition]).collect::<Vec<_>>()));
                }
            }
            begun = one_for_each_end(longer);
            found.extend(begun.iter().cloned());
        }
        one_for_each_end(found).into_iter().map(|(end, inner)| (end, Condition::OneOf(inner))).collect()
    }

    fn of_zone(&mut self, at: usize) -> Ways<Condition> {
        let mut ways = Vec::new();
        for (words, all) in [("any of ", false), ("every one of ", true)] {
            let Some(at) = self.word(at, words) else { continue };
            for (end, zone) in self.zone(at) {
                let point = names::point_of_zone(self.project, zone);
                let verb = words::state_words(&point, true, false).unwrap_or(" is on");
                let Some(end) = self.word(end, verb) else { continue };
                ways.push((end, if all { Condition::AllOf(zone) } else { Condition::AnyOf(zone) }));
            }
        }
        ways
    }

    fn of_clock(&mut self, at: usize) -> Ways<Condition> {
        let mut ways = Vec::new();
        if let Some(at) = self.word(at, "it is between ")
            && let Some((at, from)) = self.time_of_day(at)
            && let Some(at) = self.word(at, " and ")
            && let Some((at, to)) = self.time_of_day(at)
        {
            ways.push((at, Condition::Between(from, to)));
        }
        ways.extend(self.word(at, "it is dark outside").map(|end| (end, Condition::Dark)));
        ways.extend(self.word(at, "it is light outside").map(|end| (end, Condition::Daylight)));
        if let Some(at) = self.word(at, "it is ") {
            let days = self.weekdays(at).into_iter();
            ways.extend(days.map(|(end, days)| (end, Condition::Weekdays(days))));
        }
        ways
    }

    /// `Monday to Friday`, `Monday, Wednesday or Friday`, `no day`.
    fn weekdays(&mut self, at: usize) -> Ways<Weekdays> {
        let mut found: Ways<Weekdays> = Vec::new();
        found.extend(self.word(at, "no day").map(|end| (end, Weekdays::default())));
        let Some((end, first)) = self.weekday(at) else { return found };
        if let Some(at) = self.word(end, " to ")
            && let Some((end, last)) = self.weekday(at)
        {
            let mut days = Weekdays::default();
            let ahead = (7 + last as usize - first as usize) % 7;
            for day in Weekday::ALL.into_iter().cycle().skip(first as usize).take(ahead + 1) {
                days = days.with(day, true);
            }
            found.push((end, days));
        }
        let mut at = end;
        let mut days = Weekdays::of(&[first]);
        found.push((at, days));
        while let Some((end, day)) =
            self.word(at, " or ").or_else(|| self.word(at, ", ")).and_then(|at| self.weekday(at))
        {
            days = days.with(day, true);
            at = end;
            found.push((at, days));
        }
        found
    }

    fn weekday(&mut self, at: usize) -> Option<(usize, Weekday)> {
        Weekday::ALL.into_iter().find_map(|day| Some((self.word(at, day.name())?, day)))
    }

    fn of_sun(&mut self, at: usize) -> Ways<Condition> {
        let mut ways = Vec::new();
        let degrees = "degrees such as 10°";
        if let Some(at) = self.word(at, "the sun stands higher than ")
            && let Some((at, degrees)) = self.number(at, degrees)
        {
            ways.push((self.past_degrees(at), Condition::SunHigher { degrees }));
        }
        if let Some(at) = self.word(at, "the sun stands lower than ")
            && let Some((at, degrees)) = self.number(at, degrees)
        {
            ways.push((self.past_degrees(at), Condition::SunLower { degrees }));
        }
        if let Some(at) = self.word(at, "the sun stands between ")
            && let Some((at, from_degrees)) = self.number(at, degrees)
            && let Some(at) = {
                let at = self.past_degrees(at);
                self.word(at, " and ")
            }
            && let Some((at, to_degrees)) = self.number(at, degrees)
        {
            let at = self.past_degrees(at);
            if let Some(end) = self.word(at, " clockwise from north") {
                ways.push((end, Condition::SunBetween { from_degrees, to_degrees }));
            }
        }
        ways
    }

    /// The sign of degrees may be left out.
    fn past_degrees(&self, at: usize) -> usize {
        if self.rest(at).starts_with('°') { at + '°'.len_utf8() } else { at }
    }
}
