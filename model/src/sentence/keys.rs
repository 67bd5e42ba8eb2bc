//! What each key of each plate does: every enabled rule that the key takes part in, as the part of its sentence that
//! says what is done, under the way in which the key is used.
//!
//! It is worked out from the rules and never kept. The words are those of the rule's own sentence, so that plate,
//! schedule and side list can't say different things.

use std::collections::BTreeMap;

use super::{Speaker, words};
use crate::id::Id;
use crate::kit::{Device, PlateLegend};
use crate::project::Project;
use crate::systems::{
    Comparison, Condition, Gesture, PointRef, Rule, RuleBody, Target, Trigger, Until, Value,
};

pub use super::legend::{Legend, agreed_legend, legend_of, short_words};

/// How a key is used.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KeyUse {
    /// Its contact switches by wire: one press, hub or no hub.
    Wired,
    /// A gesture starts a rule.
    Gesture(Gesture),
    /// A gesture ends what was done by hand before.
    EndsHand(Gesture),
    /// A key that stays where it is put starts a rule as it comes to this state.
    Becomes(String),
    /// A rule holds, or may act, while a key that stays where it is put is in this state.
    While(String),
}

impl KeyUse {
    /// The words for it, as they stand over a column (`one press`, `two presses`, `hold`).
    pub fn words(&self) -> String {
        match self {
            Self::Wired => "one press, wired".to_owned(),
            Self::Gesture(gesture) | Self::EndsHand(gesture) => gesture_words(*gesture).to_owned(),
            Self::Becomes(state) => format!("put {state}"),
            Self::While(state) => format!("while {state}"),
        }
    }
}

/// A gesture as a thing one does to a key.
pub const fn gesture_words(gesture: Gesture) -> &'static str {
    match gesture {
        Gesture::Happens => "when used",
        Gesture::Press => "one press",
        Gesture::PressTwice => "two presses",
        Gesture::PressThrice => "three presses",
        Gesture::Hold => "hold",
        Gesture::Release => "let go",
    }
}

/// One thing that a key does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyDeed {
    /// How the key is used for it.
    pub used: KeyUse,
    /// The rule that does it.
    pub rule: Id<Rule>,
    /// What must hold at that moment, without the `if`; empty where nothing must.
    pub only_if: String,
    /// What is done.
    pub does: String,
}

impl KeyDeed {
    /// All of it in one line (`one press, if it is dark outside: turn Hall lights on or off`).
    pub fn told(&self) -> String {
        let used = self.used.words();
        if self.only_if.is_empty() {
            format!("{used}: {}", self.does)
        } else {
            format!("{used}, if {}: {}", self.only_if, self.does)
        }
    }
}

/// A key with all it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlateKey {
    /// The name of its point.
    pub key: String,
    /// What it does: wired first, then gesture by gesture, then rule by rule.
    pub deeds: Vec<KeyDeed>,
}

impl PlateKey {
    /// All it does, a line for each way of using it.
    pub fn told(&self) -> Vec<String> {
        self.deeds.iter().map(KeyDeed::told).collect()
    }
}

/// A plate with its keys.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plate {
    /// The device.
    pub device: Id<Device>,
    /// Its keys, in the order of its kind.
    pub keys: Vec<PlateKey>,
}

/// Every plate of the house with what its keys do, in the order in which plates were placed.
pub fn plates(project: &Project) -> Vec<Plate> {
    let mut deeds: BTreeMap<&PointRef, Vec<KeyDeed>> = BTreeMap::new();
    for (id, rule) in project.rules.iter().filter(|(_, rule)| rule.enabled) {
        for point in rule.points() {
            let of_point = deeds.entry(point).or_default();
            // A rule names the same key more than once where it both starts by it and ends by it.
            if of_point.iter().all(|deed| deed.rule != id) {
                of_point.extend(deeds_of(project, id, rule, point));
            }
        }
    }
    let mut keys_of = |id: Id<Device>, device: &Device| -> Vec<PlateKey> {
        let Some(kind) = project.kinds.get(device.kind) else { return Vec::new() };
        kind.keys()
            .map(|key| {
                let mut deeds = deeds.remove(&PointRef::new(id, key.name.as_str())).unwrap_or_default();
                deeds.sort_by(|a, b| a.used.cmp(&b.used).then(a.rule.cmp(&b.rule)));
                PlateKey { key: key.name.clone(), deeds }
            })
            .collect()
    };
    project
        .devices
        .iter()
        .map(|(id, device)| Plate { device: id, keys: keys_of(id, device) })
        .filter(|plate| !plate.keys.is_empty())
        .collect()
}

