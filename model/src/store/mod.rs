//! How a project is kept: versioned file structs, conversion both ways, the recovery log's lines, and errors
//! that say what is wrong, where, and what to do.

pub mod media;

pub use media::Media;
