//! Where a lens does not look: its layers, tilted with it, as blanks on the plan at the height of the target.
//!
//! A layer lies between two angles from the axis, all round the upright of the lens: about an axis straight down these
//! are cones about that axis, about an axis ahead they are heights above and below it, as latitudes are. A fan ends at
//! two planes through the upright of the lens. Tilting turns all of them; where they meet the plane of the target they
//! make circles, lines and other conic sections, found along each direction on the plan by solving a square equation.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use kurbo::{Point, Vec2};

use crate::geometry::Ring;
use crate::geometry::numbers::unit_vector;
use crate::geometry::sector::{ARC_TOLERANCE, fan_between};
use crate::kit::Tier;

use super::eye::{Axis, Eye};

/// Blanks reach so far beyond the range and the fan, in parts of the range and radians, that no sliver is left.
const BEYOND: f64 = 0.01;

/// Directions on the plan are first taken in so many equal steps; curves are then cut finer where they bend.
const STEPS: usize = 64;

/// Two directions nearer to each other than this are not parted further, radians: about 10⁻³ mm within 10 m.
const SAME_DIRECTION: f64 = 1e-7;

/// A lens and the target it is asked for.
#[derive(Clone, Debug)]
pub(super) struct Lens {
    axis: Axis,
    /// From and to, radians from the axis; empty where it looks at every height.
    tiers: Vec<(f64, f64)>,
    /// Half the angle of its fan, radians.
    half_fan: f64,
    /// How far the target lies below the eye, mm; below zero for one above it.
    drop: f64,
}

impl Lens {
    pub(super) fn new(eye: &Eye, tiers: &[Tier], fan: f64, drop: f64) -> Self {
        let tiers = tiers.iter().map(|tier| (tier.from.as_radians(), tier.to.as_radians())).collect();
        Self { axis: eye.axis, tiers, half_fan: fan / 2.0, drop }
    }

    /// Whether the lens is turned so that its fan on the plan differs from the one it has level.
    pub(super) fn is_tilted(&self) -> bool {
        matches!(self.axis, Axis::Ahead(tilt) if tilt != 0.0)
    }

    /// Whether it looks at the target so far off, in a direction from where it faces.
    fn sees(&self, direction: f64, distance: f64) -> bool {
        let Axis::Ahead(tilt) = self.axis else {
            return self.in_tier(distance.atan2(self.drop));
        };
        let (ahead, aside) = (distance * direction.cos(), distance * direction.sin());
        let (sine, cosine) = tilt.sin_cos();
        let (along, up) = (ahead * cosine + self.drop * sine, ahead * sine - self.drop * cosine);
        let below = (-up).atan2(along.hypot(aside));
        self.in_tier(below) && (tilt == 0.0 || aside.atan2(along).abs() <= self.half_fan)
    }

    fn in_tier(&self, angle: f64) -> bool {
        self.tiers.is_empty() || self.tiers.iter().any(|(from, to)| (*from..=*to).contains(&angle))
    }

    /// Distances at which a layer or the fan may begin or end, in a direction.
    fn edges(&self, direction: f64) -> Vec<f64> {
        let mut found = Vec::new();
        let angles = self.tiers.iter().flat_map(|(from, to)| [*from, *to]);
        match self.axis {
            Axis::Down => found.extend(angles.map(|angle| self.drop * angle.tan())),
            Axis::Ahead(tilt) => {
                for angle in angles.filter(|angle| angle.abs() < FRAC_PI_2) {
                    self.edges_of_layer(angle, direction, tilt, &mut found);
                }
                if tilt != 0.0 && self.half_fan < PI {
                    // Where aside / along is the tangent of half the fan, on either side.
                    let (sine, cosine) = self.half_fan.sin_cos();
                    let slope = direction.sin().abs() * cosine - direction.cos() * tilt.cos() * sine;
                    found.push(self.drop * tilt.sin() * sine / slope);
                }
            }
        }
        found.retain(|distance| distance.is_finite() && *distance > 0.0);
        found.sort_by(f64::total_cmp);
        found
    }

    /// Distances r at which the target is at that angle below the axis: with k = cos direction · sin tilt,
    /// (drop cos tilt − k r)² = sin² angle (r² + drop²), the sign of the bracket being that of the angle.
    fn edges_of_layer(&self, angle: f64, direction: f64, tilt: f64, found: &mut Vec<f64>) {
        let (k, level) = (direction.cos() * tilt.sin(), self.drop * tilt.cos());
        let square = angle.sin().powi(2);
        if square < 1e-18 {
            found.push(level / k);
            return;
        }
        let (a, half_b, c) = (k * k - square, -level * k, level * level - square * self.drop * self.drop);
        // half_b² − a c, put so that it does not lose digits where the angle is small.
        let quarter = square * (level * level + self.drop * self.drop * (k * k - square));
        let fits = |r: &f64| (level - k * r) * angle.signum() >= 0.0;
        if quarter >= 0.0 {
            // The root that does not lose digits, and its partner (any textbook on numerical methods).
            let q = -(half_b + half_b.signum() * quarter.sqrt());
            found.extend([q / a, c / q].iter().filter(|r| fits(r)));
        }
    }

