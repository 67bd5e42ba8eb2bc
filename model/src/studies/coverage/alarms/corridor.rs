//! Corridors up to 2 m wide, in which only distances along the centre line count.
//!
//! Two facing walls no farther apart than that make a strip; a room that its strips cover is a corridor, whichever way
//! it bends, and the middle of each strip from wall to wall is a centre line.

use kurbo::{Point, Vec2};

use crate::geometry::{Region, Ring, Segment, Shape, difference, union_of_rings};
use crate::units::Length;

/// Walls count as facing where their directions differ by no more than this (sine of the angle).
const PARALLEL: f64 = 1e-3;

/// Less than this share of the floor may lie outside the strips of a corridor.
const LEFT_OUT: f64 = 0.005;

/// How far apart points on the centre line of a space so wide may lie, each within reach of the walls beside it:
/// 2·√(r² − (w/2)²), by the theorem of Pythagoras; half of it to the end wall. Up to the widest corridor only the
/// centre line counts, so that it is 2·r.
pub fn spacing_along_centre_line(reach: Length, width: Length, widest_corridor: Length) -> Length {
    if width <= widest_corridor {
        return reach * 2.0;
    }
    let half = width.as_mm() / 2.0;
    Length::mm(2.0 * (reach.as_mm().powi(2) - half * half).max(0.0).sqrt())
}

/// The centre lines of a corridor; `None` where some part of it is wider.
pub fn centre_lines(shape: &Shape, widest: Length) -> Option<Vec<Segment>> {
    let edges: Vec<Segment> = shape.rings().flat_map(Ring::edges).collect();
    let (mut lines, mut strips) = (Vec::new(), Vec::new());
    for (index, edge) in edges.iter().enumerate() {
        for other in &edges[index + 1..] {
            let Some((middle, along, gap)) = between(edge, other, widest.as_mm()) else { continue };
            let Some(line) = wall_to_wall(shape, middle, along) else { continue };
            let out = Vec2::new(-along.y, along.x) * (gap / 2.0);
            strips.push(Ring::new(vec![line.a - out, line.b - out, line.b + out, line.a + out]));
            lines.push(line);
        }
    }
    if strips.is_empty() {
        return None;
    }
    let left = difference(&Region { shapes: vec![shape.clone()] }, &union_of_rings(&strips));
    (left.area() <= LEFT_OUT * shape.area()).then_some(lines)
}

/// Half way between two walls that face each other: a point, the direction along them, and how far apart they are.
fn between(edge: &Segment, other: &Segment, widest: f64) -> Option<(Point, Vec2, f64)> {
    let (along, back) = (edge.direction()?, other.direction()?);
    // Outlines keep the floor on their left, so that walls that face each other run against each other.
    if along.dot(back) >= 0.0 || along.cross(back).abs() > PARALLEL {
        return None;
    }
    let gap = along.cross(other.a - edge.a);
    if gap <= 0.0 || gap > widest + 1e-3 {
        return None;
    }
    let place = |point: Point| (point - edge.a).dot(along);
    let (from, to) = (place(other.b).max(0.0), place(other.a).min(edge.length()));
    let left = Vec2::new(-along.y, along.x);
    (to - from > 1.0).then(|| (edge.a + along * ((from + to) / 2.0) + left * (gap / 2.0), along, gap))
}

/// The line through a point of the floor from wall to wall.
fn wall_to_wall(shape: &Shape, middle: Point, along: Vec2) -> Option<Segment> {
    if !shape.contains(middle) {
        return None;
    }
    let far = shape.outer.bounds().map(|bounds| bounds.width() + bounds.height())?;
    let end = |direction: Vec2| {
        let ray = Segment::new(middle, middle + direction * far);
        let hits = shape.rings().flat_map(Ring::edges).filter_map(move |wall| ray.intersection(&wall));
        hits.map(|hit| hit.point).min_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)))
    };
    Some(Segment::new(end(-along)?, end(along)?))
}

#[cfg(test)]
mod tests {
    use kurbo::Rect;

    use super::*;

    /// “Fire design stage 4”, a retailer's guide after BS 5839-1: width, distance to the end wall and spacing, metres.
    const SMOKE: [(f64, f64, f64); 5] =
        [(2.0, 7.50, 15.00), (3.0, 7.35, 14.70), (5.0, 7.07, 14.14), (8.0, 6.34, 12.69), (10.0, 5.59, 11.18)];

    #[test]
    fn spacing_is_that_of_the_published_table() {
        for (width, to_wall, spacing) in SMOKE {
            let found = spacing_along_centre_line(Length::m(7.5), Length::m(width), Length::m(2.0)).as_m();
            assert!(
                (found - spacing).abs() <= 0.01 && (found / 2.0 - to_wall).abs() <= 0.01,
                "{width} {found}"
            );
        }
        // Heat in a corridor: 10.6 m (the same guide).
        let heat = spacing_along_centre_line(Length::m(5.3), Length::m(1.8), Length::m(2.0)).as_m();
        assert!((heat - 10.6).abs() < 1e-9);
    }

    #[test]
    fn a_corridor_may_bend_but_not_widen() {
        let rectangle = |x1: f64, y1: f64| Shape::from_ring(Ring::from_rect(Rect::new(0.0, 0.0, x1, y1)));
        let widest = Length::m(2.0);
        let straight = centre_lines(&rectangle(9000.0, 1200.0), widest).unwrap();
        assert_eq!(straight, [Segment::new(Point::new(0.0, 600.0), Point::new(9000.0, 600.0))]);
        assert!(centre_lines(&rectangle(9000.0, 2000.0), widest).is_some());
        assert!(centre_lines(&rectangle(9000.0, 2010.0), widest).is_none());
        let corners =
            [(0.0, 0.0), (6000.0, 0.0), (6000.0, 2000.0), (2000.0, 2000.0), (2000.0, 7000.0), (0.0, 7000.0)];
        let bent = Shape::from_ring(Ring::new(corners.map(Point::from).to_vec()));
        assert_eq!(centre_lines(&bent, widest).unwrap().len(), 2);
        let corners =
            [(0.0, 0.0), (6000.0, 0.0), (6000.0, 1500.0), (3000.0, 1500.0), (3000.0, 4000.0), (0.0, 4000.0)];
        let widened = Shape::from_ring(Ring::new(corners.map(Point::from).to_vec()));
        assert!(centre_lines(&widened, widest).is_none());
    }
}
