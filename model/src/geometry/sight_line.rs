//! Whether two points see each other.

use kurbo::Point;

use super::mesh::{Across, next, previous};
use super::numbers::{cross_with_certain_sign, snap_to_grid};
use super::visibility::Scene;

/// Both ends of a sight line are drawn in by this much, so that walls at the ends do not count: 10⁻³ mm.
const DRAW_IN: f64 = 1.0e-3;

impl Scene {
    /// Whether no wall lies between two points.
    ///
    /// Walls at the ends themselves do not count (within 10⁻³ mm), and a view may pass through the very end
    /// of a wall or run along it, but not between two walls that share a point. A point outside the
    /// scene's rectangle or not finite neither sees nor is seen. Points nearer than 2 × 10⁻³ mm see each
    /// other. Walks through the triangles along the line, so it costs about as much as it passes.
    pub fn sees(&self, a: Point, b: Point) -> bool {
        if !(a.is_finite()
            && b.is_finite()
            && self.mesh().locate(a).is_some()
            && self.mesh().locate(b).is_some())
        {
            return false;
        }
        let distance = a.distance(b);
        if distance <= 2.0 * DRAW_IN {
            return true;
        }
        let inward = (b - a) * (DRAW_IN / distance);
        self.line_is_free(snap_to_grid(a + inward), snap_to_grid(b - inward))
    }

    fn line_is_free(&self, from: Point, to: Point) -> bool {
        let mesh = self.mesh();
        let ray = to - from;
        let Some(start) = mesh.locate(from) else { return false };
        // Half-edges to look through; where the line passes exactly through a corner, both ways round it.
        let mut waiting: Vec<u32> = Vec::with_capacity(8);
        let mut passed: Vec<u32> = Vec::new();
        let mut starts = vec![start];
        for half in 3 * start..3 * start + 3 {
            if mesh.side(half, from) == 0.0 {
                // On an edge: the other triangle holds the start as well, wall or not.
                starts.extend(mesh.other_triangle(half));
            }
        }
        for triangle in starts {
            let sides = 3 * triangle..3 * triangle + 3;
            if sides.clone().all(|half| mesh.side(half, to) >= 0.0) {
                return true;
            }
            for half in sides {
                let (a, b) = (mesh.seen_origin(half, from), mesh.seen_origin(next(half), from));
                let ahead = cross_with_certain_sign(a, ray) >= 0.0 && cross_with_certain_sign(ray, b) >= 0.0;
                if ahead && mesh.side(half, from) > 0.0 {
                    waiting.push(half);
                }
            }
        }
        let most = 64 + 4 * mesh.triangle_count();
        for _ in 0..most {
            let Some(half) = waiting.pop() else { return false };
            if mesh.side(half, to) >= 0.0 {
                return true;
            }
            let Across::Open(beyond) = mesh.across(half) else { continue };
            let (right_side, left_side) = (next(beyond), previous(beyond));
            let turn = cross_with_certain_sign(ray, mesh.seen_origin(left_side, from));
            if turn == 0.0 {
                for side in [left_side, right_side] {
                    if !passed.contains(&side) {
                        passed.push(side);
                        waiting.push(side);
                    }
                }
            } else {
                // An apex to the left leaves the way open on its right.
                waiting.push(if turn > 0.0 { right_side } else { left_side });
            }
        }
        false
    }
}
