//! The front of a plate drawn: its outline, its keys as they lie on it, and the words on them.

use kurbo::{Point, Rect, Size};

use crate::drawing::sheets::pen::{Hand, Pen, shortened};
use crate::drawing::{Anchor, Role};
use crate::kit::PlateFace;

/// From the edge of the plate to its keys, mm at true size. Our own: the maker's template goes before it.
const RIM_MM: f64 = 8.0;

/// Between keys, mm at true size.
const GAP_MM: f64 = 2.0;

/// From the edge of a key to its words, mm.
const PAD_MM: f64 = 1.0;

/// Heights of the words on keys to try, mm (ISO 3098 series).
const HEIGHTS_MM: [f64; 4] = [5.0, 3.5, 2.5, 1.8];

/// Height of the word that says that a legend is provisional, mm.
const PROVISIONAL_MM: f64 = 2.5;

/// A plate to draw.
pub(super) struct Face<'a> {
    /// Its size, and how many keys lie side by side.
    pub face: PlateFace,
    /// The words on each key.
    pub words: Vec<&'a [String; 2]>,
    /// Whether its legend has not been agreed.
    pub is_provisional: bool,
    /// How many times true size it is drawn.
    pub times: f64,
}

impl Face<'_> {
    /// Its size on paper, mm.
    pub fn size(&self) -> Size {
        Size::new(self.face.width.as_mm(), self.face.height.as_mm()) * self.times
    }

    /// The rectangles of its keys, from the plate's lower left corner.
    pub fn keys(&self) -> Vec<Rect> {
        let size = self.size();
        let (rim, gap) = (RIM_MM * self.times, GAP_MM * self.times);
        let count = self.words.len();
        let columns = usize::from(self.face.columns).clamp(1, count.max(1));
        let rows = count.div_ceil(columns).max(1);
        let width = (size.width - 2.0 * rim - (columns as f64 - 1.0) * gap) / columns as f64;
        let height = (size.height - 2.0 * rim - (rows as f64 - 1.0) * gap) / rows as f64;
        (0..count)
            .map(|at| {
                let (row, column) = (at / columns, at % columns);
                let left = rim + column as f64 * (width + gap);
                let top = size.height - rim - row as f64 * (height + gap);
                Rect::new(left, top - height, left + width, top)
            })
            .collect()
    }

    /// Draws it with its lower left corner there. Returns the keys, by their place, whose words are cut short.
    pub fn draw(&self, pen: &mut Pen, at: Point) -> Vec<usize> {
        let size = self.size();
        pen.rect(Role::FineLine, Rect::from_origin_size(at, size));
        if self.is_provisional {
            let hand = Hand::bold(Role::Missing, PROVISIONAL_MM);
            let place = Point::new(at.x + size.width / 2.0, at.y + size.height - RIM_MM * self.times / 2.0);
            pen.words(hand, place, Anchor::Centre, "PROVISIONAL");
        }
        let keys = self.keys();
        let height_mm = self.height_of_words(&keys);
        let mut cut_short = Vec::new();
        for (index, (key, words)) in keys.iter().zip(&self.words).enumerate() {
            let key = *key + at.to_vec2();
            pen.rect(Role::FineLine, key);
            let hand = Hand::bold(Role::Heading, height_mm);
            let room = key.width() - 2.0 * PAD_MM;
            let lines: Vec<&str> = words.iter().map(String::as_str).filter(|line| !line.is_empty()).collect();
            let first = key.center().y + hand.pitch() / 2.0 * (lines.len() as f64 - 1.0);
            for (line, words) in lines.iter().enumerate() {
                let fitting = shortened(words, hand, room);
                if fitting != **words && cut_short.last() != Some(&index) {
                    cut_short.push(index);
                }
                let place = Point::new(key.center().x, first - line as f64 * hand.pitch());
                pen.words(hand, place, Anchor::Centre, &fitting);
            }
        }
        cut_short
    }

    /// The largest height at which all words lie within their keys; the smallest where none does.
    fn height_of_words(&self, keys: &[Rect]) -> f64 {
        let fits = |height_mm: f64| {
            let hand = Hand::bold(Role::Heading, height_mm);
            keys.iter().zip(&self.words).all(|(key, words)| {
                let wide = words.iter().all(|line| hand.width(line) <= key.width() - 2.0 * PAD_MM);
                wide && hand.pitch() + hand.height_mm <= key.height() - 2.0 * PAD_MM
            })
        };
        HEIGHTS_MM.into_iter().find(|height| fits(*height)).unwrap_or(HEIGHTS_MM[HEIGHTS_MM.len() - 1])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::catalogue::kind_by_key;

    #[test]
    fn keys_lie_within_the_plate_at_true_size_and_do_not_touch() {
        let words = ["Ceiling".to_owned(), String::new()];
        for count in 1..=8 {
            let kind = kind_by_key(&format!("plate-{count}")).unwrap();
            let face = kind.plate_face();
            let drawn = Face { face, words: vec![&words; count], is_provisional: true, times: 1.0 };
            let keys = drawn.keys();
            assert_eq!(keys.len(), count);
            let plate = Rect::from_origin_size(Point::ORIGIN, drawn.size());
            assert_eq!(plate.width(), if count > 4 { 146.0 } else { 86.0 });
            for (index, key) in keys.iter().enumerate() {
                assert!(plate.inset(-RIM_MM + 1e-9).contains_rect(*key), "{count}: {key}");
                assert!(key.width() > 15.0 && key.height() > 15.0, "{count}: {key}");
                assert!(keys[index + 1..].iter().all(|other| !key.inflate(0.9, 0.9).overlaps(*other)));
            }
        }
    }

    #[test]
    fn words_become_smaller_until_they_fit_and_are_cut_short_only_then() {
        let key = |first: &str| [first.to_owned(), String::new()];
        let face = kind_by_key("plate-4").unwrap().plate_face();
        for (words, height_mm, cut) in [
            (key("Film"), 5.0, 0),
            (key("Living room"), 3.5, 0),
            (key("Kitchen ceiling"), 2.5, 0),
            (key("Garden side blinds up"), 1.8, 0),
            (key("WWWWWWWWWWWWWWWWWWWWWWWW"), 1.8, 1),
        ] {
            let drawn = Face { face, words: vec![&words; 4], is_provisional: false, times: 1.0 };
            assert_eq!(drawn.height_of_words(&drawn.keys()), height_mm, "{words:?}");
            assert_eq!(drawn.draw(&mut Pen::default(), Point::ORIGIN).len(), 4 * cut, "{words:?}");
        }
    }
}
