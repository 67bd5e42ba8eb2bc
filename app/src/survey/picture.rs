//! Pictures to trace: told by their content, held to their limits before they can do harm, and made grey.
//!
//! The size is read from the header before anything is allocated; a picture that was cut short is refused rather
//! than shown half grey. A picture with more pixels than a trace can use is brought in at a half, a quarter or an
//! eighth of its size.

mod bits;
mod grey;
mod rows;
mod whole;

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::metadata::Orientation;
use image::{DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, ImageFormat, ImageReader, Limits};
use pattress_model::survey::Greyscale;

use super::{Fault, KeepGoing, Sort};
pub(super) use grey::luma;

/// No side of a picture is longer than this, pixels: an A0 sheet scanned at 800 dpi.
const LONGEST_SIDE_PX: u32 = 40_000;

/// A picture with more pixels than this is brought in smaller: an A1 sheet at 300 dpi has 70 million.
const MOST_PIXELS: u64 = 100_000_000;

/// No picture takes more memory than this while it is decoded, bytes.
const MOST_MEMORY: u64 = 1_100_000_000;

/// No JPEG kept in several passes has more pixels than this: its passes are held beside the picture.
const MOST_PIXELS_IN_PASSES: u64 = 110_000_000;

/// A picture fit to be laid under a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureFile {
    /// The file as it is; written anew where a camera's note says that it is to be turned, where it was too
    /// large, where it is neither PNG nor JPEG, or where it is in a printer's inks, of which no sheet can say what
    /// colours they are.
    pub bytes: Vec<u8>,
    /// `png` or `jpg`, by its content.
    pub ending: &'static str,
    /// Width in pixels.
    pub width_px: u32,
    /// Height in pixels.
    pub height_px: u32,
}

/// A picture that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureRead {
    /// The file to keep.
    pub picture: PictureFile,
    /// The same, pixel by pixel, in shades of grey; what is transparent is white paper.
    pub grey: Greyscale,
    /// Pixels to an inch, where the file states them.
    pub px_per_inch: Option<f64>,
    /// 1 where it came in at its own size; where it was too large, how many of its pixels make the side of one.
    pub times_smaller: u32,
}

/// Reads a picture.
///
/// # Errors
/// [`Fault`]: what is wrong with it and what to do.
pub(super) fn read(sort: Sort, bytes: Vec<u8>, keep_going: KeepGoing<'_>) -> Result<PictureRead, Fault> {
    if !is_whole(sort, &bytes)? {
        return Err(Fault::because("it was cut short, so take a whole copy of it"));
    }
    let (width, height, turned, takes) = about(sort, &bytes)?;
    let pixels = u64::from(width) * u64::from(height);
    let px_per_inch = px_per_inch(sort, &bytes);
    if sort == Sort::Png && turned == Orientation::NoTransforms && !rows::is_interlaced(&bytes) {
        let times_smaller = times_smaller(pixels);
        let grey = rows::grey_of_png(&bytes, times_smaller, MOST_MEMORY, keep_going)?;
        return finished(sort, bytes, None, grey, px_per_inch, times_smaller);
    }
    if takes > MOST_MEMORY
        || (sort == Sort::Jpeg && pixels > MOST_PIXELS_IN_PASSES && whole::jpeg_is_progressive(&bytes))
    {
        return Err(too_large(width, height));
    }
    if !keep_going(0.1) {
        return Err(Fault::Stopped);
    }
    let mut picture = reader(sort, &bytes)
        .into_decoder()
        .and_then(DynamicImage::from_decoder)
        .map_err(|error| undecoded(sort, &error))?;
    picture.apply_orientation(turned);
    if !keep_going(0.7) {
        return Err(Fault::Stopped);
    }
    let times_smaller = times_smaller(pixels);
    let in_four_inks = sort == Sort::Jpeg && whole::jpeg_is_in_four_inks(&bytes);
    let anew = if times_smaller > 1
        || (turned == Orientation::NoTransforms && matches!(sort, Sort::Png | Sort::Jpeg) && !in_four_inks)
    {
        None
    } else {
        Some(written_upright(&picture, sort).map_err(|error| undecoded(sort, &error))?)
    };
    let grey =
        grey::smaller(grey::of_picture(picture), times_smaller).ok_or_else(|| too_large(width, height))?;
    finished(sort, bytes, anew, grey, px_per_inch, times_smaller)
}

/// Size, the note on turning, and the memory that the picture takes, as its header says.
fn about(sort: Sort, bytes: &[u8]) -> Result<(u32, u32, Orientation, u64), Fault> {
    let mut decoder = reader(sort, bytes).into_decoder().map_err(|error| undecoded(sort, &error))?;
    let (width, height) = decoder.dimensions();
    check_size(width, height)?;
    // A picture whose note on turning can't be read is taken as it lies.
    let turned = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    Ok((width, height, turned, decoder.total_bytes()))
}