/// One plate; `None` for what has no keys.
pub fn plate(project: &Project, device: Id<Device>) -> Option<Plate> {
    plates(project).into_iter().find(|plate| plate.device == device)
}

/// The keys of a final legend that no longer do what they did when it was marked final.
pub fn keys_that_differ<'a>(legend: &'a PlateLegend, plate: &'a Plate) -> Vec<(&'a PlateKey, &'a [String])> {
    if !legend.is_final {
        return Vec::new();
    }
    plate
        .keys
        .iter()
        .filter_map(|key| {
            let did = legend.of(&key.key).map_or(&[][..], |agreed| agreed.did.as_slice());
            (key.told() != did).then_some((key, did))
        })
        .collect()
}

/// What a rule does by a key.
fn deeds_of(project: &Project, id: Id<Rule>, rule: &Rule, key: &PointRef) -> Vec<KeyDeed> {
    let mut deeds = Vec::new();
    let mut put = |used, only_if: String, does| deeds.push(KeyDeed { used, rule: id, only_if, does });
    match &rule.body {
        RuleBody::Wired { key: wired, target } if wired == key => {
            put(KeyUse::Wired, String::new(), wired_words(project, target));
        }
        RuleBody::Wired { .. } => {}
        RuleBody::When { trigger, conditions, actions } => {
            let does = || {
                said(project, |speaker| {
                    speaker.list(actions, "; ", "; then ", |speaker, _, action| speaker.action(action));
                    if actions.is_empty() {
                        speaker.say("nothing yet");
                    }
                })
            };
            let others = |but: Option<&Condition>| {
                let conditions: Vec<Condition> =
                    conditions.iter().filter(|each| Some(*each) != but).cloned().collect();
                conditions_words(project, &conditions)
            };
            match trigger {
                Trigger::Event { point, gesture } if point == key => {
                    put(KeyUse::Gesture(*gesture), others(None), does());
                }
                Trigger::Becomes { point, comparison, value } if point == key => {
                    put(KeyUse::Becomes(state_words(*comparison, *value)), others(None), does());
                }
                Trigger::Stays { condition, lasting } if state_in(condition, key).is_some() => {
                    let state = state_in(condition, key).unwrap_or_default();
                    let used = KeyUse::While(format!("{state} for {lasting}"));
                    put(used, others(None), does());
                }
                _ => {
                    let state = conditions.iter().find_map(|each| Some((each, state_in(each, key)?)));
                    if let Some((condition, state)) = state {
                        let starts = said(project, |speaker| speaker.trigger(trigger));
                        let also = others(Some(condition));
                        let also = if also.is_empty() { String::new() } else { format!(" and {also}") };
                        put(KeyUse::While(state), String::new(), format!("when {starts}{also}, {}", does()));
                    }
                }
            }
            for action in actions {
                if let (Some(Until::Event { point, gesture }), Some(target)) =
                    (&action.by_hand, &action.target)
                    && point == key
                {
                    let gives = said(project, |speaker| {
                        speaker.about(target, |_| ("give ".to_owned(), " back to its rules".to_owned()));
                    });
                    put(KeyUse::EndsHand(*gesture), String::new(), gives);
                }
            }
        }
        RuleBody::While { conditions, linger, settings, rank, yields_to_hand } => {
            let state = conditions.iter().find_map(|each| Some((each, state_in(each, key)?)));
            if let Some((condition, state)) = state {
                let others: Vec<Condition> =
                    conditions.iter().filter(|each| *each != condition).cloned().collect();
                let does = said(project, |speaker| {
                    speaker.settings(settings, words::holding);
                    if settings.is_empty() {
                        speaker.say("nothing yet");
                    }
                    speaker.standing(*rank, *yields_to_hand);
                    if linger.0 > 0.0 {
                        speaker.say(&format!(", and for {linger} after that"));
                    }
                });
                put(KeyUse::While(state), conditions_words(project, &others), does);
            }
        }
    }
    deeds
}

