//! Blocks of words and drawings that flow down columns, as a compositor sets them: nothing is cut in two, and
//! a heading never stands alone at the foot of a column.

use kurbo::{Point, Rect};

use super::pen::{DESCENDER, Hand, Pen, wrapped};
use crate::drawing::{Anchor, Item, Role};

/// Something that stands as a whole. Its items count from its upper left corner, y up, so all lie below zero.
#[derive(Clone, Debug)]
pub(super) struct Block {
    /// What is drawn.
    pub items: Vec<Item>,
    /// How high it is, mm.
    pub height: f64,
    /// Room above it unless it stands at the head of a column, mm.
    pub gap: f64,
    /// Whether the next block must stand below it in the same column.
    pub keep_with_next: bool,
}

/// A heading over what follows.
pub(super) fn heading(words: &str, width: f64, height_mm: f64) -> Block {
    let mut pen = Pen::default();
    let hand = Hand::bold(Role::Heading, height_mm);
    pen.words(hand, Point::new(0.0, -height_mm), Anchor::Start, words);
    let rule = -height_mm * (1.0 + DESCENDER) - 0.5;
    pen.line(Role::TableLine, Point::new(0.0, rule), Point::new(width, rule));
    Block { items: pen.items, height: -rule + 0.6, gap: height_mm * 1.6, keep_with_next: true }
}

/// Words that run over as many lines as they need, the first with a mark before it.
pub(super) fn paragraph(words: &str, hand: Hand, width: f64, mark: &str) -> Block {
    let indent = if mark.is_empty() { 0.0 } else { hand.height_mm * 1.4 };
    let mut pen = Pen::default();
    let mut base = -hand.height_mm;
    pen.words(hand, Point::new(0.0, base), Anchor::Start, mark);
    for (index, line) in wrapped(words, hand, width - indent).iter().enumerate() {
        if index > 0 {
            base -= hand.pitch();
        }
        pen.words(hand, Point::new(indent, base), Anchor::Start, line);
    }
    let height = -base + hand.height_mm * DESCENDER;
    Block { items: pen.items, height, gap: hand.height_mm * 0.6, keep_with_next: false }
}

/// Sets blocks into columns, first column first. `None` where they do not all fit.
pub(super) fn flow(blocks: &[Block], columns: &[Rect]) -> Option<Vec<Item>> {
    let mut pen = Pen::default();
    let mut column = columns.iter();
    let mut area = *column.next()?;
    let mut used = 0.0;
    let mut index = 0;
    while index < blocks.len() {
        let run = run_from(blocks, index);
        let mut needed: f64 = run.iter().map(|block| block.height + block.gap).sum();
        if used == 0.0 {
            needed -= run[0].gap;
        }
        if used + needed > area.height() + 1e-9 {
            area = *column.next()?;
            used = 0.0;
            // A fresh column that is too low for the run is tried, then the next, until none is left.
            continue;
        }
        for block in run {
            used += if used == 0.0 { 0.0 } else { block.gap };
            pen.stamp(&block.items, Point::new(area.x0, area.y1 - used).to_vec2());
            used += block.height;
        }
        index += run.len();
    }
    Some(pen.items)
}

/// The block at an index with all that must stand with it.
fn run_from(blocks: &[Block], index: usize) -> &[Block] {
    let mut end = index;
    while end + 1 < blocks.len() && blocks[end].keep_with_next {
        end += 1;
    }
    &blocks[index..=end]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    fn block(height: f64, keep_with_next: bool) -> Block {
        let mut pen = Pen::default();
        pen.words(Hand::regular(Role::Body, 1.8), Point::new(0.0, -1.8), Anchor::Start, "x");
        Block { items: pen.items, height, gap: 1.0, keep_with_next }
    }

    fn heads(items: &[Item]) -> Vec<(f64, f64)> {
        items
            .iter()
            .map(|item| match &item.shape {
                Shape::Text { at, .. } => (at.x, at.y + 1.8),
                _ => panic!("only words were set"),
            })
            .collect()
    }

    #[test]
    fn a_heading_goes_over_with_what_it_heads() {
        let columns = [Rect::new(0.0, 0.0, 9.0, 10.0), Rect::new(20.0, 0.0, 29.0, 10.0)];
        let set = flow(&[block(5.0, false), block(2.0, true), block(5.0, false)], &columns).unwrap();
        assert_eq!(heads(&set), [(0.0, 10.0), (20.0, 10.0), (20.0, 7.0)]);
    }

    #[test]
    fn what_does_not_fit_is_refused_and_not_clipped() {
        let columns = [Rect::new(0.0, 0.0, 9.0, 10.0)];
        assert!(flow(&[block(5.0, false), block(4.0, false)], &columns).is_some());
        assert!(flow(&[block(5.0, false), block(4.1, false)], &columns).is_none());
        assert!(flow(&[block(11.0, false)], &columns).is_none());
    }
}
