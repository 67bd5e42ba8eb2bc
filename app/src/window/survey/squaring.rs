//! A photograph of a paper plan made square takes the photograph's place under the plan.

use kurbo::{Affine, Point};
use pattress_model::plan::Underlay;
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
        position: Point::ORIGIN,
        turn: Angle::ZERO,
        ..photograph.clone()
    };
    let lies_at = new.plan_from_drawing() * squared.corner;
    Underlay { position: Affine::translate(corner_on_plan - lies_at) * Point::ORIGIN, ..new }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use pattress_model::id::Id;
    use pattress_model::survey::rectify::Homography;
    use pattress_model::units::Length;

    use super::*;
    use crate::survey::square_up;

    /// A white sheet with a dark block, seen from the lower left.
    fn photograph() -> (Vec<u8>, Corners) {
        let at = [
            Point::new(60.0, 40.0),
            Point::new(360.0, 70.0),
            Point::new(340.0, 270.0),
            Point::new(30.0, 290.0),
        ];
        let corners = Corners { at, width: Length::m(6.0), depth: Length::m(4.0) };
        let map = Homography::from_corners(at, 6000.0, 4000.0).unwrap();
        let picture = image::RgbImage::from_fn(400, 320, |x, y| {
            let on_plan = map.apply(Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5));
            let dark = on_plan
                .is_some_and(|at| (2000.0..4000.0).contains(&at.x) && (1000.0..2000.0).contains(&at.y));
            image::Rgb(if dark { [20, 20, 60] } else { [240, 240, 235] })
        });
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        (bytes.into_inner(), corners)
    }

    #[test]
    fn the_picked_corner_stays_where_it_was() {
        let (bytes, corners) = photograph();
        let squared = square_up(&bytes, &corners, &|_| true).unwrap();
        let photograph = Underlay {
            level: Id::from_number(1),
            name: "plan.jpg".to_owned(),
            media: String::new(),
            page: 1,
            width: 400.0,
            height: 320.0,
            mm_per_unit: 12.0,
            position: Point::new(100.0, 300.0),
            turn: Angle::degrees(3.0),
            opacity: 0.6,
        };
        let new = in_place_of(&photograph, &corners, &squared, "new.jpg".to_owned());
        let picked = photograph.plan_from_drawing() * corners.at[0];
        assert!((new.plan_from_drawing() * squared.corner - picked).hypot() < 1e-6);
        let width = Point::new(squared.corner.x + 6000.0 / squared.mm_per_px, squared.corner.y);
        assert!(((new.plan_from_drawing() * width) - picked - kurbo::Vec2::new(6000.0, 0.0)).hypot() < 1e-6);
    }
}
