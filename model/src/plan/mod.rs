//! The building: what the architect drew and the builder makes.
//!
//! A [`Level`] holds [`Wall`]s along their axes; [`Opening`]s sit in walls; a [`Room`] is a name and a use at a
//! point, and its outline is derived from the walls around it ([`outline`]). [`Joinery`] is what the joiner
//! fixes, an [`Underlay`] is the picture that is traced. [`obstacle`] says what of all this stops which sense.

pub mod joinery;
pub mod level;
pub mod obstacle;
pub mod opening;
pub mod outline;
pub mod room;
pub mod underlay;
pub mod wall;
pub mod whereabouts;

pub use joinery::{Joinery, JoineryForm, Leaf};
pub use level::Level;
pub use obstacle::{DoorsAs, Sense};
pub use opening::{DoorState, Hand, Opening, OpeningForm};
pub use room::{Room, RoomUse};
pub use underlay::Underlay;
pub use wall::{MakeUp, Side, Wall};
pub use whereabouts::Whereabouts;
