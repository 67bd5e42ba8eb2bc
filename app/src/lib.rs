//! x
pub mod print;