    /// Where along a direction it does not see the target, up to `far`.
    fn blank_stretches(&self, direction: f64, far: f64) -> Vec<(f64, f64)> {
        let mut stretches: Vec<(f64, f64)> = Vec::new();
        let mut from = 0.0;
        let edges = self.edges(direction);
        for to in edges.into_iter().filter(|edge| *edge < far).chain([far]) {
            if to > from && !self.sees(direction, f64::midpoint(from, to)) {
                match stretches.last_mut() {
                    Some(last) if last.1 == from => last.1 = to,
                    _ => stretches.push((from, to)),
                }
            }
            from = to;
        }
        stretches
    }

    /// How far ahead of its foot it begins to see the target: the blind strip, mm. `None` where it never does.
    pub(super) fn blind_strip(&self, range: f64) -> Option<f64> {
        match self.blank_stretches(0.0, range).first() {
            Some((from, to)) if *from == 0.0 => (*to < range).then_some(*to),
            _ => Some(0.0),
        }
    }

    /// Outlines that together cover all that the lens does not see within a fan on the plan and a range.
    pub(super) fn blanks(&self, at: Point, facing: f64, fan: f64, range: f64) -> Vec<Ring> {
        let far = range * (1.0 + BEYOND) + 1.0;
        if self.tiers.is_empty() && !self.is_tilted() {
            return Vec::new();
        }
        if self.is_tilted() {
            return self.curved_blanks(at, facing, far);
        }
        let width = if fan >= TAU { TAU } else { (fan + 2.0 * BEYOND).min(TAU) };
        let stretches = self.blank_stretches(0.0, far);
        stretches.into_iter().map(|(from, to)| fan_between(at, facing, width, from, to)).collect()
    }

    /// The same all round a tilted lens, each curve cut so fine that no chord stands off it by more than the tolerance
    /// of arcs.
    fn curved_blanks(&self, at: Point, facing: f64, far: f64) -> Vec<Ring> {
        let mut blanks = Blanks { lens: self, far, at, facing, open: Vec::new(), done: Vec::new() };
        let direction = |step: usize| -PI + TAU * step as f64 / STEPS as f64;
        let mut from = (direction(0), self.blank_stretches(direction(0), far));
        blanks.begin(&from);
        for step in 1..=STEPS {
            let to = (direction(step), self.blank_stretches(direction(step), far));
            blanks.carry_on(&from, &to);
            from = to;
        }
        blanks.end();
        blanks.done
    }
}

/// What is blank along one direction.
type Spoke = (f64, Vec<(f64, f64)>);

/// Blanks while they are drawn from one direction to the next.
struct Blanks<'a> {
    lens: &'a Lens,
    far: f64,
    at: Point,
    facing: f64,
    /// The inner and the outer edge of each blank so far.
    open: Vec<(Vec<Point>, Vec<Point>)>,
    done: Vec<Ring>,
}

impl Blanks<'_> {
    fn point(&self, direction: f64, distance: f64) -> Point {
        self.at + unit_vector(self.facing + direction) * distance
    }

    fn begin(&mut self, spoke: &Spoke) {
        let ends =
            |(from, to): &(f64, f64)| (vec![self.point(spoke.0, *from)], vec![self.point(spoke.0, *to)]);
        self.open = spoke.1.iter().map(ends).collect();
    }

    fn end(&mut self) {
        for (inner, mut outer) in std::mem::take(&mut self.open) {
            outer.extend(inner.into_iter().rev());
            outer.dedup();
            if outer.len() >= 3 {
                self.done.push(Ring::new(outer));
            }
        }
    }

    fn carry_on(&mut self, from: &Spoke, to: &Spoke) {
        let middle = f64::midpoint(from.0, to.0);
        let same = from.1.len() == to.1.len();
        if to.0 - from.0 < SAME_DIRECTION {
            if !same {
                self.end();
                self.begin(to);
                return;
            }
        } else {
            let between = (middle, self.lens.blank_stretches(middle, self.far));
            if !(same && self.is_fine(from, &between, to)) {
                self.carry_on(from, &between);
                self.carry_on(&between, to);
                return;
            }
        }
        for index in 0..to.1.len() {
            let ends = (self.point(to.0, to.1[index].0), self.point(to.0, to.1[index].1));
            self.open[index].0.push(ends.0);
            self.open[index].1.push(ends.1);
        }
    }

    /// Whether straight lines from one direction to the other keep the tolerance.
    fn is_fine(&self, from: &Spoke, between: &Spoke, to: &Spoke) -> bool {
        let keeps = |a: f64, b: f64, c: f64| {
            // Along the far edge nothing has to be exact.
            if a.min(b).min(c) >= self.far {
                return true;
            }
            let (a, b, c) = (self.point(from.0, a), self.point(between.0, b), self.point(to.0, c));
            off_chord(a, b, c) <= ARC_TOLERANCE / 2.0
        };
        between.1.len() == from.1.len()
            && (0..to.1.len()).all(|index| {
                let (a, b, c) = (from.1[index], between.1[index], to.1[index]);
                keeps(a.0, b.0, c.0) && keeps(a.1, b.1, c.1)
            })
    }
}

/// How far a point lies from the line between two others, or from the first where they are one.
fn off_chord(a: Point, b: Point, c: Point) -> f64 {
    let chord: Vec2 = c - a;
    let length = chord.hypot();
    if length > 0.0 { (chord.cross(b - a) / length).abs() } else { a.distance(b) }
}
