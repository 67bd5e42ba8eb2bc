//! The rules of a project, laid out for the engine: points, conditions and rules by number, with tables that
//! lead from what happens to the few rules it concerns.
//!
//! It is made once for a project and shared. Rules that are off are left out; what a rule speaks of that is
//! gone, which no accepted project has, is passed over.

use std::collections::BTreeMap;

use super::clock::NEVER;
use super::value::{Has, Nature};
use crate::calendar::UtcTime;
use crate::id::Id;
use crate::systems::{Comparison, Gesture, HouseMode, Mode, PointRef, Rule, SunEvent, Value, Weekdays, Zone};
use crate::units::TimeOfDay;

/// The number of a point in a book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PointNumber(pub u32);

impl PointNumber {
    pub(super) const fn index(self) -> usize {
        self.0 as usize
    }
}

/// A condition that is not made of others.
#[derive(Clone, Debug)]
pub(super) enum Atom {
    Point { point: PointNumber, comparison: Comparison, value: Value },
    AnyOf(Vec<PointNumber>),
    AllOf(Vec<PointNumber>),
    Mode(u32),
    Clock(ClockAtom),
}

/// A condition that the clock alone decides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum ClockAtom {
    Between(TimeOfDay, TimeOfDay),
    Up,
    Higher(f64),
    Lower(f64),
    Bearing(f64, f64),
    Weekdays(Weekdays),
}

/// A condition over numbered atoms.
#[derive(Clone, Debug)]
pub(super) enum Must {
    Atom(u32),
    Not(Box<Must>),
    OneOf(Vec<Must>),
}

impl Must {
    pub(super) fn holds(&self, truths: &[bool]) -> bool {
        match self {
            Self::Atom(atom) => truths.get(*atom as usize).copied().unwrap_or(false),
            Self::Not(inner) => !inner.holds(truths),
            Self::OneOf(inner) => inner.iter().any(|must| must.holds(truths)),
        }
    }

    pub(super) fn atoms(&self, found: &mut Vec<u32>) {
        match self {
            Self::Atom(atom) => found.push(*atom),
            Self::Not(inner) => inner.atoms(found),
            Self::OneOf(inner) => inner.iter().for_each(|must| must.atoms(found)),
        }
    }
}

/// Whether all conditions hold.
pub(super) fn all_hold(conditions: &[Must], truths: &[bool]) -> bool {
    conditions.iter().all(|must| must.holds(truths))
}

/// What is done to points.
#[derive(Clone, Debug)]
pub(super) enum Doing {
    Set { points: Vec<PointNumber>, value: Value },
    Toggle(Vec<PointNumber>),
    Step { points: Vec<PointNumber>, percent: i8 },
    Cycle { points: Vec<PointNumber>, values: Vec<Value> },
    Scene(Vec<SceneSetting>),
    Notify,
    Cancel(Option<u32>),
    Enter(u32),
    Release(Option<Vec<PointNumber>>),
    Nothing,
}

/// One setting of a scene.
#[derive(Clone, Debug)]
pub(super) struct SceneSetting {
    pub(super) points: Vec<PointNumber>,
    pub(super) value: Value,
    pub(super) fade_ms: i64,
}

/// One action of a *when* rule.
#[derive(Clone, Debug)]
pub(super) struct Act {
    pub(super) doing: Doing,
    pub(super) after_ms: i64,
    pub(super) fade_ms: i64,
    /// The place among `ends` where it is done by hand.
    pub(super) by_hand: Option<u32>,
}

/// Until when what is done by hand stands.
#[derive(Clone, Debug)]
pub(super) enum End {
    Released,
    For(i64),
    Time(TimeOfDay),
    Holds { must: Must, lasting_ms: i64 },
    Event { point: PointNumber, gesture: Gesture },
}

/// A rule that starts: a *when* rule, or a wired key.
#[derive(Clone, Debug)]
pub(super) struct Starter {
    pub(super) rule: Id<Rule>,
    pub(super) conditions: Vec<Must>,
    pub(super) acts: Vec<Act>,
    /// What the key is wired to; `None` for a *when* rule.
    pub(super) wired_to: Option<Vec<PointNumber>>,
    /// What a point must become, for a *becomes* trigger.
    pub(super) becomes: Option<(Comparison, Value)>,
}

/// The trigger of a *when* rule that a condition must last for.
#[derive(Clone, Debug)]
pub(super) struct Stay {
    pub(super) starter: u32,
    pub(super) must: Must,
    pub(super) lasting_ms: i64,
}

/// A *while* rule.
#[derive(Clone, Debug)]
pub(super) struct Hold {
    pub(super) rule: Id<Rule>,
    pub(super) conditions: Vec<Must>,
    pub(super) linger_ms: i64,
    /// The points it holds.
    pub(super) points: Vec<PointNumber>,
}

/// What a *while* rule holds one point at.
#[derive(Clone, Copy, Debug)]
pub(super) struct HeldAt {
    pub(super) hold: u32,
    pub(super) value: Has,
    pub(super) fade_ms: i64,
    pub(super) rank: u8,
    pub(super) yields: bool,
}

