//! The second interpreter of rules, held to what the trade expects of such rules, and to itself.
//!
//! Check values are common practice, no published source: they are worked out by hand here, not taken from any
//! program.

use pattress_model::id::Id;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, RuleBody, Setting, Target, Trigger, Value,
};
use pattress_model::units::Seconds;
use pattress_tests::reference::compare::compare;
use pattress_tests::reference::random_house::RandomHouse;
use pattress_tests::reference::random_rules::houses;
use pattress_tests::reference::random_traces::traces;
use pattress_tests::reference::sun::Sun;
use pattress_tests::reference::values::Held;
use pattress_tests::reference::{Incoming, Reference, Setup};
use proptest::prelude::*;

fn point(device: u32, name: &str) -> PointRef {
    PointRef::new(Id::from_number(device), name)
}

fn is(point: PointRef, value: Value) -> Condition {
    Condition::Point { point, comparison: Comparison::Is, value }
}

fn hold(condition: Condition, linger: f64, at: PointRef, value: Value) -> RuleBody {
    let setting = Setting { target: Target::Point(at), value, fade: Seconds::ZERO };
    RuleBody::While {
        conditions: vec![condition],
        linger: Seconds(linger),
        settings: vec![setting],
        rank: 0,
        yields_to_hand: true,
    }
}

fn house(rules: Vec<RuleBody>) -> RandomHouse {
    let rules = rules.into_iter().map(|rule| (rule, true)).collect();
    RandomHouse { place: (51.5, -0.1), zones: vec![Vec::new(); 4], scenes: vec![Vec::new(); 2], rules }
}

fn run(house: &RandomHouse) -> Reference<'static> {
    let midnight: &dyn Fn(i64) -> Sun = &|_| Sun { height: -30.0, bearing: 0.0 };
    let project = house.project();
    let clock = project.site.clock;
    Reference::new(&project, Setup { starts: 0, clock, sky: midnight, travel_ms: 25_000, values: Vec::new() })
}

#[test]
fn a_room_lit_by_motion_goes_dark_a_set_time_after_the_last() {
    let (motion, level) = (point(12, "motion"), point(15, "level"));
    let house = house(vec![hold(is(motion.clone(), Value::On), 60.0, level.clone(), Value::Number(80.0))]);
    let mut run = run(&house);
    for (at, value) in [(1000, Value::On), (20_000, Value::Off), (50_000, Value::On), (90_000, Value::Off)] {
        run.comes_in(at, &Incoming::Report(motion.clone(), value));
        assert_eq!(run.seen(&level), Some(Held::Number(80.0)));
    }
    run.run_until(149_999);
    assert_eq!(run.seen(&level), Some(Held::Number(80.0)));
    run.run_until(150_000);
    assert_eq!(run.seen(&level), Some(Held::Number(0.0)));
}

#[test]
fn a_lamp_goes_back_from_white_to_the_colour_chosen_meanwhile() {
    let (open, colour, key) = (point(13, "open"), point(15, "colour"), point(11, "key 1"));
    let red = Value::Colour([200, 40, 0]);
    let choose = RuleBody::When {
        trigger: Trigger::Event { point: key.clone(), gesture: Gesture::PressTwice },
        conditions: Vec::new(),
        actions: vec![Action::new(Some(Target::Point(colour.clone())), Deed::Set(red))],
    };
    let house = house(vec![hold(is(open.clone(), Value::On), 0.0, colour.clone(), Value::On), choose]);
    let mut run = run(&house);
    run.comes_in(1000, &Incoming::Report(open.clone(), Value::On));
    run.comes_in(2000, &Incoming::Gesture(key, Gesture::PressTwice));
    assert_eq!(run.seen(&colour), Some(Held::Colour([255, 255, 255])));
    run.comes_in(3000, &Incoming::Report(open, Value::Off));
    assert_eq!(run.seen(&colour), Some(Held::Colour([200, 40, 0])));
}

#[test]
fn a_blind_is_half_way_after_half_its_travel() {
    let (key, position) = (point(11, "key 1"), point(17, "position"));
    let shut = RuleBody::When {
        trigger: Trigger::Event { point: key.clone(), gesture: Gesture::Press },
        conditions: Vec::new(),
        actions: vec![Action::new(Some(Target::Point(position.clone())), Deed::Set(Value::On))],
    };
    let mut run = run(&house(vec![shut]));
    run.comes_in(1000, &Incoming::Gesture(key, Gesture::Press));
    run.run_until(13_500);
    assert_eq!(run.drawn(&position), Some(Held::Number(50.0)));
    run.run_until(26_000);
    assert_eq!(run.drawn(&position), Some(Held::Number(100.0)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// The same house and trace give the same, whether time is worked off at once or in pieces.
    #[test]
    fn time_may_be_worked_off_in_pieces(house in houses(5), trace in traces(12)) {
        let project = house.project();
        let sky = |minute| house.sun(minute);
        let setup = || Setup {
            starts: trace.starts,
            clock: project.site.clock,
            sky: &sky,
            travel_ms: 25_000,
            values: Vec::new(),
        };
        let (mut whole, mut pieces) = (Reference::new(&project, setup()), Reference::new(&project, setup()));
        let mut at = trace.starts;
        for (gap, incoming) in &trace.steps {
            pieces.run_until(at + gap / 3);
            at += gap;
            pieces.run_until(at);
            pieces.comes_in(at, incoming);
            whole.comes_in(at, incoming);
        }
        prop_assert_eq!(whole.records(), pieces.records());
        prop_assert!(whole.records().is_sorted_by_key(|record| record.at));
    }
}

/// Thousands of random houses and traces: so many cases as `PATTRESS_TRIAL_CASES` says, else two hundred.
#[test]
fn the_engine_does_what_the_page_says() {
    let cases =
        std::env::var("PATTRESS_TRIAL_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(200);
    let config = ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 20_000,
        ..ProptestConfig::default()
    };
    let mut runner = proptest::test_runner::TestRunner::new(config);
    let found = runner.run(&(houses(7), traces(20)), |(house, trace)| {
        compare(&house, &trace).map_err(proptest::test_runner::TestCaseError::fail)
    });
    if let Err(proptest::test_runner::TestError::Fail(_, (house, trace))) = found {
        panic!("{}", compare(&house, &trace).expect_err("it failed before"));
    }
    found.expect("cases to try");
}