fn finished(
    sort: Sort,
    bytes: Vec<u8>,
    anew: Option<Vec<u8>>,
    grey: Greyscale,
    px_per_inch: Option<f64>,
    times_smaller: u32,
) -> Result<PictureRead, Fault> {
    let (width_px, height_px) = (grey.width() as u32, grey.height() as u32);
    let ending = if sort == Sort::Jpeg && times_smaller == 1 { "jpg" } else { "png" };
    let bytes = match anew {
        _ if times_smaller > 1 => png_of(grey.luma(), width_px, height_px, ExtendedColorType::L8)
            .map_err(|error| undecoded(sort, &error))?,
        Some(anew) => anew,
        None => bytes,
    };
    let picture = PictureFile { bytes, ending, width_px, height_px };
    let px_per_inch = px_per_inch.map(|density| density / f64::from(times_smaller));
    Ok(PictureRead { picture, grey, px_per_inch, times_smaller })
}

/// How many pixels make the side of one, so that a picture of so many has no more than a trace can use.
fn times_smaller(pixels: u64) -> u32 {
    let mut times = 1;
    while pixels / (u64::from(times) * u64::from(times)) > MOST_PIXELS {
        times *= 2;
    }
    times
}

fn reader(sort: Sort, bytes: &[u8]) -> ImageReader<Cursor<&[u8]>> {
    let format = match sort {
        Sort::Jpeg => ImageFormat::Jpeg,
        Sort::Tiff => ImageFormat::Tiff,
        Sort::WebP => ImageFormat::WebP,
        _ => ImageFormat::Png,
    };
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE_PX);
    limits.max_image_height = Some(LONGEST_SIDE_PX);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    reader
}

/// Whether all of the file is there; its claimed size is looked at first, as far as it is plain to see.
fn is_whole(sort: Sort, bytes: &[u8]) -> Result<bool, Fault> {
    match sort {
        Sort::Png => {
            if let Some((width, height)) = whole::png_size(bytes) {
                check_size(width, height)?;
            }
            Ok(whole::png_is_whole(bytes))
        }
        Sort::Jpeg => Ok(whole::jpeg_is_whole(bytes)),
        // Their decoders miss what is not there.
        _ => Ok(true),
    }
}

fn px_per_inch(sort: Sort, bytes: &[u8]) -> Option<f64> {
    match sort {
        Sort::Png => rows::px_per_inch(bytes),
        Sort::Jpeg => whole::jpeg_px_per_inch(bytes),
        Sort::Tiff => whole::tiff_px_per_inch(bytes),
        _ => None,
    }
}

/// What the decoder found is for its makers; whoever brought the picture in needs the way out.
fn broken(sort: Sort) -> Fault {
    let way_out = match sort {
        Sort::Png => "save it anew from a drawing program",
        _ => "save it anew as PNG from a drawing program",
    };
    Fault::Because(format!("its content is broken, so {way_out}"))
}

fn undecoded(sort: Sort, error: &image::ImageError) -> Fault {
    match error {
        image::ImageError::Unsupported(_) => Fault::because(
            "it is kept in a way that can't be read, so save it anew as PNG from a drawing program",
        ),
        image::ImageError::Limits(_) => {
            Fault::because("it takes more memory than a drawing should, so scale it down")
        }
        _ => broken(sort),
    }
}

fn too_large(width: u32, height: u32) -> Fault {
    Fault::Because(format!(
        "it is {width} × {height} px, which takes more memory than a drawing should, so scale it down"
    ))
}

/// Quality at which a turned JPEG is written anew, of 100: no loss that shows on a plan. Our own choice.
const JPEG_QUALITY: u8 = 95;

/// The pixels of a picture that its camera held askew, in the order in which they are seen: screens and printers
/// then need not heed the camera's note (CIPA DC-008, tag Orientation), which some of them pass over.
fn written_upright(picture: &DynamicImage, sort: Sort) -> Result<Vec<u8>, image::ImageError> {
    match sort {
        Sort::Jpeg => {
            let mut bytes = Vec::new();
            let encoder = JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY);
            // JPEG has no more than grey or three colours of eight bits.
            if picture.color().has_color() {
                picture.to_rgb8().write_with_encoder(encoder)?;
            } else {
                picture.to_luma8().write_with_encoder(encoder)?;
            }
            Ok(bytes)
        }
        _ if picture.color().has_color() => {
            let colours = grey::on_white(picture);
            png_of(&colours, picture.width(), picture.height(), ExtendedColorType::Rgb8)
        }
        _ => {
            let grey = grey::luma_of(picture.clone());
            png_of(&grey, picture.width(), picture.height(), ExtendedColorType::L8)
        }
    }
}

