//! The set of sheets of a house: what each is called, and each of them made.
//!
//! How many sheets plate legends and handed-out pages take is known only once they are laid out, and every sheet says
//! which of how many it is: so they are laid out once, with the set.

use super::level::level_sheet_named;
use super::pages::{Page, page_sheet, pages_of};
use super::{Discipline, PageOf, SheetName, SheetOptions, Shows, drawing_list};
use crate::drawing::{Paper, Sheet};
use crate::project::Project;

/// The sheets of a house on a paper.
#[derive(Clone, Debug)]
pub struct SheetSet {
    project: Project,
    names: Vec<SheetName>,
    pages: Vec<(PageOf, Page)>,
}

impl SheetSet {
    /// The set of a house, its sheets named and its pages laid out.
    pub fn of(project: &Project, paper: Paper) -> Self {
        let pages = pages_of(project, paper);
        Self { project: project.clone(), names: names(project, &pages), pages }
    }

    /// The house whose sheets they are.
    pub const fn project(&self) -> &Project {
        &self.project
    }

    /// The names of all sheets, in order.
    pub fn names(&self) -> &[SheetName] {
        &self.names
    }

    /// Those of the names that are wanted, in order.
    pub fn wanted(&self, options: &SheetOptions) -> Vec<&SheetName> {
        self.names.iter().filter(|name| name.is_wanted(&options.only)).collect()
    }

    /// One sheet of the set, by its name.
    pub fn sheet(&self, name: &SheetName, options: &SheetOptions) -> Sheet {
        match name.shows {
            Shows::Level(level, discipline) => {
                level_sheet_named(&self.project, (level, discipline), name, self.list_number(), options)
            }
            Shows::Page(of) => {
                let page = self.pages.iter().find(|(other, _)| *other == of).map(|(_, page)| page);
                page_sheet(&self.project, name, of, page, options)
            }
            Shows::List => drawing_list(&self.project, name, &self.names, options),
        }
    }

    /// The number of the drawing list.
    pub(super) fn list_number(&self) -> String {
        self.names.first().map(|first| first.number.clone()).unwrap_or_default()
    }
}

/// The sheets of the set that are wanted, in the order of their numbers.
pub fn sheet_set(project: &Project, options: &SheetOptions) -> Vec<Sheet> {
    let set = SheetSet::of(project, options.paper);
    set.wanted(options).into_iter().map(|name| set.sheet(name, options)).collect()
}

fn names(project: &Project, pages: &[(PageOf, Page)]) -> Vec<SheetName> {
    let prefix = project.site.drawing_prefix.trim();
    let number = |figures: String| if prefix.is_empty() { figures } else { format!("{prefix}-{figures}") };
    let mut names = vec![SheetName {
        number: number("000".to_owned()),
        title: "Drawing list and cautions".to_owned(),
        supplementary: "read before work starts",
        document_type: "Drawing list",
        sheet: 1,
        sheets: 0,
        shows: Shows::List,
    }];
    for discipline in Discipline::ALL {
        for (index, (id, level)) in project.levels_upwards().into_iter().enumerate() {
            if discipline.has_something(project, id) {
                names.push(SheetName {
                    number: number(format!("{}", discipline.hundred() + index as u32 + 1)),
                    title: format!("{}: {}", level.name, discipline.name()),
                    supplementary: discipline.supplementary(),
                    document_type: "Layout drawing",
                    sheet: names.len() + 1,
                    sheets: 0,
                    shows: Shows::Level(id, discipline),
                });
            }
        }
    }
    for (of, page) in pages {
        names.push(SheetName {
            number: number(page.figures.clone()),
            title: page.title.clone(),
            supplementary: of.pages.supplementary(),
            document_type: of.pages.document_type(),
            sheet: names.len() + 1,
            sheets: 0,
            shows: Shows::Page(*of),
        });
    }
    let sheets = names.len();
    for name in &mut names {
        name.sheets = sheets;
    }
    names
}
