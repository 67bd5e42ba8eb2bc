//! The card of what is selected: its figures, editable with units, its points, its findings.

use egui::Ui;

use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::Theme;

/// Shows the card.
pub fn ui(_ui: &mut Ui, _session: &Session, _figures: &Figures, _theme: &Theme) -> Vec<Intent> {
    Vec::new()
}
