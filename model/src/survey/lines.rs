//! Lines of a drawing, sorted so that the pointer's move over tens of thousands of them is answered at once.
//!
//! Coordinates are units of the drawing. Outlines of areas count as lines; what is all but white does not.
//! Strips between two parallel lines are what walls look like, whether they are filled or not.

use kurbo::{BezPath, PathEl, Point, Rect, Shape as _, Vec2};
use rstar::primitives::{GeomWithData, Line};
use rstar::{AABB, RTree};

use super::Page;
use crate::geometry::Segment;

/// Lighter than this, a line on white paper is not seen; 0 black, 1 white.
const PALEST: f32 = 0.93;

/// So many lines are kept; a page with more is no drawing that can be traced by hand.
const MOST_LINES: usize = 600_000;

/// Of the lines near the pointer, so many nearest ones are compared with one another.
const MOST_COMPARED: usize = 24;

/// On either hand of the pointer, so many nearest lines are taken for the face of a wall.
const MOST_SIDES: usize = 8;

/// So many areas are kept.
const MOST_AREAS: usize = 100_000;

/// Ground is darker than other ground where their lightness differs by more than this.
const DARKER: f32 = 0.05;

/// Directions nearer to each other than this are one (sine of the angle, about two degrees).
const PARALLEL: f64 = 0.035;

/// Sides of one strip and of another that make a corner lie apart by more than this (sine, about 20 degrees).
const CORNER: f64 = 0.34;

type Kept = GeomWithData<Line<[f64; 2]>, bool>;

/// The lines of a drawing.
#[derive(Clone, Debug)]
pub struct DrawingLines {
    /// `true` marks pieces of curves, whose ends mean nothing.
    tree: RTree<Kept>,
    /// Areas, white ones too, in the order in which they are drawn.
    areas: Vec<Area>,
    slack: f64,
}

/// A filled area.
#[derive(Clone, Debug)]
struct Area {
    bounds: Rect,
    path: BezPath,
    even_odd: bool,
    lightness: f32,
}

/// What of a drawing is caught.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CaughtOf {
    /// The end of a line or the corner of an area.
    End,
    /// Where two lines cross.
    Crossing,
    /// A place on a line.
    Line,
}

/// A place that is caught, units of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CaughtLine {
    /// Where.
    pub at: Point,
    /// What is there.
    pub of: CaughtOf,
    /// Along the line, of length 1; only of a place on a line.
    pub along: Option<Vec2>,
}

/// The ground between two parallel lines, as a wall is drawn; units of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Halfway between the lines, beside the point that was asked for.
    pub middle: Point,
    /// From the line on one hand to the one on the other, of length 1.
    pub across: Vec2,
    /// From line to line.
    pub width: f64,
    /// Length of the shorter of the two lines.
    pub length: f64,
}

impl DrawingLines {
    /// Prepares a page. `slack` is how far its lines may stray from where they are meant, units: next to nothing
    /// for lines that were drawn as such, a pixel or two where they were made from a picture.
    pub fn of_page(page: &Page, slack: f64) -> Self {
        let mut kept = Vec::new();
        let strokes = page.strokes.iter().filter(|stroke| stroke.lightness < PALEST);
        for stroke in strokes {
            add_path(&mut kept, &stroke.path, false);
        }
        for fill in page.fills.iter().filter(|fill| fill.lightness < PALEST) {
            add_path(&mut kept, &fill.path, true);
        }
        let areas =
            page.fills.iter().filter(|fill| fill.path.is_finite()).take(MOST_AREAS).map(|fill| Area {
                bounds: fill.path.bounding_box(),
                path: fill.path.clone(),
                even_odd: fill.even_odd,
                lightness: fill.lightness,
            });
        Self { areas: areas.collect(), tree: RTree::bulk_load(kept), slack: slack.max(0.0) }
    }

    /// How many lines there are.
    pub fn len(&self) -> usize {
        self.tree.size()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.tree.size() == 0
    }

    /// How far lines may stray from where they are meant, units.
    pub const fn slack(&self) -> f64 {
        self.slack
    }

    /// How light the ground is at a point: that of the topmost area there, else of white paper.
    fn ground_at(&self, at: Point) -> f32 {
        let holds = |area: &&Area| {
            area.bounds.contains(at) && {
                let winding = area.path.winding(at);
                if area.even_odd { winding % 2 != 0 } else { winding != 0 }
            }
        };
        self.areas.iter().rev().find(holds).map_or(1.0, |area| area.lightness)
    }

