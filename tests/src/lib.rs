//! Pattress from outside: invented houses that are built in code, and tests of the whole job.
//!
//! [`builder`] is a small language for describing a house; [`generator`] makes plain houses of any size for
//! benchmarks, of the few kinds in [`generator_kit`].

pub mod builder;
pub mod generator;
pub mod generator_kit;
