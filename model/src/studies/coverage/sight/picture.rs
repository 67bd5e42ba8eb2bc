//! What a camera's picture does not show, on the plan at the height of the target.
//!
//! A picture is a pyramid: two planes through the eye bound it aside, two above and below. Tilted down it meets the
//! plane of the target in a trapezium, narrow near the camera; what lies outside is taken off half plane by half
//! plane, exactly. A view so wide that no flat picture has it is treated as a lens with layers instead.

use std::f64::consts::FRAC_PI_2;

use kurbo::Vec2;

use crate::geometry::Ring;
use crate::geometry::numbers::unit_vector;
use crate::kit::Tier;

use super::eye::Eye;
use super::shadow::clipped;

/// A pyramid of view.
#[derive(Clone, Debug)]
pub(super) struct Picture {
    tilt: f64,
    half_view: f64,
    /// Angles below the axis between which it shows something, from the top down; empty where it shows every height.
    tiers: Vec<(f64, f64)>,
    /// How far the target lies below the eye, mm.
    drop: f64,
}

/// A half plane in the camera's own directions on the plan, ahead and to the left: where the component along the normal
/// is at most the limit.
#[derive(Clone, Copy)]
struct Side {
    normal: Vec2,
    limit: f64,
}

impl Picture {
    pub(super) fn new(tilt: f64, tiers: &[Tier], view: f64, drop: f64) -> Self {
        let mut tiers: Vec<(f64, f64)> =
            tiers.iter().map(|tier| (tier.from.as_radians(), tier.to.as_radians())).collect();
        tiers.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { tilt, half_view: view / 2.0, tiers, drop }
    }

    /// Whether its sides on the plan differ from those of the fan it has level.
    pub(super) fn is_tilted(&self) -> bool {
        self.tilt != 0.0
    }

    /// How far ahead of its foot the picture begins to show the target, mm: h / tan(tilt + half the view) for a drop h.
    /// `None` where it never does.
    pub(super) fn blind_strip(&self, range: f64) -> Option<f64> {
        let strips = self.gaps();
        let ahead = |distance: f64| Vec2::new(distance, 0.0);
        let hidden = |distance: f64| {
            strips.iter().any(|sides| sides.iter().all(|side| side.normal.dot(ahead(distance)) < side.limit))
        };
        let edges = strips.iter().flatten().map(|side| side.limit / side.normal.x);
        let mut edges: Vec<f64> = edges
            .filter(|edge| edge.is_finite() && *edge > 0.0 && *edge < range)
            .chain([0.0, range])
            .collect();
        edges.sort_by(f64::total_cmp);
        let first = edges.windows(2).find(|pair| !hidden(f64::midpoint(pair[0], pair[1])));
        first.map(|pair| pair[0])
    }

    /// Along the axis, and below it, as sums of what lies ahead on the plan and a fixed part.
    fn along_and_below(&self) -> ((f64, f64), (f64, f64)) {
        let (sine, cosine) = self.tilt.sin_cos();
        ((cosine, self.drop * sine), (-sine, self.drop * cosine))
    }

    /// The side of the plane at an angle below the axis on which things are above it; its reverse is below it.
    fn above(&self, angle: f64) -> Side {
        let (along, below) = self.along_and_below();
        let (sine, cosine) = angle.sin_cos();
        // below · cos ≤ along · sin, both being sums of a part ahead and a fixed one.
        Side {
            normal: Vec2::new(below.0 * cosine - along.0 * sine, 0.0),
            limit: along.1 * sine - below.1 * cosine,
        }
    }

    /// What it does not show at the height of the target: behind it, and above, between and below its layers.
    fn gaps(&self) -> Vec<Vec<Side>> {
        let (along, _) = self.along_and_below();
        let behind = Side { normal: Vec2::new(along.0, 0.0), limit: -along.1 };
        let mut gaps = vec![vec![behind]];
        let mut from = -FRAC_PI_2;
        for (upper, lower) in self.tiers.iter().copied().chain([(FRAC_PI_2, FRAC_PI_2)]) {
            if self.tiers.is_empty() || upper <= from {
                from = from.max(lower);
                continue;
            }
            let mut gap = vec![behind.reversed()];
            if from > -FRAC_PI_2 {
                gap.push(self.above(from).reversed());
            }
            if upper < FRAC_PI_2 {
                gap.push(self.above(upper));
            }
            gaps.push(gap);
            from = from.max(lower);
        }
        gaps
    }

    /// Outlines that together cover all that the picture does not show within a range.
    pub(super) fn blanks(&self, eye: &Eye, range: f64) -> Vec<Ring> {
        let mut gaps = self.gaps();
        if self.is_tilted() {
            let (along, _) = self.along_and_below();
            let (sine, cosine) = self.half_view.sin_cos();
            for hand in [1.0, -1.0] {
                // Outside: along · sin ≤ aside · cos.
                let normal = Vec2::new(along.0 * sine, -hand * cosine);
                gaps.push(vec![Side { normal, limit: -along.1 * sine }]);
            }
        } else {
            // The fan itself ends at the camera and at its sides.
            gaps.remove(0);
        }
        let ahead = unit_vector(eye.facing);
        let left = Vec2::new(-ahead.y, ahead.x);
        let far = 1.01 * range + 1.0;
        let square = [(-far, -far), (far, -far), (far, far), (-far, far)].map(|(x, y)| Vec2::new(x, y));
        let ring = |sides: Vec<Side>| {
            let kept = sides.iter().fold(square.to_vec(), |kept, side| side.keep(&kept));
            let corners = kept.iter().map(|corner| eye.at + ahead * corner.x + left * corner.y);
            (kept.len() >= 3).then(|| Ring::new(corners.collect()))
        };
        gaps.into_iter().filter_map(ring).collect()
    }
}

impl Side {
    fn reversed(self) -> Self {
        Self { normal: -self.normal, limit: -self.limit }
    }

    fn keep(&self, corners: &[Vec2]) -> Vec<Vec2> {
        let length = self.normal.hypot();
        if length < 1e-12 {
            // The same everywhere: all of it or nothing.
            return if self.limit >= 0.0 { corners.to_vec() } else { Vec::new() };
        }
        clipped(corners, self.normal / length, self.limit / length)
    }
}
