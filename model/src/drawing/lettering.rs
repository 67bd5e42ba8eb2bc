//! The lettering: one embedded face in three weights, measured the same on screen and on paper.

use super::{Anchor, Weight};

/// The face, regular.
pub const REGULAR: &[u8] = include_bytes!("../../fonts/Inter-Regular.otf");
/// The face, medium.
pub const MEDIUM: &[u8] = include_bytes!("../../fonts/Inter-Medium.otf");
/// The face, semi-bold.
pub const SEMI_BOLD: &[u8] = include_bytes!("../../fonts/Inter-SemiBold.otf");

/// Height of the capitals over the size of the type, for this face (its OS/2 table: 2048 units to the em,
/// capitals 1490 high).
pub const CAPITALS_TO_SIZE: f64 = 1490.0 / 2048.0;

/// The bytes of a weight.
pub const fn face(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => REGULAR,
        Weight::Medium => MEDIUM,
        Weight::SemiBold => SEMI_BOLD,
    }
}

/// Size of the type, mm, whose capitals are so high.
pub const fn size_of(height_mm: f64) -> f64 {
    height_mm / CAPITALS_TO_SIZE
}

/// Advance width of one line of text whose capitals are `height_mm` high, in the same unit. Kerning is left
/// out, so that every printer, with or without it, stays within what was measured here to a few hundredths.
pub fn width(text: &str, height_mm: f64, weight: Weight) -> f64 {
    use std::sync::OnceLock;
    static FACES: OnceLock<[Option<ttf_parser::Face<'static>>; 3]> = OnceLock::new();
    let faces = FACES
        .get_or_init(|| [REGULAR, MEDIUM, SEMI_BOLD].map(|bytes| ttf_parser::Face::parse(bytes, 0).ok()));
    let index = match weight {
        Weight::Regular => 0,
        Weight::Medium => 1,
        Weight::SemiBold => 2,
    };
    let Some(face) = &faces[index] else { return 0.6 * size_of(height_mm) * text.chars().count() as f64 };
    let per_em = f64::from(face.units_per_em());
    let units: f64 = text
        .chars()
        .map(|letter| {
            let glyph = face.glyph_index(letter).unwrap_or(ttf_parser::GlyphId(0));
            f64::from(face.glyph_hor_advance(glyph).unwrap_or(0))
        })
        .sum();
    units / per_em * size_of(height_mm)
}

/// How far the start of the base line lies from the anchor of a text so wide with capitals so high: along the
/// line and up from it.
pub fn start_from_anchor(anchor: Anchor, width_mm: f64, height_mm: f64) -> kurbo::Vec2 {
    match anchor {
        Anchor::Start => kurbo::Vec2::ZERO,
        Anchor::Middle => kurbo::Vec2::new(-width_mm / 2.0, 0.0),
        Anchor::End => kurbo::Vec2::new(-width_mm, 0.0),
        Anchor::Centre => kurbo::Vec2::new(-width_mm / 2.0, -height_mm / 2.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_face_says_how_high_its_capitals_are() {
        for weight in [Weight::Regular, Weight::Medium, Weight::SemiBold] {
            let face = ttf_parser::Face::parse(face(weight), 0).unwrap();
            let stated = f64::from(face.capital_height().unwrap()) / f64::from(face.units_per_em());
            assert!((stated - CAPITALS_TO_SIZE).abs() < 1e-3, "{weight:?}: {stated}");
        }
    }

    #[test]
    fn a_wider_word_measures_wider() {
        assert!(width("mmm", 2.5, Weight::Regular) > width("iii", 2.5, Weight::Regular));
        assert_eq!(width("", 2.5, Weight::Regular), 0.0);
    }
}
