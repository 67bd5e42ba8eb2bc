//! The side list: what the stage is about, each line a whole thing in plain words.

use egui::Ui;

use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::Theme;

/// What the side list remembers between frames.
#[derive(Clone, Debug, Default)]
pub struct State {}

/// Shows the side list.
pub fn ui(
    _ui: &mut Ui,
    _session: &Session,
    _figures: &Figures,
    _state: &mut State,
    _theme: &Theme,
) -> Vec<Intent> {
    Vec::new()
}
