//! A storey of the house.

use crate::units::Length;

/// One storey: everything on it gives heights above its finished floor level (FFL).
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// What the trade calls it (`Ground floor`).
    pub name: String,
    /// Height of its finished floor above the site datum, which all levels share.
    pub floor_above_datum: Length,
    /// Height of its ceiling above its own finished floor.
    pub ceiling_affl: Length,
}
