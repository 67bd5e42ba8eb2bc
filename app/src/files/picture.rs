//! Pictures to trace: told by their content, not by their name, and refused before they can do harm.
//!
//! The size is read from the header and held to its limits before anything is allocated; a picture that was
//! cut short is refused rather than shown half grey.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use super::error::FileError;

/// No side of a picture is longer than this, pixels: an A0 sheet scanned at 800 dpi.
const LONGEST_SIDE_PX: u32 = 40_000;

/// No picture has more pixels than this.
const MOST_PIXELS: u64 = 300_000_000;

/// No decoder may take more memory than this for one picture, bytes: the most pixels at four bytes each.
const MOST_MEMORY: u64 = 4 * MOST_PIXELS;

/// A picture fit to be laid under a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureFile {
    /// The file as it is; written anew where a camera's note says that it is to be turned.
    pub bytes: Vec<u8>,
    /// `png` or `jpg`, by its content.
    pub ending: &'static str,
    /// Width in pixels.
    pub width_px: u32,
    /// Height in pixels.
    pub height_px: u32,
}

/// Looks a picture over: its sort, its size, whether all of it is there and can be decoded.
pub(super) fn look_over(file: &str, bytes: Vec<u8>) -> Result<PictureFile, FileError> {
    let refused = |what: String| FileError::Picture { file: file.to_owned(), what };
    let (format, ending) = sort_of(&bytes).map_err(|what| refused(what.to_owned()))?;
    let claimed = match format {
        ImageFormat::Png => png_size(&bytes),
        _ => None,
    };
    if let Some((width, height)) = claimed {
        check_size(width, height).map_err(refused)?;
    }
    let whole = match format {
        ImageFormat::Png => png_is_whole(&bytes),
        _ => jpeg_is_whole(&bytes),
    };
    if !whole {
        return Err(refused("it was cut short, so take a whole copy of it".to_owned()));
    }
    let broken = |error: image::ImageError| {
        refused(format!("its content is broken ({error}), so save it anew as PNG from a drawing program"))
    };
    let reader = || {
        let mut reader = ImageReader::with_format(Cursor::new(bytes.as_slice()), format);
        let mut limits = Limits::default();
        limits.max_image_width = Some(LONGEST_SIDE_PX);
        limits.max_image_height = Some(LONGEST_SIDE_PX);
        limits.max_alloc = Some(MOST_MEMORY);
        reader.limits(limits);
        reader
    };
    let (width_px, height_px) = reader().into_dimensions().map_err(broken)?;
    check_size(width_px, height_px).map_err(refused)?;
    let mut decoder = reader().into_decoder().map_err(broken)?;
    // A picture whose note on turning can't be read is taken as it lies.
    let turned = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(broken)?;
    if turned == Orientation::NoTransforms {
        return Ok(PictureFile { bytes, ending, width_px, height_px });
    }
    picture.apply_orientation(turned);
    let (width_px, height_px) = (picture.width(), picture.height());
    let bytes = written_upright(&picture, format).map_err(broken)?;
    Ok(PictureFile { bytes, ending, width_px, height_px })
}

/// Quality at which a turned JPEG is written anew, of 100: no loss that shows on a plan. Our own choice.
const JPEG_QUALITY: u8 = 95;

/// The pixels of a picture that its camera held askew, in the order in which they are seen: screens and printers
/// then need not heed the camera's note (CIPA DC-008, tag Orientation), which some of them pass over.
fn written_upright(picture: &DynamicImage, format: ImageFormat) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Vec::new();
    match format {
        ImageFormat::Jpeg => {
            let encoder = JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY);
            // JPEG has no more than grey or three colours of eight bits.
            if picture.color().has_color() {
                picture.to_rgb8().write_with_encoder(encoder)?;
            } else {
                picture.to_luma8().write_with_encoder(encoder)?;
            }
        }
        _ => picture.write_to(&mut Cursor::new(&mut bytes), format)?,
    }
    Ok(bytes)
}

