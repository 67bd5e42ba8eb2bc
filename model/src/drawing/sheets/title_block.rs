//! The title block: the data fields of ISO 7200:2004 (from memory), 180 mm wide in the lower right corner.
//!
//! Every field has its name in small print; a field that is empty says so, as nobody can tell afterwards
//! whether it was forgotten.

use kurbo::{Point, Rect};

use super::border::frame_of;
use super::issue::status_words;
use super::pen::{Hand, Pen, shortened};
use super::{SheetName, SheetOptions};
use crate::drawing::{Anchor, Paper, Role};
use crate::project::Site;

/// Its width, mm (ISO 7200).
const WIDTH_MM: f64 = 180.0;

/// Height of an ordinary row, mm.
const ROW_MM: f64 = 9.0;

/// Height of the row with the title, mm.
const TITLE_ROW_MM: f64 = 17.0;

/// From the lines of the table to the words, mm.
const PAD_MM: f64 = 1.2;

/// Field names, values, title, number: heights of the ISO 3098 series, mm.
const NAME_MM: f64 = 1.8;
const VALUE_MM: f64 = 2.5;
const TITLE_MM: f64 = 3.5;
const NUMBER_MM: f64 = 5.0;

/// What the title block of one sheet says.
pub(super) struct TitleBlock<'a> {
    /// Title block data of the job.
    pub site: &'a Site,
    /// How the set is issued.
    pub options: &'a SheetOptions,
    /// Number, titles and place in the set.
    pub name: &'a SheetName,
    /// `1:50`, or a dash on a sheet without a plan.
    pub scale: String,
}

/// The rectangle it takes on a paper, mm.
pub fn title_block_of(paper: Paper) -> Rect {
    let frame = frame_of(paper);
    Rect::new(frame.x1 - WIDTH_MM, frame.y0, frame.x1, frame.y0 + 3.0 * ROW_MM + TITLE_ROW_MM)
}

impl TitleBlock<'_> {
    /// Draws it.
    pub fn draw(&self, pen: &mut Pen, paper: Paper) {
        let rect = title_block_of(paper);
        pen.rect(Role::TableLine, rect);
        let mut top = rect.y1;
        let mut row = |pen: &mut Pen, height: f64, cells: &[(f64, &str, &str)]| {
            let mut left = rect.x0;
            for (width, name, value) in cells {
                let cell = Rect::new(left, top - height, left + width, top);
                field(pen, cell, name, value);
                if left > rect.x0 {
                    pen.line(Role::TableLine, Point::new(left, cell.y0), Point::new(left, cell.y1));
                }
                left += width;
            }
            top -= height;
            if top > rect.y0 + 0.1 {
                pen.line(Role::TableLine, Point::new(rect.x0, top), Point::new(rect.x1, top));
            }
            top
        };
        let (site, name) = (self.site, self.name);
        let status = status_words(&self.options.status);
        row(
            pen,
            ROW_MM,
            &[
                (60.0, "Legal owner", &site.legal_owner),
                (60.0, "Project", &site.project_name),
                (60.0, "Client", &site.client),
            ],
        );
        row(
            pen,
            ROW_MM,
            &[
                (86.0, "Address", &site.address),
                (34.0, "Document type", name.document_type),
                (60.0, "Status", &status),
            ],
        );
        let title_top = row(pen, TITLE_ROW_MM, &[]) + TITLE_ROW_MM;
        self.title_row(pen, Rect::new(rect.x0, title_top - TITLE_ROW_MM, rect.x1, title_top));
        let sheet = format!("{} of {}", name.sheet, name.sheets);
        row(
            pen,
            ROW_MM,
            &[
                (37.0, "Creator", &site.creator),
                (37.0, "Approval person", &site.approver),
                (30.0, "Date of issue", &self.options.date),
                (18.0, "Scale", &self.scale),
                (16.0, "Paper", paper.name()),
                (20.0, "Revision", &self.options.revision),
                (22.0, "Sheet", &sheet),
            ],
        );
    }

    /// Title and supplementary title on the left, identification number on the right.
    fn title_row(&self, pen: &mut Pen, rect: Rect) {
        let split = rect.x1 - 60.0;
        pen.line(Role::TableLine, Point::new(split, rect.y0), Point::new(split, rect.y1));
        let inner = split - rect.x0 - 2.0 * PAD_MM;
        let left = rect.x0 + PAD_MM;
        let name_base = rect.y1 - PAD_MM - NAME_MM;
        let small = Hand::regular(Role::SmallPrint, NAME_MM);
        pen.words(small, Point::new(left, name_base), Anchor::Start, "Title and supplementary title");
        let title = Hand::bold(Role::Heading, TITLE_MM);
        let title_base = name_base - 1.6 - TITLE_MM;
        pen.words(
            title,
            Point::new(left, title_base),
            Anchor::Start,
            &shortened(&self.name.title, title, inner),
        );
        let more = Hand::regular(Role::Body, VALUE_MM);
        let more_base = title_base - 2.2 - VALUE_MM;
        pen.words(
            more,
            Point::new(left, more_base),
            Anchor::Start,
            &shortened(self.name.supplementary, more, inner),
        );
        pen.words(small, Point::new(split + PAD_MM, name_base), Anchor::Start, "Identification number");
        let number = Hand::bold(Role::Heading, NUMBER_MM);
        let words = shortened(&self.name.number, number, rect.x1 - split - 2.0 * PAD_MM);
        pen.words(number, Point::new(split + PAD_MM, name_base - 3.0 - NUMBER_MM), Anchor::Start, &words);
    }
}

/// One field: its name above its value. A value that is too long is lettered smaller, then cut short.
fn field(pen: &mut Pen, cell: Rect, name: &str, value: &str) {
    let left = cell.x0 + PAD_MM;
    let inner = cell.width() - 2.0 * PAD_MM;
    let small = Hand::regular(Role::SmallPrint, NAME_MM);
    let name_base = cell.y1 - PAD_MM - NAME_MM;
    pen.words(small, Point::new(left, name_base), Anchor::Start, name);
    let value_base = name_base - 1.6 - VALUE_MM;
    if value.trim().is_empty() {
        let hand = Hand::bold(Role::Missing, VALUE_MM);
        let what = if name == "Date of issue" { "date missing" } else { "missing" };
        pen.words(hand, Point::new(left, value_base), Anchor::Start, what);
        return;
    }
    let usual = Hand::regular(Role::Body, VALUE_MM);
    let smaller = Hand::regular(Role::Body, NAME_MM);
    let (hand, words) = if usual.width(value) <= inner {
        (usual, value.to_owned())
    } else if smaller.width(value) <= inner {
        (smaller, value.to_owned())
    } else {
        (smaller, shortened(value, smaller, inner))
    };
    pen.words(hand, Point::new(left, value_base), Anchor::Start, &words);
}
