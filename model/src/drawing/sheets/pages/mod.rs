//! Sheets that are not plans: plate legends at true size, and what the household and its guests are handed.
//!
//! A sort of pages falls into chapters (all plates, or one room), and a chapter into as many sheets as it needs. The
//! plate legends come on the paper of the set; what people are handed is always A4, for it is printed at home and kept
//! in a drawer.

mod client;
mod face;
mod guest;
mod guide;
mod handout;
mod legends;
mod told;

use kurbo::{Affine, Rect};

use self::told::Told;
use super::border::border;
use super::pen::Pen;
use super::title_block::{TitleBlock, title_block_of};
use super::{SheetName, SheetOptions};
use crate::drawing::{Item, Paper, Sheet};
use crate::project::Project;

/// The sorts of sheets that are not plans, in the order of the set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pages {
    /// Plates at true size, for inserts and for the engraver.
    PlateLegends,
    /// A room's plates, larger, with what each key does.
    ClientPages,
    /// What a guest needs in a room, in large letters, and nothing of the house's security.
    GuestSheets,
    /// What happens in the house, room by room, in plain words.
    ClientGuide,
}

impl Pages {
    /// Every sort, in the order of the set.
    pub const ALL: [Self; 4] = [Self::PlateLegends, Self::ClientPages, Self::GuestSheets, Self::ClientGuide];

    /// The word for it, by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Self::PlateLegends => "plates",
            Self::ClientPages => "client-pages",
            Self::GuestSheets => "guest-sheets",
            Self::ClientGuide => "client-guide",
        }
    }

    /// What such sheets are, together.
    pub(super) const fn together(self) -> &'static str {
        match self {
            Self::PlateLegends => "Plate legends, true size",
            Self::ClientPages => "Client pages, a room each",
            Self::GuestSheets => "Guest sheets, a room each",
            Self::ClientGuide => "Client guide by room",
        }
    }

    pub(super) const fn supplementary(self) -> &'static str {
        match self {
            Self::PlateLegends => "inserts and engraving; print at 100 %",
            Self::ClientPages => "what one, two, three presses and a hold do",
            Self::GuestSheets => "for guests",
            Self::ClientGuide => "what the house does, in plain words",
        }
    }

    pub(super) const fn document_type(self) -> &'static str {
        match self {
            Self::PlateLegends => "Plate legends",
            Self::ClientPages => "Client page",
            Self::GuestSheets => "Guest sheet",
            Self::ClientGuide => "Client guide",
        }
    }

    /// Numbers of its sheets lie above this.
    const fn hundred(self) -> usize {
        match self {
            Self::PlateLegends => 500,
            Self::ClientPages => 600,
            Self::GuestSheets => 700,
            Self::ClientGuide => 800,
        }
    }

    /// The figures of the number of its sheet at a place, from 0; those past the hundred have a figure more.
    fn figures(self, at: usize) -> String {
        if at < 99 {
            format!("{}", self.hundred() + at + 1)
        } else {
            format!("{}{:03}", self.hundred() / 100, at + 1)
        }
    }

    /// Its paper, where that of the set is this.
    const fn paper(self, of_set: Paper) -> Paper {
        match self {
            Self::PlateLegends => of_set,
            Self::ClientPages | Self::GuestSheets | Self::ClientGuide => Paper::A4,
        }
    }

    /// The chapters it falls into: the rooms by their place in the walk, or one for all.
    fn chapters(self, told: &Told<'_>) -> Vec<usize> {
        let rooms = |has: &dyn Fn(usize) -> bool| (0..told.rooms.len()).filter(|at| has(*at)).collect();
        let one = |is_there: bool| if is_there { vec![0] } else { Vec::new() };
        match self {
            Self::PlateLegends => one(!told.plates.is_empty()),
            Self::ClientPages => rooms(&|at| told.rooms.get(at).is_some_and(|room| !room.plates.is_empty())),
            Self::GuestSheets => {
                rooms(&|at| told.rooms.get(at).is_some_and(|room| guest::has_some(told, room)))
            }
            Self::ClientGuide => one(told.project.rules.iter().any(|(_, rule)| rule.enabled)),
        }
    }

    /// The sheets of a chapter: what each shows within its frame.
    fn pages(self, told: &Told<'_>, chapter: usize, paper: Paper) -> Vec<Page> {
        let room = told.rooms.get(chapter);
        match (self, room) {
            (Self::PlateLegends, _) => legends::pages(told, paper),
            (Self::ClientGuide, _) => guide::pages(told),
            (Self::ClientPages, Some(room)) => client::pages(told, room),
            (Self::GuestSheets, Some(room)) => guest::pages(told, room),
            (Self::ClientPages | Self::GuestSheets, None) => Vec::new(),
        }
    }
}

/// A sheet within the set: of which sort, which chapter, and which sheet of that.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PageOf {
    /// The sort.
    pub pages: Pages,
    chapter: usize,
    part: usize,
}

/// What one sheet shows within its frame.
#[derive(Clone, Debug)]
pub(super) struct Page {
    /// The figures of its number.
    pub(super) figures: String,
    /// Its title.
    pub(super) title: String,
    items: Vec<Item>,
}

impl Page {
    fn new(title: String, items: Vec<Item>) -> Self {
        Self { figures: String::new(), title, items }
    }
}

/// All sheets that are no plans, laid out, in the order of the set.
pub(super) fn pages_of(project: &Project, paper: Paper) -> Vec<(PageOf, Page)> {
    let Some(told) = Told::of(project) else { return Vec::new() };
    let mut laid = Vec::new();
    for pages in Pages::ALL {
        let mut at = 0;
        for chapter in pages.chapters(&told) {
            let sheets = pages.pages(&told, chapter, pages.paper(paper));
            let count = sheets.len();
            for (part, mut page) in sheets.into_iter().enumerate() {
                page.figures = pages.figures(at);
                if count > 1 {
                    page.title = format!("{} ({} of {count})", page.title, part + 1);
                }
                laid.push((PageOf { pages, chapter, part }, page));
                at += 1;
            }
        }
    }
    laid
}

/// One of these sheets; an empty one where there is no such page.
pub(super) fn page_sheet(
    project: &Project,
    name: &SheetName,
    of: PageOf,
    page: Option<&Page>,
    options: &SheetOptions,
) -> Sheet {
    let paper = of.pages.paper(options.paper);
    let true_size = of.pages == Pages::PlateLegends;
    let mut pen = Pen::default();
    let (width, height) = paper.size_mm();
    // Nothing of these sheets is found by the fields of the grid's edge: the marks in the middle stay out.
    border(&mut pen, paper, &[Rect::new(0.0, 0.0, width, height)]);
    pen.items.extend(page.map(|page| page.items.clone()).unwrap_or_default());
    let scale = if true_size { "1:1" } else { "–" }.to_owned();
    TitleBlock { site: &project.site, options, name, scale }.draw(&mut pen, paper);
    Sheet {
        number: name.number.clone(),
        title: name.title.clone(),
        paper,
        scale: u32::from(true_size),
        paper_from_plan: Affine::IDENTITY,
        area: Rect::ZERO,
        plan: Vec::new(),
        frame: pen.items,
    }
}

/// The part of a paper above the title block, within the frame.
fn above_title(paper: Paper) -> Rect {
    let frame = super::border::frame_of(paper);
    Rect { y0: title_block_of(paper).y1, ..frame }
}
