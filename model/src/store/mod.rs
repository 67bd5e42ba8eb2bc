//! How a project is kept: versioned file structs, conversion both ways, the recovery log's lines, and errors
//! that say what is wrong, where, and what to do.
//!
//! [`write_project`] and [`read_project`] speak `project.json`; the structs of the current version live in
//! `v1`, apart from the domain types, so that either may change without the other. An older version is
//! migrated forward before it is read; a newer one is refused. Nothing here touches a disk.

pub mod media;
pub mod migration;
pub mod project_file;
pub mod read_error;
pub mod recovery;

mod layout;
#[cfg(test)]
mod sample;
mod v1;

pub use media::Media;
pub use project_file::{FORMAT, VERSION, plan_schema, read_project, write_project};
pub use read_error::ReadError;
pub use recovery::{log_header, log_line, read_log, read_log_header, replay};
