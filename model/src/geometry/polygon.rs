//! A simple closed ring of points.

use kurbo::{BezPath, Point, Rect};

use super::segment::Segment;

/// A closed ring of straight edges, in millimetres; the first point is not repeated at the end.
///
/// Anticlockwise as an outline, clockwise as a hole. Rings are meant to be simple (no edge crosses
/// another); functions that need this say so. Fewer than three points enclose nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    points: Vec<Point>,
}

impl Ring {
    /// The ring through these points. A last point equal to the first is dropped.
    pub fn new(mut points: Vec<Point>) -> Self {
        while points.len() > 1 && points.last() == points.first() {
            points.pop();
        }
        Self { points }
    }

    /// The anticlockwise outline of a rectangle.
    pub fn from_rect(rect: Rect) -> Self {
        let rect = rect.abs();
        Self::new(vec![
            Point::new(rect.x0, rect.y0),
            Point::new(rect.x1, rect.y0),
            Point::new(rect.x1, rect.y1),
            Point::new(rect.x0, rect.y1),
        ])
    }

    /// The corners in order.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// The corners, handed over.
    pub fn into_points(self) -> Vec<Point> {
        self.points
    }

    /// How many corners.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// No corners at all.
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// Every coordinate is a finite number.
    pub fn is_finite(&self) -> bool {
        self.points.iter().all(|point| point.is_finite())
    }

