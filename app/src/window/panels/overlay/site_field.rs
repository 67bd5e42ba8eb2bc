//! What every field of the title block and the site is made of.

use egui::{RichText, Ui};

use crate::window::theme::Theme;
use crate::window::widgets::text_field;

/// Tells the fields of the site apart from one another.
pub(super) fn salt(field: &str) -> egui::Id {
    egui::Id::unique(("site", field))
}

/// The name of a field, before it.
pub(super) fn name(ui: &mut Ui, theme: &Theme, words: &str) {
    ui.label(RichText::new(words).color(theme.quiet));
}

/// A field for a figure; `Some` once one has been typed.
pub(super) fn figure(ui: &mut Ui, label: &str, now: &str, refusals: &mut Vec<String>) -> Option<Option<f64>> {
    let (_, typed) = text_field(ui, salt(label), label, now, 90.0);
    let typed = typed?.trim().trim_end_matches('°').trim().replace(',', ".");
    if typed.is_empty() {
        return Some(None);
    }
    match typed.parse::<f64>() {
        Ok(figure) if figure.is_finite() => Some(Some(figure)),
        _ => {
            refusals.push(format!("“{typed}” is not a figure: type one such as 51.5"));
            None
        }
    }
}