fn wired_words(project: &Project, target: &Target) -> String {
    said(project, |speaker| {
        speaker.about(target, words::toggling);
        speaker.say(", with the hub or without");
    })
}

fn conditions_words(project: &Project, conditions: &[Condition]) -> String {
    said(project, |speaker| speaker.conditions(conditions))
}

/// The state of a key that a condition asks for, also within others; `None` where it speaks of something else.
fn state_in(condition: &Condition, key: &PointRef) -> Option<String> {
    match condition {
        Condition::Point { point, comparison, value } if point == key => {
            Some(state_words(*comparison, *value))
        }
        Condition::Not(inner) => state_in(inner, key).map(|state| format!("not {state}")),
        Condition::OneOf(inner) => inner.iter().find_map(|each| state_in(each, key)),
        _ => None,
    }
}

fn state_words(comparison: Comparison, value: Value) -> String {
    match (comparison, value) {
        (Comparison::Is, Value::On) | (Comparison::IsNot, Value::Off) => "on".to_owned(),
        (Comparison::Is, Value::Off) | (Comparison::IsNot, Value::On) => "off".to_owned(),
        (Comparison::Is, value) => words::value_words(value, ""),
        (comparison, value) => {
            let phrase = comparison.phrase().trim_start_matches("is ");
            format!("{phrase} {}", words::value_words(value, ""))
        }
    }
}

/// The unit of a point's figures, by the point's name; empty for what has none.
pub fn unit_of(point: &str) -> &'static str {
    words::unit_of(point).trim_start()
}

