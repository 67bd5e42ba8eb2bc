//! House modes: few, and each entered by a rule or by hand. Every house has `at home`; others are named.

use crate::id::Id;

/// A named mode of the house (`Night`, `Away`, `Holiday`).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mode {
    /// What the family calls it.
    pub name: String,
}

/// The mode a house is in: one at a time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HouseMode {
    /// The mode every house has, and starts in.
    #[default]
    AtHome,
    /// One that the project names.
    Named(Id<Mode>),
}
