//! What follows from the building as it is drawn, and is never stored: the solid that walls make and the rooms
//! between them ([`outline`]), what stops which sense ([`obstacle`]), and which room a device is in
//! ([`whereabouts`]).

pub mod obstacle;
pub mod outline;
pub mod whereabouts;

pub use whereabouts::Whereabouts;
