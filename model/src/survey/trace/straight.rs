//! Outlines made from pixels, drawn straight again.
//!
//! Corners are found by the method of D. Douglas and T. Peucker ("Algorithms for the reduction of the number of
//! points required to represent a digitized line", 1973); between them a line is laid through all points by least
//! squares and, where it all but follows one of the two main directions of the drawing, turned to it. Corners are
//! where neighbouring lines meet, so that a face lies where its pixels lie on average.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Point, Vec2};

use crate::geometry::{Region, Ring, Segment};

/// How far points may lie off a straight line, in sizes of the noise.
const OFF_LINE: f64 = 1.9;

/// A line is turned to a main direction where its ends move by no more than this, in sizes of the noise.
const TURNED_BY: f64 = 1.6;

/// And by no more than this, radians (about 6°).
const MOST_TURN: f64 = 0.105;

/// Steps in which directions are counted over a quarter turn.
const STEPS: usize = 360;

/// Places of the points of a course to keep so that all others lie near the lines between them; the first and
/// the last always stay.
pub(super) fn corners_of(points: &[Point], tolerance: f64) -> Vec<usize> {
    if points.len() < 3 {
        return (0..points.len()).collect();
    }
    let mut kept = vec![false; points.len()];
    let last = points.len() - 1;
    (kept[0], kept[last]) = (true, true);
    let mut spans = vec![(0, last)];
    while let Some((from, to)) = spans.pop() {
        let chord = Segment::new(points[from], points[to]);
        let farthest = (from + 1..to)
            .map(|index| (index, chord.distance_to(points[index])))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((index, off)) = farthest
            && off > tolerance
        {
            kept[index] = true;
            spans.extend([(from, index), (index, to)]);
        }
    }
    (0..points.len()).filter(|index| kept[*index]).collect()
}

/// A line through a stretch of points: a point on it, its direction, and how long the stretch is.
#[derive(Clone, Copy)]
struct Fitted {
    middle: Point,
    along: Vec2,
    length: f64,
}

/// A region with straight edges in place of what pixels made of them.
pub(super) fn straightened(region: &Region, noise: f64) -> Region {
    let fitted: Vec<Vec<Vec<Fitted>>> =
        region.shapes.iter().map(|shape| shape.rings().map(|ring| lines_of(ring, noise)).collect()).collect();
    let main = main_direction(fitted.iter().flatten());
    let mut straight = region.clone();
    for (shape, lines) in straight.shapes.iter_mut().zip(fitted) {
        let mut rings = lines.into_iter().map(|lines| ring_through(turned(lines, main, noise), noise));
        shape.outer = rings.next().unwrap_or_default();
        shape.holes = rings.filter(|hole| hole.len() >= 3).collect();
    }
    straight.shapes.retain(|shape| shape.outer.len() >= 3);
    straight
}

fn lines_of(ring: &Ring, noise: f64) -> Vec<Fitted> {
    let points = ring.points();
    let Some(start) = points.first().copied() else { return Vec::new() };
    // From the farthest point from the first, so that both ends are likely corners.
    let far = |index: &usize| start.distance(points[*index]);
    let turn = (0..points.len()).max_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0);
    let mut course: Vec<Point> = points[turn..].iter().chain(&points[..turn]).copied().collect();
    let mut corners = corners_of(&[course.as_slice(), &course[..1]].concat(), OFF_LINE * noise);
    corners.pop();
    without_false_corners(&course, &mut corners, OFF_LINE * noise);
    let Some(first) = corners.first().copied() else { return Vec::new() };
    course.rotate_left(first);
    course.push(course[0]);
    let mut places: Vec<usize> = corners.iter().map(|corner| corner - first).collect();
    places.push(course.len() - 1);
    places.windows(2).filter_map(|pair| fitted(&course[pair[0]..=pair[1]], noise)).collect()
}

/// Takes away corners that are none: where the search began on a side, or parted one.
fn without_false_corners(course: &[Point], corners: &mut Vec<usize>, tolerance: f64) {
    let mut which = 0;
    while corners.len() > 3 && which < corners.len() {
        let before = corners[(which + corners.len() - 1) % corners.len()];
        let after = corners[(which + 1) % corners.len()];
        let chord = Segment::new(course[before], course[after]);
        let count = (after + course.len() - before) % course.len();
        let is_straight =
            (1..count).all(|step| chord.distance_to(course[(before + step) % course.len()]) <= tolerance);
        if is_straight {
            corners.remove(which);
        } else {
            which += 1;
        }
    }
}

