//! A drawing beneath a plan as a picture, for formats that cannot carry its lines.

use kurbo::{Affine, Point};
use resvg::{tiny_skia, usvg};

use crate::survey::{self, Asked};

/// Resolution at which a drawing is made a picture, dots per inch of paper: fine enough that its thinnest line
/// (0.13 mm) is two dots wide.
pub const PRINTED_DPI: f64 = 300.0;

/// No such picture has more dots than this: A2 at 300 dots per inch.
const MOST_DOTS: f64 = 36e6;

/// Dots across and down for a drawing of that size where it lies on paper, within what a picture may have.
pub fn dots_on_paper(size: (f64, f64), paper_from_units: Affine, dots_per_inch: f64) -> (u32, u32) {
    let [a, b, c, d, ..] = paper_from_units.as_coeffs();
    let per_mm = dots_per_inch / 25.4;
    let across = size.0 * Point::new(a, b).to_vec2().hypot() * per_mm;
    let down = size.1 * Point::new(c, d).to_vec2().hypot() * per_mm;
    let fits = (MOST_DOTS / (across * down).max(1.0)).sqrt().min(1.0);
    let whole =
        |dots: f64| if dots.is_finite() { (dots * fits).round().clamp(1.0, 40_000.0) as u32 } else { 1 };
    (whole(across), whole(down))
}

/// A drawing that is neither PNG nor JPEG, painted as a PNG for where it lies on paper.
///
/// # Errors
/// What went wrong.
pub fn painted(
    name: &str,
    bytes: &[u8],
    page: u32,
    size: (f64, f64),
    paper_from_units: Affine,
) -> Result<Vec<u8>, String> {
    let (across, _) = dots_on_paper(size, paper_from_units, PRINTED_DPI);
    let asked = Asked { page, password: None };
    let dots_per_unit = f64::from(across) / size.0.max(f64::MIN_POSITIVE);
    let painted = survey::render_page(name, bytes, &asked, dots_per_unit, &|_| true)
        .map_err(|error| error.to_string())?;
    let mut png = std::io::Cursor::new(Vec::new());
    // Paper is white where the page is: opacity says nothing more.
    let colours: Vec<u8> =
        painted.rgba.chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    image::RgbImage::from_raw(painted.width, painted.height, colours)
        .ok_or("the drawing has no size")?
        .write_to(&mut png, image::ImageFormat::Png)
        .map_err(|error| error.to_string())?;
    Ok(png.into_inner())
}

/// Reads an SVG with our faces only and nothing from outside it.
///
/// # Errors
/// What is wrong with it.
pub fn svg_tree(bytes: &[u8]) -> Result<usvg::Tree, String> {
    usvg::Tree::from_data(bytes, &survey::svg_options()).map_err(|error| error.to_string())
}

/// An SVG as a PNG of so many dots; what it leaves open stays clear.
///
/// # Errors
/// What went wrong.
pub fn svg_picture(tree: &usvg::Tree, (across, down): (u32, u32)) -> Result<Vec<u8>, String> {
    let mut dots = tiny_skia::Pixmap::new(across, down).ok_or("the drawing has no size")?;
    let scale = tiny_skia::Transform::from_scale(
        across as f32 / tree.size().width(),
        down as f32 / tree.size().height(),
    );
    resvg::render(tree, scale, &mut dots.as_mut());
    dots.encode_png().map_err(|error| error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dots_follow_the_paper_and_are_never_too_many() {
        let at_1_to_1 = Affine::IDENTITY;
        assert_eq!(dots_on_paper((254.0, 127.0), at_1_to_1, 300.0), (3000, 1500));
        assert_eq!(
            dots_on_paper((254.0, 127.0), Affine::scale(0.5) * Affine::rotate(1.0), 300.0),
            (1500, 750)
        );
        let (across, down) = dots_on_paper((1e5, 1e5), at_1_to_1, 300.0);
        assert!(f64::from(across) * f64::from(down) <= MOST_DOTS * 1.01);
    }
}
