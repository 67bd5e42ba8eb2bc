//! The window: a drawing board with the sheet in the middle.
//!
//! [`session`] holds the project, its history and what is selected; panels and tools read it and return
//! [`intent`]s; [`update`] alone carries them out. [`jobs`] computes studies off the window's thread, and
//! [`canvas`] paints the same display list that is printed. [`command`] is the one table of what can be done
//! by menu, key or finder. [`rehearsal`] plays the rules live on the plan.

pub mod app;
pub mod board;
pub mod canvas;
pub mod command;
pub mod in_hand;
pub mod intent;
pub mod issuing;
pub mod jobs;
pub mod panels;
pub mod rehearsal;
pub mod session;
pub mod startup;
pub mod suggesting;
pub mod survey;
pub mod theme;
pub mod tool_choice;
pub mod update;
pub mod widgets;
pub mod wording;

pub use app::run;
pub use board::Board;
