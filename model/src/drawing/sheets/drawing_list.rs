//! The first sheet: what the set holds, what its codes mean, what is missing, and every caution.

use kurbo::{Affine, Point, Rect};

use super::border::{border, frame_of};
use super::column::{PAD_MM, list, missing_lines};
use super::flow::{Block, flow, heading, paragraph};
use super::issue::{CAUTIONS, revision_words, status_words};
use super::legend::{legend_blocks, symbols_of};
use super::pen::{Hand, Pen, shortened};
use super::remarks::{kind_cautions, missing};
use super::title_block::{TitleBlock, title_block_of};
use super::{SheetName, SheetOptions, Shows};
use crate::drawing::{Anchor, Item, Paper, Role, Sheet};
use crate::project::Project;

/// Height of a row of the drawing list, in heights of its letters.
const ROW_PITCH: f64 = 2.3;

/// The drawing list of a set.
pub fn drawing_list(
    project: &Project,
    name: &SheetName,
    names: &[SheetName],
    options: &SheetOptions,
) -> Sheet {
    let mut pen = Pen::default();
    border(&mut pen, options.paper, &[title_block_of(options.paper)]);
    let contents = Contents { project, names, options };
    for attempt in contents.attempts() {
        if let Some(items) = evenly(&contents.blocks(&attempt), &areas(options.paper, attempt.columns)) {
            pen.items.extend(items);
            break;
        }
    }
    let title = TitleBlock { site: &project.site, options, name, scale: "–".to_owned() };
    title.draw(&mut pen, options.paper);
    Sheet {
        number: name.number.clone(),
        title: name.title.clone(),
        paper: options.paper,
        scale: 0,
        paper_from_plan: Affine::IDENTITY,
        area: Rect::ZERO,
        plan: Vec::new(),
        frame: pen.items,
    }
}

/// Sets blocks into columns of about one height rather than filling the first and leaving the last bare.
fn evenly(blocks: &[Block], areas: &[Rect]) -> Option<Vec<Item>> {
    let tallest = areas.iter().map(Rect::height).fold(0.0, f64::max);
    (2..=20).find_map(|twentieths| {
        let height = tallest * f64::from(twentieths) / 20.0;
        let cut: Vec<Rect> =
            areas.iter().map(|area| Rect { y0: area.y0.max(area.y1 - height), ..*area }).collect();
        flow(blocks, &cut)
    })
}

/// Columns across the sheet; those that stand over the title block end above it.
fn areas(paper: Paper, columns: usize) -> Vec<Rect> {
    let inner = frame_of(paper).inset(-2.0 * PAD_MM);
    let title = title_block_of(paper).inflate(PAD_MM, 2.0 * PAD_MM);
    let gutter = 2.0 * PAD_MM;
    let width = column_width(paper, columns);
    (0..columns)
        .map(|index| {
            let left = inner.x0 + index as f64 * (width + gutter);
            let foot = if left + width > title.x0 { title.y1 } else { inner.y0 };
            Rect::new(left, foot, left + width, inner.y1)
        })
        .collect()
}

fn column_width(paper: Paper, columns: usize) -> f64 {
    let inner = frame_of(paper).inset(-2.0 * PAD_MM);
    (inner.width() - (columns as f64 - 1.0) * 2.0 * PAD_MM) / columns as f64
}

/// How the sheet is set.
struct Attempt {
    columns: usize,
    text_mm: f64,
    legend: bool,
    /// Most devices named as lacking something.
    most_missing: usize,
    /// Whether pages that are no plans stand on one line a sort.
    together: bool,
}

/// What the sheet says.
struct Contents<'a> {
    project: &'a Project,
    names: &'a [SheetName],
    options: &'a SheetOptions,
}