/// What is said to a speaker, as plain text.
pub(super) fn said(project: &Project, say: impl FnOnce(&mut Speaker<'_>)) -> String {
    let mut speaker = Speaker::new(project);
    say(&mut speaker);
    speaker.phrases.into_iter().map(|phrase| phrase.words).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::PointType;
    use crate::sentence::sentence_text;
    use crate::small_house::{key_rule, small_house};
    use crate::systems::{Action, Deed, Setting};
    use crate::units::Seconds;

    /// What `key 2` of the small house's plate does, beside the body given to it.
    fn told(body: impl Fn(PointRef, Target) -> RuleBody) -> Vec<String> {
        let mut house = small_house();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        let (plate_id, _) = house.project.devices.iter().find(|(_, device)| device.tag.code == "PL").unwrap();
        let target = Target::Zone(zone);
        let rule = key_rule("Test", None, plate_id, "key 2", target.clone());
        let body = body(PointRef::new(plate_id, "key 2"), target);
        house.put(Rule { body, ..rule });
        let found = plate(&house.project, plate_id).unwrap();
        found.keys.iter().find(|key| key.key == "key 2").unwrap().told()
    }

    fn pressed(key: PointRef, gesture: Gesture, conditions: Vec<Condition>, action: Action) -> RuleBody {
        let trigger = Trigger::Event { point: key, gesture };
        RuleBody::When { trigger, conditions, actions: vec![action] }
    }

    fn is_on(point: PointRef) -> Condition {
        Condition::Point { point, comparison: Comparison::Is, value: Value::On }
    }

    #[test]
    fn every_way_of_using_a_key_is_told() {
        let toggles = |target: Target| Action::new(Some(target), Deed::Toggle);
        let held = |target: Target| Setting { target, value: Value::Number(20.0), fade: Seconds::ZERO };
        let lights = "Kitchen ceiling lights";
        type Body<'a> = &'a dyn Fn(PointRef, Target) -> RuleBody;
        let cases: [(Body<'_>, String); 8] = [
            (
                &|key, target| pressed(key, Gesture::PressTwice, vec![Condition::Dark], toggles(target)),
                format!("two presses, if it is dark outside: turn {lights} on or off"),
            ),
            (
                &|key, target| pressed(key, Gesture::Hold, Vec::new(), toggles(target)),
                format!("hold: turn {lights} on or off"),
            ),
            (
                &|key, target| RuleBody::Wired { key, target },
                format!("one press, wired: turn {lights} on or off, with the hub or without"),
            ),
            (
                &|point, target| RuleBody::When {
                    trigger: Trigger::Becomes { point, comparison: Comparison::Is, value: Value::Off },
                    conditions: Vec::new(),
                    actions: vec![toggles(target)],
                },
                format!("put off: turn {lights} on or off"),
            ),
            (
                &|key, target| RuleBody::While {
                    conditions: vec![is_on(key), Condition::Dark],
                    linger: Seconds(60.0),
                    settings: vec![held(target)],
                    rank: 1,
                    yields_to_hand: true,
                },
                format!("while on, if it is dark outside: hold {lights} at 20 %, and for 60 s after that"),
            ),
            (
                &|key, target| RuleBody::When {
                    trigger: Trigger::Time(crate::units::TimeOfDay { minutes: 420 }),
                    conditions: vec![is_on(key), Condition::Dark],
                    actions: vec![toggles(target)],
                },
                format!("while on: when it is 07:00 and it is dark outside, turn {lights} on or off"),
            ),
            (
                &|key, target| RuleBody::When {
                    trigger: Trigger::Time(crate::units::TimeOfDay { minutes: 420 }),
                    conditions: Vec::new(),
                    actions: vec![Action {
                        by_hand: Some(Until::Event { point: key, gesture: Gesture::Press }),
                        ..toggles(target)
                    }],
                },
                format!("one press: give {lights} back to its rules"),
            ),
            (
                &|key, target| RuleBody::When {
                    trigger: Trigger::Stays { condition: is_on(key), lasting: Seconds(300.0) },
                    conditions: Vec::new(),
                    actions: vec![toggles(target)],
                },
                format!("while on for 5 min: turn {lights} on or off"),
            ),
        ];
        for (body, expected) in cases {
            assert_eq!(told(body), [expected]);
        }
    }

    #[test]
    fn what_a_key_does_is_said_as_its_rule_says_it_and_rules_that_are_off_are_silent() {
        let house = small_house();
        let plates = plates(&house.project);
        assert_eq!(plates.len(), 1);
        let [first, second] = plates[0].keys.as_slice() else { panic!("two keys") };
        assert!(second.deeds.is_empty(), "the rule of key 2 is off");
        let rule = house.project.rules.get(first.deeds[0].rule).unwrap();
        assert!(sentence_text(&house.project, rule).contains(&first.deeds[0].does));
        assert_eq!(first.told(), ["one press: turn Kitchen ceiling lights on or off"]);
        assert_eq!(short_words(&house.project, first, Some(house.kitchen)), "Ceiling");
        assert_eq!(short_words(&house.project, first, None), "Kitchen ceiling");
        assert_eq!(short_words(&house.project, second, None), "");
    }

    #[test]
    fn a_final_legend_tells_when_a_key_does_something_else() {
        let mut house = small_house();
        let plate_id = plates(&house.project)[0].device;
        let agreed = agreed_legend(&house.project, plate_id, Some(house.kitchen)).unwrap();
        assert_eq!(agreed[0].words, ["Ceiling".to_owned(), String::new()]);
        let change = crate::edit::verbs::mark_legend_final(&house.project, plate_id, agreed).unwrap();
        crate::edit::History::default().apply(&mut house.project, change).unwrap();
        let differ = |house: &crate::small_house::SmallHouse| -> Vec<String> {
            let plate = plate(&house.project, plate_id).unwrap();
            let legend = house.project.devices.get(plate_id).unwrap().legend.clone();
            keys_that_differ(&legend, &plate).iter().map(|(key, _)| key.key.clone()).collect()
        };
        assert!(differ(&house).is_empty());
        let (rule, _) = house.project.rules.iter().next().unwrap();
        let change = crate::edit::verbs::switch_rule(&house.project, rule, false).unwrap();
        crate::edit::History::default().apply(&mut house.project, change).unwrap();
        assert_eq!(differ(&house), ["key 1"]);
    }

    #[test]
    fn keys_that_stay_where_they_are_put_are_keys_too() {
        let mut house = small_house();
        let (id, kind) = house.project.kinds.iter().find(|(_, kind)| kind.code == "PL").unwrap();
        let mut kind = kind.clone();
        kind.points[1].point_type = PointType::State;
        let change = crate::edit::verbs::edit_kind(&house.project, id, kind, &[]);
        // The rule of key 2 presses it, and whether that may be is not asked here.
        crate::edit::History::default().apply(&mut house.project, change.unwrap()).unwrap();
        assert_eq!(plates(&house.project)[0].keys.len(), 2);
    }
}