/// The line of least squares through points weighted alike; the chord where they are few.
fn fitted(points: &[Point], noise: f64) -> Option<Fitted> {
    let (first, last) = (*points.first()?, *points.last()?);
    let chord = last - first;
    let length = chord.hypot();
    if length <= 1e-9 {
        return None;
    }
    // Rounded corners would draw the line askew: points next to them are left out of long stretches.
    let away = 2.0 * noise;
    let inner: Vec<Point> = points
        .iter()
        .copied()
        .filter(|point| point.distance(first) > away && point.distance(last) > away)
        .collect();
    if inner.len() < 3 || length < 6.0 * noise {
        return Some(Fitted { middle: first.midpoint(last), along: chord / length, length });
    }
    let count = inner.len() as f64;
    let middle = (inner.iter().fold(Vec2::ZERO, |sum, point| sum + point.to_vec2()) / count).to_point();
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for point in &inner {
        let off = *point - middle;
        (xx, xy, yy) = (xx + off.x * off.x, xy + off.x * off.y, yy + off.y * off.y);
    }
    let along = Vec2::from_angle(0.5 * (2.0 * xy).atan2(xx - yy));
    let along = if along.dot(chord) < 0.0 { -along } else { along };
    Some(Fitted { middle, along, length })
}

/// The direction most of the length follows, modulo a quarter turn.
fn main_direction<'a>(lines: impl Iterator<Item = &'a Vec<Fitted>>) -> f64 {
    let lines: Vec<Fitted> = lines.flatten().copied().collect();
    let mut counted = [0.0; STEPS];
    let step_of = |line: &Fitted| {
        ((line.along.atan2().rem_euclid(FRAC_PI_2) / FRAC_PI_2 * STEPS as f64) as usize).min(STEPS - 1)
    };
    for line in &lines {
        counted[step_of(line)] += line.length;
    }
    let around =
        |step: usize| counted[(step + STEPS - 1) % STEPS] + counted[step] + counted[(step + 1) % STEPS];
    let best = (0..STEPS).max_by(|a, b| around(*a).total_cmp(&around(*b))).unwrap_or(0);
    let centre = (best as f64 + 0.5) * FRAC_PI_2 / STEPS as f64;
    // The mean of what follows it, long lines before short ones.
    let (mut sum, mut weight) = (0.0, 0.0);
    for line in &lines {
        let off = (line.along.atan2() - centre + FRAC_PI_2 / 2.0).rem_euclid(FRAC_PI_2) - FRAC_PI_2 / 2.0;
        if off.abs() < 0.02 {
            let heavy = line.length * line.length;
            (sum, weight) = (sum + off * heavy, weight + heavy);
        }
    }
    centre + if weight > 0.0 { sum / weight } else { 0.0 }
}

fn turned(mut lines: Vec<Fitted>, main: f64, noise: f64) -> Vec<Fitted> {
    for line in &mut lines {
        let off = (line.along.atan2() - main + FRAC_PI_2 / 2.0).rem_euclid(FRAC_PI_2) - FRAC_PI_2 / 2.0;
        if off.abs() <= MOST_TURN && off.abs() * line.length / 2.0 <= TURNED_BY * noise {
            line.along = Vec2::from_angle(line.along.atan2() - off);
        }
    }
    lines
}

/// The ring through the corners where neighbouring lines meet; where they run on in one direction a short step
/// joins them.
fn ring_through(lines: Vec<Fitted>, noise: f64) -> Ring {
    let mut points = Vec::with_capacity(lines.len());
    for (index, line) in lines.iter().enumerate() {
        let next = lines[(index + 1) % lines.len()];
        let end = line.middle + line.along * (line.length / 2.0);
        let begin = next.middle - next.along * (next.length / 2.0);
        let sine = line.along.cross(next.along);
        let meeting = (sine.abs() > 0.25)
            .then(|| line.middle + line.along * ((next.middle - line.middle).cross(next.along) / sine));
        match meeting {
            Some(at) if at.distance(end.midpoint(begin)) < 8.0 * noise => points.push(at),
            _ => points.extend([end, begin]),
        }
    }
    Ring::new(points).without_collinear_points(0.2 * noise)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jittery_wall_is_straight_again() {
        let mut points = Vec::new();
        let corners = [(0., 0.), (3000., 0.), (3000., 200.), (0., 200.)];
        for (index, (x0, y0)) in corners.iter().enumerate() {
            let (x1, y1) = corners[(index + 1) % 4];
            let steps = (f64::hypot(x1 - x0, y1 - y0) / 50.0) as usize;
            for step in 0..steps {
                let part = step as f64 / steps as f64;
                let jitter = [5.0, -5.0, 3.0, -3.0][(step * 7 + index) % 4];
                points.push(Point::new(x0 + (x1 - x0) * part + jitter, y0 + (y1 - y0) * part + jitter));
            }
        }
        let straight = straightened(&Region::from_ring(Ring::new(points)), 8.0);
        let ring = &straight.shapes[0].outer;
        assert_eq!(ring.len(), 4, "{ring:?}");
        assert!((ring.area() / (3000.0 * 200.0) - 1.0).abs() < 0.02, "{}", ring.area());
        assert!(straightened(&Region::empty(), 8.0).is_empty());
    }

    #[test]
    fn corners_of_a_course() {
        let points = [(0., 0.), (5., 0.4), (10., 0.), (10., 10.)].map(|(x, y)| Point::new(x, y));
        assert_eq!(corners_of(&points, 1.0), [0, 2, 3]);
        assert_eq!(corners_of(&points[..1], 1.0), [0]);
        assert!(corners_of(&[], 1.0).is_empty());
    }
}
