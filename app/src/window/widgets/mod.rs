//! Small fields that read quantities as the trade types them.

pub mod quantity;

pub use quantity::{angle_field, length_field, text_field};
