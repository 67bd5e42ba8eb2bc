//! What a pointer catches on a page of lines: ends, crossings, lines, and the two faces of a wall.
//!
//! The straight pieces of all lines and outlines are put in order of place once; a pointer then asks for those
//! near it. Places are units of the page.

use kurbo::{BezPath, PathEl, Point, Vec2};
use rstar::primitives::Line;
use rstar::{AABB, PointDistance, RTree};

use super::Page;

/// What was caught.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineSort {
    /// An end or a corner.
    End,
    /// Where two lines cross.
    Crossing,
    /// Somewhere along a line.
    Line,
}

/// A place on the drawing near the pointer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineHit {
    /// Where it lies, units of the page.
    pub point: Point,
    /// What it is.
    pub sort: LineSort,
    /// Unit vector along the line, or along one of them.
    pub direction: Vec2,
}

/// The two faces of a wall around a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FacesHit {
    /// From face to face, units of the page.
    pub thickness: f64,
    /// Halfway between them.
    pub middle: Point,
    /// Unit vector along the wall.
    pub direction: Vec2,
}

/// More pieces than this around a pointer are not told apart by a hand.
const MOST_NEAR: usize = 48;
/// Curves become straight pieces that stray from them by no more, units of the page.
const FLATNESS: f64 = 0.05;
/// Faces of one wall run within about 2° of each other (sine).
const PARALLEL_SINE: f64 = 0.035;

/// All straight pieces of a page, in order of place.
pub struct LineIndex {
    tree: RTree<Line<[f64; 2]>>,
}

impl LineIndex {
    /// Of the lines and the outlines of areas of a page.
    pub fn of(page: &Page) -> Self {
        let mut pieces = Vec::new();
        page.strokes.iter().for_each(|stroke| add_pieces(&mut pieces, &stroke.path, false));
        page.fills.iter().for_each(|fill| add_pieces(&mut pieces, &fill.path, true));
        Self { tree: RTree::bulk_load(pieces) }
    }

    /// The pieces near a place, nearest first.
    fn near(&self, at: Point, reach: f64) -> Vec<Line<[f64; 2]>> {
        if !at.is_finite() || !reach.is_finite() || reach <= 0.0 {
            return Vec::new();
        }
        let place = [at.x, at.y];
        let around = AABB::from_corners([at.x - reach, at.y - reach], [at.x + reach, at.y + reach]);
        let mut near: Vec<(f64, Line<[f64; 2]>)> = self
            .tree
            .locate_in_envelope_intersecting(around)
            .map(|piece| (piece.distance_2(&place), *piece))
            .filter(|(distance, _)| *distance <= reach * reach)
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        near.into_iter().take(MOST_NEAR).map(|(_, piece)| piece).collect()
    }

    /// The end, crossing or line nearest to a place, within `reach`; ends and crossings are preferred.
    pub fn nearest_line(&self, at: Point, reach: f64) -> Option<LineHit> {
        let near = self.near(at, reach);
        let mut points: Vec<LineHit> = Vec::new();
        for (index, piece) in near.iter().enumerate() {
            let (from, vector) = (point(piece.from), vector(piece));
            let direction = vector / vector.hypot();
            let end = |point| LineHit { point, sort: LineSort::End, direction };
            points.extend([end(from), end(from + vector)]);
            for other in &near[index + 1..] {
                points.extend(crossing(piece, other).map(|point| LineHit {
                    point,
                    sort: LineSort::Crossing,
                    direction,
                }));
            }
        }
        let distance = |hit: &LineHit| (hit.point - at).hypot();
        let caught = points
            .into_iter()
            .filter(|hit| distance(hit) <= reach)
            .min_by(|a, b| distance(a).total_cmp(&distance(b)));
        caught.or_else(|| {
            let piece = near.first()?;
            let (from, vector) = (point(piece.from), vector(piece));
            let share = ((at - from).dot(vector) / vector.hypot2()).clamp(0.0, 1.0);
            let direction = vector / vector.hypot();
            Some(LineHit { point: from + vector * share, sort: LineSort::Line, direction })
        })
    }

    /// The two faces of the wall around a place that are nearest to each other, no more than `most` apart.
    pub fn faces_around(&self, at: Point, most: f64) -> Option<FacesHit> {
        let near = self.near(at, most);
        let mut best: Option<FacesHit> = None;
        for (index, one) in near.iter().enumerate() {
            let direction = vector(one) / vector(one).hypot();
            let Some(first) = offset_beside(one, direction, at) else { continue };
            for other in &near[index + 1..] {
                let parallel = direction.cross(vector(other) / vector(other).hypot()).abs() < PARALLEL_SINE;
                let Some(second) = offset_beside(other, direction, at).filter(|_| parallel) else { continue };
                let thickness = (first - second).abs();
                let around = first * second <= 0.0 && thickness > 1e-9 && thickness <= most;
                if around && best.is_none_or(|best| thickness < best.thickness) {
                    let side = Vec2::new(-direction.y, direction.x);
                    let middle = at + side * f64::midpoint(first, second);
                    best = Some(FacesHit { thickness, middle, direction });
                }
            }
        }
        best
    }
}