    /// Lines within reach, the nearest first; whether each is a piece of a curve.
    fn near(&self, at: Point, reach: f64) -> Vec<(f64, Segment, bool)> {
        let around = AABB::from_corners([at.x - reach, at.y - reach], [at.x + reach, at.y + reach]);
        let mut found: Vec<(f64, Segment, bool)> = self
            .tree
            .locate_in_envelope_intersecting(around)
            .map(|kept| {
                let line = segment_of(kept);
                (line.distance_to(at), line, kept.data)
            })
            .filter(|(distance, ..)| *distance <= reach)
            .collect();
        found.sort_by(|a, b| {
            let place = |line: &Segment| (line.a.x, line.a.y, line.b.x, line.b.y);
            a.0.total_cmp(&b.0)
                .then(place(&a.1).partial_cmp(&place(&b.1)).unwrap_or(std::cmp::Ordering::Equal))
        });
        found
    }

    /// What is caught within reach: the nearest end or crossing, else the nearest line.
    pub fn catch(&self, at: Point, reach: f64) -> Option<CaughtLine> {
        if !at.is_finite() || reach.is_nan() || reach <= 0.0 {
            return None;
        }
        let near = self.near(at, reach);
        let nearer = |a: &Point, b: &Point| (*a - at).hypot2().total_cmp(&(*b - at).hypot2());
        let within = |point: &Point| (*point - at).hypot() <= reach;
        let straight = near.iter().filter(|(.., curved)| !curved);
        let end = straight.flat_map(|(_, line, _)| [line.a, line.b]).filter(within).min_by(nearer);
        let few = &near[..near.len().min(MOST_COMPARED)];
        let crossing = (0..few.len())
            .flat_map(|one| (one + 1..few.len()).map(move |other| (one, other)))
            .filter_map(|(one, other)| crossing_of(&few[one].1, &few[other].1))
            .filter(within)
            .min_by(nearer);
        let point = |point: Option<Point>, of| point.map(|at| CaughtLine { at, of, along: None });
        let points = [point(end, CaughtOf::End), point(crossing, CaughtOf::Crossing)];
        let nearest = points.into_iter().flatten().min_by(|a, b| nearer(&a.at, &b.at));
        nearest.or_else(|| {
            let (_, line, _) = near.first()?;
            Some(CaughtLine { at: line.nearest(at).point, of: CaughtOf::Line, along: line.direction() })
        })
    }

    /// The strips around a point, those of the longest lines first, since faces of walls are longer than the
    /// hatching between them: for each direction that lines about it have, the ground
    /// between the nearest line on either hand, where that is no narrower and no wider than said. Lines run on a
    /// little, so that the square of ground at a corner of walls lies in the strips of both.
    pub fn strips(&self, at: Point, narrowest: f64, widest: f64) -> Vec<Strip> {
        let sensible = at.is_finite() && widest > narrowest && narrowest > 0.0;
        if !sensible {
            return Vec::new();
        }
        let near = self.near(at, widest * 1.5);
        let long: Vec<(Segment, Vec2)> = near
            .iter()
            .filter(|(_, line, curved)| !curved && line.length() >= narrowest)
            .filter_map(|(_, line, _)| Some((*line, line.direction()?)))
            .collect();
        let mut directions: Vec<Vec2> = Vec::new();
        for (_, along) in &long {
            if directions.len() < 6 && directions.iter().all(|known| known.cross(*along).abs() > PARALLEL) {
                directions.push(*along);
            }
        }
        let mut strips: Vec<Strip> = directions
            .into_iter()
            .filter_map(|along| strip_along(&long, at, along, self.slack, (narrowest, widest)))
            .collect();
        strips.sort_by(|a, b| b.length.total_cmp(&a.length).then(a.width.total_cmp(&b.width)));
        strips
    }

