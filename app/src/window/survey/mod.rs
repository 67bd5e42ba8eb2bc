//! From the architect's file to a drawing beneath the level: what the window knows of drawings.
//!
//! [`Drawings`] holds what each drawing says, read off the window's thread when someone first asks.
//! [`catching`] prepares its lines for the pointer, [`tracing`] has walls, openings and rooms found in it, and
//! [`proposed`] keeps what was found as an [`offer`] until someone accepts it.

pub mod accepting;
pub mod catching;
pub mod drawings;
pub mod offer;
pub mod proposed;
pub mod tracing;

pub use drawings::{Drawing, DrawingRead, Drawings, Pixels};

/// What the board and its tools look at of the survey.
#[derive(Clone, Copy)]
pub struct Surveyed<'a> {
    /// What the drawings beneath say.
    pub drawings: &'a Drawings,
    /// What there is to catch of them.
    pub catching: &'a catching::Catching,
    /// What is proposed for the levels.
    pub proposed: &'a proposed::Proposed,
}
