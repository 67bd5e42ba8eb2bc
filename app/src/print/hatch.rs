//! Hatch lines: parallel lines across an area, all from one origin, so that the hatch of one area runs on in
//! its neighbour and falls the same in every format.

use kurbo::{BezPath, Rect, Shape as _, Vec2};
use pattress_model::drawing::Hatch;

/// More lines than this across one area are no hatch but a fault in its spacing; it is left without.
const MOST_LINES: f64 = 20_000.0;

/// The lines of a hatch across a rectangle, reaching to or beyond its edges; the area clips them. Millimetres
/// on paper, y up, counted from the paper's lower left corner.
pub fn hatch_lines(area: Rect, hatch: &Hatch) -> BezPath {
    let along = pattress_model::units::Angle::degrees(hatch.degrees).direction();
    let across = Vec2::new(-along.y, along.x);
    let corners = area.to_path(0.1);
    let mut least = Vec2::new(f64::INFINITY, f64::INFINITY);
    let mut most = Vec2::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
    for corner in corners.elements().iter().filter_map(|element| element.end_point()) {
        let place = Vec2::new(corner.to_vec2().dot(along), corner.to_vec2().dot(across));
        least = Vec2::new(least.x.min(place.x), least.y.min(place.y));
        most = Vec2::new(most.x.max(place.x), most.y.max(place.y));
    }
    let mut lines = BezPath::new();
    let count = (most.y - least.y) / hatch.spacing_mm;
    if hatch.spacing_mm.is_nan() || hatch.spacing_mm <= 0.0 || count.is_nan() || count > MOST_LINES {
        return lines;
    }
    let first = (least.y / hatch.spacing_mm).ceil() as i64;
    let last = (most.y / hatch.spacing_mm).floor() as i64;
    for number in first..=last {
        let offset = across * (number as f64 * hatch.spacing_mm);
        lines.move_to((along * least.x + offset).to_point());
        lines.line_to((along * most.x + offset).to_point());
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_share_their_lines() {
        let hatch = Hatch { degrees: 0.0, spacing_mm: 2.0, width_mm: 0.13 };
        let heights = |area: Rect| -> Vec<f64> {
            let lines = hatch_lines(area, &hatch);
            lines.elements().iter().filter_map(|e| e.end_point()).map(|p| (p.y * 1e6).round() / 1e6).collect()
        };
        assert_eq!(heights(Rect::new(1.0, 1.0, 5.0, 7.0)), [2.0, 2.0, 4.0, 4.0, 6.0, 6.0]);
        assert_eq!(heights(Rect::new(5.0, 3.0, 9.0, 5.0)), [4.0, 4.0]);
        let none = Hatch { spacing_mm: 0.0, ..hatch };
        assert!(hatch_lines(Rect::new(0.0, 0.0, 9.0, 9.0), &none).elements().is_empty());
    }
}
