//! Walls: from the axis and the layers that the file gives them, or else from their bodies.
//!
//! IFC lets the line of reference run anywhere within or beside a wall; the usage of its layers says where. Our
//! axis runs in the middle of the thickness. Where the body is as thick as the layers but lies elsewhere, the
//! body is believed, since it is what everyone has seen on the screen.

use kurbo::{Point, Vec2};

use super::bodies::Body;
use super::curves::Chords;
use super::frame::Frame;
use super::layers::{Layers, layers_of};
use super::reading::Reading;
use super::relations::Relations;
use super::step::Record;
use super::strip::{narrowest_strip, reach};
use crate::plan::MakeUp;

/// Chords of a curved wall may stand off its arc by so much, mm: well under any wall's thickness.
const AXIS_CHORDS: Chords = Chords { stand_off: 10.0 };

/// No wall is thinner or thicker than these, mm.
const THICKNESSES: std::ops::RangeInclusive<f64> = 5.0..=3000.0;

/// Pieces shorter than this are no walls, mm.
const SHORTEST: f64 = 10.0;

/// A wall with more straight pieces than this is a scribble.
const MOST_PIECES: usize = 500;

/// A body that fills less of its rectangle than this is no straight strip: an L, a U, an arc.
const FILLED: f64 = 0.6;

/// How deep the parts of a wall may have parts.
const DEEPEST_PART: usize = 4;

/// One straight piece of a wall, on plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Line {
    /// One end of the middle of its thickness.
    pub(super) start: Point,
    /// The other end.
    pub(super) end: Point,
}

/// A wall of the file, in the building's frame.
#[derive(Clone, Debug)]
pub(super) struct FoundWall {
    /// Straight pieces; a curved wall has many.
    pub(super) lines: Vec<Line>,
    /// From face to face, mm.
    pub(super) thickness: f64,
    /// Its foot and its top, mm above the building's datum, where its body tells.
    pub(super) heights: Option<(f64, f64)>,
    /// What it is made of.
    pub(super) make_up: Option<MakeUp>,
}

/// All that counts as a wall.
pub(super) const WALLS: [&str; 4] =
    ["IFCWALL", "IFCWALLSTANDARDCASE", "IFCWALLELEMENTEDCASE", "IFCCURTAINWALL"];

/// Reads one wall; what stands in the way is noted.
pub(super) fn read_wall(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    number: u64,
) -> Option<FoundWall> {
    let Some(record) = reading.file.record(number) else {
        reading.note("walls that cannot be read", number);
        return None;
    };
    let Some(placed) = reading.stands(&record) else {
        reading.note("walls that stand nowhere: their placement cannot be followed", number);
        return None;
    };
    let stands = building.then(&placed);
    let body = body_with_parts(reading, relations, building, &record, &stands);
    let heights = body.as_ref().and_then(Body::heights);
    if record.entity == "IFCCURTAINWALL" {
        let (line, thickness) = strip_of(reading, number, body.as_ref())?;
        let make_up = Some(MakeUp::Glazed);
        return Some(FoundWall { lines: vec![line], thickness, heights, make_up });
    }
    let layers = relations.material(number).map(|material| layers_of(reading, material)).unwrap_or_default();
    let make_up = layers.make_up;
    let (lines, thickness) = match axis(reading, &record, &stands) {
        Some(axis) => {
            let Some((middle, thickness)) = across(&axis, &layers, body.as_ref()) else {
                reading.note("walls without a thickness: no layers and no straight body", number);
                return None;
            };
            (moved_left(&axis, middle), thickness)
        }
        None => {
            let (line, thickness) = strip_of(reading, number, body.as_ref())?;
            (vec![line], thickness)
        }
    };
    if !THICKNESSES.contains(&thickness) {
        reading.note("walls thinner than 5 mm or thicker than 3 m", number);
        return None;
    }
    let lines: Vec<Line> =
        lines.into_iter().filter(|line| (line.end - line.start).hypot() >= SHORTEST).collect();
    if lines.len() > MOST_PIECES {
        reading.note("walls with more than 500 straight pieces", number);
        return None;
    }
    if lines.is_empty() {
        reading.note("walls shorter than 10 mm", number);
        return None;
    }
    Some(FoundWall { lines, thickness, heights, make_up })
}

