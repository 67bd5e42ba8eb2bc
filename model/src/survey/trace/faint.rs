//! Lines put together, and lines that are no faces of walls: hatching, treads and panes.
//!
//! Drawing programs break lines where others meet them and draw some twice; pieces on one straight line that
//! touch become one. Hatching and treads stand in rows of equal lines at equal steps. A pane ends on both sides
//! within the line of a jamb, where the face of a wall ends at a corner or at a long face.

use kurbo::{Point, Vec2};
use rstar::primitives::{GeomWithData, Line as Cord};
use rstar::{AABB, RTree};

use super::ink::Line;
use crate::geometry::Segment;

/// Lines shorter than this are no faces, mm.
const SHORTEST_FACE_MM: f64 = 40.0;

/// Treads and hatching are no longer than this, mm; longer lines are of rows only in greater numbers.
const LONGEST_RUNG_MM: f64 = 1700.0;

/// Steps between treads or lines of hatching, mm.
const WIDEST_STEP_MM: f64 = 420.0;

/// The line of a jamb is no longer than a wall is thick, mm.
const LONGEST_JAMB_MM: f64 = 560.0;

type Entry = GeomWithData<Cord<[f64; 2]>, usize>;

/// Straight pieces sorted by place.
pub(super) struct LineIndex(RTree<Entry>);

impl LineIndex {
    /// Sorts pieces; their numbers are their places in the order given.
    pub fn of(pieces: impl Iterator<Item = Segment>) -> Self {
        let entry = |(index, piece): (usize, Segment)| {
            Entry::new(Cord::new([piece.a.x, piece.a.y], [piece.b.x, piece.b.y]), index)
        };
        Self(RTree::bulk_load(pieces.enumerate().map(entry).collect()))
    }

    /// Numbers of the pieces whose rectangle comes near that of two points, in order.
    pub fn near(&self, a: Point, b: Point, reach: f64) -> Vec<usize> {
        let low = [a.x.min(b.x) - reach, a.y.min(b.y) - reach];
        let high = [a.x.max(b.x) + reach, a.y.max(b.y) + reach];
        let around = AABB::from_corners(low, high);
        let mut found: Vec<usize> =
            self.0.locate_in_envelope_intersecting(around).map(|entry| entry.data).collect();
        found.sort_unstable();
        found
    }
}

/// A point as distance along a piece from its start and distance to the left of it.
fn place(piece: Segment, along: Vec2, point: Point) -> (f64, f64) {
    ((point - piece.a).dot(along), along.cross(point - piece.a))
}

/// Lines with touching pieces on one straight line put together, longest first, at most so many.
pub(super) fn joined_lines(lines: &[Line], noise: f64, most: usize) -> Vec<Segment> {
    let mut pieces: Vec<Segment> = lines.iter().map(|line| line.at).collect();
    pieces.sort_by(|a, b| b.length().total_cmp(&a.length()));
    pieces.truncate(3 * most);
    let index = LineIndex::of(pieces.iter().copied());
    let mut used = vec![false; pieces.len()];
    let (off, apart) = (2.0 + 0.7 * noise, 6.0 + 1.5 * noise);
    let mut joined = Vec::new();
    for first in 0..pieces.len() {
        let (lead, Some(along)) = (pieces[first], pieces[first].direction()) else { continue };
        if used[first] || lead.length() < SHORTEST_FACE_MM / 2.0 {
            continue;
        }
        used[first] = true;
        let (mut from, mut to) = (0.0, lead.length());
        loop {
            let before = (from, to);
            for other in index.near(lead.a + along * from, lead.a + along * to, apart) {
                let (p, q) = (place(lead, along, pieces[other].a), place(lead, along, pieces[other].b));
                let touches = p.0.min(q.0) <= to + apart && p.0.max(q.0) >= from - apart;
                if !used[other] && p.1.abs() <= off && q.1.abs() <= off && touches {
                    used[other] = true;
                    (from, to) = (from.min(p.0.min(q.0)), to.max(p.0.max(q.0)));
                }
            }
            if before == (from, to) {
                break;
            }
        }
        if to - from >= SHORTEST_FACE_MM && joined.len() < most {
            joined.push(Segment::new(lead.a + along * from, lead.a + along * to));
        }
    }
    joined
}

