//! PNG of one sheet, drawn from its SVG with the embedded face only.

use image::codecs::png::PngEncoder;
use pattress_model::drawing::Sheet;
use pattress_model::store::Media;
use resvg::{tiny_skia, usvg};

use super::{PrintError, svg};
use crate::survey::svg_options;

/// Resolutions that make sense for a sheet, dots per inch.
const LEAST_DOTS: f64 = 10.0;
const MOST_DOTS: f64 = 1200.0;

/// A picture larger than this is refused, pixels: a gigabyte of memory.
const MOST_PIXELS: f64 = 250e6;

/// One sheet as PNG at a resolution; its width is the paper's in inches times the dots, rounded.
///
/// # Errors
/// A resolution outside 10 to 1200 dots per inch, or a picture too large to draw.
pub fn png(sheet: &Sheet, media: &Media, dots_per_inch: f64) -> Result<Vec<u8>, PrintError> {
    png_of_svg(sheet, &svg(sheet, media), dots_per_inch)
}

/// The same of a sheet that has been written as SVG already: what lies beneath it is then painted once.
///
/// # Errors
/// As [`png`].
pub fn png_of_svg(sheet: &Sheet, as_svg: &str, dots_per_inch: f64) -> Result<Vec<u8>, PrintError> {
    let fault = |reason: String| PrintError::Raster { sheet: sheet.number.clone(), reason };
    if !(LEAST_DOTS..=MOST_DOTS).contains(&dots_per_inch) {
        return Err(fault(format!("{dots_per_inch} dots per inch is outside 10 to 1200")));
    }
    let (width_mm, height_mm) = sheet.paper.size_mm();
    let dots_per_mm = dots_per_inch / 25.4;
    let (width, height) = ((width_mm * dots_per_mm).round(), (height_mm * dots_per_mm).round());
    if width * height > MOST_PIXELS {
        return Err(fault(format!("{width} by {height} pixels is too large: ask for fewer dots per inch")));
    }
    let tree = usvg::Tree::from_str(as_svg, &svg_options()).map_err(|error| fault(error.to_string()))?;
    let mut pixels = tiny_skia::Pixmap::new(width as u32, height as u32)
        .ok_or_else(|| fault("the paper has no size".to_owned()))?;
    let scale = tiny_skia::Transform::from_scale(
        (width / f64::from(tree.size().width())) as f32,
        (height / f64::from(tree.size().height())) as f32,
    );
    resvg::render(&tree, scale, &mut pixels.as_mut());
    encoded(&pixels).map_err(fault)
}

/// The pixels as PNG without an opacity channel, for paper is white all over.
fn encoded(pixels: &tiny_skia::Pixmap) -> Result<Vec<u8>, String> {
    let (width, height) = (pixels.width(), pixels.height());
    let mut colours = Vec::with_capacity(pixels.pixels().len() * 3);
    for pixel in pixels.data().chunks_exact(4) {
        colours.extend_from_slice(&pixel[..3]);
    }
    let mut bytes = Vec::new();
    let encoder = PngEncoder::new(&mut bytes);
    image::ImageEncoder::write_image(encoder, &colours, width, height, image::ExtendedColorType::Rgb8)
        .map_err(|error| error.to_string())?;
    Ok(bytes)
}
