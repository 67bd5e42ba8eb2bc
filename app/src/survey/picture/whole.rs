//! What a picture's own bytes say before anything is decoded: its size, its resolution, whether all of it is there.

/// Width and height as the header states them (ISO/IEC 15948, 11.2.2).
pub fn png_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let field = |from: usize| Some(u32::from_be_bytes(bytes.get(from..from + 4)?.try_into().ok()?));
    Some((field(16)?, field(20)?))
}

/// Whether every chunk is there, image data among them, up to the end chunk (ISO/IEC 15948, 5.3).
pub fn png_is_whole(bytes: &[u8]) -> bool {
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
pub fn jpeg_is_whole(bytes: &[u8]) -> bool {
    let last = |marker: u8| bytes.windows(2).rposition(|pair| pair == [0xFF, marker]);
    match (last(0xDA), last(0xD9)) {
        (Some(scan), Some(end)) => end > scan,
        _ => false,
    }
}

/// Whether a JPEG is kept in several passes, which takes twice the memory (ITU-T T.81, table B.1).
pub fn jpeg_is_progressive(bytes: &[u8]) -> bool {
    jpeg_segments(bytes).any(|(marker, _)| matches!(marker, 0xC2 | 0xC6 | 0xCA | 0xCE))
}

/// Whether a JPEG is kept in the four inks of a printer (ITU-T T.81, B.2.2: its frame has four components).
pub fn jpeg_is_in_four_inks(bytes: &[u8]) -> bool {
    let is_frame = |marker: u8| (0xC0..=0xCF).contains(&marker) && !matches!(marker, 0xC4 | 0xC8 | 0xCC);
    jpeg_segments(bytes).any(|(marker, body)| is_frame(marker) && body.get(5) == Some(&4))
}

/// Centimetres to an inch.
const CM_PER_INCH: f64 = 2.54;

/// Pixels to an inch as a JPEG states them (JFIF 1.02: unit 1 is the inch, 2 the centimetre).
pub fn jpeg_px_per_inch(bytes: &[u8]) -> Option<f64> {
    let (_, header) =
        jpeg_segments(bytes).find(|(marker, body)| *marker == 0xE0 && body.starts_with(b"JFIF\0"))?;
    let density = f64::from(u16::from_be_bytes([*header.get(8)?, *header.get(9)?]));
    let px_per_inch = match header.get(7)? {
        1 => density,
        2 => density * CM_PER_INCH,
        _ => return None,
    };
    is_a_resolution(px_per_inch).then_some(px_per_inch)
}

/// Pixels to an inch as a TIFF states them for its first picture (TIFF 6.0, tags 282 and 296).
pub fn tiff_px_per_inch(bytes: &[u8]) -> Option<f64> {
    let is_little = bytes.starts_with(b"II");
    let short = |at: usize| {
        let two = bytes.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if is_little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) })
    };
    let long = |at: usize| {
        let four = bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
        Some(if is_little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) })
    };
    let directory = long(4)? as usize;
    let (mut density, mut unit) = (None, 2);
    for entry in 0..usize::from(short(directory)?) {
        let at = directory.checked_add(2 + entry * 12)?;
        match short(at)? {
            282 => {
                let place = long(at + 8)? as usize;
                density = Some(f64::from(long(place)?) / f64::from(long(place.checked_add(4)?)?));
            }
            296 => unit = short(at + 8)?,
            _ => {}
        }
    }
    let px_per_inch = match unit {
        2 => density?,
        3 => density? * CM_PER_INCH,
        _ => return None,
    };
    is_a_resolution(px_per_inch).then_some(px_per_inch)
}

/// Whether a stated resolution can be one of a scan; cameras and programs write 1 or 0 where they know none.
pub fn is_a_resolution(px_per_inch: f64) -> bool {
    (10.0..=10_000.0).contains(&px_per_inch)
}

/// The segments before the first scan: marker and content (ITU-T T.81, B.1.1.4).
fn jpeg_segments(bytes: &[u8]) -> impl Iterator<Item = (u8, &[u8])> {
    let mut at = 2;
    std::iter::from_fn(move || {
        let head = bytes.get(at..at + 4)?;
        if head[0] != 0xFF || head[1] == 0xDA {
            return None;
        }
        let length = usize::from(u16::from_be_bytes([head[2], head[3]]));
        let body = bytes.get(at + 4..at + 2 + length.max(2))?;
        at += 2 + length.max(2);
        Some((head[1], body))
    })
}
