//! What the window holds of the file system.

use std::path::PathBuf;
use std::sync::mpsc::Receiver;

use super::intent::{AfterSaving, PathFor};
use super::issuing::{Issuing, Progress};
use crate::files::{self, RecoveryLog};

/// What the window holds of the file system: the recovery log of the plan on the board (which is its lock too),
/// a file dialog that stands open, and an issue that is being written.
#[derive(Default)]
pub struct FilesInHand {
    pub(super) log: Option<RecoveryLog>,
    /// Whether a plan that was never saved keeps a log too, where the system keeps such things.
    pub(super) keeps_scratch: bool,
    pub(super) dialog: Option<Receiver<Option<(PathFor, PathBuf)>>>,
    pub(super) issuing: Option<Issuing>,
    pub(super) afterwards: Option<AfterSaving>,
}

impl FilesInHand {
    /// The plan is saved or given up: its log goes.
    pub fn close(&mut self) {
        if let Some(log) = self.log.take() {
            log.close();
            if self.keeps_scratch {
                files::remove_scratch();
            }
        }
    }

    /// How far an issue has come, while one is being written.
    pub fn progress(&self) -> Option<Progress> {
        self.issuing.as_ref().map(Issuing::progress)
    }
}
