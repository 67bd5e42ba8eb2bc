//! A table of things that shares its content with its clones.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::id::Id;

/// All things of one sort, by id, in the order in which they were made.
#[derive(Debug)]
pub struct Table<T> {
    rows: Arc<BTreeMap<Id<T>, Arc<T>>>,
}

/// What two tables share is equal without a look at it, so that snapshots of a large house compare at once.
impl<T: PartialEq> PartialEq for Table<T> {
    fn eq(&self, other: &Self) -> bool {
        let same = |((a, one), (b, another)): (_, _)| a == b && (Arc::ptr_eq(one, another) || one == another);
        self.is_same(other)
            || (self.len() == other.len() && self.rows.iter().zip(other.rows.iter()).all(same))
    }
}

impl<T> Clone for Table<T> {
    fn clone(&self) -> Self {
        Self { rows: Arc::clone(&self.rows) }
    }
}

impl<T> Default for Table<T> {
    fn default() -> Self {
        Self { rows: Arc::new(BTreeMap::new()) }
    }
}

impl<T> Table<T> {
    /// The thing of that id.
    pub fn get(&self, id: Id<T>) -> Option<&T> {
        self.rows.get(&id).map(Arc::as_ref)
    }

    /// The thing of that id, shared.
    pub fn get_shared(&self, id: Id<T>) -> Option<Arc<T>> {
        self.rows.get(&id).cloned()
    }

    /// Whether there is a thing of that id.
    pub fn contains(&self, id: Id<T>) -> bool {
        self.rows.contains_key(&id)
    }

    /// Everything, by id.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (Id<T>, &T)> + Clone {
        self.rows.iter().map(|(id, thing)| (*id, thing.as_ref()))
    }

    /// Every id.
    pub fn ids(&self) -> impl DoubleEndedIterator<Item = Id<T>> + Clone {
        self.rows.keys().copied()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Whether two tables share one content, which says at no cost that nothing changed.
    pub fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.rows, &other.rows)
    }

    pub(crate) fn put(&mut self, id: Id<T>, thing: Arc<T>) -> Option<Arc<T>> {
        Arc::make_mut(&mut self.rows).insert(id, thing)
    }

    pub(crate) fn remove(&mut self, id: Id<T>) -> Option<Arc<T>> {
        Arc::make_mut(&mut self.rows).remove(&id)
    }
}
