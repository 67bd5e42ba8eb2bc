//! What a rule does and holds, as typed. Verbs are those that the sentence is written with: each is tried on what
//! is named after it, and taken where writing it gives the words that were typed.

use super::text::Reader;
use super::{Ways, each_then, one_for_each_end};
use crate::sentence::words::{self, Around};
use crate::systems::{Action, Condition, Deed, Setting, Target, Until, Value};
use crate::units::Seconds;

/// What stands before the name of what is worked on; a test holds that no verb is missing.
const BEFORE_DEEDS: [&str; 26] = [
    "open or close ",
    "open ",
    "shut ",
    "close ",
    "lock or unlock ",
    "lock ",
    "unlock ",
    "set or unset ",
    "set the volume of ",
    "set ",
    "unset ",
    "ring ",
    "call for heat from ",
    "release ",
    "start or stop ",
    "start ",
    "stop ",
    "show the picture on ",
    "put out the picture on ",
    "switch ",
    "turn ",
    "turn up ",
    "turn down ",
    "brighten ",
    "dim ",
    "give ",
];

/// More of them.
const BEFORE_STEPS: [&str; 2] = ["raise ", "lower "];

/// What stands before the name of what is held.
const BEFORE_HOLDS: [&str; 5] =
    ["keep ", "hold the volume of ", "hold ", "show the picture on ", "call for heat from "];

/// Values whose words need no figure.
const PLAIN: [Value; 4] = [Value::On, Value::Off, Value::Number(0.0), Value::Number(100.0)];

