//! A page that people are handed: A4 upright, one column of words and drawings over as many sheets as it takes, with the
//! cautions in small print above the title block.

use kurbo::{Point, Rect};

use super::{Page, above_title};
use crate::drawing::sheets::column::PAD_MM;
use crate::drawing::sheets::flow::{Block, flow, heading, paragraph};
use crate::drawing::sheets::issue::CAUTIONS;
use crate::drawing::sheets::pen::{DESCENDER, Hand, Pen, wrapped};
use crate::drawing::{Anchor, Item, Paper, Role};

/// Height of small print, mm.
const SMALL_PRINT_MM: f64 = 1.8;

/// So many lines of one paragraph stay on one sheet.
const MOST_TOGETHER: usize = 10;

/// Width of the column, mm.
pub(super) fn width() -> f64 {
    above_title(Paper::A4).inset(-2.0 * PAD_MM).width()
}

/// Sets blocks on as many sheets as they need; `foot` stands above the cautions of each.
pub(super) fn set(title: &str, blocks: &[Block], foot: &[String]) -> Vec<Page> {
    let inner = above_title(Paper::A4).inset(-2.0 * PAD_MM);
    let foot = foot_blocks(foot, inner.width());
    let foot_height: f64 = foot.iter().map(|block| block.height + block.gap).sum();
    let area = Rect { y0: inner.y0 + foot_height + 2.0 * PAD_MM, ..inner };
    let foot_area = Rect { y1: inner.y0 + foot_height, ..inner };
    let foot_items = flow(&foot, &[foot_area]).unwrap_or_default();
    let sheets = over_pages(blocks, area);
    sheets
        .into_iter()
        .map(|mut items| {
            items.extend(foot_items.iter().cloned());
            Page::new(title.to_owned(), items)
        })
        .collect()
}

fn foot_blocks(foot: &[String], width: f64) -> Vec<Block> {
    let small = Hand::regular(Role::SmallPrint, SMALL_PRINT_MM);
    let caution = Hand::regular(Role::Caution, SMALL_PRINT_MM);
    let mut rule = Pen::default();
    rule.line(Role::TableLine, Point::new(0.0, 0.0), Point::new(width, 0.0));
    let rule = Block { items: rule.items, height: 1.2, gap: 0.0, keep_with_next: true };
    let lines = foot.iter().map(|line| paragraph(line, small, width, ""));
    let cautions = CAUTIONS.map(|line| paragraph(line, caution, width, "–"));
    std::iter::once(rule).chain(lines).chain(cautions).collect()
}

/// Blocks set into one area a sheet, as few sheets as hold them; at least one.
fn over_pages(blocks: &[Block], area: Rect) -> Vec<Vec<Item>> {
    let mut sheets = Vec::new();
    let mut rest = blocks;
    while !rest.is_empty() {
        let mut fits = 0;
        let mut used = 0.0;
        for (index, block) in rest.iter().enumerate() {
            used += block.height + if index == 0 { 0.0 } else { block.gap };
            if used > area.height() {
                break;
            }
            if !block.keep_with_next {
                fits = index + 1;
            }
        }
        // A run too high for any sheet is set all the same, so that nothing is lost.
        let (now, later) = rest.split_at(if fits == 0 { 1 } else { fits });
        let tall = Rect { y0: area.y0 - 1e6, ..area };
        sheets.push(flow(now, &[tall]).unwrap_or_default());
        rest = later;
    }
    if sheets.is_empty() {
        sheets.push(Vec::new());
    }
    sheets
}

/// The head of a sheet.
pub(super) fn head(words: &str, height_mm: f64) -> Vec<Block> {
    let hand = Hand::bold(Role::Heading, height_mm);
    let mut blocks = lines(words, hand, width(), "", height_mm);
    for block in &mut blocks {
        block.keep_with_next = true;
    }
    blocks
}

/// A heading with a rule beneath it.
pub(super) fn subhead(words: &str, height_mm: f64) -> Block {
    heading(words, width(), height_mm)
}

