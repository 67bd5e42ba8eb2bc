//! Splits segments wherever they touch, overlap or cross.
//!
//! Iterated splitting with tolerant vertices, in the spirit of J. D. Hobby, "Practical segment intersection
//! with finite precision output", 1999: every pair of pieces whose boxes meet is looked at; a vertex within
//! [`TOUCH_DISTANCE`] of a piece splits it there, a proper crossing makes a new vertex or takes one within
//! [`MERGE_DISTANCE`]; pieces that changed are looked at again until nothing changes. Vertices are always
//! farther apart than four times the touch distance, so that a piece bent to a vertex has an obtuse corner
//! there and is not bent back in the next round. Error bound: no piece moves by more than a few times
//! [`MERGE_DISTANCE`]. Pairs are found by sorting on the left end, so building is O(n log n + pairs whose
//! boxes overlap in x). Segments shorter than the merge distance vanish; duplicates become one piece.

use std::collections::HashMap;

use kurbo::{Point, Rect};

use super::numbers::{cross_with_certain_sign, snap_to_grid};
use super::segment::Segment;

/// Vertices nearer than this are one: 10⁻⁵ mm.
pub(crate) const MERGE_DISTANCE: f64 = 1.0e-5;
/// A vertex nearer than this to a piece lies on it.
const TOUCH_DISTANCE: f64 = MERGE_DISTANCE / 4.0;
const CELL: f64 = 1000.0 * MERGE_DISTANCE;
const MOST_ROUNDS: usize = 32;

/// Vertices and the pieces between them; pieces meet at their ends only.
pub(crate) struct Arrangement {
    /// Positions, all on the coordinate grid and all different.
    pub points: Vec<Point>,
    /// Pairs of vertex numbers, the smaller first, sorted, without repetition.
    pub edges: Vec<[u32; 2]>,
    /// What it costs to look through each piece; where pieces lay on each other, the higher toll.
    pub tolls: Vec<Toll>,
}

/// What it costs to look through a piece.
pub(crate) type Toll = u8;

/// Nothing can be seen through a wall.
pub(crate) const WALL_TOLL: Toll = Toll::MAX;

/// Merges points nearer than the merge distance.
#[derive(Default)]
struct VertexTable {
    points: Vec<Point>,
    cells: HashMap<(i64, i64), Vec<u32>>,
}

impl VertexTable {
    fn number_of(&mut self, point: Point) -> u32 {
        let point = snap_to_grid(point);
        let cell = |value: f64| (value / CELL).floor() as i64;
        let (x0, x1) = (cell(point.x - MERGE_DISTANCE), cell(point.x + MERGE_DISTANCE));
        let (y0, y1) = (cell(point.y - MERGE_DISTANCE), cell(point.y + MERGE_DISTANCE));
        let mut nearest: Option<(f64, u32)> = None;
        for x in x0..=x1 {
            for y in y0..=y1 {
                for number in self.cells.get(&(x, y)).into_iter().flatten() {
                    let distance = self.points[*number as usize].distance(point);
                    if distance <= MERGE_DISTANCE && nearest.is_none_or(|(best, _)| distance < best) {
                        nearest = Some((distance, *number));
                    }
                }
            }
        }
        if let Some((_, number)) = nearest {
            return number;
        }
        let number = self.points.len() as u32;
        self.points.push(point);
        self.cells.entry((cell(point.x), cell(point.y))).or_default().push(number);
        number
    }
}

/// One piece while splitting goes on.
#[derive(Clone, Copy)]
struct Piece {
    ends: [u32; 2],
    bounds: Rect,
    changed: bool,
    toll: Toll,
}

/// A piece by its ends: whether it changed in the last round, and its toll.
type Edge = ([u32; 2], bool, Toll);

