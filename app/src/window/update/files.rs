//! Opening, saving, underlays and the recovery log, from the window.

use std::path::Path;

use pattress_model::edit::Change;

use crate::window::app::Board;
use crate::window::intent::Filing;

/// What the window holds of the file system: the lock and the recovery log of the plan on the board.
#[derive(Default)]
pub struct FilesInHand {}

impl FilesInHand {
    /// Lets go of lock and log.
    pub fn close(&mut self) {}
}

/// A plan as it was opened.
pub struct Opened {}

/// Opens a plan.
///
/// # Errors
/// One sentence that names the file, the place in it and the way out.
pub fn open(_path: &Path) -> Result<Opened, String> {
    Ok(Opened {})
}

/// Puts an opened plan on the board in place of what was there.
pub fn put_on_board(_board: &mut Board, _opened: Opened) {}

/// Carries out what is asked of files.
pub fn file(_board: &mut Board, _ctx: &egui::Context, _filing: Filing) {}

/// Writes a change to the recovery log.
pub fn log(_board: &mut Board, _change: &Change) {}
