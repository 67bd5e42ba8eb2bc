//! Arcs: the swing of a door, found along a course of short chords.
//!
//! A run of chords that turn the same way is an arc where all its points lie at one distance from one centre.
//! The centre is where the hinges are.

use kurbo::{Point, Vec2};

use super::straight::corners_of;

/// Radii of door leaves, mm: a narrow half of a double door to the leaf of a garage or a pivot door.
const SMALLEST_RADIUS_MM: f64 = 250.0;
const LARGEST_RADIUS_MM: f64 = 1800.0;

/// A leaf is drawn open by an eighth of a turn at least and by half a turn at most, with room for rounding.
const SMALLEST_SWEEP: f64 = 0.6;
const LARGEST_SWEEP: f64 = 3.3;

/// Chords of an arc turn from one to the next by less than this, radians (about 46°).
const SHARPEST_TURN: f64 = 0.8;

/// How far points may lie off the circle, as a part of its radius.
const ROUNDNESS: f64 = 0.03;

/// An arc of a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Arc {
    /// Its centre, plan mm.
    pub centre: Point,
    /// Its radius, mm.
    pub radius: f64,
    /// Where it starts.
    pub start: Point,
    /// Where it ends.
    pub end: Point,
}

/// The arcs along a course of points.
pub(super) fn arcs_along(course: &[Point], noise: f64) -> Vec<Arc> {
    if noise > 0.0 {
        return arcs_among_pixels(course, noise);
    }
    let points = without_repeats(course);
    let mut arcs = Vec::new();
    let mut first = 0;
    while first + 3 < points.len() {
        let last = end_of_bend(&points, first);
        if last >= first + 3
            && let Some(arc) = arc_through(&points[first..=last])
        {
            arcs.push(arc);
        }
        first = last.max(first + 1);
    }
    arcs
}

/// The arcs along a course made of pixels: its sharp corners part it, and a circle is laid through the points
/// between two of them.
fn arcs_among_pixels(course: &[Point], noise: f64) -> Vec<Arc> {
    let bends = corners_of(course, 2.0 * noise);
    let is_sharp = |middle: usize| {
        let [a, b, c] = [middle - 1, middle, middle + 1].map(|bend| course[bends[bend]]);
        let (before, after) = (b - a, c - b);
        before.cross(after).atan2(before.dot(after)).abs() > SHARPEST_TURN
    };
    let mut parts: Vec<usize> = (1..bends.len().saturating_sub(1)).filter(|bend| is_sharp(*bend)).collect();
    parts.insert(0, 0);
    parts.push(bends.len().saturating_sub(1));
    let between = |pair: &[usize]| course.get(*bends.get(pair[0])?..=*bends.get(pair[1])?);
    parts.windows(2).filter_map(between).filter_map(|points| arc_of_best_fit(points, noise)).collect()
}

/// The arc of least squares through points (I. Kåsa, "A circle fitting procedure and its error analysis", 1976).
fn arc_of_best_fit(points: &[Point], noise: f64) -> Option<Arc> {
    let (start, end) = (*points.first()?, *points.last()?);
    if points.len() < 5 {
        return None;
    }
    let count = points.len() as f64;
    let mean = points.iter().fold(Vec2::ZERO, |sum, point| sum + point.to_vec2()) / count;
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for point in points {
        let off = point.to_vec2() - mean;
        let square = off.hypot2();
        (xx, xy, yy) = (xx + off.x * off.x, xy + off.x * off.y, yy + off.y * off.y);
        (xz, yz) = (xz + off.x * square, yz + off.y * square);
    }
    let determinant = 2.0 * (xx * yy - xy * xy);
    if determinant.abs() < 1e-6 {
        return None;
    }
    let offset = Vec2::new(xz * yy - yz * xy, yz * xx - xz * xy) / determinant;
    let centre = (mean + offset).to_point();
    let radius = (offset.hypot2() + (xx + yy) / count).sqrt();
    if !(SMALLEST_RADIUS_MM..=LARGEST_RADIUS_MM).contains(&radius) {
        return None;
    }
    let (a, b) = (start - centre, end - centre);
    let sweep = a.cross(b).atan2(a.dot(b)).abs();
    let off = |point: &Point| (point.distance(centre) - radius).abs();
    let round = points.iter().all(|point| off(point) <= ROUNDNESS * radius + 2.0 * noise);
    (round && (SMALLEST_SWEEP..=LARGEST_SWEEP).contains(&sweep)).then_some(Arc { centre, radius, start, end })
}

