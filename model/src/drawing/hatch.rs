//! Hatching: parallel lines cut to an area, the same on screen and on paper.

use kurbo::{BezPath, Line, ParamCurve, PathEl, Point, Shape as _, Vec2};

/// Flattening error for curved outlines, in the unit of the path.
const FLATTENING: f64 = 0.05;

/// More lines than this are not worth drawing: the area would be grey.
const MOST_LINES: f64 = 4000.0;

/// Lines at an angle and spacing, anchored to the origin, cut to the inside of a path by the even-odd rule.
/// Angle in degrees from +x, spacing in the unit of the path. Empty for a spacing of zero or less.
pub fn hatch_lines(path: &BezPath, degrees: f64, spacing: f64) -> Vec<Line> {
    let mut edges: Vec<Line> = Vec::new();
    let (mut first, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path.elements().iter().copied(), FLATTENING, |element| match element {
        PathEl::MoveTo(point) => {
            if first != last {
                edges.push(Line::new(last, first));
            }
            first = point;
            last = point;
        }
        PathEl::LineTo(point) => {
            edges.push(Line::new(last, point));
            last = point;
        }
        PathEl::ClosePath => {
            edges.push(Line::new(last, first));
            last = first;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    if first != last {
        edges.push(Line::new(last, first));
    }
    let along = Vec2::from_angle(degrees.to_radians());
    let across = Vec2::new(-along.y, along.x);
    let height = |point: Point| point.to_vec2().dot(across);
    let bounds = path.bounding_box();
    let corners =
        [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x0, bounds.y1), (bounds.x1, bounds.y1)];
    let heights = corners.map(|corner| height(Point::from(corner)));
    let low = heights.iter().copied().fold(f64::INFINITY, f64::min);
    let high = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let can_be_drawn = spacing > 0.0 && (high - low) / spacing <= MOST_LINES;
    if !can_be_drawn {
        return Vec::new();
    }
    let mut lines = Vec::new();
    let mut row = (low / spacing).ceil();
    while row * spacing <= high {
        let level = row * spacing;
        let mut crossings: Vec<f64> = edges
            .iter()
            .filter_map(|edge| {
                let (a, b) = (height(edge.p0), height(edge.p1));
                if (a <= level) == (b <= level) {
                    return None;
                }
                Some(edge.eval((level - a) / (b - a)).to_vec2().dot(along))
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let at = |distance: f64| (along * distance + across * level).to_point();
            lines.push(Line::new(at(pair[0]), at(pair[1])));
        }
        row += 1.0;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Rect;

    #[test]
    fn lines_fill_a_square_and_leave_its_hole_free() {
        let mut path = Rect::new(0.0, 0.0, 10.0, 10.0).to_path(0.1);
        assert_eq!(hatch_lines(&path, 0.0, 2.5).len(), 4);
        path.extend(Rect::new(4.0, 4.0, 6.0, 6.0).to_path(0.1));
        let length: f64 = hatch_lines(&path, 0.0, 0.5).iter().map(|line| (line.p1 - line.p0).hypot()).sum();
        assert!((length - (20.0 * 10.0 - 4.0 * 2.0)).abs() < 10.0, "{length}");
        assert!(hatch_lines(&path, 45.0, 0.0).is_empty());
    }
}