    /// Two lines across a band about an axis, on either hand of a place along it: the reveals of an opening as
    /// drawn. Distances along the axis from its start; `None` where one is missing.
    pub fn reveals(&self, axis: Segment, half_width: f64, along: f64, widest: f64) -> Option<(f64, f64)> {
        let direction = axis.direction()?;
        let at = axis.a + direction * along;
        let (mut before, mut after): (Option<f64>, Option<f64>) = (None, None);
        for (_, line, curved) in self.near(at, widest + half_width) {
            let across = |run: Vec2| !curved && run.dot(direction).abs() < PARALLEL;
            if !line.direction().is_some_and(across) {
                continue;
            }
            let place = (line.midpoint() - axis.a).dot(direction);
            let off = |point: Point| (point - axis.a).cross(direction);
            let (low, high) = (off(line.a).min(off(line.b)), off(line.a).max(off(line.b)));
            let shared = high.min(half_width) - low.max(-half_width);
            // What runs far beyond the band is another wall or a dimension line.
            if shared < 1.2 * half_width || high - low > 4.0 * half_width {
                continue;
            }
            if place <= along {
                before = Some(before.map_or(place, |known| known.max(place)));
            } else {
                after = Some(after.map_or(place, |known| known.min(place)));
            }
        }
        let (before, after) = (before?, after?);
        // Between the two is a hole, not a pier: it is no darker than what stands beyond them.
        let ground = |along: f64| self.ground_at(axis.a + direction * along);
        let beyond = ground(before - half_width).max(ground(after + half_width));
        let is_a_hole = ground(f64::midpoint(before, after)) + DARKER >= beyond;
        (after - before <= widest && is_a_hole).then_some((before, after))
    }
}

impl Strip {
    /// Where the middles of two strips meet that run in different directions.
    pub fn corner_with(&self, other: &Self) -> Option<Point> {
        let cross = self.across.cross(other.across);
        if cross.abs() < CORNER {
            return None;
        }
        // On both middle lines: its distance along either normal is that of the strip's middle.
        let (mine, theirs) =
            (self.middle.to_vec2().dot(self.across), other.middle.to_vec2().dot(other.across));
        let x = (mine * other.across.y - theirs * self.across.y) / cross;
        let y = (theirs * self.across.x - mine * other.across.x) / cross;
        Some(Point::new(x, y))
    }
}

fn segment_of(kept: &Kept) -> Segment {
    let ([ax, ay], [bx, by]) = (kept.geom().from, kept.geom().to);
    Segment::new(Point::new(ax, ay), Point::new(bx, by))
}

/// Where two lines cross at an angle that can be told.
fn crossing_of(one: &Segment, other: &Segment) -> Option<Point> {
    let (u, v) = (one.direction()?, other.direction()?);
    let cross = u.cross(v);
    if cross.abs() < PARALLEL {
        return None;
    }
    let along = (other.a - one.a).cross(v) / cross;
    let along_other = (other.a - one.a).cross(u) / cross;
    let on = |along: f64, line: &Segment| along >= -1e-6 && along <= line.length() + 1e-6;
    (on(along, one) && on(along_other, other)).then(|| one.a + u * along)
}

/// The strip in one direction around a point.
fn strip_along(
    lines: &[(Segment, Vec2)],
    at: Point,
    along: Vec2,
    slack: f64,
    (narrowest, widest): (f64, f64),
) -> Option<Strip> {
    let across = Vec2::new(-along.y, along.x);
    let beside: Vec<Side> = lines
        .iter()
        .filter(|(_, other)| other.cross(along).abs() <= PARALLEL)
        .filter_map(|(line, direction)| {
            let run = (at - line.a).dot(*direction);
            let foot = line.a + *direction * run;
            let off_end = (-run).max(run - line.length()).max(0.0);
            let offset = (foot - at).dot(across);
            (off_end <= widest).then_some(Side { offset, off_end, length: line.length() })
        })
        .collect();
    let on_line = slack.max(1e-6);
    let hand = |sign: f64| {
        let mut hand: Vec<Side> =
            beside.iter().filter(|side| side.offset * sign > on_line).copied().collect();
        hand.sort_by(|a, b| a.offset.abs().total_cmp(&b.offset.abs()));
        hand.truncate(MOST_SIDES);
        hand
    };
    let pairs = |low: &[Side], high: &[Side]| {
        let pair = |one: &Side, other: &Side| {
            let width = (other.offset - one.offset).abs();
            // One face at least is drawn beside the point; the other runs on no farther than walls are thick.
            let drawn = one.off_end.min(other.off_end) <= 1e-6;
            let runs_on = one.off_end.max(other.off_end) <= 1.5 * width;
            let middle = at + across * ((one.offset + other.offset) / 2.0);
            ((narrowest..=widest).contains(&width) && drawn && runs_on).then(|| Strip {
                middle,
                across,
                width,
                length: one.length.min(other.length),
            })
        };
        let all = low.iter().flat_map(|one| high.iter().filter_map(move |other| pair(one, other)));
        all.min_by(|a, b| a.width.total_cmp(&b.width))
    };
    let (low, high) = (hand(-1.0), hand(1.0));
    match beside.iter().find(|side| side.off_end <= 1e-6 && side.offset.abs() <= on_line) {
        // On a line: the wall lies on the hand where it is thinner; rooms are wider.
        Some(under) => {
            let sides = [pairs(&low, &[*under]), pairs(&[*under], &high)];
            sides.into_iter().flatten().min_by(|a, b| a.width.total_cmp(&b.width))
        }
        None => pairs(&low, &high),
    }
}