/// How far beside a place a piece runs, to the left above zero; `None` where it ends before coming beside it.
fn offset_beside(piece: &Line<[f64; 2]>, direction: Vec2, at: Point) -> Option<f64> {
    let (from, to) = (point(piece.from) - at, point(piece.to) - at);
    let (start, end) = (from.dot(direction), to.dot(direction));
    if start.min(end) > 0.0 || start.max(end) < 0.0 || (end - start).abs() < 1e-12 {
        return None;
    }
    let share = -start / (end - start);
    Some(direction.cross(from + (to - from) * share))
}

fn point([x, y]: [f64; 2]) -> Point {
    Point::new(x, y)
}

fn vector(piece: &Line<[f64; 2]>) -> Vec2 {
    point(piece.to) - point(piece.from)
}

/// Where two pieces cross, neither of them beyond its ends.
fn crossing(one: &Line<[f64; 2]>, other: &Line<[f64; 2]>) -> Option<Point> {
    let (a, b) = (vector(one), vector(other));
    let sine = a.cross(b);
    let between = point(other.from) - point(one.from);
    let (along_one, along_other) = (between.cross(b) / sine, between.cross(a) / sine);
    let within = |share: f64| (0.0..=1.0).contains(&share);
    (sine.abs() > 1e-3 * a.hypot() * b.hypot() && within(along_one) && within(along_other))
        .then(|| point(one.from) + a * along_one)
}

fn add_pieces(pieces: &mut Vec<Line<[f64; 2]>>, path: &BezPath, closed: bool) {
    let (mut start, mut last) = (Point::ORIGIN, Point::ORIGIN);
    let mut add = |from: Point, to: Point| {
        if from.is_finite() && to.is_finite() && (to - from).hypot() > 1e-9 {
            pieces.push(Line::new([from.x, from.y], [to.x, to.y]));
        }
    };
    kurbo::flatten(path, FLATNESS, |element| match element {
        PathEl::MoveTo(to) => {
            if closed {
                add(last, start);
            }
            (start, last) = (to, to);
        }
        PathEl::LineTo(to) => {
            add(last, to);
            last = to;
        }
        PathEl::ClosePath => {
            add(last, start);
            last = start;
        }
        _ => {}
    });
    if closed {
        add(last, start);
    }
}

#[cfg(test)]
mod tests {
    use kurbo::{Rect, Shape};

    use super::super::{Fill, Stroke};
    use super::*;

    fn index() -> LineIndex {
        let mut cross = BezPath::new();
        cross.move_to((0.0, 50.0));
        cross.line_to((100.0, 50.0));
        cross.move_to((30.0, 0.0));
        cross.line_to((30.0, 90.0));
        let wall = Rect::new(60.0, 60.0, 65.0, 160.0).to_path(0.1);
        LineIndex::of(&Page {
            strokes: vec![Stroke { path: cross, ..Stroke::default() }],
            fills: vec![Fill { path: wall, ..Fill::default() }],
            ..Page::default()
        })
    }

    #[test]
    fn ends_and_crossings_come_before_lines() {
        let index = index();
        let cases = [
            ((31.0, 52.0), Some(((30.0, 50.0), LineSort::Crossing))),
            ((98.0, 51.0), Some(((100.0, 50.0), LineSort::End))),
            ((63.0, 59.0), Some(((65.0, 60.0), LineSort::End))),
            ((70.0, 51.0), Some(((70.0, 50.0), LineSort::Line))),
            ((66.0, 100.0), Some(((65.0, 100.0), LineSort::Line))),
            ((90.0, 90.0), None),
            ((f64::NAN, 90.0), None),
        ];
        for (at, expected) in cases {
            let hit = index.nearest_line(at.into(), 3.0).map(|hit| (hit.point, hit.sort));
            assert_eq!(hit, expected.map(|(point, sort)| (Point::from(point), sort)), "{at:?}");
        }
    }

    #[test]
    fn faces_around_a_place_tell_the_thickness() {
        let faces = index().faces_around(Point::new(61.0, 120.0), 20.0).unwrap();
        assert!((faces.thickness - 5.0).abs() < 1e-9);
        assert!((faces.middle - Point::new(62.5, 120.0)).hypot() < 1e-9);
        assert!(faces.direction.x.abs() < 1e-9);
        assert_eq!(index().faces_around(Point::new(61.0, 120.0), 4.0), None);
        assert_eq!(index().faces_around(Point::new(90.0, 120.0), 20.0), None);
    }

    #[test]
    fn an_empty_page_has_nothing_to_catch() {
        assert_eq!(LineIndex::of(&Page::default()).nearest_line(Point::ORIGIN, 10.0), None);
    }
}
