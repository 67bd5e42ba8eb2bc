//! A point well inside a ring, where its label goes.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use kurbo::Point;

use super::polygon::Ring;

/// A square of the search, ordered by the largest clearance any point in it could have.
struct Cell {
    centre: Point,
    half: f64,
    clearance: f64,
    promise: f64,
}

impl Cell {
    fn new(ring: &Ring, centre: Point, half: f64) -> Self {
        let distance = ring.distance_to_outline(centre);
        let clearance = if ring.contains(centre) { distance } else { -distance };
        Self { centre, half, clearance, promise: clearance + half * std::f64::consts::SQRT_2 }
    }
}

impl PartialEq for Cell {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}
impl Eq for Cell {}
impl PartialOrd for Cell {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Cell {
    fn cmp(&self, other: &Self) -> Ordering {
        self.promise.total_cmp(&other.promise)
    }
}

/// Most squares one search looks into; a bound for outlines thinner than the precision asked for.
const MOST_CELLS: usize = 20_000;

/// The pole of inaccessibility: the point inside the ring farthest from its outline, to within `precision`
/// millimetres of clearance (at least 0.001), and that clearance.
///
/// The pole as D. Garcia-Castellanos and U. Lombardo define it ("Poles of inaccessibility: a calculation
/// algorithm for the remotest places on Earth", 2007), found by a best-first quad-tree search: squares
/// cover the ring, and one is divided while the clearance of its centre plus its half diagonal exceeds the
/// best clearance so far. Where several points are equally good, the centroid or else the first found wins.
/// `None` for a ring without area or with non-finite corners.
pub fn label_point(ring: &Ring, precision: f64) -> Option<(Point, f64)> {
    if ring.len() < 3 || !ring.is_finite() || ring.area() <= 0.0 {
        return None;
    }
    let bounds = ring.bounds()?;
    let side = bounds.width().min(bounds.height());
    if side <= 0.0 {
        return None;
    }
    let precision = if precision.is_finite() { precision.max(1.0e-3) } else { 1.0e-3 };
    // At most 64 squares along the longer side, so that long thin rings start with a short list.
    let half = 0.5 * side.max(bounds.width().max(bounds.height()) / 64.0);
    let mut best = Cell::new(ring, ring.centroid()?, 0.0);
    let mut heap = BinaryHeap::new();
    let mut y = bounds.y0 + half;
    while y - half < bounds.y1 {
        let mut x = bounds.x0 + half;
        while x - half < bounds.x1 {
            heap.push(Cell::new(ring, Point::new(x, y), half));
            x += 2.0 * half;
        }
        y += 2.0 * half;
    }
    let mut looked_at = 0;
    while let Some(cell) = heap.pop() {
        if cell.promise - best.clearance <= precision || looked_at >= MOST_CELLS {
            break;
        }
        looked_at += 1;
        let quarter = cell.half / 2.0;
        for (dx, dy) in [(-quarter, -quarter), (quarter, -quarter), (-quarter, quarter), (quarter, quarter)] {
            let child = Cell::new(ring, Point::new(cell.centre.x + dx, cell.centre.y + dy), quarter);
            if child.promise > best.clearance + precision {
                heap.push(child);
            }
        }
        if cell.clearance > best.clearance {
            best = cell;
        }
    }
    (best.clearance > 0.0).then_some((best.centre, best.clearance))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Rect;

    #[test]
    fn the_middle_of_a_square() {
        let (point, clearance) =
            label_point(&Ring::from_rect(Rect::new(0.0, 0.0, 1000.0, 1000.0)), 1.0).expect("has area");
        assert!((clearance - 500.0).abs() <= 1.0 && point.distance(Point::new(500.0, 500.0)) <= 2.0);
    }

    #[test]
    fn a_u_shape_keeps_its_label_inside() {
        let corners = [
            (0., 0.),
            (6000., 0.),
            (6000., 5000.),
            (4000., 5000.),
            (4000., 1000.),
            (1000., 1000.),
            (1000., 5000.),
            (0., 5000.),
        ];
        let ring = Ring::new(corners.iter().map(|(x, y)| Point::new(*x, *y)).collect());
        let (point, clearance) = label_point(&ring, 1.0).expect("has area");
        assert!(ring.contains(point));
        // At the foot of the broad arm: as far from both sides and the bottom as from the inner corner,
        // r = 6000 - x = y and r² = (x - 4000)² + (y - 1000)², so r² - 6000 r + 5000000 = 0 → r = 1000.
        assert!((999.0..=1100.0).contains(&clearance), "{clearance}");
    }

    #[test]
    fn nothing_to_label() {
        assert!(label_point(&Ring::default(), 1.0).is_none());
        let flat = Ring::new(vec![Point::ZERO, Point::new(5.0, 0.0), Point::new(9.0, 0.0)]);
        assert!(label_point(&flat, 1.0).is_none());
    }
}
