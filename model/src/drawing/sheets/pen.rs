//! A pen for the frame: lines, boxes and words in paper millimetres, y up.

use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Vec2};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::units::Angle;

/// From base line to base line, in heights of capitals (ISO 3098-1 gives 22/14 as the least for lettering A
/// with accents; from memory).
pub(super) const LINE_PITCH: f64 = 1.75;

/// Room a descender takes below the base line, in heights of capitals.
pub(super) const DESCENDER: f64 = 0.3;

/// Gathers items of the frame.
#[derive(Clone, Debug, Default)]
pub(super) struct Pen {
    /// What was drawn so far.
    pub items: Vec<Item>,
}

/// How words are lettered.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hand {
    /// What they are.
    pub role: Role,
    /// Height of the capitals, mm.
    pub height_mm: f64,
    /// Weight.
    pub weight: Weight,
}

impl Hand {
    /// Regular letters.
    pub const fn regular(role: Role, height_mm: f64) -> Self {
        Self { role, height_mm, weight: Weight::Regular }
    }

    /// Semi-bold letters.
    pub const fn bold(role: Role, height_mm: f64) -> Self {
        Self { role, height_mm, weight: Weight::SemiBold }
    }

    /// Width of words in this hand, mm.
    pub fn width(self, words: &str) -> f64 {
        lettering::width(words, self.height_mm, self.weight)
    }

    /// From base line to base line, mm.
    pub fn pitch(self) -> f64 {
        self.height_mm * LINE_PITCH
    }
}

impl Pen {
    /// A straight line.
    pub fn line(&mut self, role: Role, from: Point, to: Point) {
        self.items.push(Item::line(Layer::Frame, role, None, from, to));
    }

    /// A box.
    pub fn rect(&mut self, role: Role, rect: Rect) {
        self.items.push(Item::path(Layer::Frame, role, None, rect.to_path(0.01)));
    }

    /// Any path.
    pub fn path(&mut self, role: Role, path: BezPath) {
        self.items.push(Item::path(Layer::Frame, role, None, path));
    }

    /// One line of words.
    pub fn words(&mut self, hand: Hand, at: Point, anchor: Anchor, words: &str) {
        if words.is_empty() {
            return;
        }
        let (height_mm, weight) = (hand.height_mm, hand.weight);
        let shape = Shape::Text {
            at,
            text: words.replace('\u{a0}', " "),
            height_mm,
            weight,
            anchor,
            turn: Angle::ZERO,
        };
        self.items.push(Item { layer: Layer::Frame, role: hand.role, subject: None, shape });
    }

    /// Adds items moved by so much.
    pub fn stamp(&mut self, items: &[Item], by: Vec2) {
        self.items.extend(items.iter().cloned().map(|item| moved(item, Affine::translate(by))));
    }
}

/// An item carried to another place; letters keep their height.
pub(super) fn moved(mut item: Item, by: Affine) -> Item {
    match &mut item.shape {
        Shape::Path(path) => path.apply_affine(by),
        Shape::Text { at, .. } => *at = by * *at,
        Shape::Picture { plan_from_units, within, .. } => {
            *plan_from_units = by * *plan_from_units;
            *within = within.map(|within| by.transform_rect_bbox(within));
        }
    }
    item
}

/// Breaks words into lines no wider than `width`, but not at spaces that hold (U+00A0); a single word that is too long is broken within.
pub(super) fn wrapped(words: &str, hand: Hand, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    // Letters are not kerned, so that a line is as wide as its words and the spaces between them.
    let mut line_width = 0.0;
    let space = hand.width(" ");
    for word in words.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let word_width = hand.width(word);
        let longer = if line.is_empty() { word_width } else { line_width + space + word_width };
        if longer <= width {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            line_width = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if hand.width(&line) > width && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, letter.to_string()));
            }
        }
        line_width = hand.width(&line);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words cut short with an ellipsis so that they are no wider than `width`.
pub(super) fn shortened(words: &str, hand: Hand, width: f64) -> String {
    if hand.width(words) <= width {
        return words.to_owned();
    }
    let mut letters: Vec<char> = words.chars().collect();
    while letters.pop().is_some() {
        let cut = format!("{}…", letters.iter().collect::<String>().trim_end());
        if hand.width(&cut) <= width {
            return cut;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_within_long_ones() {
        let hand = Hand::regular(Role::Body, 2.5);
        let text = "A competent person designs, installs and tests incomprehensibilities.";
        for width in [8.0, 20.0, 60.0] {
            let lines = wrapped(text, hand, width);
            assert!(lines.iter().all(|line| hand.width(line) <= width), "{lines:?}");
            let joined: String = lines.concat().chars().filter(|c| !c.is_whitespace()).collect();
            assert_eq!(joined, text.replace(' ', ""));
        }
    }

    #[test]
    fn what_is_too_long_is_cut_short_and_says_so() {
        let hand = Hand::regular(Role::Body, 2.5);
        let cut = shortened("An address that goes on and on", hand, 25.0);
        assert!(cut.ends_with('…') && hand.width(&cut) <= 25.0, "{cut}");
        assert_eq!(shortened("Short", hand, 25.0), "Short");
    }
}
