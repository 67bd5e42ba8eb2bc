//! The board: the sheet in the middle, the plan on it, and the tool in hand.
//!
//! [`camera`] says where it is looked at from, [`drawn`] keeps the drawing up with the project and [`chunks`] its
//! triangles, [`ink`] makes triangles of items, [`letters`] lays out their words, [`highlight`] marks what is selected
//! or pointed at, and [`tools`] turn gestures into intents.

mod assembled;
pub mod camera;
pub mod chunks;
pub mod drawn;
mod ghosted;
mod hand;
pub mod highlight;
pub mod ink;
pub mod letters;
mod live;
mod moved;
pub mod offered;
pub mod pictures;
pub mod surface;
pub mod tools;

pub use camera::Camera;
pub use surface::Surface;
