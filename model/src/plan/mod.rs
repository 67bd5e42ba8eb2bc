//! The building: what the architect drew and the builder makes.
//!
//! A [`Level`] holds [`Wall`]s along their axes; [`Opening`]s sit in walls; a [`Room`] is a name and a use at a
//! point, whose outline is derived from the walls around it (see [`crate::building`]). [`Joinery`] is what the
//! joiner fixes, an [`Underlay`] is the picture that is traced. A [`Sense`] says what of all this lets it pass.
//! A [`Spot`] is a place that matters to it, a [`Walk`] a way that people take.

pub mod joinery;
pub mod level;
pub mod opening;
pub mod room;
pub mod room_line;
pub mod scale_from;
pub mod sense;
pub mod spot;
pub mod underlay;
pub mod walk;
pub mod wall;

pub use joinery::{Joinery, JoineryForm, Leaf};
pub use level::Level;
pub use opening::{DoorState, Hand, Opening, OpeningForm};
pub use room::{Room, RoomUse, SlopingCeiling};
pub use room_line::RoomLine;
pub use scale_from::{ScaleFrom, SecondLength};
pub use sense::{DoorsAs, Sense};
pub use spot::{Spot, SpotUse};
pub use underlay::Underlay;
pub use walk::{Walk, WalkPoint, WalkPurpose};
pub use wall::{MakeUp, Side, Wall};
