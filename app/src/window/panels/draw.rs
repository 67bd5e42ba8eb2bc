//! The drawing tools of the survey: walls, openings, rooms, joinery, the picture beneath, levels.

use egui::Ui;

use crate::window::canvas::tools::ToolChoice;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::Theme;

/// Shows the tools.
pub fn ui(_ui: &mut Ui, _session: &Session, _choice: &ToolChoice, _theme: &Theme) -> Vec<Intent> {
    Vec::new()
}
