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

/// One letter of a line of text, as a printer places it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Letter {
    /// The character that is printed.
    pub letter: char,
    /// Its glyph in the face.
    pub glyph: u16,
    /// How far the next letter lies from it, in sizes of the type.
    pub advance: f64,
}

/// What is printed for a letter that the face has not.
pub const STAND_IN: char = '?';

/// Whether the face has a letter.
pub fn has_letter(letter: char, weight: Weight) -> bool {
    parsed(weight).is_some_and(|face| face.glyph_index(letter).is_some())
}

/// The letters of one line. What is no letter (a tab, a line break) becomes a space, what the face has not a
/// question mark, so that nothing is ever printed as an empty box. Kerning is left out, so that screen and
/// every printer agree to the last hundredth.
pub fn letters(text: &str, weight: Weight) -> impl Iterator<Item = Letter> {
    let face = parsed(weight);
    text.chars().map(move |letter| {
        let letter = if letter.is_control() { ' ' } else { letter };
        let Some(face) = face else { return Letter { letter, glyph: 0, advance: 0.6 } };
        let (letter, glyph) = match face.glyph_index(letter) {
            Some(glyph) => (letter, glyph),
            None => (STAND_IN, face.glyph_index(STAND_IN).unwrap_or(ttf_parser::GlyphId(0))),
        };
        let units = f64::from(face.glyph_hor_advance(glyph).unwrap_or(0));
        Letter { letter, glyph: glyph.0, advance: units / f64::from(face.units_per_em()) }
    })
}

/// The parsed face of a weight; `None` only if the embedded bytes were not a face.
fn parsed(weight: Weight) -> Option<&'static ttf_parser::Face<'static>> {
    use std::sync::OnceLock;
    static FACES: OnceLock<[Option<ttf_parser::Face<'static>>; 3]> = OnceLock::new();
    let faces = FACES
        .get_or_init(|| [REGULAR, MEDIUM, SEMI_BOLD].map(|bytes| ttf_parser::Face::parse(bytes, 0).ok()));
    let index = match weight {
        Weight::Regular => 0,
        Weight::Medium => 1,
        Weight::SemiBold => 2,
    };
    faces[index].as_ref()
}

/// Advance width of one line of text whose capitals are `height_mm` high, in the same unit.
pub fn width(text: &str, height_mm: f64, weight: Weight) -> f64 {
    letters(text, weight).map(|letter| letter.advance).sum::<f64>() * size_of(height_mm)
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

    #[test]
    fn what_the_face_has_not_is_printed_as_a_question_mark() {
        let printed: String = letters("A\t漢±²°×", Weight::Regular).map(|letter| letter.letter).collect();
        assert_eq!(printed, "A ?±²°×");
        assert!(letters("A漢", Weight::Medium).all(|letter| letter.glyph != 0));
    }
}
