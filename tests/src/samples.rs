//! The sample plans: their names, and where they lie.

use std::path::PathBuf;

use pattress_model::project::Project;

/// A sample plan.
pub struct Sample {
    /// The name of its folder.
    pub name: &'static str,
    /// Builds it.
    pub build: fn() -> Project,
}

/// Every sample plan.
pub const SAMPLES: [Sample; 2] = [
    Sample { name: "ferry-cottage", build: crate::ferry_cottage::ferry_cottage },
    Sample { name: "garden-flat", build: crate::garden_flat::garden_flat },
];

/// The folder of the sample plans in this checkout.
pub fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..").join("sample-plans")
}
