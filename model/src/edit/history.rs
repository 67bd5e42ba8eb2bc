//! The one door to a project, and the way back through it.

use super::{Change, Refusal, invariant};
use crate::project::Project;

/// What was changed, in order, and what undo took back.
#[derive(Clone, Debug, Default)]
pub struct History {
    done: Vec<Step>,
    undone: Vec<Step>,
}

#[derive(Clone, Debug)]
struct Step {
    change: Change,
    inverse: Change,
}

impl History {
    /// Applies a change whole or not at all. A change that would change nothing leaves no step.
    ///
    /// # Errors
    /// [`Refusal`]: the first invariant that the project would break, naming the thing.
    pub fn apply(&mut self, project: &mut Project, change: Change) -> Result<(), Refusal> {
        if change.is_idle(project) {
            return Ok(());
        }
        let mut changed = project.clone();
        let inverse = change.perform(&mut changed);
        invariant::check(&changed, &change)?;
        *project = changed;
        self.done.push(Step { change, inverse });
        self.undone.clear();
        Ok(())
    }

    /// Takes the last change back. Returns the change that did so, for the recovery log.
    pub fn undo(&mut self, project: &mut Project) -> Option<Change> {
        let step = self.done.pop()?;
        let _ = step.inverse.perform(project);
        let performed = step.inverse.clone();
        self.undone.push(step);
        Some(performed)
    }

    /// Does again what undo took back. Returns the change that did so, for the recovery log.
    pub fn redo(&mut self, project: &mut Project) -> Option<Change> {
        let step = self.undone.pop()?;
        let _ = step.change.perform(project);
        let performed = step.change.clone();
        self.done.push(step);
        Some(performed)
    }

    /// What undo would take back.
    pub fn undo_label(&self) -> Option<&str> {
        self.done.last().map(|step| step.change.label.as_str())
    }

    /// What redo would do again.
    pub fn redo_label(&self) -> Option<&str> {
        self.undone.last().map(|step| step.change.label.as_str())
    }

    /// Labels of all that was done, oldest first.
    pub fn labels(&self) -> impl Iterator<Item = &str> {
        self.done.iter().map(|step| step.change.label.as_str())
    }

    /// The change made last, for the recovery log.
    pub fn last(&self) -> Option<&Change> {
        self.done.last().map(|step| &step.change)
    }

    /// How many steps undo could take: with [`History::undo_label`] it tells whether the plan is as saved.
    pub fn depth(&self) -> usize {
        self.done.len()
    }
}
