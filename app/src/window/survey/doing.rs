//! Work on a drawing that lies beneath already, one at a time.

use pattress_model::id::Id;
use pattress_model::plan::Underlay;
use pattress_model::survey::straighten::Skew;

use super::work::Work;
use crate::survey::{Corners, Squared};

/// Work on a drawing beneath, and what becomes of its answer.
pub enum Doing {
    /// Finding how far it lies askew.
    Skew(Id<Underlay>, Work<Option<Skew>>),
    /// Drawing a photograph anew.
    Squaring(Id<Underlay>, Corners, Work<Result<Squared, String>>),
}

impl Doing {
    /// What is being done and how much of it is.
    pub fn progress(&self) -> (&str, f32) {
        match self {
            Self::Skew(_, work) => (work.what(), work.share()),
            Self::Squaring(_, _, work) => (work.what(), work.share()),
        }
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        match self {
            Self::Skew(_, work) => work.stop(),
            Self::Squaring(_, _, work) => work.stop(),
        }
    }
}
