//! Why a file can't be read or written: each a sentence that names the file, the place and the way out.

use std::io;
use std::path::Path;

use pattress_model::store::ReadError;

/// Why a file can't be read or written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileError {
    /// There is no such file or folder.
    #[error("“{file}” is not there: check its name and its folder")]
    Missing {
        /// The file.
        file: String,
    },
    /// The operating system refused to read.
    #[error("“{file}” can't be read ({reason}): check that its disk is there and that you may read it")]
    CannotRead {
        /// The file.
        file: String,
        /// What the operating system says.
        reason: String,
    },
    /// The operating system refused to write. Whatever was there before is still there.
    #[error(
        "“{file}” can't be written ({reason}): check that its disk has room and that you may write there"
    )]
    CannotWrite {
        /// The file.
        file: String,
        /// What the operating system says.
        reason: String,
    },
    /// The file holds nothing.
    #[error("“{file}” is empty: take a whole copy of it")]
    Empty {
        /// The file.
        file: String,
    },
    /// Neither a plan file nor a folder that holds one.
    #[error("“{file}” is no plan ({what}): choose a .pattress file or a folder that holds a project.json")]
    NoPlan {
        /// The file.
        file: String,
        /// What tells that it is none.
        what: String,
    },
    /// The file's packing is broken.
    #[error("“{file}” is damaged ({what}): take a whole copy of it")]
    Damaged {
        /// The file.
        file: String,
        /// What is broken, and where.
        what: String,
    },
    /// Something in the file is larger than any plan needs.
    #[error("“{file}” holds {part}, which is larger than {limit}: make it smaller or leave it out")]
    TooLarge {
        /// The file.
        file: String,
        /// What of it.
        part: String,
        /// The limit, with its unit.
        limit: String,
    },
    /// The file holds something that no plan holds.
    #[error(
        "“{file}” holds “{entry}”, which is no part of a plan: take it out or take a clean copy of the plan"
    )]
    StrangeEntry {
        /// The file.
        file: String,
        /// The name within the file.
        entry: String,
    },
    /// The plan's text can't be read.
    #[error("“{file}”: {reason}")]
    Unreadable {
        /// The file.
        file: String,
        /// What, where and the way out.
        reason: ReadError,
    },
    /// Another window has it open.
    #[error("“{file}” is open in another window: go on there, or close it there first")]
    InUse {
        /// The file.
        file: String,
    },
    /// What stands at the path can't be read whole, so it is not written over.
    #[error(
        "“{file}” was left as it is, since what is there can't be read whole: save under another name ({reason})"
    )]
    NotWrittenOver {
        /// The file.
        file: String,
        /// Why what is there can't be read.
        reason: Box<FileError>,
    },
    /// What would be written could not be read again.
    #[error("“{file}” was not saved and is as it was ({reason}): undo the last change and save again")]
    NotSaved {
        /// The file.
        file: String,
        /// What is wrong with the plan in hand.
        reason: ReadError,
    },
    /// A drawing that can't be laid under a plan.
    #[error(transparent)]
    Drawing {
        /// What is wrong with it and what to do.
        reason: crate::survey::ReadError,
    },
    /// A picture that can't be laid under a plan.
    #[error("“{file}” can't be laid under the plan: {what}")]
    Picture {
        /// The file.
        file: String,
        /// What is wrong with it and what to do.
        what: String,
    },
}

impl FileError {
    pub(super) fn reading(path: &Path, error: &io::Error) -> Self {
        let file = name(path);
        match error.kind() {
            io::ErrorKind::NotFound => Self::Missing { file },
            _ => Self::CannotRead { file, reason: error.to_string() },
        }
    }

    pub(super) fn writing(path: &Path, error: &io::Error) -> Self {
        Self::CannotWrite { file: name(path), reason: error.to_string() }
    }
}

/// A path as sentences name it.
pub(super) fn name(path: &Path) -> String {
    path.display().to_string()
}