/// The body of a wall, or the bodies of its parts where it has none of its own.
fn body_with_parts(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    record: &Record<'_>,
    stands: &Frame,
) -> Option<Body> {
    let own = reading.body(record, stands);
    if own.is_some() {
        return own;
    }
    let mut whole = Body::default();
    let mut waiting: Vec<(u64, usize)> =
        relations.parts(record.number).iter().map(|part| (*part, 1)).collect();
    while let Some((number, depth)) = waiting.pop() {
        let Some(part) = reading.file.record(number) else { continue };
        let placed = reading.stands(&part).map(|placed| building.then(&placed));
        if let Some(body) = placed.and_then(|stands| reading.body(&part, &stands)) {
            whole.corners.extend(body.corners);
            whole.upright.extend(body.upright);
        }
        if depth < DEEPEST_PART {
            waiting.extend(relations.parts(number).iter().map(|inner| (*inner, depth + 1)));
        }
    }
    (!whole.corners.is_empty()).then_some(whole)
}

/// The line of reference on plan, as the file gives it.
fn axis(reading: &Reading<'_>, record: &Record<'_>, stands: &Frame) -> Option<Vec<Point>> {
    let mut items = reading.items(record, |identifier, _| identifier.eq_ignore_ascii_case("axis"));
    if items.is_empty() {
        items = reading.items(record, |identifier, form| identifier.is_empty() && form.starts_with("Curve"));
    }
    let curve = items.first().copied()?;
    let on_plan = |point| {
        let [x, y, _] = stands.place(point);
        Point::new(x, y)
    };
    let axis: Vec<Point> = reading.course(curve, AXIS_CHORDS)?.into_iter().map(on_plan).collect();
    let long = axis.windows(2).any(|pair| pair[0].distance(pair[1]) >= SHORTEST);
    (long && axis.iter().all(|point| point.is_finite())).then_some(axis)
}

/// How far the middle of the thickness lies to the left of the line of reference, and the thickness.
fn across(axis: &[Point], layers: &Layers, body: Option<&Body>) -> Option<(f64, f64)> {
    let of_body = body.and_then(|body| straight_body_across(axis, body));
    match (layers.thickness, layers.middle, of_body) {
        (Some(thickness), said, Some((middle, of_body))) if (thickness - of_body).abs() < 1.0 => {
            let agree = said.filter(|said| (said - middle).abs() < 1.0);
            Some((agree.unwrap_or(middle), thickness))
        }
        // A joint has trimmed the body. Some writers count the layers against the axis: the body must be within.
        (Some(thickness), Some(middle), Some((of_body, width))) => {
            let holds = |middle: f64| (of_body - middle).abs() + width / 2.0 <= thickness / 2.0 + 1.0;
            Some((if !holds(middle) && holds(-middle) { -middle } else { middle }, thickness))
        }
        (Some(thickness), Some(middle), None) => Some((middle, thickness)),
        // Layers of a type without a word on how they lie: the body shows that.
        (Some(thickness), None, Some((middle, _))) => Some((middle, thickness)),
        (Some(thickness), None, None) => Some((0.0, thickness)),
        (None, _, of_body) => of_body,
    }
}

/// Middle and thickness of a body along a straight axis: `None` where the axis bends.
fn straight_body_across(axis: &[Point], body: &Body) -> Option<(f64, f64)> {
    let ([first, .., last], [start, second, ..]) = (axis, axis) else { return None };
    let along = (*last - *first) / (*last - *first).hypot();
    let square = Vec2::new(-along.y, along.x);
    let straight = axis.iter().all(|point| (*point - *first).dot(square).abs() < 1.0);
    if !straight || start == second {
        return None;
    }
    let (near, far) = reach(&body.corners_on_plan(), *first, square);
    Some(((near + far) / 2.0, far - near))
}

