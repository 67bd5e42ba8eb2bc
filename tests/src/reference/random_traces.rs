//! Random things that happen: presses, reports, hands at devices, modes, the hub, and time that passes.

use pattress_model::kit::{PointRole, PointType};
use pattress_model::systems::{PointRef, Value};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;

use super::Incoming;
use super::clock::{DAY, days_to};
use super::random_house::points;
use super::random_rules::{gestures, modes, values};

/// What happens in a run.
#[derive(Clone, Debug)]
pub struct Trace {
    /// The first millisecond.
    pub starts: i64,
    /// Milliseconds after the one before, and what then comes in.
    pub steps: Vec<(i64, Incoming)>,
}

const MINUTE: i64 = 60_000;
const HOUR: i64 = 60 * MINUTE;

/// Random traces of up to so many steps; about both changes of the clock, a leap day, midsummer.
pub fn traces(most_steps: usize) -> impl Strategy<Value = Trace> {
    let day = |year, month, day| days_to(year, month, day) * DAY * MINUTE;
    let days = vec![
        day(2026, 3, 28) + 22 * HOUR,
        day(2026, 3, 29) + 30 * MINUTE,
        day(2026, 10, 24) + 23 * HOUR,
        day(2026, 10, 25) + 12_345,
        day(2028, 2, 28) + 21 * HOUR,
        day(2026, 6, 21) + 500,
        day(2026, 12, 31) + 23 * HOUR,
    ];
    (select(days), vec((gaps(), incoming()), 1..=most_steps))
        .prop_map(|(starts, steps)| Trace { starts, steps })
}

fn gaps() -> impl Strategy<Value = i64> {
    prop_oneof![
        4 => Just(0),
        2 => select(vec![1, 999, 1000, 1001, 2000]),
        4 => select(vec![5000, 29_999, 30_000, MINUTE, MINUTE + 500]),
        2 => select(vec![10 * MINUTE, HOUR, HOUR + 1, 90 * MINUTE]),
        1 => select(vec![7 * HOUR, 23 * HOUR, 25 * HOUR]),
    ]
}

fn incoming() -> impl Strategy<Value = Incoming> {
    let select_points = |is_meant: fn(PointType, PointRole) -> bool| {
        let meant = points().into_iter().filter(|(_, kind, role)| is_meant(*kind, *role));
        select(meant.map(|(name, ..)| name).collect::<Vec<PointRef>>())
    };
    let event = select_points(|kind, role| kind == PointType::Event && role == PointRole::Reports);
    let states = select_points(|kind, role| kind == PointType::State && role == PointRole::Reports);
    let numbers = select_points(|kind, role| kind == PointType::Number && role == PointRole::Reports);
    let doing = select_points(|kind, role| kind != PointType::Event && role == PointRole::Does);
    prop_oneof![
        6 => (event, gestures()).prop_map(|(point, gesture)| Incoming::Gesture(point, gesture)),
        5 => (states, select(vec![Value::On, Value::Off]))
            .prop_map(|(point, value)| Incoming::Report(point, value)),
        2 => (numbers, select(vec![0.0, 10.0, 50.0, 120.0]))
            .prop_map(|(point, figure)| Incoming::Report(point, Value::Number(figure))),
        2 => (doing, values()).prop_map(|(point, value)| Incoming::Given(point, value)),
        1 => modes().prop_map(Incoming::Mode),
        1 => select(vec![Incoming::HubStops, Incoming::HubStarts, Incoming::HubRestarts]),
    ]
}

impl Trace {
    /// What happens, line by line, with the time since the first millisecond.
    pub fn in_words(&self) -> String {
        let mut at = 0;
        let mut words = format!("The run starts at {} ms of UTC.\n", self.starts);
        for (gap, incoming) in &self.steps {
            at += gap;
            words += &format!("{:>12.3} s  {incoming:?}\n", at as f64 / 1000.0);
        }
        words
    }
}
