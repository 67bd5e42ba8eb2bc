//! A script with a line that cannot be read: it names what is gone, or a word is wrong. It cannot be played until it is
//! mended, neither at the table nor on site.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::studies::rehearsal::script::read_script;

pub(super) const CHECK: Check = Check { name: "script-unreadable", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, script) in house.project.scripts.iter() {
        let Err(errors) = read_script(house.project, &script.lines) else { continue };
        let Some(first) = errors.first() else { continue };
        let sentence = format!("The script “{}” cannot be played: {first}.", script.name);
        let subject = Subject::Script(id);
        found.push(house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::bare_house;
    use crate::systems::Script;

    #[test]
    fn a_script_is_read_line_by_line() {
        for (line, expected) in [("after 5 min", 0), ("press PL-99 key 1", 1), ("", 0), ("# a remark", 0)] {
            let mut house = bare_house();
            let lines = ["start 2026-01-15 20:00", line].map(str::to_owned).to_vec();
            house.put(Script { name: "Film".to_owned(), lines });
            assert_eq!(found(CHECK, &house.project).len(), expected, "{line}");
        }
    }
}
