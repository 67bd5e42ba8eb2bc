//! Sheets: the plan on paper with frame, title block, legend, notes and cautions, as it is issued.
//!
//! A [`SheetSet`] names all sheets in the order of their numbers and makes each: the drawing list first, then for each
//! level the devices, the detection, the lighting and the setting-out, as far as there is anything to show, then the
//! [`Pages`]: plate legends and what the household and its guests are handed. [`sheet_set`] makes all that are wanted,
//! [`level_sheet`] one level alone; the window shows exactly that.

mod beneath;
mod border;
mod column;
mod drawing_list;
mod flow;
mod issue;
mod legend;
mod level;
mod orientation;
mod pages;
mod pen;
mod placing;
mod remarks;
mod set;
mod title_block;

pub use border::frame_of;
pub use drawing_list::drawing_list;
pub use issue::{CAUTIONS, revision_words, status_words};
pub use level::{Discipline, level_sheet};
pub use pages::{PageOf, Pages};
pub use placing::STANDARD_SCALES;
pub use set::{SheetSet, sheet_set};
pub use title_block::title_block_of;

use super::Paper;
use crate::id::Id;
use crate::plan::Level;
use crate::project::Project;

/// How a set is issued.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper of every sheet.
    pub paper: Paper,
    /// Denominator of the scale of plans; 0 for the one set for the site. A plan that does not fit is drawn at
    /// the next standard scale at which it does.
    pub scale: u32,
    /// Revision code (`P01`).
    pub revision: String,
    /// Status code (`S2`).
    pub status: String,
    /// Date of issue, `2026-03-31`; empty where none is set, which is printed as missing.
    pub date: String,
    /// Numbers (`FC-101`) or disciplines (`devices`) of the sheets that are wanted; empty for all.
    pub only: Vec<String>,
}

impl SheetOptions {
    /// Paper, scale and date of the site, first preliminary revision, for information.
    pub fn of_site(project: &Project) -> Self {
        Self {
            paper: project.site.paper,
            scale: project.site.scale,
            revision: "P01".to_owned(),
            status: "S2".to_owned(),
            date: project.site.issue_date.clone(),
            only: Vec::new(),
        }
    }

    /// The scale asked for.
    fn scale_for(&self, project: &Project) -> u32 {
        match (self.scale, project.site.scale) {
            (0, 0) => 50,
            (0, of_site) => of_site,
            (asked, _) => asked,
        }
    }
}

impl Default for SheetOptions {
    fn default() -> Self {
        Self {
            paper: Paper::A3,
            scale: 0,
            revision: "P01".to_owned(),
            status: "S2".to_owned(),
            date: String::new(),
            only: Vec::new(),
        }
    }
}

/// Number and titles of a sheet, and its place in the set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetName {
    /// Its number (`FC-101`).
    pub number: String,
    /// Its title (`Ground floor: devices`).
    pub title: String,
    /// What it shows, in a line.
    pub supplementary: &'static str,
    /// ISO 7200's document type.
    pub document_type: &'static str,
    /// Which sheet of the set it is, from 1.
    pub sheet: usize,
    /// How many the set has.
    pub sheets: usize,
    /// What of the house it shows.
    pub shows: Shows,
}

/// What a sheet shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shows {
    /// What the set holds.
    List,
    /// A level, of one discipline.
    Level(Id<Level>, Discipline),
    /// A page that is no plan.
    Page(PageOf),
}

impl Shows {
    /// The word by which such sheets are asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Self::List => "list",
            Self::Level(_, discipline) => discipline.name(),
            Self::Page(page) => page.pages.name(),
        }
    }
}

impl SheetName {
    /// Whether it is among those wanted.
    fn is_wanted(&self, only: &[String]) -> bool {
        let kind = self.shows.name();
        only.is_empty()
            || only
                .iter()
                .map(|wanted| wanted.trim())
                .any(|wanted| wanted.eq_ignore_ascii_case(&self.number) || wanted.eq_ignore_ascii_case(kind))
    }
}
