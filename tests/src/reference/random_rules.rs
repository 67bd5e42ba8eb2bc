//! Random rules over the random house: every trigger, condition and deed, with values and times that meet.

use std::ops::Range;

use pattress_model::id::Id;
use pattress_model::kit::{PointRole, PointType};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, HouseMode, PointRef, RuleBody, Setting, SunEvent, Target,
    Trigger, Until, Value, Weekday, Weekdays,
};
use pattress_model::units::{Seconds, TimeOfDay};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

use super::random_house::{FIRST_RULE, MODES, RandomHouse, SCENES, ZONES, points};

/// A random house with up to so many rules.
pub fn houses(most_rules: usize) -> impl Strategy<Value = RandomHouse> {
    let places = select(vec![(51.5, -0.1), (69.6, 18.9), (-33.9, 151.2)]);
    let zones = vec(vec(select(names(|_, _| true)), 0..4), ZONES.len());
    let scenes = vec(vec(settings(), 0..4), SCENES.len());
    let rules = vec((rules(), prop::bool::weighted(0.95)), 1..=most_rules);
    (places, zones, scenes, rules).prop_map(|(place, zones, scenes, mut rules)| {
        let count = rules.len() as u32;
        rules.iter_mut().for_each(|(rule, _)| name_cancelled(rule, count));
        let mut zones = zones;
        // A zone has each point once.
        for zone in &mut zones {
            let mut seen = Vec::new();
            zone.retain(|point: &PointRef| {
                let is_new = !seen.contains(point);
                seen.push(point.clone());
                is_new
            });
        }
        RandomHouse { place, zones, scenes, rules }
    })
}

/// What an action cancels is one of the rules that there are.
fn name_cancelled(rule: &mut RuleBody, count: u32) {
    let RuleBody::When { actions, .. } = rule else { return };
    for action in actions {
        if let Deed::Cancel(rule) = &mut action.deed {
            *rule = Id::from_number(FIRST_RULE + rule.number() % count);
        }
    }
}

fn names(is_meant: impl Fn(PointType, PointRole) -> bool) -> Vec<PointRef> {
    points().into_iter().filter(|(_, kind, role)| is_meant(*kind, *role)).map(|(name, ..)| name).collect()
}

fn any_point() -> impl Strategy<Value = PointRef> {
    select(names(|kind, _| kind != PointType::Event))
}

fn event_point() -> impl Strategy<Value = PointRef> {
    select(names(|kind, _| kind == PointType::Event))
}

fn doing_point() -> impl Strategy<Value = PointRef> {
    select(names(|_, role| role == PointRole::Does))
}

/// Values that fit, values that do not, and values beside the range.
pub fn values() -> impl Strategy<Value = Value> {
    prop_oneof![
        3 => Just(Value::On),
        3 => Just(Value::Off),
        4 => select(vec![0.0, 20.0, 50.0, 100.0]).prop_map(Value::Number),
        1 => select(vec![-5.0, 0.5, 130.0]).prop_map(Value::Number),
        2 => select(vec![[0, 0, 0], [255, 255, 255], [200, 40, 0]]).prop_map(Value::Colour),
    ]
}

/// Gestures.
pub fn gestures() -> impl Strategy<Value = Gesture> {
    prop_oneof![4 => Just(Gesture::Press), 2 => Just(Gesture::Happens), 1 => select(Gesture::ALL.to_vec())]
}

/// Durations: none, less than a millisecond, and those that meet each other.
fn durations() -> impl Strategy<Value = Seconds> {
    prop_oneof![
        6 => Just(0.0),
        1 => select(vec![0.0004, 0.0005, 0.001]),
        4 => select(vec![1.0, 2.0, 5.0, 30.0, 60.0]),
        1 => select(vec![600.0, 3600.0, 90_000.0]),
    ]
    .prop_map(Seconds)
}

fn times() -> impl Strategy<Value = TimeOfDay> {
    let meeting = vec![0, 1, 30, 60, 90, 119, 120, 150, 180, 420, 720, 1260, 1320, 1380, 1439];
    prop_oneof![4 => select(meeting), 1 => 0..1440_u16].prop_map(|minutes| TimeOfDay { minutes })
}

fn one_of<T>(range: Range<u32>) -> impl Strategy<Value = Id<T>> {
    range.prop_map(Id::from_number)
}

/// House modes.
pub fn modes() -> impl Strategy<Value = HouseMode> {
    prop_oneof![Just(HouseMode::AtHome), one_of(MODES).prop_map(HouseMode::Named)]
}

fn comparisons() -> impl Strategy<Value = Comparison> {
    prop_oneof![5 => Just(Comparison::Is), 2 => select(Comparison::ALL.to_vec())]
}

