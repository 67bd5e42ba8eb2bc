//! SVG of one sheet (SVG 1.1 second edition): one user unit is one millimetre on paper.
//!
//! Every word is given its place, so that a viewer with another face, or with kerning, still keeps each word
//! where it was measured. Where a viewer has no Inter, the nearest plain face stands in.

use std::fmt::Write as _;

use kurbo::{Affine, BezPath, PathEl, Rect};
use pattress_model::drawing::style::Rgba;
use pattress_model::drawing::{Sheet, Weight, lettering};
use pattress_model::store::Media;

use super::base64::base64;
use super::marks::{MITRE_LIMIT, Mark, marks};
use super::page_picture::painted;
use crate::survey::{Sort, sort_of};

/// One sheet as SVG. A picture that is not among the media is left out; [`super::pdf`] reports it.
pub fn svg(sheet: &Sheet, media: &Media) -> String {
    let (width, height) = sheet.paper.size_mm();
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
         width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" \
         font-family=\"Inter, 'Helvetica Neue', Arial, sans-serif\" font-kerning=\"none\">\n\
         <title>{} {}</title>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n",
        escaped(&sheet.number),
        escaped(&sheet.title)
    );
    for mark in &marks(sheet) {
        write_mark(&mut out, mark, media);
    }
    out.push_str("</svg>\n");
    out
}

fn write_mark(out: &mut String, mark: &Mark, media: &Media) {
    match mark {
        Mark::Area { path, fill } => {
            let _ = writeln!(
                out,
                "<path d=\"{}\" fill-rule=\"evenodd\"{}/>",
                path_data(path),
                colour("fill", *fill)
            );
        }
        Mark::Line { path, ink, width_mm, dash_mm } => {
            let dash =
                dash_mm.map_or_else(String::new, |[dash, gap]| format!(" stroke-dasharray=\"{dash} {gap}\""));
            let _ = writeln!(
                out,
                "<path d=\"{}\" fill=\"none\"{} stroke-width=\"{width_mm}\" stroke-miterlimit=\"{MITRE_LIMIT}\"{dash}/>",
                path_data(path),
                colour("stroke", *ink)
            );
        }
        Mark::Letters { start, turn, letters, size_mm, weight, ink } => {
            let degrees = -turn.as_degrees();
            let turned = if degrees == 0.0 { String::new() } else { format!(" rotate({})", short(degrees)) };
            let _ = writeln!(
                out,
                "<text xml:space=\"preserve\" transform=\"translate({} {}){turned}\" font-size=\"{}\" \
                 font-weight=\"{}\"{}>{}</text>",
                short(start.x),
                short(start.y),
                short(*size_mm),
                weight_number(*weight),
                colour("fill", *ink),
                placed_words(letters, *size_mm)
            );
        }
        Mark::Picture { media: name, page, plan_from_units, size, opacity, within } => {
            let Some((sort, coded)) = picture_of(name, *page, *size, *plan_from_units, media) else { return };
            let [a, b, c, d, e, f] = plan_from_units.as_coeffs();
            let (width, height) = size;
            if let Some(within) = within {
                open_clip(out, *within);
            }
            let _ = writeln!(
                out,
                "<image transform=\"matrix({a} {b} {c} {d} {e} {f})\" width=\"{width}\" height=\"{height}\" \
                 opacity=\"{opacity}\" preserveAspectRatio=\"none\" xlink:href=\"data:image/{sort};base64,{coded}\"/>"
            );
            if within.is_some() {
                out.push_str("</g>\n");
            }
        }
    }
}

/// Opens a group that shows within a part of the paper alone. It is named by how much was written before it, which
/// no other has.
fn open_clip(out: &mut String, within: Rect) {
    let name = out.len();
    let _ = writeln!(
        out,
        "<clipPath id=\"within-{name}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n\
         <g clip-path=\"url(#within-{name})\">",
        short(within.x0),
        short(within.y0),
        short(within.width()),
        short(within.height())
    );
}

/// The sort of a picture and its bytes in base 64: a picture as it is kept, any other drawing painted. `None` where
/// it is not there or can't be painted.
fn picture_of(
    name: &str,
    page: u32,
    size: (f64, f64),
    paper_from_units: Affine,
    media: &Media,
) -> Option<(&'static str, String)> {
    let bytes = media.get(name)?;
    match sort_of(bytes) {
        Ok(Sort::Png) => Some(("png", base64(bytes))),
        Ok(Sort::Jpeg) => Some(("jpeg", base64(bytes))),
        _ => Some(("png", base64(&painted(name, bytes, page, size, paper_from_units).ok()?))),
    }
}

/// The words of a line, each at its place along the base line, with the spaces between them kept.
fn placed_words(letters: &[lettering::Letter], size_mm: f64) -> String {
    let mut out = String::new();
    let mut along = 0.0;
    let mut in_word = false;
    for letter in letters {
        let is_space = letter.letter == ' ';
        if is_space && in_word {
            out.push_str("</tspan>");
        } else if !is_space && !in_word {
            let _ = write!(out, "<tspan x=\"{}\">", short(along));
        }
        in_word = !is_space;
        out.push_str(&escaped(letter.letter.encode_utf8(&mut [0; 4])));
        along += letter.advance * size_mm;
    }
    if in_word {
        out.push_str("</tspan>");
    }
    out
}

const fn weight_number(weight: Weight) -> u16 {
    match weight {
        Weight::Regular => 400,
        Weight::Medium => 500,
        Weight::SemiBold => 600,
    }
}

/// A colour attribute, with its opacity where it is not solid.
fn colour(attribute: &str, [red, green, blue, opacity]: Rgba) -> String {
    let solid = format!(" {attribute}=\"#{red:02x}{green:02x}{blue:02x}\"");
    if opacity == 255 {
        solid
    } else {
        format!("{solid} {attribute}-opacity=\"{}\"", short(f64::from(opacity) / 255.0))
    }
}

/// To a ten-thousandth, without idle noughts: a tenth of a micrometre on paper.
fn short(value: f64) -> String {
    let rounded = (value * 1e4).round() / 1e4;
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

fn path_data(path: &BezPath) -> String {
    let mut data = String::new();
    for element in path.elements() {
        let (letter, points): (char, &[kurbo::Point]) = match element {
            PathEl::MoveTo(to) => ('M', &[*to]),
            PathEl::LineTo(to) => ('L', &[*to]),
            PathEl::QuadTo(by, to) => ('Q', &[*by, *to]),
            PathEl::CurveTo(first, second, to) => ('C', &[*first, *second, *to]),
            PathEl::ClosePath => ('Z', &[]),
        };
        data.push(letter);
        for (index, point) in points.iter().enumerate() {
            if index > 0 {
                data.push(' ');
            }
            let _ = write!(data, "{} {}", short(point.x), short(point.y));
        }
    }
    data
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_nought() {
        assert_eq!(short(1.0 / 3.0), "0.3333");
        assert_eq!(short(-0.000_01), "0");
        assert_eq!(short(200.0), "200");
    }

    #[test]
    fn words_cannot_break_out_of_the_file() {
        assert_eq!(escaped("<a & \"b\">"), "&lt;a &amp; &quot;b&quot;&gt;");
    }
}
