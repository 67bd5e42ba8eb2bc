//! Computed answers: each study is a pure function of the project and its options. No study imports another.

pub mod coverage;
pub mod rehearsal;
