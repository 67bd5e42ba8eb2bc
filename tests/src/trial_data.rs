//! Where the trial data lie: real drawings, exact answers and hostile files that are no part of the checkout.
//!
//! They are looked for in `shared/data` in the folders above it, or where the variable PATTRESS_TRIAL_DATA says;
//! trials say so where they are not there, and pass.

use std::path::{Path, PathBuf};

/// One folder of the trial data; `None` where it is not there.
pub fn folder(name: &str) -> Option<PathBuf> {
    data().map(|data| data.join(name)).filter(|folder| folder.is_dir())
}

/// All of the trial data; `None` where they are not there.
pub fn data() -> Option<PathBuf> {
    let data = match std::env::var_os("PATTRESS_TRIAL_DATA") {
        Some(given) => Some(PathBuf::from(given)),
        None => Path::new(env!("CARGO_MANIFEST_DIR"))
            .ancestors()
            .map(|folder| folder.join("shared/data"))
            .find(|folder| folder.is_dir()),
    };
    data.filter(|folder| folder.is_dir())
}
