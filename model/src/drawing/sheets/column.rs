//! The column of legend, notes, what is missing and cautions, and how it is made to fit.
//!
//! It is first set as one would like it; where it does not fit, the letters become smaller, the legend stands
//! in more columns and the column grows wider, in that order. Only when all that is not enough do the cautions
//! of single kinds and the rest of a very long list move to the drawing list, and the sheet says so.

use kurbo::Rect;

use super::border::frame_of;
use super::flow::{Block, flow, heading, paragraph};
use super::legend::{Entry, legend_blocks};
use super::pen::Hand;
use super::remarks::Missing;
use super::title_block::title_block_of;
use crate::drawing::{Item, Paper, Role};

/// From the frame, from the title block and between columns, mm.
pub(super) const PAD_MM: f64 = 4.0;

/// What the column of a sheet says.
#[derive(Clone, Debug, Default)]
pub(super) struct Contents {
    /// Symbols and lines on the sheet.
    pub legend: Vec<Entry>,
    /// Notes.
    pub notes: Vec<String>,
    /// What is missing.
    pub missing: Vec<Missing>,
    /// Cautions every sheet carries.
    pub cautions: Vec<String>,
    /// Cautions of the kinds on the sheet.
    pub kind_cautions: Vec<String>,
    /// North point, scale bar and scale; stands at the foot of the last column.
    pub orientation: Option<Block>,
    /// Number of the sheet that holds what has no room here.
    pub drawing_list: String,
}

/// A strip this wide is set in two columns, either of which takes north point and scale bar, mm.
const TWO_COLUMNS_FROM_MM: f64 = 2.0 * super::orientation::WIDTH_MM + 3.0 * PAD_MM;

/// How the column is set.
#[derive(Clone, Copy, Debug)]
struct Setting {
    /// Width of the strip, or its height on an upright sheet, mm.
    width_mm: f64,
    /// Columns of text in the strip.
    columns: usize,
    /// Height of the letters, mm.
    text_mm: f64,
    /// Legend entries side by side in a column.
    legend_columns: usize,
    /// Whether cautions of single kinds stand here.
    kind_cautions: bool,
    /// Most entries of the legend, and most devices named as lacking something.
    most: usize,
}

/// A column that fits, and what it leaves for the plan.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Its items.
    pub items: Vec<Item>,
    /// The strip it takes, mm.
    pub strip: Rect,
    /// Areas free for the plan, mm: right up to the column above the title block, and the whole height left of
    /// the title block.
    pub free: Vec<Rect>,
}

/// The settings to try on a paper, best first.
fn settings(paper: Paper) -> Vec<Setting> {
    let upright = paper == Paper::A4;
    let widths: &[f64] = match paper {
        Paper::A4 => &[75.0, 100.0, 130.0],
        Paper::A3 => &[96.0, 110.0, 140.0, 180.0],
        Paper::A2 => &[110.0, 140.0, 180.0],
        Paper::A1 | Paper::A0 => &[130.0, 180.0],
    };
    let most = usize::MAX;
    let mut all = Vec::new();
    for (index, width_mm) in widths.iter().copied().enumerate() {
        let columns = if upright { 2 } else { 1 + usize::from(width_mm >= TWO_COLUMNS_FROM_MM) };
        let base = Setting { width_mm, columns, text_mm: 1.8, legend_columns: 1, kind_cautions: true, most };
        if index == 0 && !upright {
            all.push(Setting { text_mm: 2.5, ..base });
        }
        all.push(base);
        if columns == 1 || upright {
            all.push(Setting { legend_columns: 2, ..base });
        }
    }
    let widest = *all.last().unwrap_or(&Setting {
        width_mm: 100.0,
        columns: 1,
        text_mm: 1.8,
        legend_columns: 2,
        kind_cautions: true,
        most,
    });
    all.push(Setting { kind_cautions: false, ..widest });
    for most in [40, 24, 16, 10, 5, 2, 0] {
        all.push(Setting { kind_cautions: false, legend_columns: 2, most, ..widest });
    }
    all
}

/// Sets the column of a sheet.
pub(super) fn column(contents: &Contents, paper: Paper) -> Column {
    let mut last = Column { items: Vec::new(), strip: Rect::ZERO, free: Vec::new() };
    for setting in settings(paper) {
        let (strip, free) = strip_and_free(paper, setting.width_mm);
        last = Column { items: Vec::new(), strip, free };
        if let Some(items) = set(contents, &setting, strip) {
            return Column { items, ..last };
        }
    }
    last
}

/// The most that the narrowest column leaves for the plan, mm.
pub(super) fn roomiest(paper: Paper) -> Vec<Rect> {
    settings(paper).first().map(|setting| strip_and_free(paper, setting.width_mm).1).unwrap_or_default()
}