/// The next like line on one side, and how far it is.
fn next_rung(lines: &[Segment], index: &LineIndex, which: usize, side: f64) -> Option<(usize, f64)> {
    let line = lines[which];
    let along = line.direction()?;
    let length = line.length();
    index
        .near(line.a, line.b, WIDEST_STEP_MM)
        .into_iter()
        .filter_map(|other| {
            let that = lines[other];
            let is_alike = (0.67..=1.5).contains(&(that.length() / length));
            let is_parallel = that.direction().is_some_and(|of| of.cross(along).abs() < 0.02);
            if other == which || !is_alike || !is_parallel {
                return None;
            }
            let (p, q) = (place(line, along, that.a), place(line, along, that.b));
            let step = f64::midpoint(p.1, q.1) * side;
            let shared = p.0.max(q.0).min(length) - p.0.min(q.0).max(0.0);
            (step > 8.0 && step <= WIDEST_STEP_MM && shared > 0.2 * length).then_some((other, step))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Lines without those that stand in rows of like lines at like steps.
pub(super) fn without_ladders(lines: Vec<Segment>) -> Vec<Segment> {
    let index = LineIndex::of(lines.iter().copied());
    let mut is_rung = vec![false; lines.len()];
    for which in 0..lines.len() {
        let mut row = vec![which];
        let mut step = None;
        // A row is followed one way only; each of its lines starts its own, so none is missed.
        while row.len() < 8 {
            let Some((next, by)) = next_rung(&lines, &index, row[row.len() - 1], 1.0) else { break };
            if row.contains(&next) || step.is_some_and(|step: f64| (by - step).abs() > 0.12 * step + 2.0) {
                break;
            }
            step = Some(by);
            row.push(next);
        }
        let enough = if lines[which].length() <= LONGEST_RUNG_MM { 4 } else { 7 };
        if row.len() >= enough {
            row.iter().for_each(|rung| is_rung[*rung] = true);
        }
    }
    let mut is_rung = is_rung.into_iter();
    lines.into_iter().filter(|_| !is_rung.next().unwrap_or(false)).collect()
}

/// Lines apart from panes: lines that end on both sides within the line of a jamb come second.
pub(super) fn apart_from_panes(lines: &[Segment], noise: f64) -> (Vec<Segment>, Vec<Segment>) {
    let index = LineIndex::of(lines.iter().copied());
    let near = 12.0 + 1.5 * noise;
    let ends_in_jamb = |which: usize, end: Point| {
        let Some(along) = lines[which].direction() else { return false };
        index.near(end, end, near).into_iter().any(|other| {
            let jamb = lines[other];
            let Some(up) = jamb.direction() else { return false };
            let (at, off) = place(jamb, up, end);
            other != which
                && jamb.length() <= LONGEST_JAMB_MM
                && up.dot(along).abs() < 0.1
                && off.abs() <= near
                && (near + 3.0..=jamb.length() - near - 3.0).contains(&at)
        })
    };
    let is_pane = |which: usize| ends_in_jamb(which, lines[which].a) && ends_in_jamb(which, lines[which].b);
    let (panes, faces): (Vec<usize>, Vec<usize>) = (0..lines.len()).partition(|which| is_pane(*which));
    let pick = |chosen: Vec<usize>| chosen.into_iter().map(|which| lines[which]).collect();
    (pick(faces), pick(panes))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(x0: f64, y0: f64, x1: f64, y1: f64) -> Segment {
        Segment::new(Point::new(x0, y0), Point::new(x1, y1))
    }

    fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Line {
        Line { at: piece(x0, y0, x1, y1), pen: 1.0, lightness: 0.0, dashed: false, of_curve: false }
    }

    #[test]
    fn pieces_on_one_line_become_one() {
        let lines = [
            line(0., 0., 1000., 0.),
            line(2000., 0., 1000., 0.),
            line(500., 0., 700., 0.),
            line(2500., 0., 3000., 0.),
            line(0., 30., 3000., 30.),
        ];
        let joined = joined_lines(&lines, 0.0, 100);
        let mut lengths: Vec<f64> = joined.iter().map(Segment::length).collect();
        lengths.sort_by(f64::total_cmp);
        assert_eq!(lengths, [500.0, 2000.0, 3000.0]);
    }

    #[test]
    fn treads_and_hatching_go_and_the_faces_of_walls_stay() {
        let mut lines = vec![piece(-100., 0., 5000., 0.), piece(-100., 100., 5000., 100.)];
        lines.extend((0..12).map(|step| piece(f64::from(step) * 250., 200., f64::from(step) * 250., 1100.)));
        assert_eq!(without_ladders(lines).len(), 2);
    }

    #[test]
    fn panes_end_within_jambs() {
        let lines = vec![
            piece(0., 0., 0., 300.),
            piece(1200., 0., 1200., 300.),
            piece(0., 150., 1200., 150.),
            piece(-2000., 0., 0., 0.),
            piece(-2000., 300., 0., 300.),
        ];
        let (faces, panes) = apart_from_panes(&lines, 0.0);
        assert_eq!((faces.len(), panes), (4, vec![lines[2]]));
    }
}
