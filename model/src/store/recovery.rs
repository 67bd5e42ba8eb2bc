//! The recovery log: every change since the last save, one a line.
//!
//! The first line says on which saved text the changes build; each further line is one change. A line that
//! was torn by a crash is left out; everything before it counts, so recovery is complete to the last gesture.

use serde::{Deserialize, Serialize};

use super::read_error::ReadError;
use super::v1::ChangeV1;
use crate::edit::{Change, History};
use crate::project::Project;

/// What the `format` field of the first line says.
const FORMAT: &str = "pattress-recovery";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HeaderV1 {
    format: String,
    version: u32,
    builds_on: String,
}

/// The first line of a log, without its line end.
pub fn log_header(saved_project_json: &str) -> String {
    let header = HeaderV1 {
        format: FORMAT.to_owned(),
        version: super::VERSION,
        builds_on: super::media::digest_of(saved_project_json.as_bytes()),
    };
    serde_json::to_string(&header).unwrap_or_default()
}

/// Splits a log into its first line and the rest, and says whether it builds on that saved text. `None` where
/// the first line is no header of this version, or torn.
pub fn read_log_header<'a>(log: &'a str, saved_project_json: &str) -> Option<(bool, &'a str)> {
    let (first, rest) = log.split_once('\n')?;
    let header: HeaderV1 = serde_json::from_str(first).ok()?;
    let known = header.format == FORMAT && header.version == super::VERSION;
    known.then(|| (header.builds_on == super::media::digest_of(saved_project_json.as_bytes()), rest))
}

/// One change as one line, without its line end.
pub fn log_line(change: &Change) -> String {
    serde_json::to_string(&ChangeV1::from(change)).unwrap_or_default()
}

/// Reads the lines after the header. A last line that was torn is dropped in silence; a whole line that can't
/// be read ends the log there, and the sentence says which and why.
pub fn read_log(lines: &str) -> (Vec<Change>, Option<String>) {
    let mut changes = Vec::new();
    for (index, line) in lines.split_inclusive('\n').enumerate() {
        match serde_json::from_str::<ChangeV1>(line) {
            Ok(change) => changes.push(change.into()),
            Err(_) if !line.ends_with('\n') => break,
            Err(error) => {
                let reason = ReadError::from_json(&error);
                let sentence = format!(
                    "change {} of the recovery log can't be read, so it and what came after are left out: {reason}",
                    index + 1
                );
                return (changes, Some(sentence));
            }
        }
    }
    (changes, None)
}

/// Plays changes on a project, and returns how many went in. It stops at the first that is refused, with the
/// sentence about it.
pub fn replay(project: &mut Project, changes: &[Change]) -> (usize, Option<String>) {
    let mut history = History::default();
    for (index, change) in changes.iter().enumerate() {
        if let Err(refusal) = history.apply(project, change.clone()) {
            let sentence = format!(
                "change {} of the recovery log (“{}”) does not fit the saved plan, so it and what came after are \
                 left out: {refusal}",
                index + 1,
                change.label
            );
            return (index, Some(sentence));
        }
    }
    (changes.len(), None)
}

#[cfg(test)]
mod tests {
    use super::super::sample::{full_house, one_of_everything};
    use super::*;
    use crate::edit::Op;

    #[test]
    fn every_change_comes_back_from_its_line() {
        let mut house = Project::new();
        let putting = one_of_everything(&house);
        let removal = Change::new("Remove", vec![Op::Remove(crate::edit::Subject::Site)]);
        let log = format!("{}\n{}\n", log_line(&putting), log_line(&removal));
        assert_eq!(log.lines().count(), 2);
        let (changes, unreadable) = read_log(&log);
        assert_eq!((changes.as_slice(), unreadable), ([putting, removal].as_slice(), None));
        assert_eq!(replay(&mut house, &changes), (2, None));
        assert_eq!(house, full_house());
    }

    #[test]
    fn a_torn_last_line_is_dropped_and_all_before_it_counts() {
        let change = one_of_everything(&Project::new());
        let line = log_line(&change);
        for end in (0..line.len()).filter(|end| line.is_char_boundary(*end)) {
            let (changes, unreadable) = read_log(&format!("{line}\n{}", &line[..end]));
            assert_eq!((changes.len(), unreadable), (1, None), "torn at {end}");
        }
    }

    #[test]
    fn a_bad_line_within_ends_the_log_and_is_named() {
        let line = log_line(&one_of_everything(&Project::new()));
        let (changes, unreadable) = read_log(&format!("{line}\nrubbish\n{line}\n"));
        assert_eq!(changes.len(), 1);
        assert!(unreadable.unwrap().contains("change 2 of the recovery log"));
    }

    #[test]
    fn the_header_knows_its_plan() {
        let log = format!("{}\nrest", log_header("saved"));
        assert_eq!(read_log_header(&log, "saved"), Some((true, "rest")));
        assert_eq!(read_log_header(&log, "other"), Some((false, "rest")));
        assert_eq!(read_log_header(&log[..20], "saved"), None);
    }
}
