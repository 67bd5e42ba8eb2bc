//! What follows from the building as it is drawn, and is never stored: the solid that walls make and the rooms
//! between them ([`outline`]), what stops which sense ([`obstacle`]), what an open door hides ([`behind_leaf`]), and
//! which room a device is in ([`whereabouts`]).

pub mod behind_leaf;
pub mod obstacle;
pub mod outline;
pub mod whereabouts;

pub use whereabouts::Whereabouts;
