//! Typed names for the things of a plan.
//!
//! An [`Id`] is a number with the type of what it names, so that a wall's id can't be handed where a door's is
//! meant. Numbers are issued by the project's one counter and never reused, not even after a removal is undone.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;

/// The name of one `T` in a project.
pub struct Id<T> {
    number: u32,
    kind: PhantomData<fn() -> T>,
}

impl<T> Id<T> {
    /// The id with this number. Only the project's counter, the file reader and tests have reason to call it.
    pub const fn from_number(number: u32) -> Self {
        Self { number, kind: PhantomData }
    }

    /// The bare number, for files and for salting window ids.
    pub const fn number(self) -> u32 {
        self.number
    }
}

impl<T> Clone for Id<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Id<T> {}

impl<T> PartialEq for Id<T> {
    fn eq(&self, other: &Self) -> bool {
        self.number == other.number
    }
}

impl<T> Eq for Id<T> {}

impl<T> PartialOrd for Id<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Id<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.number.cmp(&other.number)
    }
}

impl<T> Hash for Id<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.number.hash(state);
    }
}

impl<T> fmt::Debug for Id<T> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = std::any::type_name::<T>().rsplit("::").next().unwrap_or("thing");
        write!(out, "{name}#{}", self.number)
    }
}

/// Issues fresh ids while a change is being put together; see [`crate::project::Project::fresh_ids`].
#[derive(Clone, Debug)]
pub struct FreshIds {
    next: u32,
}

impl FreshIds {
    /// Starts issuing at `next`.
    pub const fn starting_at(next: u32) -> Self {
        Self { next }
    }

    /// A new id that nothing has had before.
    pub fn issue<T>(&mut self) -> Id<T> {
        let id = Id::from_number(self.next);
        self.next += 1;
        id
    }
}
