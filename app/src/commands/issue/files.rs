//! The files of an issue: every sheet in three formats, every schedule in two.
//!
//! The sheets are drawn first, then printed, both by as many hands as the machine has; the same plan and
//! options give the same bytes whoever was done first. Nothing is written here, so that an issue that cannot be
//! finished, or is called off, leaves nothing half done.

use pattress_model::drawing::Sheet;
use pattress_model::drawing::sheets::{SheetOptions, SheetSet};
use pattress_model::project::Project;
use pattress_model::schedules::{Table, all_tables};
use pattress_model::store::Media;

use crate::commands::Stop;
use crate::commands::crew::do_all;
use crate::print::{self, PdfInfo};

/// Resolution of the pictures of sheets, dots per inch: an A3 sheet is 2480 pixels wide.
const PICTURE_DPI: f64 = 150.0;

/// One file of an issue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IssuedFile {
    /// Its path within the folder, with slashes.
    pub path: String,
    /// Its content.
    pub bytes: Vec<u8>,
}

/// Hears how an issue goes on: how many steps are done, of how many, and what was done last in a few words
/// (`FC-101 drawn`). If it answers `false`, the issue is called off.
pub type Watch<'a> = &'a mut dyn FnMut(usize, usize, &str) -> bool;

/// Every file of an issue, in the order in which they are written. The same plan and options give the same
/// bytes. `watch` is called on this thread, first with nothing done, then after each step; where it calls the
/// issue off the answer is `None`.
///
/// # Errors
/// A sheet or a schedule that cannot be printed.
pub fn issued_files(
    project: &Project,
    media: &Media,
    options: &SheetOptions,
    watch: Watch<'_>,
) -> Result<Option<Vec<IssuedFile>>, Stop> {
    let set = SheetSet::of(project, options.paper);
    let wanted = set.wanted(options);
    let tables: Vec<Table> =
        all_tables(project).into_iter().filter(|table| is_wanted(table, options)).collect();
    let jobs = print_jobs(wanted.len(), &tables);
    let of = wanted.len() + jobs.len();
    let mut steps = 0;
    if !watch(0, of, "begun") {
        return Ok(None);
    }
    let drawn = do_all(wanted.len(), |index| set.sheet(wanted[index], options), &mut |at| {
        steps += 1;
        watch(steps, of, &format!("{} drawn", wanted[at].number))
    });
    let Some(sheets) = drawn else { return Ok(None) };
    let printer = Printer { project, media, options, sheets, tables };
    let printed = do_all(jobs.len(), |index| printer.printed(jobs[index]), &mut |at| {
        steps += 1;
        watch(steps, of, &format!("{} printed", printer.name_of(jobs[at])))
    });
    let Some(printed) = printed else { return Ok(None) };
    let mut files = Vec::new();
    for some in printed {
        files.extend(some?);
    }
    Ok(Some(files))
}

/// Every file of an issue that nobody watches; see [`issued_files`].
///
/// # Errors
/// A sheet or a schedule that cannot be printed.
pub fn all_issued_files(
    project: &Project,
    media: &Media,
    options: &SheetOptions,
) -> Result<Vec<IssuedFile>, Stop> {
    issued_files(project, media, options, &mut |_, _, _| true).map(Option::unwrap_or_default)
}

fn is_wanted(table: &Table, options: &SheetOptions) -> bool {
    options.only.is_empty() || options.only.iter().any(|name| name.trim().eq_ignore_ascii_case(table.name))
}

/// What one hand prints at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Job {
    /// All sheets as PDF.
    Plans,
    /// A sheet, by its place in the set, as SVG and PNG.
    Sheet(usize),
    /// All schedules as XLSX and as CSV.
    Schedules,
}

/// The jobs in the order of their files.
fn print_jobs(sheets: usize, tables: &[Table]) -> Vec<Job> {
    let mut jobs = Vec::new();
    if sheets > 0 {
        jobs.push(Job::Plans);
    }
    jobs.extend((0..sheets).map(Job::Sheet));
    if !tables.is_empty() {
        jobs.push(Job::Schedules);
    }
    jobs
}

