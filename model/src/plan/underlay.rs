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

/// Points picked nearer to each other than this, mm, give no direction.
const APART_MM: f64 = 1e-6;

impl Underlay {
    /// The same drawing moved, turned and scaled so that two points of it that lie at `from` on the plan come to lie
    /// at `to`, and how far off each is then, mm. Where its scale is kept, both miss by half of what the distances
    /// between the points differ.
    ///
    /// # Errors
    /// A sentence, where two points are one and the same.
    pub fn aligned_by(
        &self,
        from: [Point; 2],
        to: [Point; 2],
        keep_scale: bool,
    ) -> Result<(Self, f64), String> {
        let (here, there) = (from[1] - from[0], to[1] - to[0]);
        let apart = here.hypot() > APART_MM && there.hypot() > APART_MM;
        if !apart || !here.is_finite() || !there.is_finite() {
            return Err("the two points are the same: pick two points that lie apart".to_owned());
        }
        let factor = if keep_scale { 1.0 } else { there.hypot() / here.hypot() };
        let turn = there.atan2() - here.atan2();
        let (middle, goal) = (from[0].midpoint(from[1]), to[0].midpoint(to[1]));
        let moved = Affine::translate(goal.to_vec2())
            * Affine::rotate(turn)
            * Affine::scale(factor)
            * Affine::translate(-middle.to_vec2());
        let aligned = Self {
            mm_per_unit: self.mm_per_unit * factor,
            turn: self.turn + Angle::radians(turn),
            position: moved * self.position,
            ..self.clone()
        };
        Ok((aligned, (moved * from[0] - to[0]).hypot()))
    }

    /// The same drawing turned about the first of two points of the plan, by the least that makes the line between
    /// them run level or upright.
    ///
    /// # Errors
    /// A sentence, where the points are one and the same.
    pub fn levelled_by(&self, first: Point, second: Point) -> Result<Self, String> {
        let line = second - first;
        let apart = line.hypot() > APART_MM;
        if !apart || !line.is_finite() {
            return Err("the two points are the same: pick two points that lie apart".to_owned());
        }
        let quarter = std::f64::consts::FRAC_PI_2;
        let turn = (line.atan2() / quarter).round() * quarter - line.atan2();
        let turned = Affine::rotate_about(turn, first);
        Ok(Self { turn: self.turn + Angle::radians(turn), position: turned * self.position, ..self.clone() })
    }

    /// The same drawing at another scale about a point of the plan that stays.
    pub fn scaled_to(&self, mm_per_unit: f64, about: Point) -> Self {
        let factor = mm_per_unit / self.mm_per_unit;
        Self { mm_per_unit, position: about + (self.position - about) * factor, ..self.clone() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_common_points_align_a_drawing_with_another() {
        let at = Point::new;
        let from = [at(1200.0, 2100.0), at(1700.0, 2100.0)];
        let to = [at(0.0, 0.0), at(0.0, 1000.0)];
        let drawn = from.map(|point| picture().plan_from_drawing().inverse() * point);
        let (scaled, off) = picture().aligned_by(from, to, false).unwrap();
        assert!(off < 1e-9 && (scaled.mm_per_unit - 20.0).abs() < 1e-9);
        for (point, goal) in drawn.iter().zip(to) {
            assert!((scaled.plan_from_drawing() * *point - goal).hypot() < 1e-6);
        }
        let (kept, off) = picture().aligned_by(from, to, true).unwrap();
        assert!((off - 250.0).abs() < 1e-9 && kept.mm_per_unit == 10.0);
        assert!((kept.plan_from_drawing() * drawn[0] - at(0.0, 250.0)).hypot() < 1e-6);
        assert!(picture().aligned_by([at(1.0, 1.0); 2], to, false).is_err());
        assert!(picture().aligned_by(from, [at(f64::NAN, 1.0), at(0.0, 0.0)], false).is_err());
    }

    #[test]
    fn a_line_is_made_level_or_upright_by_the_least_turn() {
        let first = Point::new(1500.0, 2200.0);
        for (degrees, turned) in [(2.0, -2.0), (-30.0, 30.0), (88.0, 2.0), (178.0, 2.0), (-92.0, 2.0)] {
            let second = first + Angle::degrees(degrees).direction() * 300.0;
            let level = picture().levelled_by(first, second).unwrap();
            assert!(
                (level.turn.as_degrees() - turned).abs() < 1e-9,
                "{degrees}: {}",
                level.turn.as_degrees()
            );
            let pixel = picture().plan_from_drawing().inverse() * first;
            assert!((level.plan_from_drawing() * pixel - first).hypot() < 1e-6);
        }
        assert!(picture().levelled_by(first, first).is_err());
    }

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
