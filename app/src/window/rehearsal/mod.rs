//! The rehearsal on the plan: the rules of the house played live, with the client at the table.
//!
//! [`LivePlan`] is all that the window holds of it: a recording that is wound back and forth, the pace of its clock,
//! somebody who walks about, a script that is shown. Panels and the canvas read it and hand over
//! [`Rehearsing`](super::intent::Rehearsing) intents; `update/rehearsal.rs` alone carries them out. The plan itself
//! is never changed by it.

pub mod live;
pub mod pace;
pub mod person;
pub mod sensors;
pub mod showing;

pub use live::{LivePlan, Marks, Paused, Running};
