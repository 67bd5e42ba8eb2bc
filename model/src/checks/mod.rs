//! What the integrator should know: findings, one check a file.

pub mod finding;
#[cfg(test)]
pub(crate) mod small_house;

pub use finding::{Finding, Severity};
