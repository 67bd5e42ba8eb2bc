//! A draft: the project as it would be, and the ops that make it so.
//!
//! Verbs read from the draft what they put into it a line before, so that a wall and the devices on it can
//! change in one go. Finishing a draft checks it just as the door to the project will.

use std::sync::Arc;

use crate::edit::{Change, Entity, Op, Subject, invariant};
use crate::id::Id;
use crate::kit::Tag;
use crate::project::Kept;
use crate::project::{Project, Site};

/// The project as it would be, and the ops that make it so.
pub(super) struct Draft {
    project: Project,
    ops: Vec<Op>,
}

impl Draft {
    /// A draft in which nothing is changed yet.
    pub(super) fn of(project: &Project) -> Self {
        Self { project: project.clone(), ops: Vec::new() }
    }

    /// The project with all that the draft holds so far.
    pub(super) fn now(&self) -> &Project {
        &self.project
    }

    /// Puts a thing in place of the one that had its id.
    pub(super) fn put<T: Kept>(&mut self, id: Id<T>, thing: T) {
        self.perform(Op::put(id, thing));
    }

    /// Adds a thing under a fresh id.
    pub(super) fn add<T: Kept>(&mut self, thing: T) -> Id<T> {
        let id = self.project.fresh_ids().issue();
        self.put(id, thing);
        id
    }

    /// Puts title block data and site facts.
    pub(super) fn put_site(&mut self, site: Site) {
        self.perform(Op::Put(Entity::Site(Arc::new(site))));
    }

    /// Takes a thing out.
    pub(super) fn remove(&mut self, subject: Subject) {
        self.perform(Op::Remove(subject));
    }

    /// Takes in what another verb would do to the draft as it is.
    pub(super) fn take_in(&mut self, change: Change) {
        change.ops.into_iter().for_each(|op| self.perform(op));
    }

    /// The next tag of that code.
    pub(super) fn next_tag(&self, code: &str) -> Tag {
        self.project.next_tag(code, 0)
    }

    fn perform(&mut self, op: Op) {
        let _ = self.project.perform(op.clone());
        self.ops.push(op);
    }

    /// The change under its label.
    ///
    /// # Errors
    /// The sentence of the first invariant that the project would break.
    pub(super) fn finish(self, label: impl Into<String>) -> Result<Change, String> {
        let change = Change::new(label, self.ops);
        invariant::check(&self.project, &change).map_err(|refusal| refusal.sentence)?;
        Ok(change)
    }
}

/// What a change brings that the project did not have before, so that it can be selected.
pub fn new_things(project: &Project, change: &Change) -> Vec<Subject> {
    let mut fresh: Vec<Subject> = Vec::new();
    for op in &change.ops {
        let subject = op.subject();
        if matches!(op, Op::Put(_)) && !subject.is_in(project) && !fresh.contains(&subject) {
            fresh.push(subject);
        }
    }
    fresh
}
