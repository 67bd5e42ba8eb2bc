//! Small fields that read quantities as the trade types them, and the quiet parts that lists are made of.

pub mod lines;
pub mod quantity;
pub mod telling;

pub use quantity::{angle_field, begin_typing, length_field, text_field};