/// Splits the segments. All coordinates must be finite and within the coordinate range.
pub(crate) fn arrange(segments: impl Iterator<Item = (Segment, Toll)>) -> Arrangement {
    let mut table = VertexTable::default();
    let mut edges: Vec<Edge> = Vec::new();
    for (segment, toll) in segments {
        let (a, b) = (table.number_of(segment.a), table.number_of(segment.b));
        if a != b {
            edges.push(([a.min(b), a.max(b)], true, toll));
        }
    }
    for _ in 0..MOST_ROUNDS {
        // Pieces that changed sort last among equals, and an unchanged twin makes a changed one needless.
        join_twins(&mut edges);
        let mut pieces: Vec<Piece> = edges
            .iter()
            .map(|(ends, changed, toll)| {
                let bounds =
                    Rect::from_points(table.points[ends[0] as usize], table.points[ends[1] as usize]);
                let bounds = bounds.inflate(MERGE_DISTANCE, MERGE_DISTANCE);
                Piece { ends: *ends, bounds, changed: *changed, toll: *toll }
            })
            .collect();
        pieces.sort_unstable_by(|a, b| a.bounds.x0.total_cmp(&b.bounds.x0).then(a.ends.cmp(&b.ends)));
        let mut cuts = cuts_between(&pieces, &mut table);
        if cuts.is_empty() {
            break;
        }
        cuts.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        edges = split(&pieces, &cuts);
    }
    join_twins(&mut edges);
    let (edges, tolls) = edges.into_iter().map(|(ends, _, toll)| (ends, toll)).unzip();
    Arrangement { points: table.points, edges, tolls }
}

/// Pieces between the same ends become one, with the highest toll of them.
fn join_twins(edges: &mut Vec<Edge>) {
    edges.sort_unstable();
    edges.dedup_by(|twin, kept| {
        let same = twin.0 == kept.0;
        if same {
            kept.2 = kept.2.max(twin.2);
        }
        same
    });
}

/// A cut: number of the piece, distance along it, vertex.
type Cut = (u32, f64, u32);

fn cuts_between(pieces: &[Piece], table: &mut VertexTable) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for (first, one) in pieces.iter().enumerate() {
        for (step, other) in pieces[first + 1..].iter().enumerate() {
            if other.bounds.x0 > one.bounds.x1 {
                break;
            }
            let apart = other.bounds.y0 > one.bounds.y1 || one.bounds.y0 > other.bounds.y1;
            if apart || !(one.changed || other.changed) {
                continue;
            }
            cut_pair(first, first + 1 + step, pieces, table, &mut cuts);
        }
    }
    cuts
}

fn cut_pair(first: usize, second: usize, pieces: &[Piece], table: &mut VertexTable, cuts: &mut Vec<Cut>) {
    let before = cuts.len();
    for (piece, other) in [(first, second), (second, first)] {
        for vertex in pieces[other].ends {
            if let Some(along) = touches(pieces[piece].ends, vertex, &table.points) {
                cuts.push((piece as u32, along, vertex));
            }
        }
    }
    if cuts.len() > before {
        return;
    }
    let ends = |piece: usize| pieces[piece].ends.map(|vertex| table.points[vertex as usize]);
    let ([a, b], [c, d]) = (ends(first), ends(second));
    let side = |from: Point, to: Point, point: Point| cross_with_certain_sign(to - from, point - from);
    let across = side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
    if !across {
        return;
    }
    let Some(hit) = Segment::new(a, b).intersection(&Segment::new(c, d)) else { return };
    let vertex = table.number_of(hit.point);
    for (piece, t) in [(first, hit.t), (second, hit.u)] {
        if !pieces[piece].ends.contains(&vertex) {
            let length =
                Segment::new(ends_of(pieces, piece, table, 0), ends_of(pieces, piece, table, 1)).length();
            cuts.push((piece as u32, t * length, vertex));
        }
    }
}

fn ends_of(pieces: &[Piece], piece: usize, table: &VertexTable, end: usize) -> Point {
    table.points[pieces[piece].ends[end] as usize]
}