/// The strip for words, and what is left for the plan.
fn strip_and_free(paper: Paper, width_mm: f64) -> (Rect, Vec<Rect>) {
    let (frame, title) = (frame_of(paper), title_block_of(paper));
    if paper == Paper::A4 {
        let strip = Rect::new(frame.x0, title.y1, frame.x1, title.y1 + width_mm);
        return (strip, vec![Rect::new(frame.x0, strip.y1, frame.x1, frame.y1)]);
    }
    let strip = Rect::new(frame.x1 - width_mm, title.y1, frame.x1, frame.y1);
    let above_title = Rect::new(frame.x0, title.y1, strip.x0, frame.y1);
    let beside_title = Rect::new(frame.x0, frame.y0, title.x0.min(strip.x0), frame.y1);
    (strip, vec![above_title, beside_title])
}

/// Sets the contents in one way; `None` where they do not fit.
fn set(contents: &Contents, setting: &Setting, strip: Rect) -> Option<Vec<Item>> {
    let inner = strip.inset(-PAD_MM);
    let count = setting.columns as f64;
    let width = (inner.width() - (count - 1.0) * PAD_MM) / count;
    let mut areas: Vec<Rect> = (0..setting.columns)
        .map(|index| {
            let left = inner.x0 + index as f64 * (width + PAD_MM);
            Rect::new(left, inner.y0, left + width, inner.y1)
        })
        .collect();
    let mut foot = Vec::new();
    if let (Some(block), Some(area)) = (&contents.orientation, areas.last_mut()) {
        let top = area.y0 + block.height;
        let mut pen = super::pen::Pen::default();
        pen.stamp(&block.items, kurbo::Vec2::new(area.x0, top));
        foot = pen.items;
        area.y0 = top + block.gap;
    }
    let mut items = flow(&blocks(contents, setting, width), &areas)?;
    items.extend(foot);
    Some(items)
}

fn blocks(contents: &Contents, setting: &Setting, width: f64) -> Vec<Block> {
    let head = |words: &str| heading(words, width, if setting.text_mm > 2.0 { 3.5 } else { 2.5 });
    let body = Hand::regular(Role::Body, setting.text_mm);
    let mut blocks = Vec::new();
    let shown = contents.legend.len().min(setting.most);
    if !contents.legend.is_empty() {
        blocks.push(head("Legend"));
        blocks.extend(legend_blocks(&contents.legend[..shown], width, setting.legend_columns, body));
        if shown < contents.legend.len() {
            let rest = format!(
                "The other {} entries are on {}.",
                contents.legend.len() - shown,
                contents.drawing_list
            );
            blocks.push(paragraph(&rest, body, width, ""));
        }
    }
    if !contents.missing.is_empty() {
        blocks.push(head("Missing"));
        let red = Hand { role: Role::Missing, ..body };
        let lines = missing_lines(&contents.missing, setting.most);
        blocks.extend(lines.iter().map(|line| paragraph(line, red, width, "–")));
    }
    list(&mut blocks, head("Notes"), &contents.notes, body, width);
    let caution = Hand { role: Role::Caution, ..body };
    let mut cautions = contents.cautions.clone();
    if setting.kind_cautions {
        cautions.extend(contents.kind_cautions.iter().cloned());
    } else if !contents.kind_cautions.is_empty() {
        cautions.push(format!(
            "Further cautions, kind by kind, are on {}: read them first.",
            contents.drawing_list
        ));
    }
    list(&mut blocks, head("Cautions"), &cautions, caution, width);
    blocks
}

/// What is missing as one sentence each, naming no more than so many devices.
pub(super) fn missing_lines(missing: &[Missing], most: usize) -> Vec<String> {
    missing
        .iter()
        .map(|missing| {
            let shown = missing.tags.len().min(most);
            let named = missing.tags[..shown].join(", ");
            match (shown, missing.tags.len() - shown) {
                (_, 0) => format!("{}: {named}.", missing.what),
                (0, all) => format!("{}: {all} devices, listed in the device schedule.", missing.what),
                (_, rest) => {
                    format!("{}: {named} and {rest} more, listed in the device schedule.", missing.what)
                }
            }
        })
        .collect()
}

/// A heading with its paragraphs; nothing where there are none.
pub(super) fn list(blocks: &mut Vec<Block>, head: Block, lines: &[String], hand: Hand, width: f64) {
    if !lines.is_empty() {
        blocks.push(head);
        blocks.extend(lines.iter().map(|line| paragraph(line, hand, width, "–")));
    }
}
