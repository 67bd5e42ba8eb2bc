//! What is asked of whoever reads a page apart, and how long it may take.

use std::time::Duration;

use super::Fault;

/// Reading a page may take so long: five seconds are promised, one is for handing over.
const TIME_TO_READ: Duration = Duration::from_secs(4);

/// Painting a page may take so long.
const TIME_TO_PAINT: Duration = Duration::from_secs(15);

/// What is to be done with a page.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Errand {
    /// Say what it draws.
    Read,
    /// Paint it.
    Paint {
        /// How fine.
        px_per_mm: f64,
    },
}

impl Errand {
    /// How long it may take.
    pub(super) const fn time(&self) -> Duration {
        match self {
            Self::Read => TIME_TO_READ,
            Self::Paint { .. } => TIME_TO_PAINT,
        }
    }

    /// What is said where it takes longer.
    pub(super) fn took_too_long(&self) -> Fault {
        let seconds = self.time().as_secs();
        Fault::Because(format!(
            "its page takes longer than the {seconds} s that a drawing of a house should, so ask for it without \
             what is not needed"
        ))
    }
}