    /// The edges in order, closing edge last. A ring of one point has one edge without length.
    pub fn edges(&self) -> impl Iterator<Item = Segment> + '_ {
        let following = self.points.iter().cycle().skip(1);
        self.points.iter().zip(following).map(|(a, b)| Segment::new(*a, *b))
    }

    /// Area in mm²: positive anticlockwise, negative clockwise, 0 below three points.
    ///
    /// The shoelace formula taken from the first corner, which keeps the rounding error near
    /// 10⁻¹⁶ × (extent)² × corners however far from the origin the ring lies.
    pub fn signed_area(&self) -> f64 {
        let Some(origin) = self.points.first() else { return 0.0 };
        let pairs = self.points.windows(2).map(|pair| (pair[0] - *origin).cross(pair[1] - *origin));
        0.5 * pairs.sum::<f64>()
    }

    /// Area in mm², never negative.
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Length of the outline in millimetres, closing edge included.
    pub fn perimeter(&self) -> f64 {
        self.edges().map(|edge| edge.length()).sum()
    }

    /// Centre of area. A ring without area gives the mean of its corners; an empty ring gives `None`.
    pub fn centroid(&self) -> Option<Point> {
        let origin = *self.points.first()?;
        let mut doubled = 0.0;
        let mut moment = kurbo::Vec2::ZERO;
        for pair in self.points.windows(2) {
            let (a, b) = (pair[0] - origin, pair[1] - origin);
            let cross = a.cross(b);
            doubled += cross;
            moment += (a + b) * cross;
        }
        let centre = origin + moment / (3.0 * doubled);
        if doubled != 0.0 && centre.is_finite() {
            return Some(centre);
        }
        let sum: kurbo::Vec2 =
            self.points.iter().fold(kurbo::Vec2::ZERO, |sum, point| sum + (*point - origin));
        Some(origin + sum / self.points.len() as f64)
    }

    /// Whether the point is inside (even-odd crossing count, M. Shimrat, "Algorithm 112", 1962).
    ///
    /// A point exactly on the outline may be counted either way, consistently for neighbouring rings that
    /// share the edge: it belongs to one of them.
    pub fn contains(&self, point: Point) -> bool {
        let mut inside = false;
        for edge in self.edges() {
            let (a, b) = (edge.a, edge.b);
            if (a.y > point.y) != (b.y > point.y) {
                let (low, high) = if a.y < b.y { (a, b) } else { (b, a) };
                if (high - low).cross(point - low) > 0.0 {
                    inside = !inside;
                }
            }
        }
        inside
    }

    /// The smallest rectangle holding the ring; `None` when empty.
    pub fn bounds(&self) -> Option<Rect> {
        let first = *self.points.first()?;
        let start = Rect::from_points(first, first);
        Some(self.points.iter().fold(start, |rect, point| rect.union_pt(*point)))
    }

    /// Distance from the outline, millimetres; infinite for an empty ring.
    pub fn distance_to_outline(&self, point: Point) -> f64 {
        self.edges().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }

    /// The longest edge, the first of them where several are equal; `None` when empty.
    pub fn longest_edge(&self) -> Option<Segment> {
        self.edges().reduce(|best, edge| if edge.length() > best.length() { edge } else { best })
    }

    /// The same outline the other way round.
    pub fn reversed(&self) -> Ring {
        Ring { points: self.points.iter().rev().copied().collect() }
    }

    /// The same outline running anticlockwise.
    pub fn anticlockwise(self) -> Ring {
        if self.signed_area() < 0.0 { self.reversed() } else { self }
    }

    /// The same outline running clockwise.
    pub fn clockwise(self) -> Ring {
        if self.signed_area() > 0.0 { self.reversed() } else { self }
    }

    /// A closed path of straight lines; empty for an empty ring.
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        self.append_to(&mut path);
        path
    }

    /// Appends the ring to a path as one more closed subpath.
    pub fn append_to(&self, path: &mut BezPath) {
        for (index, point) in self.points.iter().enumerate() {
            if index == 0 { path.move_to(*point) } else { path.line_to(*point) }
        }
        if !self.points.is_empty() {
            path.close_path();
        }
    }

    /// Without corners that lie on the straight line between their neighbours, and without repeated ones.
    ///
    /// A corner goes when it is at most `tolerance` millimetres from the chord that replaces it. Each
    /// removal is judged against the corners still kept, one pass forward, so that the outline moves by at
    /// most a few times the tolerance. Spikes (a corner where the outline turns back on itself) go too.
    pub fn without_collinear_points(&self, tolerance: f64) -> Ring {
        let mut kept: Vec<Point> = Vec::with_capacity(self.points.len());
        let needless = |before: Point, corner: Point, after: Point| {
            let chord = Segment::new(before, after);
            match chord.direction() {
                Some(direction) => direction.cross(corner - before).abs() <= tolerance,
                None => true,
            }
        };
        for point in &self.points {
            while kept.len() >= 2 && needless(kept[kept.len() - 2], kept[kept.len() - 1], *point) {
                kept.pop();
            }
            if kept.last().is_none_or(|last| last.distance(*point) > tolerance) {
                kept.push(*point);
            }
        }
        // The seam between the last and the first corner.
        let mut first = 0;
        while kept.len() - first >= 3 {
            let last = kept.len() - 1;
            if needless(kept[last - 1], kept[last], kept[first]) {
                kept.pop();
            } else if needless(kept[last], kept[first], kept[first + 1]) {
                first += 1;
            } else {
                break;
            }
        }
        kept.drain(..first);
        Ring { points: kept }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Ring {
        Ring::new(points.iter().map(|(x, y)| Point::new(*x, *y)).collect())
    }

    /// An L of three 2 m squares.
    fn l_shape() -> Ring {
        ring(&[(0., 0.), (4000., 0.), (4000., 2000.), (2000., 2000.), (2000., 4000.), (0., 4000.)])
    }

    #[test]
    fn an_l_shaped_room() {
        let room = l_shape();
        assert_eq!(room.signed_area(), 12.0e6);
        assert_eq!(room.reversed().signed_area(), -12.0e6);
        assert_eq!(room.perimeter(), 16000.0);
        let centre = room.centroid().expect("has area");
        assert!((centre.x - 5000.0 / 3.0).abs() < 1e-9 && (centre.y - 5000.0 / 3.0).abs() < 1e-9);
        assert!(room.contains(Point::new(1000.0, 3000.0)));
        assert!(!room.contains(Point::new(3000.0, 3000.0)));
        assert_eq!(room.bounds(), Some(Rect::new(0.0, 0.0, 4000.0, 4000.0)));
        assert_eq!(room.longest_edge().map(|edge| edge.length()), Some(4000.0));
        assert_eq!(room.distance_to_outline(Point::new(1000.0, 1500.0)), 1000.0);
    }

    #[test]
    fn degenerate_rings_have_no_area() {
        assert_eq!(Ring::default().signed_area(), 0.0);
        assert_eq!(Ring::default().centroid(), None);
        assert_eq!(Ring::default().bounds(), None);
        let line = ring(&[(0., 0.), (10., 0.)]);
        assert_eq!(line.area(), 0.0);
        assert_eq!(line.centroid(), Some(Point::new(5.0, 0.0)));
        assert_eq!(Ring::default().without_collinear_points(1e-6), Ring::default());
    }

    #[test]
    fn closing_points_and_collinear_points_go() {
        let square = ring(&[(0., 0.), (5., 0.), (10., 0.), (10., 10.), (0., 10.), (0., 4.), (0., 0.)]);
        assert_eq!(square.len(), 6);
        let plain = square.without_collinear_points(1e-6);
        assert_eq!(plain, ring(&[(0., 0.), (10., 0.), (10., 10.), (0., 10.)]));
        let seam = ring(&[(5., 0.), (10., 0.), (10., 10.), (0., 10.), (0., 0.)]);
        assert_eq!(seam.without_collinear_points(1e-6).area(), 100.0);
        assert_eq!(seam.without_collinear_points(1e-6).len(), 4);
    }

    #[test]
    fn paths_close() {
        let path = l_shape().to_path();
        assert_eq!(path.elements().len(), 7);
        assert!((kurbo::Shape::area(&path) - 12.0e6).abs() < 1e-6);
    }
}
