//! From the architect's file to a drawing beneath the level: what the window knows of drawings.
//!
//! [`Drawings`] holds what each drawing says, read off the window's thread when someone first asks.

pub mod drawings;

pub use drawings::{Drawing, DrawingRead, Drawings, Pixels};
