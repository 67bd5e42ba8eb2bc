//! The architect's drawing beneath our own, from which a plan is traced.

use kurbo::{Affine, Point, Vec2};

use super::Level;
use crate::id::Id;
use crate::units::{Angle, Length};

/// A drawing laid under a level. Its bytes are kept once, by content, beside the project.
///
/// It has units of its own: pixels where it came as a picture, millimetres of paper where it came as a page with
/// lines and lettering (PDF, SVG). `mm_per_unit` ties them to the house: a page at 1:50 has 50.
#[derive(Clone, Debug, PartialEq)]
pub struct Underlay {
    /// The storey it lies under.
    pub level: Id<Level>,
    /// The name of the file it came from, for people.
    pub name: String,
    /// Name of the content in the plan's media: SHA-256 in hexadecimal, a dot, `png`, `jpg`, `pdf` or `svg`.
    pub media: String,
    /// Which page of the file, from 1; a picture has one.
    pub page: u32,
    /// Width in the drawing's own units.
    pub width: f64,
    /// Height in the drawing's own units.
    pub height: f64,
    /// Millimetres of the house to one unit of the drawing.
    pub mm_per_unit: f64,
    /// Where the drawing's lower left corner lies on the plan, mm.
    pub position: Point,
    /// How far it is turned about that corner.
    pub turn: Angle,
    /// 0 (invisible) to 1 (as it is).
    pub opacity: f64,
}

impl Underlay {
    /// Places a point of the drawing (its own units, x right, y down from its upper left corner) on the plan.
    pub fn plan_from_drawing(&self) -> Affine {
        Affine::translate(self.position.to_vec2())
            * Affine::rotate(self.turn.as_radians())
            * Affine::scale(self.mm_per_unit)
            * Affine::translate(Vec2::new(0.0, self.height))
            * Affine::scale_non_uniform(1.0, -1.0)
    }

    /// The same drawing scaled so that the distance between two points picked on the plan is `length`; the
    /// first picked point stays where it is.
    ///
    /// # Errors
    /// A sentence, where the points are one and the same or the length is not above zero.
    pub fn scaled_by(&self, first: Point, second: Point, length: Length) -> Result<Self, String> {
        let picked = (second - first).hypot();
        let apart = picked > 1e-9;
        if !apart {
            return Err("the two points are the same: pick two points that lie apart".to_owned());
        }
        let above_zero = length.as_mm() > 0.0;
        if !above_zero {
            return Err("the length between the two points must be above zero".to_owned());
        }
        let factor = length.as_mm() / picked;
        Ok(Self {
            mm_per_unit: self.mm_per_unit * factor,
            position: first + (self.position - first) * factor,
            ..self.clone()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture() -> Underlay {
        Underlay {
            level: Id::from_number(1),
            name: "scan.png".to_owned(),
            media: String::new(),
            page: 1,
            width: 100.0,
            height: 50.0,
            mm_per_unit: 10.0,
            position: Point::new(1000.0, 2000.0),
            turn: Angle::ZERO,
            opacity: 1.0,
        }
    }

    #[test]
    fn the_upper_left_pixel_lies_above_the_lower_left_corner() {
        let placed = picture().plan_from_drawing();
        assert_eq!(placed * Point::new(0.0, 0.0), Point::new(1000.0, 2500.0));
        assert_eq!(placed * Point::new(100.0, 50.0), Point::new(2000.0, 2000.0));
    }

    #[test]
    fn a_typed_length_scales_about_the_first_point() {
        let first = Point::new(1200.0, 2100.0);
        let scaled = picture().scaled_by(first, Point::new(1700.0, 2100.0), Length::m(4.0)).unwrap();
        assert_eq!(scaled.mm_per_unit, 80.0);
        let pixel_of_first = picture().plan_from_drawing().inverse() * first;
        assert!((scaled.plan_from_drawing() * pixel_of_first - first).hypot() < 1e-6);
        assert!(picture().scaled_by(first, first, Length::m(1.0)).is_err());
    }
}
