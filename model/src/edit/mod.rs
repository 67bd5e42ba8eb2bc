//! How a project changes: through one door, by [`Change`]s made of `Put` and `Remove`.
//!
//! Undo, the recovery log and the comparison of revisions all speak this small language. A gesture makes one
//! change with a label that undo can name; [`History::apply`] checks it against the [`invariant`]s on a copy
//! and only then lets it in, so a project is never in between.

pub mod change;
pub mod history;
pub mod invariant;
mod naming;
pub mod snap;
pub mod verbs;

pub use crate::project::{Entity, Op, Subject};
pub use change::Change;
pub use history::History;
pub use invariant::Refusal;
pub use naming::describe;
