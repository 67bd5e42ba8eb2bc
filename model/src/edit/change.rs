//! A change: what one gesture or command does, with the words that undo shows.

use super::{Entity, Op};
use crate::project::{Project, Site};

/// Ops under one label.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What it does, in the imperative (`Move 3 devices`).
    pub label: String,
    /// In the order in which they are performed.
    pub ops: Vec<Op>,
}

impl Change {
    /// A change with a label and ops.
    pub fn new(label: impl Into<String>, ops: Vec<Op>) -> Self {
        Self { label: label.into(), ops }
    }

    /// A change of the title block and site facts.
    pub fn of_site(label: impl Into<String>, site: Site) -> Self {
        Self::new(label, vec![Op::Put(Entity::Site(std::sync::Arc::new(site)))])
    }

    /// Whether performing it would leave the project as it is.
    pub fn is_idle(&self, project: &Project) -> bool {
        self.ops.iter().all(|op| match op {
            Op::Put(entity) => entity.subject().entity_in(project).as_ref() == Some(entity),
            Op::Remove(subject) => !subject.is_in(project),
        })
    }

    /// Performs the ops and returns the change that takes them back.
    pub(crate) fn perform(&self, project: &mut Project) -> Self {
        let mut inverse: Vec<Op> = self.ops.iter().map(|op| project.perform(op.clone())).collect();
        inverse.reverse();
        Self { label: self.label.clone(), ops: inverse }
    }
}