/// Distance along the piece at which the vertex lies on its inside, if it does.
fn touches(ends: [u32; 2], vertex: u32, points: &[Point]) -> Option<f64> {
    if ends.contains(&vertex) {
        return None;
    }
    let [a, b] = ends.map(|end| points[end as usize]);
    let offset = points[vertex as usize] - a;
    let vector = b - a;
    // Most pairs end here, before the square root.
    let cross = vector.cross(offset);
    let square = vector.hypot2();
    if cross * cross > TOUCH_DISTANCE * TOUCH_DISTANCE * square {
        return None;
    }
    let along = vector.dot(offset);
    (along > 0.0 && along < square).then(|| along / square.sqrt())
}

/// The pieces after all cuts, which must be sorted by piece and distance.
fn split(pieces: &[Piece], cuts: &[Cut]) -> Vec<Edge> {
    let mut edges = Vec::with_capacity(pieces.len() + cuts.len());
    let mut rest = cuts;
    for (number, piece) in pieces.iter().enumerate() {
        let count = rest.iter().take_while(|cut| cut.0 as usize == number).count();
        let (mine, others) = rest.split_at(count);
        rest = others;
        if mine.is_empty() {
            edges.push((piece.ends, false, piece.toll));
            continue;
        }
        let mut from = piece.ends[0];
        for to in mine.iter().map(|cut| cut.2).chain([piece.ends[1]]) {
            if from != to {
                edges.push(([from.min(to), from.max(to)], true, piece.toll));
            }
            from = to;
        }
    }
    edges
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn arranged(list: &[(f64, f64, f64, f64)]) -> Arrangement {
        arrange(
            list.iter().map(|(a, b, c, d)| (Segment::new(Point::new(*a, *b), Point::new(*c, *d)), WALL_TOLL)),
        )
    }

    #[test]
    fn a_cross_becomes_four_pieces() {
        let cross = arranged(&[(0., 0., 10., 10.), (0., 10., 10., 0.)]);
        assert_eq!((cross.points.len(), cross.edges.len()), (5, 4));
    }

    #[test]
    fn overlaps_and_duplicates_become_one_chain() {
        let chain = arranged(&[(0., 0., 10., 0.), (5., 0., 15., 0.), (15., 0., 5., 0.), (3., 0., 3., 0.)]);
        assert_eq!(chain.edges.len(), 3);
    }

    #[test]
    fn where_pieces_lie_on_each_other_the_higher_toll_counts() {
        let along = |from: f64, to: f64| Segment::new(Point::new(from, 0.0), Point::new(to, 0.0));
        let chain = arrange([(along(0.0, 10.0), 1), (along(5.0, 15.0), WALL_TOLL)].into_iter());
        assert_eq!(chain.tolls.iter().filter(|toll| **toll == 1).count(), 1);
        assert_eq!(chain.tolls.len(), 3);
    }

    #[test]
    fn a_touching_end_splits() {
        let tee = arranged(&[(0., 0., 10., 0.), (4., 1e-7, 4., 5.)]);
        assert_eq!((tee.points.len(), tee.edges.len()), (4, 3));
    }

    proptest! {
        /// Nothing crosses afterwards, however messy the start.
        #[test]
        fn pieces_meet_at_their_ends_only(
            list in prop::collection::vec((0u8..12, 0u8..12, 0u8..12, 0u8..12), 1..40), skew in 0.0f64..1e-4,
        ) {
            let messy: Vec<_> = list.iter().enumerate().map(|(i, (a, b, c, d))| {
                let s = skew * (i % 3) as f64;
                (*a as f64 + s, *b as f64, *c as f64, *d as f64 - s)
            }).collect();
            let found = arranged(&messy);
            let at = |v: u32| found.points[v as usize];
            for (i, one) in found.edges.iter().enumerate() {
                for other in &found.edges[i + 1..] {
                    let side = |e: &[u32; 2], p: u32| cross_with_certain_sign(at(e[1]) - at(e[0]), at(p) - at(e[0]));
                    let crossing = side(one, other[0]) * side(one, other[1]) < 0.0
                        && side(other, one[0]) * side(other, one[1]) < 0.0;
                    prop_assert!(!crossing);
                }
            }
        }
    }
}
