//! A photograph of a paper plan made square: four corners of something whose width and depth are known become those
//! of a rectangle, and the picture is drawn anew.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use kurbo::Point;
use pattress_model::survey::Greyscale;
use pattress_model::survey::rectify::{Homography, Samples, rectified};
use pattress_model::units::Length;

use super::picture::luma;
use super::{Asked, KeepGoing, render_page};

/// Quality of the new picture, of 100: no loss that shows on a plan. Our own choice.
const JPEG_QUALITY: u8 = 92;

/// Said where it was not to go on.
const STOPPED: &str = "stopped: the photograph is as it was";

/// What is known of the photograph.
#[derive(Clone, Debug, PartialEq)]
pub struct Corners {
    /// Where the corners lie, in the photograph's own units (pixels; millimetres of paper on a page): upper left, upper right, lower right, lower left.
    pub at: [Point; 4],
    /// The distance from the left ones to the right ones, as built.
    pub width: Length,
    /// The distance from the upper ones to the lower ones, as built.
    pub depth: Length,
}

impl Corners {
    /// Whether a photograph can be made square by them.
    ///
    /// # Errors
    /// A sentence: they are none of a rectangle, or a length is not above zero.
    pub fn check(&self) -> Result<(), String> {
        Homography::from_corners(self.at, self.width.as_mm(), self.depth.as_mm()).map(|_| ())
    }
}

/// The new picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Squared {
    /// A JPEG.
    pub bytes: Vec<u8>,
    /// The same in shades of grey.
    pub grey: Greyscale,
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
    corners.check()?;
    let photograph = image::load_from_memory(photograph)
        .map_err(|error| format!("the photograph can’t be read: {error}"))?;
    if !keep_going(0.3) {
        return Err(STOPPED.to_owned());
    }
    squared(photograph.into_rgb8(), corners, keep_going)
}

/// Draws a page that is a photograph or a scan anew, as fine as its own picture; its corners are in millimetres of
/// paper.
///
/// # Errors
/// A sentence: the corners are none of a rectangle, or the page can't be painted.
pub fn square_up_page(
    name: &str,
    bytes: &[u8],
    asked: &Asked,
    mm_per_px: f64,
    corners: &Corners,
    keep_going: KeepGoing<'_>,
) -> Result<Squared, String> {
    corners.check()?;
    let painted = render_page(name, bytes, asked, 1.0 / mm_per_px, &|share| keep_going(0.3 * share))
        .map_err(|error| error.to_string())?;
    let colours = painted.rgba.chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    let photograph = image::RgbImage::from_raw(painted.width, painted.height, colours)
        .ok_or("the page holds no pixels")?;
    let on_pixels =
        Corners { at: corners.at.map(|at| (at.to_vec2() / mm_per_px).to_point()), ..corners.clone() };
    squared(photograph, &on_pixels, keep_going)
}

fn squared(pixels: image::RgbImage, corners: &Corners, keep_going: KeepGoing<'_>) -> Result<Squared, String> {
    let (width_mm, depth_mm) = (corners.width.as_mm(), corners.depth.as_mm());
    let map = Homography::from_corners(corners.at, width_mm, depth_mm)?;
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
        return Err(STOPPED.to_owned());
    }
    let (width, height) = (drawn.samples.width, drawn.samples.height);
    let mut bytes = Cursor::new(Vec::new());
    let too_large = |_| "the squared picture is too large: pick corners of a smaller part".to_owned();
    let (across, down) =
        (u32::try_from(width).map_err(too_large)?, u32::try_from(height).map_err(too_large)?);
    let picture = image::RgbImage::from_raw(across, down, drawn.samples.bytes)
        .ok_or("the photograph holds no pixels")?;
    let luma = picture.pixels().map(|pixel| luma(pixel.0[0], pixel.0[1], pixel.0[2])).collect();
    let grey = Greyscale::new(width, height, luma).ok_or("the photograph holds no pixels")?;
    picture
        .write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY))
        .map_err(|error| format!("the squared picture can’t be kept: {error}"))?;
    Ok(Squared {
        bytes: bytes.into_inner(),
        grey,
        size_px: (width, height),
        mm_per_px: 1.0 / drawn.px_per_mm,
        corner: drawn.corner,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
