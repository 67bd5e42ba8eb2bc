//! A drawn walk as a route that can be measured: how far, on which storey, how soon.
//!
//! A stair between two points is walked in a straight line on the plan and slower than the level; its half at the
//! foot is on the lower storey, its half at the head on the upper one, so that what a sensor of a storey sees of
//! the stair is what it sees of that half.

use kurbo::Point;

use super::first_seen::WALKING_MM_PER_S;
use crate::geometry::{Region, Segment, stretches_inside};
use crate::id::Id;
use crate::plan::{Level, Walk};

/// How fast somebody climbs a stair, mm/s on the plan: the middle of the 0.4 to 0.5 m/s horizontally that a study of
/// long stairs found (2000).
pub const CLIMBING_MM_PER_S: f64 = 450.0;

/// A straight part of a route, on one storey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// The storey it is on.
    pub level: Id<Level>,
    /// From where to where, plan mm.
    pub line: Segment,
    /// How far along the route it starts, mm.
    pub from_mm: f64,
    /// How long after setting out it starts, seconds.
    pub from_s: f64,
    /// How fast it is walked.
    pub mm_per_s: f64,
    /// Whether it is half of a stair.
    pub on_stair: bool,
}

impl Leg {
    /// How far along the route it ends, mm.
    pub fn to_mm(&self) -> f64 {
        self.from_mm + self.line.length()
    }

    /// How long after setting out it ends, seconds.
    pub fn to_s(&self) -> f64 {
        self.from_s + self.line.length() / self.mm_per_s
    }
}

/// A walk, measured.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// Its parts, in the order in which they are walked; none without length.
    pub legs: Vec<Leg>,
}

impl Route {
    /// Measures a walk.
    pub fn of(walk: &Walk) -> Self {
        let mut route = Self::default();
        for pair in walk.points.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            if from.level == to.level {
                route.add(from.level, from.at, to.at, WALKING_MM_PER_S, false);
            } else {
                let half = from.at.midpoint(to.at);
                route.add(from.level, from.at, half, CLIMBING_MM_PER_S, true);
                route.add(to.level, half, to.at, CLIMBING_MM_PER_S, true);
            }
        }
        route
    }

    fn add(&mut self, level: Id<Level>, from: Point, to: Point, mm_per_s: f64, on_stair: bool) {
        let line = Segment::new(from, to);
        if line.direction().is_none() {
            return;
        }
        let (from_mm, from_s) = (self.length_mm(), self.seconds());
        self.legs.push(Leg { level, line, from_mm, from_s, mm_per_s, on_stair });
    }

    /// How long it is, mm.
    pub fn length_mm(&self) -> f64 {
        self.legs.last().map_or(0.0, Leg::to_mm)
    }

    /// How long it takes, seconds.
    pub fn seconds(&self) -> f64 {
        self.legs.last().map_or(0.0, Leg::to_s)
    }

    /// When somebody is so far along, seconds after setting out.
    pub fn when(&self, at_mm: f64) -> f64 {
        let leg = self.legs.iter().find(|leg| at_mm <= leg.to_mm());
        leg.map_or(self.seconds(), |leg| leg.from_s + (at_mm - leg.from_mm).max(0.0) / leg.mm_per_s)
    }

    /// How far along somebody is so long after setting out, mm.
    pub fn where_at(&self, seconds: f64) -> f64 {
        let leg = self.legs.iter().find(|leg| seconds <= leg.to_s());
        leg.map_or(self.length_mm(), |leg| leg.from_mm + (seconds - leg.from_s).max(0.0) * leg.mm_per_s)
    }

    /// Where somebody is so far along: the storey, and the place on the plan. `None` for a route without length.
    pub fn place(&self, at_mm: f64) -> Option<(Id<Level>, Point)> {
        let leg = self.legs.iter().find(|leg| at_mm < leg.to_mm()).or(self.legs.last())?;
        let part = ((at_mm - leg.from_mm) / leg.line.length()).clamp(0.0, 1.0);
        Some((leg.level, leg.line.point_at(part)))
    }

    /// How far along it first crosses a line on a storey, mm.
    pub fn first_across(&self, level: Id<Level>, line: &Segment) -> Option<f64> {
        let legs = self.legs.iter().filter(|leg| leg.level == level);
        legs.filter_map(|leg| Some(leg.from_mm + leg.line.intersection(line)?.t * leg.line.length())).next()
    }

    /// The stretches within a region of a storey, mm along the route, in order and apart from each other.
    pub fn within(&self, level: Id<Level>, region: &Region) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64)> = Vec::new();
        for leg in self.legs.iter().filter(|leg| leg.level == level) {
            for (from, to) in stretches_inside(region, &leg.line) {
                let (from, to) = (leg.from_mm + from, leg.from_mm + to);
                match found.last_mut() {
                    Some(last) if from - last.1 < TOUCHING_MM => last.1 = to,
                    _ => found.push((from, to)),
                }
            }
        }
        found
    }
}

/// Stretches nearer to each other than this are one, mm.
const TOUCHING_MM: f64 = 1.0;
