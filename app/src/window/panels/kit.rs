//! The Kit: families of kinds, found by typing, taken up by a click.

use egui::Ui;

use crate::window::canvas::tools::ToolChoice;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::Theme;

/// What the Kit remembers between frames.
#[derive(Clone, Debug, Default)]
pub struct State {}

/// Shows the Kit.
pub fn ui(
    _ui: &mut Ui,
    _session: &Session,
    _choice: &ToolChoice,
    _state: &mut State,
    _theme: &Theme,
) -> Vec<Intent> {
    Vec::new()
}
