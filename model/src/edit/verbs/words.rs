//! Words that verbs share: labels for undo, names in refusals, and the things a gesture picked.

use crate::edit::Subject;
use crate::edit::naming::given_name;
use crate::project::Project;

/// What a gesture picked: each thing once, in a settled order, only what is there.
///
/// # Errors
/// A sentence, where nothing is left.
pub(super) fn picked(project: &Project, subjects: &[Subject]) -> Result<Vec<Subject>, String> {
    let mut things: Vec<Subject> =
        subjects.iter().copied().filter(|subject| subject.is_in(project)).collect();
    things.sort_unstable();
    things.dedup();
    if things.is_empty() {
        return Err("nothing is picked that is still on the plan: pick something first".to_owned());
    }
    Ok(things)
}

/// `Move PIR-03`, `Move 3 devices`, `Move 5 things`.
pub(super) fn label(project: &Project, verb: &str, things: &[Subject]) -> String {
    match things {
        [] => verb.to_owned(),
        [one] => format!("{verb} {}", name_of(project, *one)),
        [first, rest @ ..] if rest.iter().all(|other| other.sort() == first.sort()) => {
            format!("{verb} {}", counted(things.len(), first.sort()))
        }
        _ => format!("{verb} {} things", things.len()),
    }
}

/// `1 wall`, `3 walls`, `3 pieces of joinery`.
pub(super) fn counted(count: usize, sort: &str) -> String {
    match (count, sort) {
        (1, _) => format!("1 {sort}"),
        (_, "piece of joinery") => format!("{count} pieces of joinery"),
        _ => format!("{count} {sort}s"),
    }
}

/// What people call a thing, without quotes: a tag, a name, else its sort.
pub(super) fn name_of(project: &Project, subject: Subject) -> String {
    match subject {
        Subject::Site => None,
        Subject::Opening(id) => project.openings.get(id).map(|opening| opening.name().to_owned()),
        _ => given_name(project, subject),
    }
    .unwrap_or_else(|| subject.sort().to_owned())
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [all @ .., last] => format!("{} and {last}", all.join(", ")),
    }
}

/// The refusal where a thing a verb was given is gone.
pub(super) fn gone(sort: &str) -> String {
    format!("the {sort} is no longer on the plan: pick another")
}
