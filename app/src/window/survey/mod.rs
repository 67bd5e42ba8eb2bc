//! From the architect's file to a drawing beneath the level: what the window knows of drawings.
//!
//! [`reading`] reads a file whole, on a thread ([`work`]); on the [`desk`] it lies until someone says where and at
//! which scale it goes. [`Drawings`] holds what each drawing of the plan says, read when someone first asks, and
//! [`at_hand`] tells which of them a tool works on; work on one that takes its time is in [`doing`]. [`squaring`] lays a photograph that was made square. [`catching`] prepares
//! lines for the pointer, [`tracing`] has walls, openings and rooms found, and [`proposed`] keeps what was found as
//! an [`offer`] until someone accepts it.

pub mod accepting;
pub mod at_hand;
pub mod catching;
pub mod changes;
pub mod desk;
pub mod doing;
pub mod drawings;
pub mod offer;
pub mod proposed;
pub mod reading;
pub mod squaring;
pub mod tracing;
pub mod work;

pub use desk::Desk;
pub use drawings::{Drawing, Drawings};

/// What the board and its tools look at of the survey.
#[derive(Clone, Copy)]
pub struct Surveyed<'a> {
    /// What the drawings beneath say.
    pub drawings: &'a Drawings,
    /// What there is to catch of them.
    pub catching: &'a catching::Catching,
    /// What is proposed for the levels.
    pub proposed: &'a proposed::Proposed,
    /// Which places are suggested for a device.
    pub suggested: &'a super::suggesting::Suggested,
}
