//! Cuts lines and areas to the rectangle in which a drawing shows them.
//!
//! Straight parts are cut exactly; a curve that crosses the edge is kept whole, since what stands over is short
//! in practice and a curve cut at its edge says no more about a house.

use kurbo::{BezPath, PathEl, Point, Rect, Shape};

/// A line as far as it lies within a rectangle, with half its pen to spare for the test whether it does at all.
/// `None` where none of it does.
pub fn lines_within(path: BezPath, bounds: Rect, half_pen: f64) -> Option<BezPath> {
    let own = path.bounding_box();
    if !touch(own.inflate(half_pen, half_pen), bounds) {
        return None;
    }
    if contains(bounds, own) || has_curves(&path) {
        return Some(path);
    }
    let mut kept = BezPath::new();
    let (mut start, mut last) = (Point::ORIGIN, Point::ORIGIN);
    let mut pen_is_at = None;
    for element in path.elements() {
        let to = match *element {
            PathEl::MoveTo(at) => {
                (start, last) = (at, at);
                continue;
            }
            PathEl::LineTo(at) => at,
            PathEl::ClosePath => start,
            // There are none: looked for above.
            PathEl::QuadTo(_, at) | PathEl::CurveTo(_, _, at) => at,
        };
        if let Some((from, end)) = part_within(last, to, bounds) {
            if pen_is_at != Some(from) {
                kept.move_to(from);
            }
            kept.line_to(end);
            pen_is_at = Some(end);
        }
        last = to;
    }
    (!kept.elements().is_empty()).then_some(kept)
}

/// An area as far as it lies within a rectangle. `None` where none of it does.
pub fn area_within(path: BezPath, bounds: Rect) -> Option<BezPath> {
    let own = path.bounding_box();
    if !touch(own, bounds) {
        return None;
    }
    if contains(bounds, own) || has_curves(&path) {
        return Some(path);
    }
    let mut kept = BezPath::new();
    for ring in rings(&path) {
        let ring = ring_within(ring, bounds);
        if let [first, rest @ ..] = ring.as_slice()
            && rest.len() >= 2
        {
            kept.move_to(*first);
            rest.iter().for_each(|corner| kept.line_to(*corner));
            kept.close_path();
        }
    }
    (!kept.elements().is_empty()).then_some(kept)
}

/// Whether two boxes have a point in common; a line has a box without breadth.
fn touch(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

fn contains(outer: Rect, inner: Rect) -> bool {
    outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && inner.x1 <= outer.x1 && inner.y1 <= outer.y1
}

fn has_curves(path: &BezPath) -> bool {
    path.elements().iter().any(|element| matches!(element, PathEl::QuadTo(..) | PathEl::CurveTo(..)))
}

/// The corners of each part of a path without curves.
fn rings(path: &BezPath) -> Vec<Vec<Point>> {
    let mut rings: Vec<Vec<Point>> = Vec::new();
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(at) => rings.push(vec![at]),
            PathEl::LineTo(at) => {
                if let Some(ring) = rings.last_mut() {
                    ring.push(at);
                }
            }
            _ => {}
        }
    }
    rings
}

/// The part of a straight line within a rectangle (Liang and Barsky, 1984).
fn part_within(from: Point, to: Point, bounds: Rect) -> Option<(Point, Point)> {
    let way = to - from;
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (towards, room) in [
        (-way.x, from.x - bounds.x0),
        (way.x, bounds.x1 - from.x),
        (-way.y, from.y - bounds.y0),
        (way.y, bounds.y1 - from.y),
    ] {
        if towards == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if towards < 0.0 {
            first = first.max(room / towards);
        } else {
            last = last.min(room / towards);
        }
    }
    (first < last || (first == last && way.hypot() == 0.0)).then(|| {
        let at = |share: f64| match share {
            0.0 => from,
            1.0 => to,
            share => from + way * share,
        };
        (at(first), at(last))
    })
}

/// A ring cut at the four edges one after the other (Sutherland and Hodgman, 1974). A ring that falls into parts
/// keeps them tied along the edge, which fills the same.
fn ring_within(ring: Vec<Point>, bounds: Rect) -> Vec<Point> {
    let edges: [&dyn Fn(Point) -> f64; 4] =
        [&|at| at.x - bounds.x0, &|at| bounds.x1 - at.x, &|at| at.y - bounds.y0, &|at| bounds.y1 - at.y];
    edges.iter().fold(ring, |ring, inside| {
        let mut kept = Vec::with_capacity(ring.len() + 4);
        for (index, to) in ring.iter().enumerate() {
            let from = ring[(index + ring.len() - 1) % ring.len()];
            let (before, after) = (inside(from), inside(*to));
            if (before < 0.0) != (after < 0.0) {
                kept.push(from.lerp(*to, before / (before - after)));
            }
            if after >= 0.0 {
                kept.push(*to);
            }
        }
        kept
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_at_the_edge() {
        let bounds = Rect::new(0.0, 0.0, 10.0, 10.0);
        let mut path = BezPath::new();
        path.move_to((-5.0, 5.0));
        path.line_to((5.0, 5.0));
        path.line_to((5.0, 20.0));
        path.line_to((20.0, 20.0));
        let kept = lines_within(path, bounds, 0.0).unwrap();
        assert_eq!(kept.to_svg(), "M0,5 L5,5 L5,10");
    }

    #[test]
    fn areas_end_at_the_edge() {
        let bounds = Rect::new(0.0, 0.0, 10.0, 10.0);
        let cut = |area: Rect| area_within(area.to_path(0.1), bounds).map(|path| path.area().abs());
        assert_eq!(cut(Rect::new(5.0, 5.0, 20.0, 7.0)), Some(10.0));
        assert_eq!(cut(Rect::new(-5.0, -5.0, 20.0, 20.0)), Some(100.0));
        assert_eq!(cut(Rect::new(11.0, 5.0, 20.0, 7.0)), None);
    }
}
