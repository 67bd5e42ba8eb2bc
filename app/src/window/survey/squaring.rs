//! A photograph of a paper plan made square: four corners of something whose width and depth are known become those
//! of a rectangle, and the picture is drawn anew.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use kurbo::{Affine, Point};
use pattress_model::plan::Underlay;
use pattress_model::survey::rectify::{Homography, Samples, rectified};
use pattress_model::units::{Angle, Length};

use super::work::KeepGoing;

/// Quality of the new picture, of 100: no loss that shows on a plan. Our own choice.
const JPEG_QUALITY: u8 = 92;

/// What is known of the photograph.
#[derive(Clone, Debug, PartialEq)]
pub struct Corners {
    /// Where the corners lie, pixels of the photograph: upper left, upper right, lower right, lower left.
    pub at: [Point; 4],
    /// The distance from the left ones to the right ones, as built.
    pub width: Length,
    /// The distance from the upper ones to the lower ones, as built.
    pub depth: Length,
}

/// The new picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Squared {
    /// A JPEG.
    pub bytes: Vec<u8>,
    /// Width and height, pixels.
    pub size_px: (usize, usize),
    /// Millimetres of the house to a pixel.
    pub mm_per_px: f64,
    /// Where the upper left of the four corners lies in it, pixels.
    pub corner: Point,
}

/// Draws a photograph anew.
///
/// # Errors
/// A sentence: the corners are none of a rectangle, or the photograph can't be read.
pub fn square_up(photograph: &[u8], corners: &Corners, keep_going: KeepGoing<'_>) -> Result<Squared, String> {
    let stopped = || "stopped: the photograph is as it was".to_owned();
    let (width_mm, depth_mm) = (corners.width.as_mm(), corners.depth.as_mm());
    let map = Homography::from_corners(corners.at, width_mm, depth_mm)?;
    let photograph = image::load_from_memory(photograph)
        .map_err(|error| format!("the photograph can’t be read: {error}"))?;
    if !keep_going(0.3) {
        return Err(stopped());
    }
    let pixels = photograph.to_rgb8();
    let samples = Samples {
        width: pixels.width() as usize,
        height: pixels.height() as usize,
        channels: 3,
        bytes: pixels.into_raw(),
    };
    // As fine as the photograph is where it is finest, so that nothing is lost.
    let along = |from: usize, to: usize, mm: f64| (corners.at[to] - corners.at[from]).hypot() / mm;
    let px_per_mm = along(0, 1, width_mm)
        .max(along(3, 2, width_mm))
        .max(along(0, 3, depth_mm))
        .max(along(1, 2, depth_mm));
    let drawn = rectified(&samples, &map, (width_mm, depth_mm), px_per_mm)?;
    if !keep_going(0.8) {
        return Err(stopped());
    }
    let (width, height) = (drawn.samples.width, drawn.samples.height);
    let mut bytes = Cursor::new(Vec::new());
    let too_large = |_| "the squared picture is too large: pick corners of a smaller part".to_owned();
    let (across, down) =
        (u32::try_from(width).map_err(too_large)?, u32::try_from(height).map_err(too_large)?);
    let picture = image::RgbImage::from_raw(across, down, drawn.samples.bytes)
        .ok_or("the photograph holds no pixels")?;
    picture
        .write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY))
        .map_err(|error| format!("the squared picture can’t be kept: {error}"))?;
    Ok(Squared {
        bytes: bytes.into_inner(),
        size_px: (width, height),
        mm_per_px: 1.0 / drawn.px_per_mm,
        corner: drawn.corner,
    })
}

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
    use super::*;
    use pattress_model::id::Id;

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
    fn four_corners_make_a_photograph_square_and_to_scale() {
        let (bytes, corners) = photograph();
        let squared = square_up(&bytes, &corners, &|_| true).unwrap();
        let seen = image::load_from_memory(&squared.bytes).unwrap().to_luma8();
        assert_eq!((seen.width() as usize, seen.height() as usize), squared.size_px);
        let at = |x_mm: f64, y_mm: f64| {
            let pixel = squared.corner + kurbo::Vec2::new(x_mm, y_mm) / squared.mm_per_px;
            seen.get_pixel(pixel.x as u32, pixel.y as u32).0[0]
        };
        for (x, y, dark) in [
            (3000.0, 1500.0, true),
            (2150.0, 1150.0, true),
            (3850.0, 1850.0, true),
            (1850.0, 1500.0, false),
            (4150.0, 1500.0, false),
            (3000.0, 2150.0, false),
        ] {
            assert_eq!(at(x, y) < 128, dark, "{x}, {y}");
        }
        assert!(square_up(&bytes, &corners, &|_| false).is_err(), "it can be stopped");
        let crossed = Corners { at: [corners.at[0], corners.at[2], corners.at[1], corners.at[3]], ..corners };
        assert!(square_up(&bytes, &crossed, &|_| true).is_err());
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
