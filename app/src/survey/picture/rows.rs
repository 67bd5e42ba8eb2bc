//! A PNG made grey row by row, so that the largest scans need no more memory than their grey (ISO/IEC 15948).

use std::io::Cursor;

use pattress_model::survey::Greyscale;
use png::{BitDepth, ColorType, Decoder, Info, Transformations, Unit};

use super::super::{Fault, KeepGoing, Sort};
use super::bits::BitCounts;
use super::grey::{Sums, luma, on_paper};
use super::{broken, too_large, whole};

/// How often someone is asked whether to go on, in rows.
const ASK_EACH: u32 = 64;

/// Inches to a metre.
const INCHES_PER_METRE: f64 = 39.370_078_740_157_48;

fn decoder(bytes: &[u8]) -> Decoder<Cursor<&[u8]>> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(Transformations::IDENTITY);
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    decoder
}

/// Whether its rows come in seven passes (11.2.2).
pub fn is_interlaced(bytes: &[u8]) -> bool {
    bytes.get(28).is_some_and(|method| *method != 0)
}

/// Pixels to an inch, where it states them (11.3.4.3).
pub fn px_per_inch(bytes: &[u8]) -> Option<f64> {
    let reader = decoder(bytes).read_info().ok()?;
    let density = reader.info().pixel_dims.filter(|density| density.unit == Unit::Meter)?;
    let px_per_inch = f64::from(density.xppu) / INCHES_PER_METRE;
    whole::is_a_resolution(px_per_inch).then_some(px_per_inch)
}

/// The grey of a PNG that is not interlaced, so many times smaller.
pub fn grey_of_png(
    bytes: &[u8],
    times_smaller: u32,
    most_memory: u64,
    keep_going: KeepGoing<'_>,
) -> Result<Greyscale, Fault> {
    let mut reader = decoder(bytes).read_info().map_err(|_| broken(Sort::Png))?;
    let info = reader.info().clone();
    let (width, height) = (info.width, info.height);
    let inflated = (info.raw_row_length() as u64).saturating_mul(u64::from(height));
    if inflated > most_memory {
        return Err(too_large(width, height));
    }
    let tones = Tones::of(&info);
    let (across, down, times) = (width as usize, height as usize, times_smaller as usize);
    let mut into = match &tones {
        _ if times == 1 => Into::Same(Vec::with_capacity(across * down)),
        Tones::Listed(list, 1) => BitCounts::new(across, down, times, [list[0], list[1]])
            .map_or_else(|| Into::Smaller(Sums::new(across, down, times)), Into::Counted),
        _ => Into::Smaller(Sums::new(across, down, times)),
    };
    let mut row_in_grey = vec![u8::MAX; across];
    for y in 0..height {
        if y % ASK_EACH == 0 && !keep_going(y as f32 / height as f32) {
            return Err(Fault::Stopped);
        }
        let row = reader.next_row().map_err(|_| broken(Sort::Png))?;
        let Some(row) = row else { break };
        if let Into::Counted(counts) = &mut into {
            counts.add_row(row.data());
            continue;
        }
        tones.look_up(row.data(), &mut row_in_grey);
        match &mut into {
            Into::Same(all) => all.extend_from_slice(&row_in_grey),
            Into::Smaller(sums) => sums.add_row(&row_in_grey),
            Into::Counted(_) => {}
        }
    }
    // What follows the pixels is read as well, so that a broken sum of it is found.
    reader.finish().map_err(|_| broken(Sort::Png))?;
    let grey = match into {
        Into::Same(all) => Greyscale::new(across, down, all),
        Into::Smaller(sums) => sums.finish(),
        Into::Counted(counts) => counts.finish(),
    };
    grey.ok_or_else(|| Fault::because("it was cut short, so take a whole copy of it"))
}

/// Where the rows go.
enum Into {
    /// Into a picture of the same size.
    Same(Vec<u8>),
    /// Into means.
    Smaller(Sums),
    /// Into means of bits that were counted.
    Counted(BitCounts),
}

/// How tones come out of a row.
enum Tones {
    /// Each sample has so many bits, eight or less, and stands for a tone in a list.
    Listed(Box<[u8; 256]>, u8),
    /// Each pixel has parts of one or two bytes, of which the first counts.
    Parts { step: usize, bytes_each: usize, colour: bool, opacity: Option<usize> },
}

impl Tones {
    fn of(info: &Info<'_>) -> Self {
        let bits = info.bit_depth as u8;
        let bytes_each = if info.bit_depth == BitDepth::Sixteen { 2 } else { 1 };
        let parts = |count: usize, opacity: Option<usize>| Self::Parts {
            step: count * bytes_each,
            bytes_each,
            colour: count > 2,
            opacity: opacity.map(|part| part * bytes_each),
        };
        match info.color_type {
            ColorType::Grayscale if bytes_each == 1 => Self::Listed(Box::new(greys(info, bits)), bits),
            ColorType::Grayscale => parts(1, None),
            ColorType::GrayscaleAlpha => parts(2, Some(1)),
            ColorType::Rgb => parts(3, None),
            ColorType::Rgba => parts(4, Some(3)),
            ColorType::Indexed => Self::Listed(Box::new(palette(info)), bits),
        }
    }

    /// Turns a row into tones.
    fn look_up(&self, row: &[u8], tones: &mut [u8]) {
        match self {
            Self::Listed(list, bits) => unpack(row, *bits, list, tones),
            Self::Parts { step, bytes_each, colour, opacity } => {
                for (tone, pixel) in tones.iter_mut().zip(row.chunks_exact(*step)) {
                    let own = if *colour {
                        luma(pixel[0], pixel[*bytes_each], pixel[2 * bytes_each])
                    } else {
                        pixel[0]
                    };
                    *tone = opacity.map_or(own, |at| on_paper(own, pixel[at]));
                }
            }
        }
    }
}

/// The tone of each sample of a grey picture; the one that is marked as transparent is paper (11.3.2.1).
fn greys(info: &Info<'_>, bits: u8) -> [u8; 256] {
    let most = (1_u32 << bits) - 1;
    let mut list = [u8::MAX; 256];
    for (sample, tone) in (0..=most).zip(list.iter_mut()) {
        *tone = (sample * 255 / most) as u8;
    }
    if let Some([_, clear, ..]) = info.trns.as_deref() {
        list[usize::from(*clear)] = u8::MAX;
    }
    list
}

/// The tone of each colour of a palette on white paper.
fn palette(info: &Info<'_>) -> [u8; 256] {
    let mut list = [u8::MAX; 256];
    let colours = info.palette.as_deref().unwrap_or(&[]);
    let opacities = info.trns.as_deref().unwrap_or(&[]);
    for (index, (tone, colour)) in list.iter_mut().zip(colours.chunks_exact(3)).enumerate() {
        let opacity = opacities.get(index).copied().unwrap_or(u8::MAX);
        *tone = on_paper(luma(colour[0], colour[1], colour[2]), opacity);
    }
    list
}

/// Looks up the samples of a row, of which the first is in the highest bits of its byte.
fn unpack(row: &[u8], bits: u8, list: &[u8; 256], tones: &mut [u8]) {
    if bits == 8 {
        for (tone, sample) in tones.iter_mut().zip(row) {
            *tone = list[usize::from(*sample)];
        }
        return;
    }
    let mask = (1_u8 << bits) - 1;
    for (tones, byte) in tones.chunks_mut(usize::from(8 / bits)).zip(row) {
        let mut shift = 8;
        for tone in tones {
            shift -= bits;
            *tone = list[usize::from((byte >> shift) & mask)];
        }
    }
}
