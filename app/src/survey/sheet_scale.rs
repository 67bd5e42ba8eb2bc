//! Sizes of paper and of pictures of it, held to what drawings have.

use super::Fault;

/// No paper is longer than this, mm: a roll of plots. Our own choice.
const LONGEST_PAPER_MM: f64 = 20_000.0;

/// No picture of a page has more pixels than this: an A1 sheet at 300 dpi, an A3 one at 600 dpi. Our own choice,
/// for four bytes each fit thrice into the memory that reading may take.
pub const MOST_PIXELS: f64 = 70.0e6;

/// No side of a picture of a page is longer than this, pixels: what the painter can number.
const LONGEST_SIDE_PX: f64 = 32_000.0;

/// Whether paper of that size can be.
///
/// # Errors
/// [`Fault`].
pub fn check_paper(width: f64, height: f64) -> Result<(), Fault> {
    let is_paper = |side: f64| side.is_finite() && side > 0.0;
    if !is_paper(width) || !is_paper(height) {
        return Err(Fault::because("its page has no size, so ask for it with a size in millimetres"));
    }
    if width > LONGEST_PAPER_MM || height > LONGEST_PAPER_MM {
        return Err(Fault::Because(format!(
            "its page is {width:.0} × {height:.0} mm and no side may exceed {LONGEST_PAPER_MM:.0} mm, so ask for \
             it on a sheet of paper"
        )));
    }
    Ok(())
}

/// The size of a picture of a page in pixels.
///
/// # Errors
/// [`Fault`], where it would be larger than can be painted.
pub fn pixels(width_mm: f64, height_mm: f64, px_per_mm: f64) -> Result<(u32, u32), Fault> {
    let (width, height) = ((width_mm * px_per_mm).round().max(1.0), (height_mm * px_per_mm).round().max(1.0));
    let fits = width <= LONGEST_SIDE_PX && height <= LONGEST_SIDE_PX && width * height <= MOST_PIXELS;
    if !fits {
        return Err(Fault::Because(format!(
            "a picture of {width} × {height} px is larger than can be painted, so take it at a smaller scale"
        )));
    }
    Ok((width as u32, height as u32))
}

/// The finest scale at which a page can be painted, pixels to a millimetre, but none finer than wanted.
pub fn finest(width_mm: f64, height_mm: f64, wanted: f64) -> f64 {
    let by_area = (MOST_PIXELS * 0.999 / (width_mm * height_mm)).sqrt();
    let by_side = (LONGEST_SIDE_PX - 1.0) / width_mm.max(height_mm);
    wanted.min(by_area).min(by_side)
}

/// A picture of four bytes a pixel brought to a size that differs by a pixel of rounding: white is added at the
/// right and below, or what stands over is cut.
pub fn fitted(pixels: &[u8], across: usize, down: usize, width: usize, height: usize) -> Vec<u8> {
    let mut whole = Vec::with_capacity(width * height * 4);
    for y in 0..height {
        let row = pixels.chunks_exact((across * 4).max(1)).nth(y.min(down.saturating_sub(1))).unwrap_or(&[]);
        let kept = row.len().min(width * 4);
        whole.extend_from_slice(&row[..kept]);
        whole.resize((y + 1) * width * 4, u8::MAX);
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paper_and_pictures_have_bounds() {
        assert!(check_paper(420.0, 297.0).is_ok());
        for (width, height) in [(0.0, 10.0), (f64::NAN, 10.0), (70_555.0, 10.0)] {
            assert!(check_paper(width, height).is_err(), "{width} {height}");
        }
        assert_eq!(pixels(420.0, 297.0, 2.0).ok(), Some((840, 594)));
        assert!(pixels(420.0, 297.0, 200.0).is_err());
        for (width, height) in [(420.0, 297.0), (20_000.0, 5.0), (1189.0, 841.0)] {
            assert!(pixels(width, height, finest(width, height, 1e6)).is_ok(), "{width} {height}");
        }
    }

    #[test]
    fn a_picture_is_fitted_to_its_size() {
        assert_eq!(fitted(&[1; 8], 2, 1, 1, 1), [1; 4]);
        assert_eq!(fitted(&[1; 4], 1, 1, 2, 1), [1, 1, 1, 1, 255, 255, 255, 255]);
    }
}
