//! Where a straight line runs inside a region.
//!
//! The line is cut at every edge of the region that it crosses or touches, and each piece is asked by its middle
//! whether it lies inside: exact but for rounding, whatever the region's shape. A line that runs along an edge
//! may be counted either way, as a point on an outline may.

use super::region::Region;
use super::segment::Segment;

/// A corner of the region nearer to the line than this lies on it, mm.
const ON_LINE_MM: f64 = 1.0e-6;

/// Pieces shorter than this are rounding, and gaps shorter than this are closed, mm.
const SHORTEST_MM: f64 = 1.0e-3;

/// The stretches of a line that lie inside a region, millimetres from its start, in order and apart from each other.
/// None for a line without length or with ends that are not finite.
pub fn stretches_inside(region: &Region, line: &Segment) -> Vec<(f64, f64)> {
    let Some(direction) = line.direction() else { return Vec::new() };
    let length = line.length();
    let mut cuts = vec![0.0, length];
    for edge in region.rings().flat_map(|ring| ring.edges()) {
        let (from, to) = (edge.a - line.a, edge.b - line.a);
        let (off_from, off_to) = (direction.cross(from), direction.cross(to));
        for (off, end) in [(off_from, from), (off_to, to)] {
            if off.abs() <= ON_LINE_MM {
                cuts.push(direction.dot(end));
            }
        }
        if (off_from > 0.0) != (off_to > 0.0) {
            let part = off_from / (off_from - off_to);
            cuts.push(direction.dot(from + (to - from) * part));
        }
    }
    cuts.retain(|cut| (0.0..=length).contains(cut));
    cuts.sort_by(f64::total_cmp);
    let mut inside: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if to - from < SHORTEST_MM || !region.contains(line.a + direction * ((from + to) / 2.0)) {
            continue;
        }
        match inside.last_mut() {
            Some(last) if from - last.1 < SHORTEST_MM => last.1 = to,
            _ => inside.push((from, to)),
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use kurbo::{Point, Rect};
    use proptest::prelude::*;

    use super::*;
    use crate::geometry::{Ring, Shape, union_of_rings};

    fn line(ax: f64, ay: f64, bx: f64, by: f64) -> Segment {
        Segment::new(Point::new(ax, ay), Point::new(bx, by))
    }

    #[test]
    fn a_square_with_a_pier_is_crossed_in_two_stretches() {
        let pier = Ring::from_rect(Rect::new(400.0, 400.0, 600.0, 600.0)).clockwise();
        let square = Shape { outer: Ring::from_rect(Rect::new(0.0, 0.0, 1000.0, 1000.0)), holes: vec![pier] };
        let region = Region { shapes: vec![square] };
        for (across, stretches) in [
            (line(-500.0, 500.0, 1500.0, 500.0), vec![(500.0, 900.0), (1100.0, 1500.0)]),
            (line(0.0, 500.0, 1000.0, 500.0), vec![(0.0, 400.0), (600.0, 1000.0)]),
            (line(450.0, 500.0, 550.0, 500.0), vec![]),
            (line(-10.0, -10.0, -20.0, 900.0), vec![]),
            (line(100.0, 100.0, 100.0, 100.0), vec![]),
            // Through two corners of the pier: 400 √2 in, and out again 200 √2 on.
            (
                line(0.0, 0.0, 1000.0, 1000.0),
                vec![(0.0, 400.0 * 2f64.sqrt()), (600.0 * 2f64.sqrt(), 1000.0 * 2f64.sqrt())],
            ),
        ] {
            let found = stretches_inside(&region, &across);
            assert_eq!(found.len(), stretches.len(), "{across:?} {found:?}");
            for (a, b) in found.iter().zip(&stretches) {
                assert!((a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() < 1e-6, "{across:?} {found:?}");
            }
        }
    }

    proptest! {
        #[test]
        fn the_stretches_hold_what_points_of_the_line_say(
            boxes in prop::collection::vec((0.0..900.0f64, 0.0..900.0f64, 10.0..400.0f64, 10.0..400.0f64), 1..6),
            ends in (-100.0..1300.0f64, -100.0..1300.0f64, -100.0..1300.0f64, -100.0..1300.0f64),
            parts in prop::collection::vec(0.0..1.0f64, 20),
        ) {
            let rings: Vec<Ring> =
                boxes.iter().map(|(x, y, w, h)| Ring::from_rect(Rect::new(*x, *y, x + w, y + h))).collect();
            let region = union_of_rings(&rings);
            let across = line(ends.0, ends.1, ends.2, ends.3);
            let found = stretches_inside(&region, &across);
            for part in parts {
                let at = part * across.length();
                let near_cut = found.iter().any(|(a, b)| (at - a).abs() < 0.01 || (at - b).abs() < 0.01);
                let inside = found.iter().any(|(a, b)| (*a..=*b).contains(&at));
                prop_assert!(near_cut || inside == region.contains(across.point_at(part)));
            }
        }
    }
}
