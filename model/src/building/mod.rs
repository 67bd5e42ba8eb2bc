//! What follows from the building as it is drawn, and is never stored: the solid that walls make and the rooms
//! between them ([`outline`]), what stops which sense ([`obstacle`]), what an open door hides ([`behind_leaf`]), which
//! room a device is in ([`whereabouts`]), and where the sun shines in ([`sunlight`]).

pub mod behind_leaf;
pub mod obstacle;
pub mod outline;
pub mod sunlight;
pub mod whereabouts;

pub use whereabouts::Whereabouts;
