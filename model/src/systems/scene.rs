//! Scenes: what a rule sets in one go, so that two keys can run the same and it is changed in one place.

use super::Setting;
use crate::id::Id;
use crate::plan::Room;

/// A named list of targets with the values they are set to.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// What the family calls it (`Film`).
    pub name: String,
    /// The room under which it is listed; `None` for the whole house.
    pub room: Option<Id<Room>>,
    /// What it sets, in this order.
    pub settings: Vec<Setting>,
}
