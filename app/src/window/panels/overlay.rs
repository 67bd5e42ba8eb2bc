//! What lies over the board, one at a time: the finder, the sheets, editors, questions.

use egui::Context;

use super::State as Panels;
use crate::window::intent::{Intent, Overlay};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::Theme;

/// What overlays remember between frames.
#[derive(Clone, Debug, Default)]
pub struct State {}

/// Shows what lies over the board.
pub fn ui(
    _ctx: &Context,
    _overlay: &mut Overlay,
    _session: &Session,
    _figures: &Figures,
    _panels: &mut Panels,
    _theme: &Theme,
) -> Vec<Intent> {
    Vec::new()
}
