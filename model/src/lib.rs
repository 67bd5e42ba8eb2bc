//! x
pub mod geometry;
