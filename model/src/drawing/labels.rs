//! Where lettering goes: how much room a text takes, and a place for every device's tag.

use kurbo::{Affine, Point, Rect};

use super::{Shape, lettering};
use crate::units::Angle;

/// Room kept above the capitals, as a share of their height: accents and ascenders.
const ABOVE_CAPITALS: f64 = 0.15;

/// Room kept below the base line, as a share of the capitals' height: descenders.
const BELOW_BASE: f64 = 0.30;

/// The upright rectangle, plan mm, that a text takes at a scale. `None` for shapes that are no text.
pub fn text_bounds(shape: &Shape, scale: f64) -> Option<Rect> {
    let Shape::Text { at, text, height_mm, weight, anchor, turn } = shape else { return None };
    let width = lettering::width(text, *height_mm, *weight);
    let start = lettering::start_from_anchor(*anchor, width, *height_mm);
    let (low, high) = (start.y - BELOW_BASE * height_mm, start.y + (1.0 + ABOVE_CAPITALS) * height_mm);
    let on_paper = Rect::new(start.x, low, start.x + width, high);
    let place = Affine::translate(at.to_vec2()) * Affine::rotate(turn.as_radians()) * Affine::scale(scale);
    Some(place.transform_rect_bbox(on_paper))
}

/// The same line turned so that it reads from the bottom or from the right of the sheet (ISO 129-1).
pub fn readable(turn: Angle) -> Angle {
    // A text that reads straight down counts as read from the left and is turned over; a hundredth of a degree
    // keeps vertical texts from flickering between the two.
    let degrees = turn.as_degrees().rem_euclid(360.0);
    if degrees > 90.01 && degrees <= 270.01 {
        Angle::degrees(degrees - 180.0)
    } else {
        Angle::degrees(degrees)
    }
}

/// Whether a straight line has a piece within a rectangle (C. K. Liang and B. A. Barsky's clipping, 1984).
pub(crate) fn line_crosses(from: Point, to: Point, rect: Rect) -> bool {
    let along = to - from;
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (step, gap_low, gap_high) in
        [(along.x, rect.x0 - from.x, rect.x1 - from.x), (along.y, rect.y0 - from.y, rect.y1 - from.y)]
    {
        if step == 0.0 {
            if gap_low > 0.0 || gap_high < 0.0 {
                return false;
            }
        } else {
            let (a, b) = (gap_low / step, gap_high / step);
            enters = enters.max(a.min(b));
            leaves = leaves.min(a.max(b));
        }
    }
    enters <= leaves
}