/// Pixels as PNG, quickly rather than small: a scan is written once and shown often.
fn png_of(
    pixels: &[u8],
    width: u32,
    height: u32,
    colour: ExtendedColorType,
) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Vec::new();
    PngEncoder::new_with_quality(&mut bytes, CompressionType::Fast, FilterType::Up)
        .write_image(pixels, width, height, colour)?;
    Ok(bytes)
}

fn check_size(width: u32, height: u32) -> Result<(), Fault> {
    if width == 0 || height == 0 {
        return Err(Fault::because("it has no pixels, so choose another picture"));
    }
    if width > LONGEST_SIDE_PX || height > LONGEST_SIDE_PX {
        return Err(Fault::Because(format!(
            "it is {width} × {height} px and no side may exceed {LONGEST_SIDE_PX} px, so scale it down"
        )));
    }
    Ok(())
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
            let read = |bytes: Vec<u8>| read(Sort::Jpeg, bytes, &|_| true).unwrap();
            let first = read(bytes.clone());
            let found = first.picture;
            assert_eq!((found.width_px, found.height_px), size, "{orientation}");
            assert_eq!(found.bytes == bytes, orientation == 1, "{orientation}");
            let seen = image::load_from_memory(&found.bytes).unwrap().to_luma8();
            assert_eq!(seen.dimensions(), size, "{orientation}");
            assert_eq!(seen.get_pixel(0, 0).0[0] < 128, dark, "{orientation}");
            assert_eq!(first.grey.at(0, 0) < 128, dark, "{orientation}");
            assert_eq!(read(found.bytes.clone()).picture, found, "turned but once");
        }
    }

    /// A JPEG of 16 by 8 pixels in cyan, magenta, yellow and black, its left half bare, its right half black. As
    /// Adobe's marker says (TN 5116, from memory), inks are turned over: 255 is none.
    fn jpeg_in_four_inks() -> Vec<u8> {
        let mut bytes = vec![0xFF, 0xD8, 0xFF, 0xEE, 0, 14];
        bytes.extend(*b"Adobe\0\x64\0\0\0\0\0");
        bytes.extend([0xFF, 0xDB, 0, 67, 0]);
        bytes.extend([8; 64]);
        bytes.extend([0xFF, 0xC0, 0, 20, 8, 0, 8, 0, 16, 4]);
        (1..=4).for_each(|ink| bytes.extend([ink, 0x11, 0]));
        // Steps of the mean have codes of four bits, 0 to 8 long; all else is one code of one bit: nothing follows.
        bytes.extend([0xFF, 0xC4, 0, 28, 0x00, 0, 0, 0, 9, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
        bytes.extend(0..=8);
        bytes.extend([0xFF, 0xC4, 0, 20, 0x10, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
        bytes.extend([0xFF, 0xDA, 0, 14, 4]);
        (1..=4).for_each(|ink| bytes.extend([ink, 0]));
        bytes.extend([0, 63, 0]);
        let mut bits = String::new();
        let mut last = [0_i32; 4];
        for block in [[255; 4], [255, 255, 255, 0]] {
            for (ink, last) in block.into_iter().zip(&mut last) {
                let step = ink - 128 - *last;
                *last = ink - 128;
                let length = (32 - step.unsigned_abs().leading_zeros()) as usize;
                bits.push_str(&format!("{length:04b}"));
                if length > 0 {
                    let value = if step > 0 { step } else { step + (1 << length) - 1 };
                    bits.push_str(&format!("{value:0length$b}"));
                }
                bits.push('0');
            }
        }
        for eight in bits.as_bytes().chunks(8) {
            let byte = (0..8).fold(0, |byte, at| byte << 1 | u8::from(eight.get(at) != Some(&b'0')));
            bytes.push(byte);
            bytes.extend((byte == 0xFF).then_some(0));
        }
        bytes.extend([0xFF, 0xD9]);
        bytes
    }

    #[test]
    fn a_jpeg_in_four_inks_is_seen_as_printed_and_kept_in_three_colours() {
        let bytes = jpeg_in_four_inks();
        assert!(whole::jpeg_is_in_four_inks(&bytes) && !whole::jpeg_is_in_four_inks(&photograph(1)));
        let read = read(Sort::Jpeg, bytes, &|_| true).unwrap();
        let tones = [2, 13].map(|x| read.grey.at(x, 4));
        assert!(tones[0] > 245 && tones[1] < 10, "{tones:?}");
        assert_eq!((read.picture.ending, read.picture.width_px, read.picture.height_px), ("jpg", 16, 8));
        assert!(!whole::jpeg_is_in_four_inks(&read.picture.bytes));
        let kept = image::load_from_memory(&read.picture.bytes).unwrap().to_luma8();
        assert!(kept.get_pixel(2, 4).0[0] > 245 && kept.get_pixel(13, 4).0[0] < 10);
    }

    fn png(width: u32, height: u32, colour: png::ColorType, depth: png::BitDepth, rows: &[u8]) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, width, height);
        encoder.set_color(colour);
        encoder.set_depth(depth);
        if colour == png::ColorType::Indexed {
            encoder.set_palette(vec![0, 0, 0, 255, 255, 255, 0, 0, 0]);
            encoder.set_trns(vec![255, 255, 0]);
        }
        encoder.set_pixel_dims(Some(png::PixelDimensions {
            xppu: 11_811,
            yppu: 11_811,
            unit: png::Unit::Meter,
        }));
        encoder.write_header().unwrap().write_image_data(rows).unwrap();
        bytes
    }

    #[test]
    fn every_form_of_png_becomes_the_grey_it_shows() {
        use png::{BitDepth, ColorType};
        let cases: &[(ColorType, BitDepth, &[u8], [u8; 3])] = &[
            (ColorType::Grayscale, BitDepth::One, &[0b0100_0000], [0, 255, 0]),
            (ColorType::Grayscale, BitDepth::Two, &[0b00_11_01_00], [0, 255, 85]),
            (ColorType::Grayscale, BitDepth::Eight, &[0, 255, 100], [0, 255, 100]),
            (ColorType::Grayscale, BitDepth::Sixteen, &[0, 9, 255, 255, 100, 7], [0, 255, 100]),
            (ColorType::GrayscaleAlpha, BitDepth::Eight, &[0, 255, 0, 0, 100, 255], [0, 255, 100]),
            (ColorType::Rgb, BitDepth::Eight, &[0, 0, 0, 255, 255, 255, 0, 255, 0], [0, 255, 182]),
            (ColorType::Rgba, BitDepth::Eight, &[0, 0, 0, 255, 9, 9, 9, 0, 0, 255, 0, 255], [0, 255, 182]),
            // The third colour of the palette is transparent, which is paper.
            (ColorType::Indexed, BitDepth::Two, &[0b00_01_10_00], [0, 255, 255]),
            (ColorType::Indexed, BitDepth::One, &[0b0100_0000], [0, 255, 0]),
        ];
        for (colour, depth, row, expected) in cases {
            let bytes = png(3, 1, *colour, *depth, row);
            let found = read(Sort::Png, bytes.clone(), &|_| true).unwrap();
            assert_eq!(found.grey.luma(), expected, "{colour:?} {depth:?}");
            assert_eq!(found.picture.bytes, bytes);
            assert!((found.px_per_inch.unwrap() - 300.0).abs() < 0.01);
            // The library's own way to grey agrees.
            let whole = grey::luma_of(image::load_from_memory(&bytes).unwrap());
            assert_eq!(found.grey.luma(), whole, "{colour:?} {depth:?}");
        }
    }

    #[test]
    fn a_tiff_and_a_webp_are_kept_as_png() {
        let picture = image::RgbImage::from_fn(30, 20, |x, _| image::Rgb([if x < 10 { 0 } else { 255 }; 3]));
        for (sort, format) in [(Sort::Tiff, ImageFormat::Tiff), (Sort::WebP, ImageFormat::WebP)] {
            let mut bytes = Vec::new();
            picture.write_to(&mut Cursor::new(&mut bytes), format).unwrap();
            let found = read(sort, bytes, &|_| true).unwrap();
            assert_eq!(image::load_from_memory(&found.picture.bytes).unwrap().to_rgb8(), picture, "{sort:?}");
            assert_eq!((found.picture.ending, found.grey.at(9, 0), found.grey.at(10, 0)), ("png", 0, 255));
        }
    }

    #[test]
    fn a_picture_too_large_to_trace_comes_in_smaller() {
        let (width, height) = (12_000_u32, 9_000);
        let rows = vec![0b0101_0101; (width / 8 * height) as usize];
        let bytes = png(width, height, png::ColorType::Grayscale, png::BitDepth::One, &rows);
        let found = read(Sort::Png, bytes, &|_| true).unwrap();
        assert_eq!((found.picture.width_px, found.picture.height_px, found.times_smaller), (6_000, 4_500, 2));
        assert!(found.grey.luma().iter().all(|tone| *tone == 127));
        assert!((found.px_per_inch.unwrap() - 150.0).abs() < 0.01);
        assert_eq!(image::load_from_memory(&found.picture.bytes).unwrap().width(), 6_000);
    }

    #[test]
    fn whoever_waits_can_stop_it() {
        let bytes = png(3, 1, png::ColorType::Grayscale, png::BitDepth::Eight, &[0, 1, 2]);
        assert_eq!(read(Sort::Png, bytes, &|_| false), Err(Fault::Stopped));
    }
}
