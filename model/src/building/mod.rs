//! What follows from the building as it is drawn, and is never stored: the solid that walls make and the rooms
//! between them ([`outline`]), what stops which sense ([`obstacle`]), what an open door hides ([`behind_leaf`]), which
//! room a device is in ([`whereabouts`]), where the sun shines in ([`sunlight`]), and which leaf a contact tells of
//! ([`told_open`]).

pub mod behind_leaf;
pub mod obstacle;
pub mod outline;
pub mod sunlight;
pub mod told_open;
pub mod whereabouts;

pub use whereabouts::Whereabouts;