/// The pieces of a line moved to its left; where it bends, both pieces meet on the bisector.
fn moved_left(axis: &[Point], by: f64) -> Vec<Line> {
    let left: Vec<Vec2> = axis
        .windows(2)
        .map(|pair| {
            let along = pair[1] - pair[0];
            let length = along.hypot();
            if length > 0.0 { Vec2::new(-along.y, along.x) / length } else { Vec2::ZERO }
        })
        .collect();
    let left_at_ends = [0, axis.len() - 1].map(|end| square_to_arc(&left, end));
    let corner = |index: usize| {
        if let Some(left) =
            left_at_ends[usize::from(index > 0)].filter(|_| index == 0 || index + 1 == axis.len())
        {
            return axis[index] + left * by;
        }
        let before = index.checked_sub(1).and_then(|before| left.get(before));
        let (before, after) = match (before, left.get(index)) {
            (Some(before), Some(after)) => (*before, *after),
            (Some(only), None) | (None, Some(only)) => (*only, *only),
            (None, None) => (Vec2::ZERO, Vec2::ZERO),
        };
        let sum = before + after;
        let reach = sum.dot(before);
        // A line that turns back on itself has no bisector to meet on.
        axis[index] + if reach > 0.1 { sum * (by / reach) } else { after * by }
    };
    (1..axis.len()).map(|index| Line { start: corner(index - 1), end: corner(index) }).collect()
}

/// What is square to an arc at its end, where the normals of its chords turn by the same small angle from each to
/// the next. `None` for other lines.
fn square_to_arc(left: &[Vec2], end: usize) -> Option<Vec2> {
    let (last, inner, farther) = match end {
        0 => (left.first()?, left.get(1)?, left.get(2)?),
        _ => {
            let count = left.len();
            (left.last()?, left.get(count.checked_sub(2)?)?, left.get(count.checked_sub(3)?)?)
        }
    };
    let turn = |from: &Vec2, to: &Vec2| from.cross(*to).atan2(from.dot(*to));
    let (here, next) = (turn(inner, last), turn(farther, inner));
    let is_arc = (here - next).abs() < 1e-6 && (1e-6..0.6).contains(&here.abs());
    let (sin, cos) = (here / 2.0).sin_cos();
    is_arc.then(|| Vec2::new(last.x * cos - last.y * sin, last.x * sin + last.y * cos))
}

/// A wall without an axis, by its body alone.
fn strip_of(reading: &Reading<'_>, number: u64, body: Option<&Body>) -> Option<(Line, f64)> {
    let Some(body) = body else {
        reading.note("walls without an axis and a body", number);
        return None;
    };
    let Some(strip) = narrowest_strip(&body.corners_on_plan()) else {
        reading.note("walls whose body has no width", number);
        return None;
    };
    let length = (strip.end - strip.start).hypot();
    let filled = body.upright.iter().map(crate::geometry::Ring::area).sum::<f64>() / strip.area();
    let bent = !body.upright.is_empty() && filled < FILLED;
    if bent || (strip.thickness > 1000.0 && strip.thickness > length / 3.0) {
        reading.note("walls whose body is no straight strip and that have no axis", number);
        return None;
    }
    Some((Line { start: strip.start, end: strip.end }, strip.thickness))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bent_line_keeps_its_distance() {
        let axis = [Point::new(0.0, 0.0), Point::new(1000.0, 0.0), Point::new(1000.0, 1000.0)];
        let lines = moved_left(&axis, 100.0);
        assert_eq!(lines[0], Line { start: Point::new(0.0, 100.0), end: Point::new(900.0, 100.0) });
        assert_eq!(lines[1].end, Point::new(900.0, 1000.0));
    }

    #[test]
    fn an_arc_is_moved_along_its_radius() {
        let on_arc = |step: u32| Point::ORIGIN + Vec2::from_angle(f64::from(step) * 0.1) * 5000.0;
        let axis: Vec<Point> = (0..=6).map(on_arc).collect();
        let lines = moved_left(&axis, 150.0);
        for (line, step) in lines.iter().zip(0..) {
            let ends = [(line.start, on_arc(step)), (line.end, on_arc(step + 1))];
            assert!(
                ends.iter().all(|(moved, from)| (moved.to_vec2() - from.to_vec2() * 0.97).hypot() < 0.3),
                "{line:?}"
            );
        }
    }
}
