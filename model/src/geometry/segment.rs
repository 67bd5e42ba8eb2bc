//! A straight piece between two points.

use kurbo::{Point, Vec2};

use super::numbers::cross_with_certain_sign;

/// A straight piece from `a` to `b`, in millimetres. May be degenerate (`a == b`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Start.
    pub a: Point,
    /// End.
    pub b: Point,
}

/// The point of a segment nearest to another point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NearestPoint {
    /// The nearest point itself.
    pub point: Point,
    /// Where it lies: 0 at `a`, 1 at `b`. Always from 0 to 1; 0 for a degenerate segment.
    pub t: f64,
    /// Distance between the two points, millimetres.
    pub distance: f64,
}

/// Where two segments meet in one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentIntersection {
    /// The common point.
    pub point: Point,
    /// Where it lies along the first segment, 0 to 1.
    pub t: f64,
    /// Where it lies along the second segment, 0 to 1.
    pub u: f64,
}

impl Segment {
    /// The segment from `a` to `b`.
    pub const fn new(a: Point, b: Point) -> Self {
        Self { a, b }
    }

    /// `b - a`, millimetres.
    pub fn vector(&self) -> Vec2 {
        self.b - self.a
    }

    /// Length in millimetres.
    pub fn length(&self) -> f64 {
        self.vector().hypot()
    }

    /// Unit vector from `a` to `b`; `None` for a segment without length or with non-finite ends.
    pub fn direction(&self) -> Option<Vec2> {
        let vector = self.vector();
        let length = vector.hypot();
        (length > 0.0 && length.is_finite()).then(|| vector / length)
    }

    /// The point at parameter `t`: `a` at 0, `b` at 1, beyond the ends outside that.
    pub fn point_at(&self, t: f64) -> Point {
        self.a + self.vector() * t
    }

    /// The middle.
    pub fn midpoint(&self) -> Point {
        self.a.midpoint(self.b)
    }

    /// The nearest point of the segment, ends included.
    pub fn nearest(&self, point: Point) -> NearestPoint {
        let vector = self.vector();
        let square = vector.hypot2();
        let t = if square > 0.0 { ((point - self.a).dot(vector) / square).clamp(0.0, 1.0) } else { 0.0 };
        let nearest = if t == 1.0 { self.b } else { self.point_at(t) };
        NearestPoint { point: nearest, t, distance: nearest.distance(point) }
    }

    /// Distance from the nearest point of the segment, millimetres.
    pub fn distance_to(&self, point: Point) -> f64 {
        self.nearest(point).distance
    }

    /// The one point the two segments share.
    ///
    /// Touching ends count. `None` when they do not meet, when they are parallel (also where they overlap,
    /// having more than one common point) and when either is degenerate. Whether they meet is decided with
    /// certain signs for coordinates on the visibility grid; the point itself carries ordinary rounding.
    pub fn intersection(&self, other: &Segment) -> Option<SegmentIntersection> {
        let (mine, theirs) = (self.vector(), other.vector());
        let cross = cross_with_certain_sign(mine, theirs);
        if cross == 0.0 || !cross.is_finite() {
            return None;
        }
        let between = other.a - self.a;
        let (along, across) =
            (cross_with_certain_sign(between, theirs), cross_with_certain_sign(between, mine));
        let inside =
            |value: f64| value == 0.0 || (value.signum() == cross.signum() && value.abs() <= cross.abs());
        if !(inside(along) && inside(across)) {
            return None;
        }
        let (t, u) = ((along / cross).clamp(0.0, 1.0), (across / cross).clamp(0.0, 1.0));
        Some(SegmentIntersection { point: self.point_at(t), t, u })
    }

    /// Moved by a vector.
    pub fn translate(&self, by: Vec2) -> Segment {
        Segment::new(self.a + by, self.b + by)
    }

    /// The other way round.
    pub fn reversed(&self) -> Segment {
        Segment::new(self.b, self.a)
    }

    /// The parallel segment `distance` millimetres to the left, looking from `a` to `b`; negative is right.
    /// A degenerate segment comes back as it is.
    pub fn offset_left(&self, distance: f64) -> Segment {
        match self.direction() {
            Some(direction) => self.translate(Vec2::new(-direction.y, direction.x) * distance),
            None => *self,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn segment(ax: f64, ay: f64, bx: f64, by: f64) -> Segment {
        Segment::new(Point::new(ax, ay), Point::new(bx, by))
    }

    #[test]
    fn a_three_four_five_segment() {
        let s = segment(0.0, 0.0, 300.0, 400.0);
        assert_eq!(s.length(), 500.0);
        assert_eq!(s.direction(), Some(Vec2::new(0.6, 0.8)));
        assert_eq!(s.midpoint(), Point::new(150.0, 200.0));
    }

    #[test]
    fn nearest_inside_and_past_the_end() {
        let s = segment(0.0, 0.0, 10.0, 0.0);
        let near = s.nearest(Point::new(4.0, 3.0));
        assert_eq!((near.point, near.t, near.distance), (Point::new(4.0, 0.0), 0.4, 3.0));
        assert_eq!(s.nearest(Point::new(13.0, 4.0)).distance, 5.0);
        assert_eq!(segment(1.0, 1.0, 1.0, 1.0).distance_to(Point::new(4.0, 5.0)), 5.0);
    }

    #[test]
    fn crossings_touches_and_misses() {
        let s = segment(0.0, 0.0, 10.0, 0.0);
        let hit = s.intersection(&segment(4.0, -5.0, 4.0, 5.0)).expect("crosses");
        assert_eq!((hit.point, hit.t, hit.u), (Point::new(4.0, 0.0), 0.4, 0.5));
        assert!(s.intersection(&segment(10.0, 0.0, 12.0, 9.0)).is_some());
        assert!(s.intersection(&segment(11.0, -1.0, 11.0, 1.0)).is_none());
        assert!(s.intersection(&segment(2.0, 0.0, 5.0, 0.0)).is_none());
        assert!(s.intersection(&segment(2.0, 1.0, 5.0, 1.0)).is_none());
        assert!(s.intersection(&segment(2.0, 0.0, 2.0, 0.0)).is_none());
    }

    #[test]
    fn left_is_up_when_going_right() {
        let s = segment(0.0, 0.0, 10.0, 0.0);
        assert_eq!(s.offset_left(2.0), segment(0.0, 2.0, 10.0, 2.0));
        assert_eq!(s.offset_left(-2.0), segment(0.0, -2.0, 10.0, -2.0));
        assert_eq!(segment(1.0, 1.0, 1.0, 1.0).direction(), None);
    }
}
