//! What people do to a plan, one verb a file: each takes the project as it is and returns the change.
//!
//! A verb never alters the project it is given. It works on a draft, checks the draft against the invariants
//! and hands back the change, so that [`super::History::apply`] accepts whatever a verb returns; what can't
//! be done is refused in one sentence.

mod draft;
mod draw_walls;
mod move_things;
mod openings;
mod place_device;
mod remove_things;
mod wall_ends;
mod words;

pub use draft::new_things;
pub use draw_walls::{WallSpec, draw_room, draw_walls};
pub use move_things::{move_things, rehost_device};
pub use openings::{add_opening, edit_opening, flip_hinge, flip_swing, slide_opening};
pub use place_device::{Placing, place_device};
pub use remove_things::remove_things;