/// Words as one block a line, so that long ones flow on to the next sheet; `gap` stands above the first.
pub(super) fn lines(words: &str, hand: Hand, width: f64, mark: &str, gap: f64) -> Vec<Block> {
    let indent = if mark.is_empty() { 0.0 } else { hand.height_mm * 1.4 };
    let blocks = wrapped(&with_units(words), hand, width - indent)
        .iter()
        .enumerate()
        .map(|(index, line)| {
            let mut pen = Pen::default();
            let base = Point::new(0.0, -hand.height_mm);
            if index == 0 {
                pen.words(hand, base, Anchor::Start, mark);
            }
            pen.words(hand, Point::new(indent, base.y), Anchor::Start, line);
            // Base lines lie a pitch apart, and the first line keeps to the one after it.
            let height = hand.height_mm * (1.0 + DESCENDER);
            let gap = if index == 0 { gap } else { hand.pitch() - height };
            Block { items: pen.items, height, gap, keep_with_next: false }
        })
        .collect();
    kept_together(blocks)
}

/// Lines that belong together stay on one sheet, unless there are more than a sheet should wait for.
fn kept_together(mut blocks: Vec<Block>) -> Vec<Block> {
    if blocks.len() <= MOST_TOGETHER {
        let last = blocks.len().saturating_sub(1);
        blocks.iter_mut().take(last).for_each(|block| block.keep_with_next = true);
    }
    blocks
}

/// The words with units held to their figures.
fn with_units(words: &str) -> String {
    let mut told = String::new();
    for word in words.split(' ') {
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')', '”']);
        let is_unit = matches!(unit, "%" | "s" | "min" | "h" | "°C" | "lx" | "K" | "ppm" | "m/s" | "mm");
        if !told.is_empty() {
            let held = is_unit && told.ends_with(|c: char| c.is_ascii_digit());
            told.push(if held { '\u{a0}' } else { ' ' });
        }
        told.push_str(word);
    }
    told
}

/// A word in bold at the left and lines of words beside it.
pub(super) fn pair(left: &str, right: &[String], left_width: f64, hand: Hand) -> Vec<Block> {
    let bold = Hand::bold(Role::Heading, hand.height_mm);
    let gap = hand.height_mm * 0.9;
    let indent = left_width + 2.0;
    let mut left = wrapped(left, bold, left_width).into_iter();
    let mut blocks: Vec<Block> = Vec::new();
    let mut said = right.iter().flat_map(|line| wrapped(&with_units(line), hand, width() - indent));
    loop {
        let (word, line) = (left.next(), said.next());
        if word.is_none() && line.is_none() {
            return kept_together(blocks);
        }
        let mut pen = Pen::default();
        let base = -hand.height_mm;
        pen.words(bold, Point::new(0.0, base), Anchor::Start, &word.unwrap_or_default());
        pen.words(hand, Point::new(indent, base), Anchor::Start, &line.unwrap_or_default());
        let height = hand.height_mm * (1.0 + DESCENDER);
        let gap = if blocks.is_empty() { gap } else { hand.pitch() - height };
        blocks.push(Block { items: pen.items, height, gap, keep_with_next: false });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    fn words_of(page: &Page) -> Vec<String> {
        let words = page.items.iter().filter_map(|item| match &item.shape {
            Shape::Text { text, .. } => Some(text.clone()),
            _ => None,
        });
        words.collect()
    }

    #[test]
    fn long_texts_flow_on_and_nothing_is_lost() {
        let hand = Hand::regular(Role::Body, 2.5);
        let sentence = "One two three four five six seven eight nine ten eleven twelve thirteen. ".repeat(20);
        let mut blocks = head("A room", 7.0);
        for _ in 0..12 {
            blocks.extend(lines(&sentence, hand, width(), "–", 1.5));
        }
        let pages = set("Test", &blocks, &["At the foot.".to_owned()]);
        assert!(pages.len() > 2, "{} sheets", pages.len());
        let all: String = pages.iter().flat_map(words_of).collect::<Vec<_>>().join(" ");
        assert_eq!(all.matches("thirteen.").count(), 12 * 20);
        assert_eq!(all.matches("At the foot.").count(), pages.len());
    }

    #[test]
    fn figures_keep_their_units_and_short_paragraphs_their_lines() {
        assert_eq!(with_units("at 70 % over 2 s."), "at 70\u{a0}% over 2\u{a0}s.");
        assert_eq!(with_units("key 2 is on"), "key 2 is on");
        let hand = Hand::regular(Role::Body, 2.5);
        let blocks = pair("Name", &["word ".repeat(60)], 40.0, hand);
        assert!(blocks.len() > 2);
        assert!(blocks[..blocks.len() - 1].iter().all(|block| block.keep_with_next));
    }
}
