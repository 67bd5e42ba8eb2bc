//! Scripts: what is done to a house, step by step, and what it must then do. They are played in rehearsal with the
//! client, and gone through again on site as the acceptance test.
//!
//! A script is kept as the lines that a person writes and reads. What a line says is read by
//! [`crate::studies::rehearsal::script`]; a line that cannot be read, or names what is not there, is a finding and no
//! loss. Tags never come to mean another device, so a line stays true as long as its devices stand.

/// A script of a rehearsal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Script {
    /// What it shows (`Film in the living room`).
    pub name: String,
    /// Its lines, one step each.
    pub lines: Vec<String>,
}
