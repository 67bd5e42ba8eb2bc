//! What the integrator should know: findings, one check a file.

pub mod finding;

pub use finding::{Finding, Severity};