fn conditions() -> impl Strategy<Value = Condition> {
    let plain = prop_oneof![
        6 => (any_point(), comparisons(), values())
            .prop_map(|(point, comparison, value)| Condition::Point { point, comparison, value }),
        1 => (event_point(), comparisons(), values())
            .prop_map(|(point, comparison, value)| Condition::Point { point, comparison, value }),
        2 => one_of(ZONES).prop_map(Condition::AnyOf),
        1 => one_of(ZONES).prop_map(Condition::AllOf),
        2 => (times(), times()).prop_map(|(from, to)| Condition::Between(from, to)),
        1 => Just(Condition::Dark),
        1 => Just(Condition::Daylight),
        1 => select(vec![-6.0, 0.0, 10.0]).prop_map(|degrees| Condition::SunHigher { degrees }),
        1 => select(vec![-6.0, 0.0, 10.0]).prop_map(|degrees| Condition::SunLower { degrees }),
        1 => (select(vec![0.0, 90.0, 350.0]), select(vec![10.0, 180.0, 360.0]))
            .prop_map(|(from_degrees, to_degrees)| Condition::SunBetween { from_degrees, to_degrees }),
        1 => vec(select(Weekday::ALL.to_vec()), 0..4).prop_map(|days| Condition::Weekdays(Weekdays::of(&days))),
        2 => modes().prop_map(Condition::Mode),
    ];
    plain.prop_recursive(2, 6, 3, |inner| {
        prop_oneof![
            inner.clone().prop_map(|inner| Condition::Not(Box::new(inner))),
            vec(inner, 0..3).prop_map(Condition::OneOf),
        ]
    })
}

fn targets() -> impl Strategy<Value = Target> {
    prop_oneof![
        6 => doing_point().prop_map(Target::Point),
        3 => one_of(ZONES).prop_map(Target::Zone),
        1 => select(names(|_, role| role == PointRole::Reports)).prop_map(Target::Point),
    ]
}

fn settings() -> impl Strategy<Value = Setting> {
    (targets(), values(), durations()).prop_map(|(target, value, fade)| Setting { target, value, fade })
}

fn triggers() -> impl Strategy<Value = Trigger> {
    prop_oneof![
        6 => (event_point(), gestures()).prop_map(|(point, gesture)| Trigger::Event { point, gesture }),
        5 => (any_point(), comparisons(), values())
            .prop_map(|(point, comparison, value)| Trigger::Becomes { point, comparison, value }),
        2 => times().prop_map(Trigger::Time),
        1 => (select(vec![SunEvent::Rise, SunEvent::Set]), select(vec![-90, 0, 15]))
            .prop_map(|(event, offset_minutes)| Trigger::Sun { event, offset_minutes }),
        2 => modes().prop_map(Trigger::ModeEntered),
        3 => (conditions(), durations()).prop_map(|(condition, lasting)| Trigger::Stays { condition, lasting }),
    ]
}

fn untils() -> impl Strategy<Value = Until> {
    prop_oneof![
        2 => Just(Until::Released),
        2 => durations().prop_map(Until::For),
        1 => times().prop_map(Until::Time),
        2 => (conditions(), durations()).prop_map(|(condition, lasting)| Until::Holds { condition, lasting }),
        1 => (event_point(), gestures()).prop_map(|(point, gesture)| Until::Event { point, gesture }),
    ]
}

fn actions() -> impl Strategy<Value = Action> {
    let deed = prop_oneof![
        6 => values().prop_map(Deed::Set),
        3 => Just(Deed::Toggle),
        2 => select(vec![-120_i8, -10, 10, 60]).prop_map(Deed::Step),
        2 => vec(values(), 0..4).prop_map(Deed::Cycle),
        2 => one_of(SCENES).prop_map(Deed::RunScene),
        1 => Just(Deed::notify("Look")),
        1 => (0..100_u32).prop_map(|rule| Deed::Cancel(Id::from_number(rule))),
        2 => modes().prop_map(Deed::EnterMode),
        2 => Just(Deed::ReleaseHand),
    ];
    let by_hand = option::weighted(0.3, untils());
    (option::weighted(0.9, targets()), deed, durations(), durations(), by_hand)
        .prop_map(|(target, deed, after, fade, by_hand)| Action { target, deed, after, fade, by_hand })
}

fn rules() -> impl Strategy<Value = RuleBody> {
    let on = || vec(conditions(), 0..3);
    prop_oneof![
        6 => (triggers(), on(), vec(actions(), 1..4))
            .prop_map(|(trigger, conditions, actions)| RuleBody::When { trigger, conditions, actions }),
        4 => (on(), durations(), vec(settings(), 1..4), 0..3_u8, any::<bool>()).prop_map(
            |(conditions, linger, settings, rank, yields_to_hand)| {
                RuleBody::While { conditions, linger, settings, rank, yields_to_hand }
            }
        ),
        1 => (event_point(), targets()).prop_map(|(key, target)| RuleBody::Wired { key, target }),
    ]
}