/// The points without those that repeat the one before.
fn without_repeats(course: &[Point]) -> Vec<Point> {
    let mut points = course.to_vec();
    points.dedup_by(|point, before| before.distance(*point) <= 1e-3);
    points
}

/// Index of the last point of the run of chords from `first` that bend evenly the same way.
fn end_of_bend(points: &[Point], first: usize) -> usize {
    let mut sense = 0.0;
    let mut last = first + 1;
    while last + 1 < points.len() {
        let before = points[last] - points[last - 1];
        let after = points[last + 1] - points[last];
        let turn = before.cross(after).atan2(before.dot(after));
        let unlike = after.hypot() > 3.0 * before.hypot() || before.hypot() > 3.0 * after.hypot();
        if turn.abs() > SHARPEST_TURN
            || turn.abs() < 0.005
            || turn * sense < 0.0
            || (unlike && turn.abs() > 0.3)
        {
            break;
        }
        sense = turn;
        last += 1;
    }
    last
}

fn arc_through(points: &[Point]) -> Option<Arc> {
    let (start, end) = (*points.first()?, *points.last()?);
    let middle = points[points.len() / 2];
    let centre = centre_of(start, middle, end)?;
    let radius = centre.distance(start);
    if !(SMALLEST_RADIUS_MM..=LARGEST_RADIUS_MM).contains(&radius) {
        return None;
    }
    let sweep: f64 = points
        .windows(2)
        .map(|pair| {
            let (a, b) = (pair[0] - centre, pair[1] - centre);
            a.cross(b).atan2(a.dot(b)).abs()
        })
        .sum();
    let round = points.iter().all(|point| (point.distance(centre) - radius).abs() <= ROUNDNESS * radius);
    (round && (SMALLEST_SWEEP..=LARGEST_SWEEP).contains(&sweep)).then_some(Arc { centre, radius, start, end })
}

/// Centre of the circle through three points; `None` where they lie on a line.
fn centre_of(a: Point, b: Point, c: Point) -> Option<Point> {
    let (ab, ac) = (b - a, c - a);
    let doubled = 2.0 * ab.cross(ac);
    if doubled.abs() < 1e-6 {
        return None;
    }
    let (ab2, ac2) = (ab.hypot2(), ac.hypot2());
    let to_centre = Vec2::new(ac.y * ab2 - ab.y * ac2, ab.x * ac2 - ac.x * ab2) / doubled;
    Some(a + to_centre)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarter(radius: f64, chords: usize) -> Vec<Point> {
        (0..=chords)
            .map(|index| {
                let angle = std::f64::consts::FRAC_PI_2 * index as f64 / chords as f64;
                Point::new(100.0 + radius * angle.cos(), 200.0 + radius * angle.sin())
            })
            .collect()
    }

    #[test]
    fn a_quarter_circle_after_the_line_of_the_leaf() {
        for chords in [4, 8, 30] {
            let mut course = vec![Point::new(100.0, 200.0)];
            course.extend(quarter(800.0, chords));
            let arcs = arcs_along(&course, 0.0);
            assert_eq!(arcs.len(), 1, "{chords}");
            assert!(arcs[0].centre.distance(Point::new(100.0, 200.0)) < 1.0);
            assert!((arcs[0].radius - 800.0).abs() < 1.0);
            assert!(arcs[0].end.distance(Point::new(100.0, 1000.0)) < 1.0);
        }
    }

    #[test]
    fn a_quarter_circle_of_pixels() {
        let jitter = |(index, point): (usize, &Point)| {
            *point + Vec2::new([3.0, -4.0, 1.0][index % 3], [-2.0, 4.0, 3.0, -4.0][index % 4])
        };
        let mut course = vec![Point::new(100.0, 200.0), Point::new(500.0, 203.0)];
        course.extend(quarter(800.0, 60).iter().enumerate().map(jitter));
        let arcs = arcs_along(&course, 5.0);
        assert_eq!(arcs.len(), 1);
        assert!(arcs[0].centre.distance(Point::new(100.0, 200.0)) < 12.0, "{arcs:?}");
        assert!((arcs[0].radius - 800.0).abs() < 12.0);
    }

    #[test]
    fn what_is_too_small_or_not_round_is_no_arc() {
        assert!(arcs_along(&quarter(100.0, 12), 0.0).is_empty());
        assert!(arcs_along(&quarter(5000.0, 12), 0.0).is_empty());
        let square = [(0.0, 0.0), (800.0, 0.0), (800.0, 800.0), (0.0, 800.0), (0.0, 0.0)];
        assert!(arcs_along(&square.map(|(x, y)| Point::new(x, y)), 0.0).is_empty());
        assert!(arcs_along(&[], 0.0).is_empty());
    }
}
