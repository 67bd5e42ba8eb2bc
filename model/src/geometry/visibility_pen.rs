//! Collects the outline of a visible area: points, arcs, cut at the range circle.

use kurbo::{Point, Vec2};

use super::numbers::cross_with_certain_sign;
use super::sector::arc_step;

/// Corners nearer than this to the one before are left out, and corners nearer than this to the line
/// between their neighbours: 10⁻⁶ mm.
const SAME_POINT: f64 = 1.0e-6;

/// Draws the outline as seen from the eye, anticlockwise. Everything is relative to the eye.
pub(crate) struct Pen {
    range: f64,
    corners: Vec<Vec2>,
    /// Start direction and end direction of an arc not written yet, and its angle so far.
    arc: Option<(Vec2, Vec2, f64)>,
    /// The first corner must stay, being the eye.
    starts_at_eye: bool,
}

impl Pen {
    pub(crate) fn new(range: f64, starts_at_eye: bool) -> Self {
        let mut corners = Vec::with_capacity(64);
        if starts_at_eye {
            corners.push(Vec2::ZERO);
        }
        Self { range, corners, arc: None, starts_at_eye }
    }

    /// The piece of the wall from `a` to `b` between two directions: what is seen of it, and the range
    /// circle where the wall is farther off.
    pub(crate) fn wall(&mut self, right: Vec2, left: Vec2, a: Vec2, b: Vec2) {
        let from = hit(right, a, b);
        let to = hit(left, a, b);
        let square = self.range * self.range;
        let (from_near, to_near) = (from.hypot2() <= square, to.hypot2() <= square);
        if from_near && to_near {
            self.corner(from);
            self.corner(to);
            return;
        }
        // Where |from + t (to - from)| = range.
        let along = to - from;
        let (qa, qb, qc) = (along.hypot2(), from.dot(along), from.hypot2() - square);
        let discriminant = qb * qb - qa * qc;
        if discriminant <= 0.0 || qa <= 0.0 {
            self.arc(right, left);
            return;
        }
        let root = discriminant.sqrt();
        let (enter, leave) = ((-qb - root) / qa, (-qb + root) / qa);
        if !(from_near || enter > 0.0 && enter < 1.0) {
            self.arc(right, left);
            return;
        }
        if from_near {
            self.corner(from);
        } else {
            let circle = from + along * enter;
            self.arc(right, circle);
            self.corner(circle);
        }
        if to_near {
            self.corner(to);
        } else {
            let circle = from + along * leave.clamp(0.0, 1.0);
            self.corner(circle);
            self.arc(circle, left);
        }
    }

    /// Whether an edge lies beyond the range altogether.
    pub(crate) fn is_out_of_range(&self, a: Vec2, b: Vec2) -> bool {
        let along = b - a;
        let t = (-a.dot(along) / along.hypot2()).clamp(0.0, 1.0);
        (a + along * t).hypot2() >= self.range * self.range
    }

    /// The range circle between two directions, of any length, less than a turn apart.
    pub(crate) fn arc(&mut self, right: Vec2, left: Vec2) {
        let angle = right.cross(left).atan2(right.dot(left)).max(0.0);
        if let Some((_, end, total)) = &mut self.arc {
            let gap = end.cross(right).abs() / (end.hypot() * right.hypot());
            if gap * self.range <= SAME_POINT {
                *end = left;
                *total += angle;
                return;
            }
            self.flush();
        }
        self.arc = Some((right, left, angle));
    }

    /// Writes the waiting arc: chords at most 0.25 mm from the circle, equal to each other.
    fn flush(&mut self) {
        let Some((right, left, angle)) = self.arc.take() else { return };
        let (radius_right, radius_left) = (right.hypot(), left.hypot());
        if radius_right == 0.0 || radius_left == 0.0 {
            return;
        }
        let steps = (angle / arc_step(self.range)).ceil().max(1.0);
        let (sine, cosine) = (angle / steps).sin_cos();
        let mut spoke = right * (self.range / radius_right);
        self.push(spoke);
        for _ in 1..steps as usize {
            spoke = Vec2::new(spoke.x * cosine - spoke.y * sine, spoke.x * sine + spoke.y * cosine);
            self.push(spoke);
        }
        self.push(left * (self.range / radius_left));
    }

    fn corner(&mut self, corner: Vec2) {
        self.flush();
        self.push(corner);
    }

    fn push(&mut self, corner: Vec2) {
        let kept_at_start = usize::from(self.starts_at_eye);
        while let Some(last) = self.corners.last() {
            if self.corners.len() > kept_at_start && same(*last, corner) {
                return;
            }
            if self.corners.len() >= 2 + kept_at_start
                && on_the_way(self.corners[self.corners.len() - 2], *last, corner)
            {
                self.corners.pop();
            } else {
                break;
            }
        }
        self.corners.push(corner);
    }

    /// The finished corners in the plane. Fewer than three visible corners come back as none.
    pub(crate) fn finish(mut self, eye: Point) -> Vec<Point> {
        self.flush();
        let corners = &mut self.corners;
        if !self.starts_at_eye {
            while corners.len() > 3 {
                let (first, last) = (corners[0], corners[corners.len() - 1]);
                let before = corners[corners.len() - 2];
                if same(first, last) || on_the_way(before, last, first) {
                    corners.pop();
                } else if on_the_way(last, first, corners[1]) {
                    corners.remove(0);
                } else {
                    break;
                }
            }
        }
        if corners.len() < 3 {
            return Vec::new();
        }
        corners.iter().map(|corner| eye + *corner).collect()
    }
}

fn same(a: Vec2, b: Vec2) -> bool {
    (a - b).hypot2() <= SAME_POINT * SAME_POINT
}

/// The middle corner lies on the way from one to the other, not turning back.
fn on_the_way(from: Vec2, middle: Vec2, to: Vec2) -> bool {
    let (chord, part) = (to - from, middle - from);
    let cross = chord.cross(part);
    cross * cross <= SAME_POINT * SAME_POINT * chord.hypot2()
        && chord.dot(part) >= 0.0
        && chord.dot(to - middle) >= 0.0
}

/// Where the ray meets the line through `a` and `b`; the end itself when the ray goes through it.
///
/// A ray (nearly) along the line, which only a cone of (nearly) no width can have, gives the nearer end.
#[inline]
fn hit(ray: Vec2, a: Vec2, b: Vec2) -> Vec2 {
    if ray == a {
        return a;
    }
    if ray == b {
        return b;
    }
    let along = b - a;
    let t = cross_with_certain_sign(a, ray) / cross_with_certain_sign(ray, along);
    if t.is_finite() {
        a + along * t.clamp(0.0, 1.0)
    } else if a.hypot2() <= b.hypot2() {
        a
    } else {
        b
    }
}
