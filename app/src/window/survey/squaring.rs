//! A photograph of a paper plan made square takes the photograph's place under the plan.

use kurbo::{Affine, Point};
use pattress_model::plan::{ScaleFrom, Underlay};
use pattress_model::units::Angle;

use crate::survey::{Corners, Squared};

/// The drawing that takes the photograph's place: level, to scale, its upper left corner where it was picked.
pub fn in_place_of(photograph: &Underlay, corners: &Corners, squared: &Squared, media: String) -> Underlay {
    let corner_on_plan = photograph.plan_from_drawing() * corners.at[0];
    let new = Underlay {
        media,
        page: 1,
        name: format!("{}, squared", photograph.name),
        width: squared.size_px.0 as f64,
        height: squared.size_px.1 as f64,
        mm_per_unit: squared.mm_per_px,
        scale_from: Some(ScaleFrom::FourCorners { width: corners.width, depth: corners.depth }),
        second_length: None,
        position: Point::ORIGIN,
        turn: Angle::ZERO,
        ..photograph.clone()
    };
    let lies_at = new.plan_from_drawing() * squared.corner;
    Underlay { position: Affine::translate(corner_on_plan - lies_at) * Point::ORIGIN, ..new }
}

#[cfg(test)]
mod tests {
    use kurbo::Vec2;
    use pattress_model::id::Id;
    use pattress_model::survey::Greyscale;
    use pattress_model::units::Length;

    use super::*;

    #[test]
    fn the_picked_corner_stays_where_it_was() {
        let at = [(60.0, 40.0), (360.0, 70.0), (340.0, 270.0), (30.0, 290.0)].map(Point::from);
        let corners = Corners { at, width: Length::m(6.0), depth: Length::m(4.0) };
        let squared = Squared {
            bytes: Vec::new(),
            grey: Greyscale::new(1, 1, vec![0]).unwrap(),
            size_px: (420, 330),
            mm_per_px: 19.5,
            corner: Point::new(55.5, 38.25),
        };
        let photograph = Underlay {
            level: Id::from_number(1),
            name: "plan.jpg".to_owned(),
            media: String::new(),
            page: 1,
            width: 400.0,
            height: 320.0,
            mm_per_unit: 12.0,
            scale_from: None,
            second_length: None,
            position: Point::new(100.0, 300.0),
            turn: Angle::degrees(3.0),
            opacity: 0.6,
            on_sheets: false,
        };
        let new = in_place_of(&photograph, &corners, &squared, "new.jpg".to_owned());
        assert_eq!((new.media.as_str(), new.width, new.height), ("new.jpg", 420.0, 330.0));
        let picked = photograph.plan_from_drawing() * corners.at[0];
        assert!((new.plan_from_drawing() * squared.corner - picked).hypot() < 1e-6);
        let width = squared.corner + Vec2::new(6000.0 / squared.mm_per_px, 0.0);
        assert!((new.plan_from_drawing() * width - picked - Vec2::new(6000.0, 0.0)).hypot() < 1e-6);
    }
}
