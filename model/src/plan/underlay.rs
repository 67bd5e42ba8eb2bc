//! The architect's drawing beneath our own, from which a plan is traced.

use kurbo::{Affine, Point, Vec2};

use super::{Level, ScaleFrom, SecondLength};
use crate::id::Id;
use crate::units::Angle;

/// Points picked nearer to each other than this, mm, give no direction.
const APART_MM: f64 = 1e-6;

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
    /// What that scale was taken from; `None` where nobody has scaled it yet, or it was not kept.
    pub scale_from: Option<ScaleFrom>,
    /// The last second length that was held against the scale it has.
    pub second_length: Option<SecondLength>,
    /// Where the drawing's lower left corner lies on the plan, mm.
    pub position: Point,
    /// How far it is turned about that corner.
    pub turn: Angle,
    /// 0 (invisible) to 1 (as it is).
    pub opacity: f64,
    /// Whether it is printed, faint, beneath the sheets of its level.
    pub on_sheets: bool,
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

    /// The middle of the drawing, on the plan.
    pub fn middle(&self) -> Point {
        self.plan_from_drawing() * Point::new(self.width / 2.0, self.height / 2.0)
    }

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
        let scaled = if keep_scale {
            self.clone()
        } else {
            self.scaled_to(self.mm_per_unit * factor, Some(ScaleFrom::OtherStorey), self.position)
        };
        let aligned =
            Self { turn: self.turn + Angle::radians(turn), position: moved * self.position, ..scaled };
        Ok((aligned, (moved * from[0] - to[0]).hypot()))
    }

    /// The same drawing turned about a point of the plan that stays.
    pub fn turned_about(&self, about: Point, by: Angle) -> Self {
        let turned = Affine::rotate_about(by.as_radians(), about);
        Self { turn: self.turn + by, position: turned * self.position, ..self.clone() }
    }

    /// The same drawing at another scale about a point of the plan that stays. What was said of its old scale is
    /// forgotten.
    pub fn scaled_to(&self, mm_per_unit: f64, scale_from: Option<ScaleFrom>, about: Point) -> Self {
        let factor = mm_per_unit / self.mm_per_unit;
        let position = about + (self.position - about) * factor;
        Self { mm_per_unit, scale_from, second_length: None, position, ..self.clone() }
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
        assert_eq!((&kept.scale_from, &scaled.scale_from), (&None, &Some(ScaleFrom::OtherStorey)));
        assert!((kept.plan_from_drawing() * drawn[0] - at(0.0, 250.0)).hypot() < 1e-6);
        assert!(picture().aligned_by([at(1.0, 1.0); 2], to, false).is_err());
        assert!(picture().aligned_by(from, [at(f64::NAN, 1.0), at(0.0, 0.0)], false).is_err());
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
            scale_from: None,
            second_length: None,
            position: Point::new(1000.0, 2000.0),
            turn: Angle::ZERO,
            opacity: 1.0,
            on_sheets: false,
        }
    }

    #[test]
    fn the_upper_left_pixel_lies_above_the_lower_left_corner() {
        let placed = picture().plan_from_drawing();
        assert_eq!(placed * Point::new(0.0, 0.0), Point::new(1000.0, 2500.0));
        assert_eq!(placed * Point::new(100.0, 50.0), Point::new(2000.0, 2000.0));
    }

    #[test]
    fn a_point_stays_while_the_drawing_is_scaled_or_turned_about_it() {
        let about = Point::new(1200.0, 2100.0);
        let on_drawing = picture().plan_from_drawing().inverse() * about;
        let scaled = picture().scaled_to(80.0, Some(ScaleFrom::MeanOfTwo), about);
        let turned = scaled.turned_about(about, Angle::degrees(-2.3));
        assert_eq!((&scaled.scale_from, scaled.second_length), (&Some(ScaleFrom::MeanOfTwo), None));
        assert_eq!((turned.mm_per_unit, turned.turn), (80.0, Angle::degrees(-2.3)));
        for moved in [scaled, turned] {
            assert!((moved.plan_from_drawing() * on_drawing - about).hypot() < 1e-6);
        }
        let middle = picture().middle();
        assert_eq!(middle, Point::new(1500.0, 2250.0));
        assert!((picture().turned_about(middle, Angle::degrees(90.0)).middle() - middle).hypot() < 1e-6);
    }
}