/// A line beside a point.
#[derive(Clone, Copy)]
struct Side {
    /// How far to one hand it runs; below zero on the other.
    offset: f64,
    /// How far the point lies off its end; nothing where it lies beside it.
    off_end: f64,
    length: f64,
}

/// Adds the lines of a path; what runs straight on is one line.
fn add_path(kept: &mut Vec<Kept>, path: &BezPath, closed: bool) {
    let (mut start, mut now) = (Point::ORIGIN, Point::ORIGIN);
    let mut run: Option<Segment> = None;
    for element in path.elements() {
        if kept.len() >= MOST_LINES {
            return;
        }
        match *element {
            PathEl::MoveTo(point) => {
                end_run(kept, &mut run);
                if closed && (now - start).hypot() > 1e-9 {
                    push(kept, Segment::new(now, start), false);
                }
                (start, now) = (point, point);
            }
            PathEl::LineTo(point) => {
                go_on(kept, &mut run, Segment::new(now, point));
                now = point;
            }
            PathEl::ClosePath => {
                go_on(kept, &mut run, Segment::new(now, start));
                end_run(kept, &mut run);
                now = start;
            }
            PathEl::QuadTo(_, point) | PathEl::CurveTo(_, _, point) => {
                end_run(kept, &mut run);
                let mut last = now;
                kurbo::flatten([PathEl::MoveTo(now), *element], 0.1, |piece| {
                    if let PathEl::LineTo(next) = piece {
                        push(kept, Segment::new(last, next), true);
                        last = next;
                    }
                });
                now = point;
            }
        }
    }
    end_run(kept, &mut run);
    if closed && (now - start).hypot() > 1e-9 {
        push(kept, Segment::new(now, start), false);
    }
}

fn go_on(kept: &mut Vec<Kept>, run: &mut Option<Segment>, next: Segment) {
    if let Some(former) = run
        && let (Some(one), Some(other)) = (former.direction(), next.direction())
        && one.dot(other) > 0.0
        && one.cross(other).abs() < 1e-3
    {
        former.b = next.b;
        return;
    }
    end_run(kept, run);
    *run = Some(next);
}

fn end_run(kept: &mut Vec<Kept>, run: &mut Option<Segment>) {
    if let Some(line) = run.take() {
        push(kept, line, false);
    }
}