impl Contents<'_> {
    /// Ways to set it, best first: with the legend of the whole set where there is room.
    fn attempts(&self) -> Vec<Attempt> {
        let columns = match self.options.paper {
            Paper::A4 => [1, 2, 2],
            Paper::A3 => [2, 3, 3],
            Paper::A2 => [3, 4, 4],
            Paper::A1 | Paper::A0 => [4, 5, 6],
        };
        let all = usize::MAX;
        let mut attempts = Vec::new();
        for together in [false, true] {
            for legend in [true, false] {
                for (columns, text_mm) in columns.into_iter().zip([2.5, 2.5, 1.8]) {
                    attempts.push(Attempt { columns, text_mm, legend, most_missing: all, together });
                }
            }
        }
        for most_missing in [60, 30, 10, 0] {
            let columns = columns[2];
            attempts.push(Attempt { columns, text_mm: 1.8, legend: false, most_missing, together: true });
        }
        attempts
    }

    fn blocks(&self, attempt: &Attempt) -> Vec<Block> {
        let width = column_width(self.options.paper, attempt.columns);
        let text_mm = attempt.text_mm;
        let head = |words: &str| heading(words, width, if text_mm > 2.0 { 3.5 } else { 2.5 });
        let body = Hand::regular(Role::Body, text_mm);
        let devices = || self.project.devices.ids();
        let mut blocks = vec![head("Drawings of this set")];
        let names = if attempt.together { together(self.names) } else { self.names.to_vec() };
        blocks.extend(names.iter().map(|name| row(name, &self.options.revision, width, text_mm)));
        let codes = [
            format!("Revision {}: {}.", self.options.revision, revision_words(&self.options.revision)),
            format!("Status {}.", status_words(&self.options.status)),
            "Work only from the newest issue; marks in red on site come back to the drawing.".to_owned(),
        ];
        list(&mut blocks, head("Revision and status"), &codes, body, width);
        let caution = Hand { role: Role::Caution, ..body };
        let mut cautions = CAUTIONS.map(str::to_owned).to_vec();
        cautions.extend(kind_cautions(self.project, devices()));
        list(&mut blocks, head("Cautions"), &cautions, caution, width);
        self.missing_blocks(&mut blocks, attempt, head("Missing"), width);
        if attempt.legend {
            let entries =
                symbols_of(self.project, devices(), f64::from(self.options.scale_for(self.project)));
            if !entries.is_empty() {
                blocks.push(head("Symbols of the whole set"));
                let side_by_side = if width > 110.0 { 2 } else { 1 };
                blocks.extend(legend_blocks(&entries, width, side_by_side, body));
            }
        }
        blocks
    }

    fn missing_blocks(&self, blocks: &mut Vec<Block>, attempt: &Attempt, head: Block, width: f64) {
        let red = Hand::regular(Role::Missing, attempt.text_mm);
        let mut lines =
            missing_lines(&missing(self.project, self.project.devices.ids()), attempt.most_missing);
        if self.options.date.trim().is_empty() {
            lines.insert(0, "Date of issue missing.".to_owned());
        }
        if lines.is_empty() {
            blocks.push(head);
            let none = "Every device has its height and something to be fixed to.";
            blocks.push(paragraph(none, Hand::regular(Role::Body, attempt.text_mm), width, "–"));
        } else {
            list(blocks, head, &lines, red, width);
        }
    }
}

/// The names with pages that are no plans on one line a sort, from the first number to the last.
fn together(names: &[SheetName]) -> Vec<SheetName> {
    let mut lines: Vec<SheetName> = Vec::new();
    for name in names {
        let sort = |name: &SheetName| match name.shows {
            Shows::Page(page) => Some(page.pages),
            Shows::List | Shows::Level(..) => None,
        };
        match (lines.last_mut(), sort(name)) {
            (Some(last), Some(pages)) if sort(last) == Some(pages) => {
                let first = last.number.split(" to ").next().unwrap_or_default();
                last.number = format!("{first} to {}", name.number);
                last.title = pages.together().to_owned();
            }
            _ => lines.push(name.clone()),
        }
    }
    lines
}

/// One line of the drawing list: number, title, revision.
fn row(name: &SheetName, revision: &str, width: f64, text_mm: f64) -> Block {
    let mut pen = Pen::default();
    let hand = Hand::regular(Role::Body, text_mm);
    let bold = Hand::bold(Role::Heading, text_mm);
    let number_width = (text_mm * 10.0).max(bold.width(&name.number) + 2.0);
    let revision_width = hand.width(revision) + 1.0;
    let base = -text_mm * (ROW_PITCH + 1.0) / 2.0;
    let height = text_mm * ROW_PITCH;
    pen.words(bold, Point::new(0.0, base), Anchor::Start, &name.number);
    let room = width - number_width - revision_width - 2.0;
    pen.words(hand, Point::new(number_width, base), Anchor::Start, &shortened(&name.title, hand, room));
    pen.words(hand, Point::new(width, base), Anchor::End, revision);
    pen.line(Role::TableLine, Point::new(0.0, -height), Point::new(width, -height));
    Block { items: pen.items, height, gap: 0.0, keep_with_next: false }
}
