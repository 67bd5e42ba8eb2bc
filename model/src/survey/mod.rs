//! Survey: what an architect's drawing says, before anyone has agreed to it.
//!
//! A drawing comes as a [`Page`] of lines, areas and lettering, or as a [`Greyscale`] picture, which can be made
//! into such a page. Tracing turns a page into a [`Proposal`]: walls, openings and rooms with a confidence each.
//! [`DrawingRead`] does all of that for a drawing, whatever it came as. Nothing here changes a plan; what is accepted enters it by a verb of [`crate::edit`].

pub mod drawing;
#[cfg(test)]
mod drawn;
pub mod edges;
mod grey;
pub mod greyscale;
pub mod ifc;
pub mod lines;
pub mod page;
pub mod proposal;
pub mod rectify;
pub mod room_names;
pub mod scale;
pub mod straighten;
pub mod trace;
pub mod vectorise;

pub use drawing::{DrawingRead, Pixels};
pub use greyscale::Greyscale;
pub use lines::DrawingLines;
pub use page::{Fill, Page, Stroke, Writing};
pub use proposal::{Part, Proposal, ProposedDoor, ProposedForm, ProposedOpening, ProposedRoom, ProposedWall};
pub use scale::Scale;
pub use trace::trace_page;
