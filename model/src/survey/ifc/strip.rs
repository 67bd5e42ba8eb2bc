//! The narrowest rectangle around some points: how a wall without an axis lies.

use kurbo::{Point, Vec2};

/// How many edges of an outline are tried as the rectangle's direction; the longest come first.
const EDGES_TRIED: usize = 200;

/// A rectangle by its middle line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strip {
    /// One end of the middle line.
    pub(super) start: Point,
    /// The other end.
    pub(super) end: Point,
    /// Across, mm.
    pub(super) thickness: f64,
}

impl Strip {
    /// Its area, mm².
    pub(super) fn area(&self) -> f64 {
        (self.end - self.start).hypot() * self.thickness
    }
}

/// From where to where points reach along a direction.
pub(super) fn reach(points: &[Point], from: Point, along: Vec2) -> (f64, f64) {
    points
        .iter()
        .map(|point| (*point - from).dot(along))
        .fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)))
}

/// The rectangle of least area around the points, its middle line along the longer side. `None` where the points
/// lie on a line.
pub(super) fn narrowest_strip(points: &[Point]) -> Option<Strip> {
    let hull = hull(points);
    let mut edges: Vec<Vec2> =
        hull.iter().zip(hull.iter().cycle().skip(1)).map(|(from, to)| *to - *from).collect();
    edges.sort_by(|a, b| b.hypot2().total_cmp(&a.hypot2()));
    let mut best: Option<Strip> = None;
    for edge in edges.into_iter().take(EDGES_TRIED).filter(|edge| edge.hypot() > 1e-6) {
        let mut along = edge / edge.hypot();
        let from = *hull.first()?;
        let across = Vec2::new(-along.y, along.x);
        let (mut low, mut high) = reach(&hull, from, along);
        let (mut near, mut far) = reach(&hull, from, across);
        let mut sideways = across;
        if far - near > high - low {
            (along, sideways) = (across, -along);
            (low, high, near, far) = (near, far, -high, -low);
        }
        let middle = from + sideways * ((near + far) / 2.0);
        let strip = Strip { start: middle + along * low, end: middle + along * high, thickness: far - near };
        if best.is_none_or(|best| strip.area() < best.area() - 1e-6) {
            best = Some(strip);
        }
    }
    best.filter(|strip| strip.thickness > 1e-6 && strip.area().is_finite())
}

/// The outline of all points, anticlockwise (A. M. Andrew, "Another efficient algorithm for convex hulls in two
/// dimensions", 1979).
fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted: Vec<Point> = points.iter().copied().filter(|point| point.is_finite()).collect();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let mut outline: Vec<Point> = Vec::new();
    for pass in 0..2 {
        let kept = outline.len();
        for point in &sorted {
            while outline.len() >= kept + 2 {
                let (before, last) = (outline[outline.len() - 2], outline[outline.len() - 1]);
                if (last - before).cross(*point - before) > 0.0 {
                    break;
                }
                outline.pop();
            }
            outline.push(*point);
        }
        outline.pop();
        if pass == 0 {
            sorted.reverse();
        }
    }
    outline
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turned_wall_lies_along_its_longer_side() {
        let turn = kurbo::Affine::rotate(0.3);
        let corners = [(0.0, 0.0), (3000.0, 0.0), (3000.0, 150.0), (0.0, 150.0), (1500.0, 75.0)];
        let points: Vec<Point> = corners.iter().map(|(x, y)| turn * Point::new(*x, *y)).collect();
        let strip = narrowest_strip(&points).unwrap();
        assert!((strip.thickness - 150.0).abs() < 1e-9);
        let ends = [turn * Point::new(0.0, 75.0), turn * Point::new(3000.0, 75.0)];
        assert!(ends.iter().any(|end| end.distance(strip.start) < 1e-6));
        assert!(ends.iter().any(|end| end.distance(strip.end) < 1e-6));
    }

    #[test]
    fn points_on_a_line_give_no_strip() {
        assert_eq!(narrowest_strip(&[]), None);
        assert_eq!(narrowest_strip(&[Point::ORIGIN; 4]), None);
        let line: Vec<Point> = (0..5).map(|at| Point::new(f64::from(at), 0.0)).collect();
        assert_eq!(narrowest_strip(&line), None);
    }
}