/// A point with its name.
#[derive(Clone, Debug)]
pub(super) struct Point {
    pub(super) name: PointRef,
    pub(super) nature: Nature,
    /// Over the whole travel, where its kind says so.
    pub(super) full_travel_ms: Option<i64>,
}

/// The rules of a project, laid out for the engine.
#[derive(Clone, Debug, Default)]
pub struct RuleBook {
    pub(super) points: Vec<Point>,
    pub(super) numbers: BTreeMap<PointRef, PointNumber>,
    pub(super) modes: Vec<Id<Mode>>,
    pub(super) zones: BTreeMap<Id<Zone>, Vec<PointNumber>>,
    pub(super) atoms: Vec<Atom>,
    pub(super) starters: Vec<Starter>,
    pub(super) stays: Vec<Stay>,
    pub(super) holds: Vec<Hold>,
    pub(super) ends: Vec<End>,
    pub(super) atoms_of_point: Vec<Vec<u32>>,
    pub(super) mode_atoms: Vec<u32>,
    pub(super) clock_atoms: Vec<(u32, ClockAtom)>,
    pub(super) holds_of_atom: Vec<Vec<u32>>,
    pub(super) stays_of_atom: Vec<Vec<u32>>,
    pub(super) ends_of_atom: Vec<Vec<u32>>,
    /// Which ends of what is by hand an event brings.
    pub(super) ends_at: Vec<Vec<(Gesture, u32)>>,
    pub(super) events_at: Vec<Vec<(Gesture, u32)>>,
    pub(super) becomes_at: Vec<Vec<u32>>,
    pub(super) mode_entered: Vec<(u32, u32)>,
    pub(super) times: Vec<(TimeOfDay, u32)>,
    pub(super) suns: Vec<(SunEvent, i64, u32)>,
    pub(super) holds_at: Vec<Vec<HeldAt>>,
    pub(super) starter_of: BTreeMap<Id<Rule>, u32>,
}

impl RuleBook {
    /// The number of a point; `None` where the project has none of that name.
    pub fn number(&self, point: &PointRef) -> Option<PointNumber> {
        self.numbers.get(point).copied()
    }

    /// The name of a point.
    pub fn name(&self, point: PointNumber) -> Option<&PointRef> {
        self.points.get(point.index()).map(|point| &point.name)
    }

    /// How many points there are; their numbers run from 0.
    pub fn point_count(&self) -> usize {
        self.points.len()
    }

    /// Every point with its number.
    pub fn points(&self) -> impl Iterator<Item = (PointNumber, &PointRef)> {
        self.points.iter().enumerate().map(|(at, point)| (PointNumber(at as u32), &point.name))
    }

    /// The points of a zone, in its order.
    pub fn zone(&self, zone: Id<Zone>) -> &[PointNumber] {
        self.zones.get(&zone).map_or(&[], Vec::as_slice)
    }

    /// Whether a point does what it is told; else it reports.
    pub fn does(&self, point: PointNumber) -> bool {
        self.points.get(point.index()).is_some_and(|point| point.nature.does)
    }

    pub(super) fn nature(&self, point: PointNumber) -> Option<Nature> {
        self.points.get(point.index()).map(|point| point.nature)
    }

    /// How long a point takes over its whole travel, `usual_ms` where its kind does not say; `None` for what goes nowhere.
    pub(super) fn full_travel_ms(&self, point: PointNumber, usual_ms: i64) -> Option<i64> {
        let point = self.points.get(point.index()).filter(|point| point.nature.travels)?;
        Some(point.full_travel_ms.unwrap_or(usual_ms))
    }

    /// A mode as a number: 0 is `at home`; `None` for one that the project does not have.
    pub(super) fn mode_number(&self, mode: HouseMode) -> Option<u32> {
        match mode {
            HouseMode::AtHome => Some(0),
            HouseMode::Named(id) => self.modes.iter().position(|known| *known == id).map(|at| at as u32 + 1),
        }
    }

    pub(super) fn mode_of(&self, number: u32) -> HouseMode {
        match number.checked_sub(1).and_then(|at| self.modes.get(at as usize)) {
            Some(id) => HouseMode::Named(*id),
            None => HouseMode::AtHome,
        }
    }

    /// Whether anything at all waits on the clock or the sun.
    pub(super) fn watches_clock(&self) -> bool {
        !(self.clock_atoms.is_empty() && self.times.is_empty() && self.suns.is_empty())
    }

    /// Whether anything waits on the sun.
    pub(super) fn watches_sun(&self) -> bool {
        let of_sun = |atom: &ClockAtom| !matches!(atom, ClockAtom::Between(..) | ClockAtom::Weekdays(_));
        !self.suns.is_empty() || self.clock_atoms.iter().any(|(_, atom)| of_sun(atom))
    }
}

/// The time at which something falls due, where there is one.
pub(super) const NOT_DUE: UtcTime = NEVER;