/// What all hands that print look at.
struct Printer<'a> {
    project: &'a Project,
    media: &'a Media,
    options: &'a SheetOptions,
    sheets: Vec<Sheet>,
    tables: Vec<Table>,
}

impl Printer<'_> {
    fn name_of(&self, job: Job) -> &str {
        match job {
            Job::Plans => "plans.pdf",
            Job::Sheet(index) => self.sheets.get(index).map_or("", |sheet| &sheet.number),
            Job::Schedules => "schedules",
        }
    }

    fn printed(&self, job: Job) -> Result<Vec<IssuedFile>, Stop> {
        match job {
            Job::Plans => self.plans(),
            Job::Sheet(index) => self.sheets.get(index).map_or(Ok(Vec::new()), |sheet| self.pictures(sheet)),
            Job::Schedules => self.schedules(),
        }
    }

    fn plans(&self) -> Result<Vec<IssuedFile>, Stop> {
        let site = &self.project.site;
        let info = PdfInfo {
            title: format!("{}: sheets {}", site.project_name, self.options.revision),
            author: site.creator.clone(),
            subject: "Home automation: plans and schedules".to_owned(),
            date: self.options.date.clone(),
        };
        let bytes = print::pdf(&self.sheets, self.media, &info).map_err(Stop::not_done)?;
        Ok(vec![IssuedFile { path: "plans.pdf".to_owned(), bytes }])
    }

    fn pictures(&self, sheet: &Sheet) -> Result<Vec<IssuedFile>, Stop> {
        let stem = stem_of(sheet);
        let vectors = print::svg(sheet, self.media);
        let pixels = print::png_of_svg(sheet, &vectors, PICTURE_DPI).map_err(Stop::not_done)?;
        Ok(vec![
            IssuedFile { path: format!("sheets/{stem}.svg"), bytes: vectors.into_bytes() },
            IssuedFile { path: format!("sheets/{stem}.png"), bytes: pixels },
        ])
    }

    fn schedules(&self) -> Result<Vec<IssuedFile>, Stop> {
        let (name, date) = (&self.project.site.project_name, &self.options.date);
        let bytes = print::xlsx::xlsx(&self.tables, name, date).map_err(Stop::not_done)?;
        let mut files = vec![IssuedFile { path: "schedules.xlsx".to_owned(), bytes }];
        for table in &self.tables {
            let path = format!("schedules/{}.csv", table.name);
            files.push(IssuedFile { path, bytes: print::csv::csv(table) });
        }
        Ok(files)
    }
}

/// The name of a sheet's files: its number, with whatever a file name cannot hold made a hyphen.
fn stem_of(sheet: &Sheet) -> String {
    let safe = |c: char| if c.is_ascii_alphanumeric() || c == '-' || c == '_' { c } else { '-' };
    sheet.number.chars().map(safe).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_step_is_heard_and_any_can_be_the_last() {
        let project = Project::new();
        let (media, options) = (Media::default(), SheetOptions::default());
        let mut heard = Vec::new();
        let files = issued_files(&project, &media, &options, &mut |done, of, what| {
            heard.push((done, of, what.to_owned()));
            true
        });
        let files = files.unwrap().unwrap();
        assert!(files.iter().any(|file| file.path == "plans.pdf"));
        let (last, of, _) = heard.last().unwrap().clone();
        assert_eq!((heard[0].0, last), (0, of));
        assert_eq!(heard.len(), of + 1);
        for stop_at in 0..=of {
            let stopped = issued_files(&project, &media, &options, &mut |done, _, _| done != stop_at);
            assert_eq!(stopped.unwrap(), None, "stopped at step {stop_at}");
        }
        assert_eq!(all_issued_files(&project, &media, &options).unwrap(), files);
    }
}
