//! What every point has, and what waits (sections 2 and 7).

use std::collections::{BTreeMap, BTreeSet};

use pattress_model::id::Id;
use pattress_model::kit::PointType;
use pattress_model::systems::{HouseMode, Rule, Until};

use super::house::House;
use super::values::{Held, first};
use super::{Reference, Setup};

/// A value and the fade given with it, in milliseconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Layer {
    pub value: Held,
    pub fade: i64,
}

/// Which layer of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Which {
    Base,
    Hold(Id<Rule>),
    Hand,
}

/// A hold that is on.
pub(super) struct Hold {
    pub rank: u8,
    pub yields_to_hand: bool,
    /// Counts beginnings: of two, the higher began later.
    pub begun: u64,
    pub over: BTreeMap<usize, Layer>,
}

/// What is by hand at a point.
pub(super) struct Hand {
    pub layer: Layer,
    pub until: Until,
    pub watch: Watch,
}

/// Something that must last: whether it held when last judged, and when its time is over.
#[derive(Clone, Copy, Default)]
pub(super) struct Watch {
    pub held: bool,
    pub due: Option<i64>,
}

/// An action put to wait.
#[derive(Clone)]
pub(super) struct Waiting {
    pub order: u64,
    pub due: i64,
    pub rule: Id<Rule>,
    pub action: usize,
}

/// A way from one value to another.
#[derive(Clone, Copy)]
pub(super) struct Way {
    pub from: Held,
    pub to: Held,
    pub start: i64,
    pub lasts: i64,
}

/// Everything that changes in a run.
pub(super) struct State {
    pub at: i64,
    pub running: bool,
    pub mode: HouseMode,
    /// What points that report have reported; of points that do, their base.
    pub base: Vec<Option<Layer>>,
    pub holds: BTreeMap<Id<Rule>, Hold>,
    pub hands: BTreeMap<usize, Hand>,
    pub ways: Vec<Option<Way>>,
    pub waiting: Vec<Waiting>,
    /// *While* rules whose conditions held when last judged.
    pub holding: BTreeSet<Id<Rule>>,
    /// *While* rules that linger, and until when.
    pub lingering: BTreeMap<Id<Rule>, i64>,
    /// *Stays* triggers.
    pub stays: BTreeMap<Id<Rule>, Watch>,
    /// Beginnings and waits so far.
    pub count: u64,
    /// Layers that were given a value in this round.
    pub given: BTreeSet<(usize, Which)>,
    /// Events that a deed of this round made happen.
    pub happened: BTreeSet<usize>,
}

impl State {
    pub fn new(house: &House, setup: &Setup<'_>) -> Self {
        let mut base: Vec<Option<Layer>> = house
            .points
            .iter()
            .map(|point| first(point.point_type).map(|value| Layer { value, fade: 0 }))
            .collect();
        for (name, value) in &setup.values {
            if let Some(number) = house.number(name)
                && let Some(value) = house.points[number].takes(*value)
            {
                base[number] = Some(Layer { value, fade: 0 });
            }
        }
        Self {
            at: setup.starts,
            running: false,
            mode: HouseMode::AtHome,
            ways: vec![None; base.len()],
            base,
            holds: BTreeMap::new(),
            hands: BTreeMap::new(),
            waiting: Vec::new(),
            holding: BTreeSet::new(),
            lingering: BTreeMap::new(),
            stays: BTreeMap::new(),
            count: 0,
            given: BTreeSet::new(),
            happened: BTreeSet::new(),
        }
    }

    /// The next beginning or wait.
    pub fn next_count(&mut self) -> u64 {
        self.count += 1;
        self.count
    }

    /// What shows of a point, and which layer that is; `None` for an event.
    pub fn shows(&self, point: usize) -> Option<(Which, Layer)> {
        let base = self.base[point]?;
        let hand = self.hands.get(&point);
        let highest = self
            .holds
            .iter()
            .filter(|(_, hold)| hand.is_none() || !hold.yields_to_hand)
            .filter_map(|(rule, hold)| Some((hold.rank, hold.begun, *rule, *hold.over.get(&point)?)))
            .max_by_key(|(rank, begun, ..)| (*rank, *begun));
        Some(match (highest, hand) {
            (Some((_, _, rule, layer)), _) => (Which::Hold(rule), layer),
            (None, Some(hand)) => (Which::Hand, hand.layer),
            (None, None) => (Which::Base, base),
        })
    }
}

impl Reference<'_> {
    /// The value of a point that rules see.
    pub(super) fn seen_at(&self, point: usize) -> Option<Held> {
        self.state.shows(point).map(|(_, layer)| layer.value)
    }

    /// The value of a point as it is drawn now.
    pub(super) fn drawn_at(&self, point: usize) -> Option<Held> {
        let Some(way) = self.state.ways[point] else { return self.seen_at(point) };
        let passed = self.state.at - way.start;
        if passed >= way.lasts {
            return Some(way.to);
        }
        let between = |from: f64, to: f64| from + (to - from) * passed as f64 / way.lasts as f64;
        Some(match (way.from, way.to) {
            (Held::Number(from), Held::Number(to)) => Held::Number(between(from, to)),
            (Held::Colour(from), Held::Colour(to)) => Held::Colour(std::array::from_fn(|channel| {
                (between(f64::from(from[channel]), f64::from(to[channel])) + 0.5).floor() as u8
            })),
            (_, to) => to,
        })
    }

    /// Puts a point on a way from where it is drawn now to what shows, over a fade (section 2).
    pub(super) fn start_way(&mut self, point: usize, from: Held, to: Held, fade: i64) {
        let travel = match (from, to) {
            (Held::Number(from), Held::Number(to)) if self.house.points[point].travels => {
                let whole = self.house.points[point].travel_ms.unwrap_or(self.setup.travel_ms);
                ((to - from).abs() / 100.0 * whole as f64 + 0.5).floor() as i64
            }
            _ => 0,
        };
        let is_state = self.house.points[point].point_type == PointType::State;
        let lasts = if from == to || is_state { 0 } else { fade.max(travel) };
        self.state.ways[point] = Some(Way { from, to, start: self.state.at, lasts });
        let name = self.house.points[point].name.clone();
        self.record(super::What::Way(name, from, to, lasts));
    }
}