fn push(kept: &mut Vec<Kept>, line: Segment, curved: bool) {
    if kept.len() < MOST_LINES && line.a.is_finite() && line.b.is_finite() && line.length() > 1e-9 {
        kept.push(Kept::new(Line::new([line.a.x, line.a.y], [line.b.x, line.b.y]), curved));
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Fill, Stroke};
    use super::*;

    fn stroke(points: &[(f64, f64)]) -> Stroke {
        let mut path = BezPath::new();
        for (index, at) in points.iter().enumerate() {
            if index == 0 { path.move_to(*at) } else { path.line_to(*at) }
        }
        Stroke { path, width: 0.3, lightness: 0.0, dashed: false, order: 0 }
    }

    /// An L of two walls 2 units thick: faces at y 10 and 12, x 10 and 12, corner at the lower left.
    fn corner() -> Page {
        let strokes = vec![
            stroke(&[(60.0, 10.0), (10.0, 10.0), (10.0, 60.0)]),
            stroke(&[(60.0, 12.0), (12.0, 12.0), (12.0, 60.0)]),
        ];
        Page { width: 100.0, height: 100.0, strokes, ..Page::default() }
    }

    #[test]
    fn ends_and_crossings_win_over_lines_and_what_is_white_is_not_there() {
        let mut page = corner();
        page.strokes.push(stroke(&[(40.0, 5.0), (40.0, 20.0)]));
        page.strokes.push(Stroke { lightness: 1.0, ..stroke(&[(30.0, 30.0), (40.0, 30.0)]) });
        let lines = DrawingLines::of_page(&page, 0.0);
        let at = Point::new;
        for (pointer, landing, of) in [
            (at(10.5, 9.6), at(10.0, 10.0), CaughtOf::End),
            (at(40.3, 9.8), at(40.0, 10.0), CaughtOf::Crossing),
            (at(30.2, 9.7), at(30.2, 10.0), CaughtOf::Line),
        ] {
            let caught = lines.catch(pointer, 0.8).unwrap();
            assert_eq!(caught.of, of, "{pointer}");
            assert!((caught.at - landing).hypot() < 1e-9, "{pointer}: {}", caught.at);
        }
        assert_eq!(lines.catch(at(35.0, 30.2), 0.8), None, "white on white");
        assert_eq!(lines.catch(at(f64::NAN, 1.0), 0.8), None);
        assert_eq!(lines.catch(at(30.2, 9.7), 0.0), None);
    }

    #[test]
    fn what_runs_straight_on_has_no_end_in_between() {
        let page = Page { strokes: vec![stroke(&[(0.0, 0.0), (5.0, 0.0), (9.0, 0.0)])], ..corner() };
        let caught = DrawingLines::of_page(&page, 0.0).catch(Point::new(5.1, 0.2), 1.0).unwrap();
        assert_eq!((caught.of, caught.at), (CaughtOf::Line, Point::new(5.1, 0.0)));
    }

    #[test]
    fn a_wall_is_the_strip_between_its_faces_and_a_corner_lies_in_two() {
        let lines = DrawingLines::of_page(&corner(), 0.0);
        let strips = lines.strips(Point::new(40.0, 10.4), 1.0, 8.0);
        assert_eq!(strips.len(), 1);
        assert!((strips[0].width - 2.0).abs() < 1e-9);
        assert!((strips[0].middle - Point::new(40.0, 11.0)).hypot() < 1e-9);
        let on_a_face = lines.strips(Point::new(40.0, 12.0), 1.0, 8.0);
        assert!((on_a_face[0].middle.y - 11.0).abs() < 1e-9, "the wall lies where it is thinner");
        let at_the_corner = lines.strips(Point::new(10.5, 11.6), 1.0, 8.0);
        let middle = at_the_corner[0].corner_with(&at_the_corner[1]).unwrap();
        assert!((middle - Point::new(11.0, 11.0)).hypot() < 1e-9, "{middle}");
        assert!(lines.strips(Point::new(40.0, 40.0), 1.0, 8.0).is_empty(), "the floor of a room is no wall");
        // The glass of a window farther on is no face of the corner.
        let mut glazed = corner();
        glazed.strokes.push(stroke(&[(18.0, 10.8), (30.0, 10.8)]));
        let lines = DrawingLines::of_page(&glazed, 0.0);
        let strips = lines.strips(Point::new(10.5, 10.5), 1.0, 8.0);
        let middle = strips[0].corner_with(&strips[1]).unwrap();
        assert!((middle - Point::new(11.0, 11.0)).hypot() < 1e-9, "{middle}");
    }

    #[test]
    fn the_gap_between_two_filled_stretches_is_an_opening() {
        let area = |x0: f64, x1: f64| Fill {
            path: Rect::new(x0, 10.0, x1, 12.0).to_path(0.1),
            even_odd: false,
            lightness: 0.2,
            order: 0,
        };
        let page = Page { fills: vec![area(10.0, 30.0), area(46.0, 80.0)], ..Page::default() };
        let lines = DrawingLines::of_page(&page, 0.0);
        let axis = Segment::new(Point::new(10.0, 11.0), Point::new(80.0, 11.0));
        assert_eq!(lines.reveals(axis, 1.0, 28.0, 60.0), Some((20.0, 36.0)));
        assert_eq!(lines.reveals(axis, 1.0, 28.0, 10.0), None, "wider than asked for");
        assert_eq!(lines.reveals(axis, 1.0, 10.0, 60.0), None, "a stretch of wall is no opening");
    }
}