impl Reader<'_> {
    /// Everything that is done, with semicolons between.
    pub(super) fn actions(&mut self, at: usize) -> Ways<Vec<Action>> {
        let mut found: Ways<Vec<Action>> = Vec::new();
        found.extend(self.word(at, "nothing yet").map(|end| (end, Vec::new())));
        let mut begun: Ways<Vec<Action>> =
            self.action(at).into_iter().map(|(end, action)| (end, vec![action])).collect();
        while !begun.is_empty() {
            let mut longer = Vec::new();
            for (end, actions) in &begun {
                let Some(at) = self.word(*end, ";") else { continue };
                let at = self.past_blanks(at);
                let at = self.along(at, "then ").unwrap_or(at);
                for (end, action) in self.action(at) {
                    longer.push((end, actions.iter().cloned().chain([action]).collect()));
                }
            }
            found.append(&mut begun);
            begun = one_for_each_end(longer);
        }
        one_for_each_end(found)
    }

    /// Everything that is held, with commas and “and” between.
    pub(super) fn settings(&mut self, at: usize) -> Ways<Vec<Setting>> {
        let mut found: Ways<Vec<Setting>> = Vec::new();
        found.extend(self.word(at, "nothing yet").map(|end| (end, Vec::new())));
        let mut begun: Ways<Vec<Setting>> =
            self.setting(at).into_iter().map(|(end, setting)| (end, vec![setting])).collect();
        while !begun.is_empty() {
            let mut longer = Vec::new();
            for (end, settings) in &begun {
                for between in [", ", " and "] {
                    let Some(at) = self.word(*end, between) else { continue };
                    for (end, setting) in self.setting(at) {
                        longer.push((end, settings.iter().cloned().chain([setting]).collect()));
                    }
                }
            }
            found.append(&mut begun);
            begun = one_for_each_end(longer);
        }
        one_for_each_end(found)
    }

    fn setting(&mut self, at: usize) -> Ways<Setting> {
        let mut held = Vec::new();
        for before in BEFORE_HOLDS {
            let Some(at) = self.word(at, before) else { continue };
            for (end, (target, point)) in self.target(at) {
                for (end, value) in self.valued(end, before, " at ", &point, words::holding) {
                    held.push((end, (target.clone(), value)));
                }
            }
        }
        let faded = each_then(
            one_for_each_end(held),
            |at| self.fade(at),
            |(target, value), fade| Setting { target, value, fade },
        );
        one_for_each_end(faded)
    }

    /// The values with which words stand so about a target: `said` is how the sentence writes them, `lead` comes
    /// before a figure.
    fn valued(
        &mut self,
        at: usize,
        before: &str,
        lead: &str,
        point: &str,
        said: fn(&str, Value) -> Around,
    ) -> Ways<Value> {
        let mut found = Vec::new();
        for value in PLAIN {
            let (verb, after) = said(point, value);
            if verb == before
                && let Some(end) = self.word_or_here(at, &after)
            {
                found.push((end, value));
            }
        }
        let unit = words::unit_of(point);
        // The words of a figure are tried only where a verb that takes one stands before.
        if said(point, Value::Number(7.5)).0 == before || said(point, Value::Colour([1, 2, 3])).0 == before {
            let figure = self.word(at, lead).and_then(|at| self.value(at, unit));
            if let Some((end, value)) = figure {
                let (verb, after) = said(point, value);
                let whole = format!("{lead}{}", words::value_words(value, unit));
                if verb == before
                    && let Some(tail) = after.strip_prefix(&whole)
                    && let Some(end) = self.word_or_here(end, tail)
                {
                    found.push((end, value));
                }
            }
        }
        found
    }

    fn word_or_here(&mut self, at: usize, words: &str) -> Option<usize> {
        if words.is_empty() { Some(at) } else { self.word(at, words) }
    }

    fn fade(&mut self, at: usize) -> Ways<Seconds> {
        let mut ways = vec![(at, Seconds::ZERO)];
        if let Some(at) = self.word(at, " over ") {
            ways.extend(self.duration(at));
        }
        ways
    }

    fn action(&mut self, at: usize) -> Ways<Action> {
        let mut starts = vec![(at, Seconds::ZERO)];
        if let Some(at) = self.word(at, "after ")
            && let Some((at, after)) = self.duration(at)
        {
            starts.push((self.past_blanks(at), after));
        }
        let done = each_then(
            starts,
            |at| one_for_each_end(self.deed(at)),
            |after, (target, deed)| Action { after, ..Action::new(target, deed) },
        );
        let faded =
            each_then(one_for_each_end(done), |at| self.fade(at), |action, fade| Action { fade, ..action });
        each_then(
            one_for_each_end(faded),
            |at| {
                let mut ways = vec![(at, None)];
                if let Some(at) = self.word(at, " by hand") {
                    let untils = self.until(at).into_iter();
                    ways.extend(untils.map(|(end, until)| (end, Some(until))));
                }
                ways
            },
            |action, by_hand| Action { by_hand, ..action },
        )
    }

    fn until(&mut self, at: usize) -> Ways<Until> {
        let mut ways = Vec::new();
        if let Some(at) = self.word(at, " for ") {
            ways.extend(self.duration(at).map(|(end, time)| (end, Until::For(time))));
        }
        let Some(at) = self.word(at, " until ") else { return ways };
        ways.extend(self.word(at, "it is given back").map(|end| (end, Until::Released)));
        if let Some(at) = self.word(at, "it is ") {
            ways.extend(self.time_of_day(at).map(|(end, time)| (end, Until::Time(time))));
        }
        let events = self.event(at).into_iter();
        ways.extend(events.map(|(end, (point, gesture))| (end, Until::Event { point, gesture })));
        let mut holds: Ways<(Condition, Seconds)> = Vec::new();
        for (end, condition) in self.condition(at, 0) {
            if let Some((end, lasting)) = self.on_end(end) {
                holds.push((end, (condition.clone(), lasting)));
            }
            holds.push((end, (condition, Seconds::ZERO)));
        }
        ways.extend(
            holds.into_iter().map(|(end, (condition, lasting))| (end, Until::Holds { condition, lasting })),
        );
        one_for_each_end(ways)
    }

    fn deed(&mut self, at: usize) -> Ways<(Option<Target>, Deed)> {
        let mut found = self.plain_deeds(at);
        for before in BEFORE_DEEDS.into_iter().chain(BEFORE_STEPS) {
            let Some(at) = self.word(at, before) else { continue };
            let mut targets: Ways<(Option<Target>, String)> = self
                .target(at)
                .into_iter()
                .map(|(end, (target, point))| (end, (Some(target), point)))
                .collect();
            targets.extend(self.along(at, "nothing").map(|end| (end, (None, String::new()))));
            for (end, (target, point)) in targets {
                for (end, deed) in self.deed_at(end, before, &point) {
                    found.push((end, (target.clone(), deed)));
                }
            }
        }
        found
    }

    /// What may be done to a target, by the words after its name.
    fn deed_at(&mut self, at: usize, before: &str, point: &str) -> Ways<Deed> {
        let mut found = Vec::new();
        let (verb, after) = words::toggling(point);
        if verb == before
            && let Some(end) = self.word_or_here(at, &after)
        {
            found.push((end, Deed::Toggle));
        }
        let values = self.valued(at, before, " to ", point, words::giving).into_iter();
        found.extend(values.map(|(end, value)| (end, Deed::Set(value))));
        for up in [true, false] {
            if words::stepping(point, if up { 1 } else { -1 }).0 == before
                && let Some(at) = self.word(at, " by ")
                && let Some((at, figure)) = self.whole_number(at, "whole percent such as 10 %", 0, 128)
                && let Some(end) = self.word(self.past_blanks(at), "%")
                && let Ok(percent) = i8::try_from(if up { figure } else { -figure })
            {
                found.push((end, Deed::Step(percent)));
            }
        }
        if before == "turn " {
            found.extend(self.cycle(at, words::unit_of(point)));
        }
        if before == "give " {
            found.extend(self.word(at, " back to its rules").map(|end| (end, Deed::ReleaseHand)));
        }
        found
    }

    /// ` to the next of 20 %, 50 % and off`.
    fn cycle(&mut self, at: usize, unit: &str) -> Ways<Deed> {
        let mut found = Vec::new();
        let Some(at) = self.word(at, " to ") else { return found };
        if let Some(end) = self.word(at, "the next of nothing") {
            found.push((end, Deed::Cycle(Vec::new())));
        } else if let Some(at) = self.word(at, "the next of ") {
            let mut values = Vec::new();
            let mut next = self.value(at, unit);
            while let Some((end, value)) = next {
                values.push(value);
                found.push((end, Deed::Cycle(values.clone())));
                let at = self.word(end, ", ").or_else(|| self.word(end, " and "));
                next = at.and_then(|at| self.value(at, unit));
            }
        } else if let Some((end, value)) = self.value(at, unit) {
            found.push((end, Deed::Cycle(vec![value])));
        }
        found
    }

    /// Deeds without a target.
    fn plain_deeds(&mut self, at: usize) -> Ways<(Option<Target>, Deed)> {
        let mut found: Ways<Deed> = Vec::new();
        if let Some(at) = self.word(at, "send ") {
            let mut pictures = vec![(at, None)];
            if let Some(at) = self.word(at, "a picture from ") {
                for (end, camera) in self.device(at) {
                    pictures.extend(self.word(end, " with ").map(|end| (end, Some(camera))));
                }
            }
            for (at, picture) in pictures {
                if let Some(at) = self.word(at, "the message ")
                    && let Some((end, text)) = self.quoted(at, "the words of the message")
                {
                    found.push((end, Deed::Notify { text, picture }));
                }
            }
        }
        if let Some(at) = self.word(at, "run the scene ") {
            found.extend(self.scene(at).map(|(end, scene)| (end, Deed::RunScene(scene))));
        }
        if let Some(at) = self.word(at, "drop what the rule ")
            && let Some((at, rule)) = self.rule(at)
            && let Some(end) = self.word(at, " still waits to do")
        {
            found.push((end, Deed::Cancel(rule)));
        }
        if let Some(at) = self.word(at, "set the house mode to ") {
            found.extend(self.mode(at).map(|(end, mode)| (end, Deed::EnterMode(mode))));
        }
        let all = self.word(at, "give everything done by hand back to its rules");
        found.extend(all.map(|end| (end, Deed::ReleaseHand)));
        found.into_iter().map(|(end, deed)| (end, (None, deed))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Names of points that have verbs of their own, and one that has none.
    const POINTS: [&str; 14] = [
        "open",
        "locked",
        "armed",
        "ring",
        "demand",
        "release",
        "playing",
        "picture",
        "level",
        "position",
        "volume",
        "set point",
        "colour",
        "siren",
    ];

    #[test]
    fn every_verb_of_the_sentence_can_be_read() {
        let values =
            || PLAIN.into_iter().chain([Value::Number(33.0), Value::Number(-2.5), Value::Colour([1, 2, 3])]);
        for point in POINTS {
            for value in values() {
                let verb = words::giving(point, value).0;
                assert!(BEFORE_DEEDS.contains(&verb.as_str()), "“{verb}” of {point}");
                let verb = words::holding(point, value).0;
                assert!(BEFORE_HOLDS.contains(&verb.as_str()), "“{verb}” of {point}");
            }
            for percent in [-5, 5] {
                let verb = words::stepping(point, percent).0;
                assert!(BEFORE_DEEDS.iter().chain(&BEFORE_STEPS).any(|known| *known == verb), "“{verb}”");
            }
            let verb = words::toggling(point).0;
            assert!(BEFORE_DEEDS.contains(&verb.as_str()), "“{verb}” of {point}");
        }
    }
}
