//! What sort of drawing some bytes are, by their content and never by the ending of their name.

use pattress_model::survey::ifc::looks_like_ifc;

/// The sorts of drawing that can be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sort {
    /// A picture (ISO/IEC 15948).
    Png,
    /// A picture (ITU-T T.81).
    Jpeg,
    /// A picture, mostly of a scanner (TIFF 6.0).
    Tiff,
    /// A picture (RFC 9649).
    WebP,
    /// Pages with lines, areas and lettering (ISO 32000).
    Pdf,
    /// A page with lines, areas and lettering (SVG 1.1).
    Svg,
    /// A model of a building (ISO 16739, exchanged as ISO 10303-21).
    Ifc,
}

impl Sort {
    /// How sentences name it, with its article.
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Png => "a PNG picture",
            Self::Jpeg => "a JPEG picture",
            Self::Tiff => "a TIFF picture",
            Self::WebP => "a WebP picture",
            Self::Pdf => "a PDF",
            Self::Svg => "an SVG drawing",
            Self::Ifc => "an IFC model",
        }
    }

    /// Whether it is made of pixels.
    pub const fn is_picture(self) -> bool {
        matches!(self, Self::Png | Self::Jpeg | Self::Tiff | Self::WebP)
    }
}

/// A PDF may begin within its first bytes rather than with them (ISO 32000-1, annex H, implementation note 13).
const PDF_BEGINS_WITHIN: usize = 1024;

/// What stands before the root of an SVG (declaration, comments, entities) is shorter than this, bytes.
const SVG_BEGINS_WITHIN: usize = 100_000;

/// What is known and cannot be read: how it begins, what it is, and what to do instead.
const REFUSED: &[(&[u8], &str)] = &[
    (b"GIF8", "it is a GIF picture, so save it as PNG"),
    (b"BM", "it is a BMP picture, so save it as PNG"),
    (b"PK\x03\x04", "it is a packed file, so unpack it and choose the drawing in it"),
    (b"\x1f\x8b", "it is a packed file, so unpack it and choose the drawing in it"),
    (b"AC10", "it is in a drawing program's own form, so ask for the drawing as PDF, SVG or IFC"),
    (b"\xd0\xcf\x11\xe0", "it is in a program's own form, so ask for the drawing as PDF, SVG or IFC"),
    (b"8BPS", "it is in a drawing program's own form, so save it as PNG"),
    (b"%!PS", "it is PostScript, so ask for the drawing as PDF"),
    (b"\0\0\0\x0cjP  ", "it is a JPEG 2000 picture, so save it as PNG"),
    (b"\xff\xfe", "it is text in UTF-16, so save the drawing as PDF, or as SVG in UTF-8"),
    (b"\xfe\xff", "it is text in UTF-16, so save the drawing as PDF, or as SVG in UTF-8"),
];

/// Tells the sort of drawing.
///
/// # Errors
/// What the bytes are instead and what to do, as the second half of a sentence that begins with the file's name.
pub fn sort_of(bytes: &[u8]) -> Result<Sort, &'static str> {
    if bytes.is_empty() {
        return Err("it is empty, so take a whole copy of it");
    }
    if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(Sort::Png);
    }
    if bytes.starts_with(&[0xFF, 0xD8, 0xFF]) {
        return Ok(Sort::Jpeg);
    }
    if bytes.starts_with(b"II*\0") || bytes.starts_with(b"MM\0*") {
        return Ok(Sort::Tiff);
    }
    if bytes.starts_with(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        return Ok(Sort::WebP);
    }
    if holds(&bytes[..bytes.len().min(PDF_BEGINS_WITHIN)], b"%PDF-") {
        return Ok(Sort::Pdf);
    }
    let text = without_blanks(bytes);
    if looks_like_ifc(bytes) {
        return Ok(Sort::Ifc);
    }
    if text.starts_with(b"<") && begins_svg(&text[..text.len().min(SVG_BEGINS_WITHIN)]) {
        return Ok(Sort::Svg);
    }
    if bytes.get(4..8) == Some(b"ftyp") {
        return Err("it is a picture or film of a telephone's own form, so save it as JPEG or PNG");
    }
    let known = REFUSED.iter().find(|(start, _)| bytes.starts_with(start));
    Err(known.map_or(
        "it is none of the drawings that can be read, so ask for a PDF, SVG or IFC, or a PNG, JPEG, TIFF or \
         WebP picture",
        |(_, what)| what,
    ))
}

/// The bytes without the mark of UTF-8 and blanks before them.
fn without_blanks(bytes: &[u8]) -> &[u8] {
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    text.trim_ascii_start()
}

/// Whether an element named `svg` opens here, with or without a prefix of its namespace.
fn begins_svg(text: &[u8]) -> bool {
    let ends_name = |byte: Option<&u8>| byte.is_none_or(|byte| !byte.is_ascii_alphanumeric());
    text.windows(4)
        .enumerate()
        .any(|(at, word)| matches!(word, b"<svg" | b":svg") && ends_name(text.get(at + word.len())))
}

fn holds(bytes: &[u8], word: &[u8]) -> bool {
    bytes.windows(word.len()).any(|part| part == word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawings_are_told_by_their_content() {
        let cases: &[(&[u8], Result<Sort, &str>)] = &[
            (b"", Err("empty")),
            (b"\x89PNG\r\n\x1a\n", Ok(Sort::Png)),
            (b"\x89PNG\n\x1a\n", Err("none of the drawings")),
            (b"\xff\xd8\xff\xe0", Ok(Sort::Jpeg)),
            (b"II*\0\x08\0\0\0", Ok(Sort::Tiff)),
            (b"MM\0*\0\0\0\x08", Ok(Sort::Tiff)),
            (b"RIFF\x10\0\0\0WEBPVP8 ", Ok(Sort::WebP)),
            (b"RIFF\x10\0\0\0WAVE", Err("none of the drawings")),
            (b"%PDF-1.7", Ok(Sort::Pdf)),
            (b"\r\n%PDF-1.4", Ok(Sort::Pdf)),
            (b"<svg width='1'/>", Ok(Sort::Svg)),
            (b"\xef\xbb\xbf <?xml version='1.0'?><!-- plan --><s:svg/>", Ok(Sort::Svg)),
            (b"<html><svgs/></html>", Err("none of the drawings")),
            (b" ISO-10303-21;\nHEADER;", Ok(Sort::Ifc)),
            (b"GIF89a", Err("GIF")),
            (b"PK\x03\x04", Err("unpack")),
            (b"AC1032", Err("PDF, SVG or IFC")),
            (b"\0\0\0\x18ftypheic", Err("JPEG or PNG")),
            (b"hello", Err("none of the drawings")),
        ];
        for (bytes, expected) in cases {
            match (sort_of(bytes), expected) {
                (Ok(found), Ok(sort)) => assert_eq!(found, *sort, "{bytes:?}"),
                (Err(what), Err(part)) => assert!(what.contains(part), "{bytes:?}: {what}"),
                (found, expected) => panic!("{bytes:?}: {found:?} instead of {expected:?}"),
            }
        }
    }
}
