//! `pattress issue`: the sheet set and the schedules of a plan, written into a folder.

mod files;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use pattress_model::drawing::Paper;
use pattress_model::drawing::sheets::{SheetOptions, SheetSet};
use pattress_model::project::Project;
use pattress_model::schedules::all_tables;

pub use self::files::{IssuedFile, Watch, all_issued_files, issued_files};
use super::{DONE, Stop};

/// Arguments of `issue`.
#[derive(Clone, Debug, Default, Args)]
pub struct IssueArguments {
    /// The plan: NAME.pattress, or a folder with the same content
    pub plan: PathBuf,
    /// The folder to write into; it is made if it is not there
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Revision, such as P01 or C01
    #[arg(long)]
    pub revision: Option<String>,
    /// Status, such as S2 for information or A4 for construction
    #[arg(long)]
    pub status: Option<String>,
    /// Paper: A4, A3, A2, A1 or A0; the plan's own unless given
    #[arg(long)]
    pub paper: Option<String>,
    /// Scale of plans, 50 for 1:50; the plan's own unless given
    #[arg(long)]
    pub scale: Option<String>,
    /// Date of issue, such as 2026-01-31; the plan's own unless given
    #[arg(long)]
    pub date: Option<String>,
    /// Only these: numbers of sheets, disciplines, names of schedules
    #[arg(long, value_name = "NAME,...", value_delimiter = ',')]
    pub only: Vec<String>,
}

/// Writes `plans.pdf`, each sheet as SVG and PNG, `schedules.xlsx` and each schedule as CSV, and prints a line
/// a file.
///
/// # Errors
/// A plan that cannot be read, an argument that makes no sense, a sheet that cannot be printed, a folder that
/// cannot be written to.
pub fn issue(arguments: &IssueArguments, out: &mut dyn Write) -> Result<u8, Stop> {
    let plan = crate::files::read(&arguments.plan).map_err(Stop::unreadable)?;
    let options = options_of(arguments, &plan.project)?;
    let files = all_issued_files(&plan.project, &plan.media, &options)?;
    for file in &files {
        let path = arguments.out.join(&file.path);
        crate::files::write_bytes(&path, &file.bytes).map_err(Stop::not_done)?;
        writeln!(out, "{}", path.display())?;
    }
    Ok(DONE)
}

/// The options that the arguments and the plan make together.
///
/// # Errors
/// The first argument that makes no sense, with what would do.
pub fn options_of(arguments: &IssueArguments, project: &Project) -> Result<SheetOptions, Stop> {
    let mut options = SheetOptions::of_site(project);
    if let Some(paper) = &arguments.paper {
        options.paper = Paper::from_name(paper).ok_or_else(|| {
            Stop::unreadable(format!("--paper {paper} is no paper: give A4, A3, A2, A1 or A0"))
        })?;
    }
    if let Some(scale) = &arguments.scale {
        options.scale = scale
            .trim()
            .trim_start_matches("1:")
            .parse()
            .ok()
            .filter(|scale| (1..=10_000).contains(scale))
            .ok_or_else(|| Stop::unreadable(format!("--scale {scale} is no scale: give 50 for 1:50")))?;
    }
    if let Some(date) = &arguments.date {
        if !is_date(date) {
            return Err(Stop::unreadable(format!("--date {date} is no date: give it as 2026-01-31")));
        }
        options.date.clone_from(date);
    }
    if let Some(revision) = &arguments.revision {
        options.revision.clone_from(revision);
    }
    if let Some(status) = &arguments.status {
        options.status.clone_from(status);
    }
    options.only.clone_from(&arguments.only);
    refuse_unknown_names(project, &options)?;
    Ok(options)
}

/// Whether the words are a day of the calendar as ISO 8601 writes it.
fn is_date(words: &str) -> bool {
    let fields: Vec<&str> = words.split('-').collect();
    let [year, month, day] = fields.as_slice() else { return false };
    let figures = [(year, 4), (month, 2), (day, 2)]
        .map(|(field, digits)| if field.len() == digits { field.parse::<u32>().ok() } else { None });
    let [Some(year), Some(month), Some(day)] = figures else { return false };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1..=days).contains(&day)
}

fn refuse_unknown_names(project: &Project, options: &SheetOptions) -> Result<(), Stop> {
    let tables = all_tables(project);
    if options.only.is_empty() {
        return Ok(());
    }
    let set = SheetSet::of(project, options.paper);
    let sheets = set.names();
    let mut known: Vec<String> = sheets.iter().map(|sheet| sheet.number.clone()).collect();
    known.extend(tables.iter().map(|table| table.name.to_owned()));
    for sheet in sheets {
        let discipline = sheet.shows.name();
        if !known.iter().any(|name| name == discipline) {
            known.push(discipline.to_owned());
        }
    }
    for name in &options.only {
        if !known.iter().any(|known| known.eq_ignore_ascii_case(name.trim())) {
            return Err(Stop::unreadable(format!(
                "--only {name} is no sheet, discipline or schedule of this plan: give one of {}",
                known.join(", ")
            )));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_days_of_the_calendar() {
        for (words, expected) in [
            ("2026-01-31", true),
            ("2024-02-29", true),
            ("2026-02-29", false),
            ("2026-13-01", false),
            ("26-01-31", false),
            ("2026-1-31", false),
            ("31.01.2026", false),
            ("", false),
        ] {
            assert_eq!(is_date(words), expected, "{words}");
        }
    }

    #[test]
    fn what_makes_no_sense_is_refused_with_what_would_do() {
        let project = Project::new();
        let refused = |arguments: IssueArguments| options_of(&arguments, &project).unwrap_err().sentence;
        let some = |words: &str| Some(words.to_owned());
        assert!(refused(IssueArguments { paper: some("B5"), ..Default::default() }).contains("A4, A3"));
        assert!(refused(IssueArguments { scale: some("0"), ..Default::default() }).contains("50 for 1:50"));
        assert!(refused(IssueArguments { date: some("soon"), ..Default::default() }).contains("2026-01-31"));
        let only = vec!["nothing".to_owned()];
        assert!(refused(IssueArguments { only, ..Default::default() }).contains("kit-list"));
        let options = options_of(
            &IssueArguments { scale: some("1:100"), paper: some("a1"), ..Default::default() },
            &project,
        )
        .unwrap();
        assert_eq!((options.scale, options.paper), (100, Paper::A1));
    }
}
