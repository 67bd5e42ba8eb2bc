//! Add rules, rewrite them, switch them on and off.

use super::draft::Draft;
use super::edit_plan::named;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::project::Project;
use crate::systems::Rule;

/// Adds a rule.
///
/// # Errors
/// A sentence, where it has no name or speaks of something that is not there.
pub fn add_rule(project: &Project, rule: Rule) -> Result<Change, String> {
    let rule = Rule { name: named("rule", &rule.name)?, ..rule };
    let label = format!("Add rule {}", rule.name);
    let mut draft = Draft::of(project);
    draft.add(rule);
    draft.finish(label)
}

/// Puts a rewritten rule in place of the former.
///
/// # Errors
/// A sentence, where it is gone, would have no name or speaks of something that is not there.
pub fn edit_rule(project: &Project, id: Id<Rule>, rule: Rule) -> Result<Change, String> {
    if !project.rules.contains(id) {
        return Err(gone("rule"));
    }
    let rule = Rule { name: named("rule", &rule.name)?, ..rule };
    let label = format!("Change rule {}", rule.name);
    let mut draft = Draft::of(project);
    draft.put(id, rule);
    draft.finish(label)
}

/// Switches a rule on or off.
///
/// # Errors
/// A sentence, where it is gone.
pub fn switch_rule(project: &Project, id: Id<Rule>, enabled: bool) -> Result<Change, String> {
    let rule = project.rules.get(id).ok_or_else(|| gone("rule"))?;
    let label = format!("Switch rule {} {}", rule.name, if enabled { "on" } else { "off" });
    let mut draft = Draft::of(project);
    draft.put(id, Rule { enabled, ..rule.clone() });
    draft.finish(label)
}

/// Removes a rule.
///
/// # Errors
/// A sentence, where it is gone.
pub fn remove_rule(project: &Project, id: Id<Rule>) -> Result<Change, String> {
    super::remove_things(project, &[crate::edit::Subject::Rule(id)])
}
