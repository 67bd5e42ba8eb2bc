//! What a rule does, in words.

use super::{Speaker, device_words, names, words};
use crate::edit::Subject;
use crate::id::Id;
use crate::systems::{Action, Condition, Deed, Rule, Scene, Target, Until};
use crate::units::Seconds;

impl Speaker<'_> {
    pub(super) fn action(&mut self, action: &Action) {
        if action.after.0 > 0.0 {
            self.say(&format!("after {} ", action.after));
        }
        match &action.target {
            Some(target) if action.deed.has_target() => self.deed_at(&action.deed, target),
            _ => self.deed(&action.deed),
        }
        self.fade(action.fade);
        if let Some(until) = &action.by_hand {
            self.by_hand(until);
        }
    }

    pub(super) fn fade(&mut self, fade: Seconds) {
        if fade.0 > 0.0 {
            self.say(&format!(" over {fade}"));
        }
    }

    fn deed_at(&mut self, deed: &Deed, target: &Target) {
        match deed {
            Deed::Set(value) => self.about(target, |point| words::giving(point, *value)),
            Deed::Toggle => self.about(target, words::toggling),
            Deed::Step(percent) => self.about(target, |point| words::stepping(point, *percent)),
            Deed::Cycle(values) => {
                self.about(target, |point| ("turn ".to_owned(), words::cycling(point, values)));
            }
            Deed::ReleaseHand => {
                self.about(target, |_| ("give ".to_owned(), " back to its rules".to_owned()))
            }
            Deed::RunScene(_) | Deed::Notify { .. } | Deed::Cancel(_) | Deed::EnterMode(_) => self.deed(deed),
        }
    }

    /// A deed without a target.
    fn deed(&mut self, deed: &Deed) {
        match deed {
            Deed::Notify { text, picture } => {
                self.say("send ");
                if let Some(camera) = picture {
                    self.say("a picture from ");
                    self.name(device_words(self.project, *camera), Some(Subject::Device(*camera)));
                    self.say(" with ");
                }
                self.say(&format!("the message {}", names::quoted(text)));
            }
            Deed::RunScene(scene) => {
                self.say("run the scene ");
                self.scene(*scene);
            }
            Deed::Cancel(rule) => {
                self.say("drop what the rule ");
                self.rule(*rule);
                self.say(" still waits to do");
            }
            Deed::EnterMode(mode) => {
                self.say("set the house mode to ");
                self.mode(*mode);
            }
            Deed::ReleaseHand => self.say("give everything done by hand back to its rules"),
            Deed::Set(value) => {
                let (before, after) = words::giving("", *value);
                self.nothing(&before, &after);
            }
            Deed::Toggle => self.nothing("turn ", " on or off"),
            Deed::Step(percent) => {
                let (before, after) = words::stepping("", *percent);
                self.nothing(&before, &after);
            }
            Deed::Cycle(values) => self.nothing("turn ", &words::cycling("", values)),
        }
    }

    /// The words of a deed whose target has not been picked.
    fn nothing(&mut self, before: &str, after: &str) {
        self.say(before);
        self.name("nothing".to_owned(), None);
        self.say(after);
    }

    fn by_hand(&mut self, until: &Until) {
        self.say(" by hand");
        match until {
            Until::Released => self.say(" until it is given back"),
            Until::For(time) => self.say(&format!(" for {time}")),
            Until::Time(time) => self.say(&format!(" until it is {time}")),
            Until::Holds { condition, lasting } => {
                self.say(" until ");
                match condition {
                    // Without a time it could be an event.
                    Condition::Point { point, comparison, value } if lasting.0 <= 0.0 => {
                        self.compares(point, (*comparison, *value), false, true);
                    }
                    _ => self.condition(condition),
                }
                if lasting.0 > 0.0 {
                    self.say(&format!(" for {lasting} on end"));
                }
            }
            Until::Event { point, gesture } => {
                self.say(" until ");
                self.event(point, *gesture);
            }
        }
    }

    fn scene(&mut self, scene: Id<Scene>) {
        let name = names::told_apart(&self.project.scenes, scene, |scene| &scene.name);
        self.name(names::quoted(&name), Some(Subject::Scene(scene)));
    }

    fn rule(&mut self, rule: Id<Rule>) {
        let name = names::told_apart(&self.project.rules, rule, |rule| &rule.name);
        self.name(names::quoted(&name), Some(Subject::Rule(rule)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sentence::sentence_text;
    use crate::small_house::small_house;
    use crate::systems::{Gesture, HouseMode, Mode, PointRef, RuleBody, Setting, Trigger, Value, Weekdays};
    use crate::units::TimeOfDay;

    /// One of every form, each with the sentence it must read as.
    #[test]
    fn every_form_reads_as_one_plain_sentence() {
        let mut house = small_house();
        let (plate, ..) =
            house.project.devices_on(house.ground).find(|(_, _, kind)| kind.code == "PL").unwrap();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        let (first_rule, _) = house.project.rules.iter().next().unwrap();
        let night = house.put(Mode { name: "Night".to_owned() });
        let lit = Setting { target: Target::Zone(zone), value: Value::Number(20.0), fade: Seconds(2.0) };
        let film = house.put(Scene { name: "Film".to_owned(), room: None, settings: vec![lit.clone()] });
        let key = || PointRef::new(plate, "key 2");
        let target = || Some(Target::Zone(zone));
        let is_night = Condition::Mode(HouseMode::Named(night));
        let body =
            |trigger, conditions, action| RuleBody::When { trigger, conditions, actions: vec![action] };
        let pressed = || Trigger::Event { point: key(), gesture: Gesture::Press };
        let seven = TimeOfDay { minutes: 420 };
        let does = |action| body(pressed(), Vec::new(), action);
        let toggles = || Action::new(target(), Deed::Toggle);
        let only_if = |condition| body(pressed(), vec![condition], toggles());
        let hand = |until| does(Action { by_hand: Some(until), ..toggles() });
        let lights = "Kitchen ceiling lights";
        let on_press = |words: &str| format!("When PL-01 key 2 is pressed: {words}.");
        let cases = [
            (
                body(Trigger::ModeEntered(HouseMode::Named(night)), Vec::new(), toggles()),
                format!("When the house mode becomes “Night”: turn {lights} on or off."),
            ),
            (
                body(
                    Trigger::Stays { condition: Condition::AllOf(zone), lasting: Seconds(600.0) },
                    vec![Condition::Weekdays(Weekdays::WORKING)],
                    Action::new(None, Deed::EnterMode(HouseMode::AtHome)),
                ),
                "When every one of Kitchen ceiling is on for 10 min on end, if it is Monday to Friday: set the \
                 house mode to “At home”."
                    .to_owned(),
            ),
            (
                only_if(Condition::OneOf(vec![is_night.clone(), Condition::SunLower { degrees: -6.0 }])),
                format!(
                    "When PL-01 key 2 is pressed, if either the house mode is “Night” or the sun stands lower \
                     than -6°: turn {lights} on or off."
                ),
            ),
            (
                only_if(Condition::Not(Box::new(Condition::SunBetween {
                    from_degrees: 90.0,
                    to_degrees: 180.0,
                }))),
                format!(
                    "When PL-01 key 2 is pressed, if it is not so that the sun stands between 90° and 180° \
                     clockwise from north: turn {lights} on or off."
                ),
            ),
            (
                does(Action::new(target(), Deed::Cycle(vec![Value::Number(20.0), Value::Off]))),
                on_press(&format!("turn {lights} to the next of 20 % and off")),
            ),
            (
                does(Action { fade: Seconds(3.0), ..Action::new(None, Deed::RunScene(film)) }),
                on_press("run the scene “Film” over 3 s"),
            ),
            (does(Action::new(None, Deed::Cancel(first_rule))), {
                let name = house.project.rules.get(first_rule).unwrap().name.clone();
                on_press(&format!("drop what the rule “{name}” still waits to do"))
            }),
            (
                does(Action::new(None, Deed::Notify { text: "Ding.".to_owned(), picture: Some(plate) })),
                "When PL-01 key 2 is pressed: send a picture from PL-01 with the message “Ding.”".to_owned(),
            ),
            (
                does(Action::new(target(), Deed::ReleaseHand)),
                on_press(&format!("give {lights} back to its rules")),
            ),
            (
                does(Action::new(None, Deed::ReleaseHand)),
                on_press("give everything done by hand back to its rules"),
            ),
            (
                hand(Until::Released),
                on_press(&format!("turn {lights} on or off by hand until it is given back")),
            ),
            (hand(Until::For(Seconds(7200.0))), on_press(&format!("turn {lights} on or off by hand for 2 h"))),
            (
                hand(Until::Time(seven)),
                on_press(&format!("turn {lights} on or off by hand until it is 07:00")),
            ),
            (
                hand(Until::Holds { condition: is_night, lasting: Seconds(90.0) }),
                on_press(&format!(
                    "turn {lights} on or off by hand until the house mode is “Night” for 90 s on end"
                )),
            ),
            (
                hand(Until::Event { point: key(), gesture: Gesture::Hold }),
                on_press(&format!("turn {lights} on or off by hand until PL-01 key 2 is held")),
            ),
            (
                RuleBody::While {
                    conditions: vec![Condition::SunHigher { degrees: 10.0 }],
                    linger: Seconds::ZERO,
                    settings: vec![lit],
                    rank: 1,
                    yields_to_hand: false,
                },
                format!(
                    "While the sun stands higher than 10°: hold {lights} at 20 % over 2 s, whatever is done by \
                     hand."
                ),
            ),
            (
                RuleBody::Wired { key: key(), target: Target::Zone(zone) },
                format!(
                    "PL-01 key 2 is wired to {lights}: one press turns it on or off, with the hub or without."
                ),
            ),
        ];
        for (body, expected) in cases {
            let rule = Rule {
                name: "Test".to_owned(),
                room: None,
                enabled: true,
                comment: String::new(),
                body: body.clone(),
            };
            assert_eq!(sentence_text(&house.project, &rule), expected);
        }
    }

    #[test]
    fn a_scene_says_what_it_sets() {
        let house = small_house();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        let lit = Setting { target: Target::Zone(zone), value: Value::Number(20.0), fade: Seconds(2.0) };
        let scene = Scene { name: "Film".to_owned(), room: None, settings: vec![lit] };
        let words: String = crate::sentence::scene_sentence(&house.project, &scene)
            .into_iter()
            .map(|phrase| phrase.words)
            .collect();
        assert_eq!(words, "The scene “Film”: set Kitchen ceiling lights to 20 % over 2 s.");
    }
}