/// The sort of picture by its first bytes (PNG: ISO/IEC 15948, 5.2; JPEG: ITU-T T.81, B.1.1.3).
fn sort_of(bytes: &[u8]) -> Result<(ImageFormat, &'static str), &'static str> {
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        Ok((ImageFormat::Png, "png"))
    } else if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        Ok((ImageFormat::Jpeg, "jpg"))
    } else if bytes.starts_with(b"%PDF") {
        Err("it is a PDF whatever its name says, so save the page you need as PNG")
    } else {
        Err("it is neither a PNG nor a JPEG picture, so save it as one of these")
    }
}

fn check_size(width: u32, height: u32) -> Result<(), String> {
    if width == 0 || height == 0 {
        return Err("it has no pixels, so choose another picture".to_owned());
    }
    if width > LONGEST_SIDE_PX || height > LONGEST_SIDE_PX {
        return Err(format!(
            "it is {width} × {height} px and no side may exceed {LONGEST_SIDE_PX} px, so scale it down"
        ));
    }
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(format!(
            "it is {width} × {height} px and no picture may exceed {} million pixels, so scale it down",
            MOST_PIXELS / 1_000_000
        ));
    }
    Ok(())
}

/// Width and height as the header states them (ISO/IEC 15948, 11.2.2).
fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let field = |from: usize| Some(u32::from_be_bytes(bytes.get(from..from + 4)?.try_into().ok()?));
    Some((field(16)?, field(20)?))
}

/// Whether every chunk is there, image data among them, up to the end chunk (ISO/IEC 15948, 5.3).
fn png_is_whole(bytes: &[u8]) -> bool {
    let mut at = 8;
    let mut has_data = false;
    while let Some(head) = bytes.get(at..at + 8) {
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let Some(end) = at.checked_add(length).and_then(|end| end.checked_add(12)) else { return false };
        if end > bytes.len() {
            return false;
        }
        match &head[4..8] {
            b"IDAT" => has_data = true,
            b"IEND" => return has_data,
            _ => {}
        }
        at = end;
    }
    false
}

/// Whether an end marker follows the last start of a scan (ITU-T T.81, B.1.1.3). Within a scan the byte FF
/// stands before 00 or a restart marker only, so the end can't be taken for data.
fn jpeg_is_whole(bytes: &[u8]) -> bool {
    let last = |marker: u8| bytes.windows(2).rposition(|pair| pair == [0xFF, marker]);
    match (last(0xDA), last(0xD9)) {
        (Some(scan), Some(end)) => end > scan,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A JPEG of 24 by 8 pixels, its left half black, with an Exif note of that orientation (CIPA DC-008).
    fn photograph(orientation: u8) -> Vec<u8> {
        let picture = image::GrayImage::from_fn(24, 8, |x, _| image::Luma([if x < 12 { 0 } else { 255 }]));
        let mut bytes = Vec::new();
        picture.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 95)).unwrap();
        let mut note = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        note.extend([orientation, 0, 0, 0, 0, 0, 0]);
        let length = u16::try_from(note.len() + 2).unwrap().to_be_bytes();
        let mut with_note = vec![0xFF, 0xD8, 0xFF, 0xE1];
        with_note.extend(length);
        with_note.extend(note);
        with_note.extend(&bytes[2..]);
        with_note
    }

    #[test]
    fn a_photograph_is_kept_as_it_is_seen() {
        // Orientation, size as seen, and whether the upper left corner is black.
        for (orientation, size, dark) in
            [(1, (24, 8), true), (3, (24, 8), false), (6, (8, 24), true), (8, (8, 24), false)]
        {
            let bytes = photograph(orientation);
            let found = look_over("photograph.jpg", bytes.clone()).unwrap();
            assert_eq!((found.width_px, found.height_px), size, "{orientation}");
            assert_eq!(found.bytes == bytes, orientation == 1, "{orientation}");
            let seen = image::load_from_memory(&found.bytes).unwrap().to_luma8();
            assert_eq!(seen.dimensions(), size, "{orientation}");
            assert_eq!(seen.get_pixel(0, 0).0[0] < 128, dark, "{orientation}");
            assert_eq!(look_over("again.jpg", found.bytes.clone()).unwrap(), found, "turned but once");
        }
    }
}
