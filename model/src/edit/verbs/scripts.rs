//! Keep scripts of rehearsals: add, rewrite, remove.

use super::draft::Draft;
use super::edit_plan::named;
use super::words::gone;
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::project::Project;
use crate::systems::Script;

/// Adds a script.
///
/// # Errors
/// A sentence, where it has no name or its name is taken.
pub fn add_script(project: &Project, script: Script) -> Result<Change, String> {
    let script = tidy(project, None, script)?;
    let label = format!("Add script {}", script.name);
    let mut draft = Draft::of(project);
    draft.add(script);
    draft.finish(label)
}

/// Puts a rewritten script in place of the former. Lines that cannot be read are kept as they are typed.
///
/// # Errors
/// A sentence, where it is gone, would have no name or its name is taken.
pub fn edit_script(project: &Project, id: Id<Script>, script: Script) -> Result<Change, String> {
    if !project.scripts.contains(id) {
        return Err(gone("script"));
    }
    let script = tidy(project, Some(id), script)?;
    let label = format!("Change script {}", script.name);
    let mut draft = Draft::of(project);
    draft.put(id, script);
    draft.finish(label)
}

/// Removes a script.
///
/// # Errors
/// A sentence, where it is gone.
pub fn remove_script(project: &Project, id: Id<Script>) -> Result<Change, String> {
    super::remove_things(project, &[Subject::Script(id)])
}

/// A command names a script by its name, so no two share one.
fn tidy(project: &Project, id: Option<Id<Script>>, script: Script) -> Result<Script, String> {
    let name = named("script", &script.name)?;
    if project.scripts.iter().any(|(other, known)| Some(other) != id && known.name == name) {
        return Err(format!("there is a script “{name}” already: give this one another name"));
    }
    let mut lines: Vec<String> = script.lines.iter().map(|line| line.trim().to_owned()).collect();
    while lines.last().is_some_and(String::is_empty) {
        lines.pop();
    }
    Ok(Script { name, lines })
}
