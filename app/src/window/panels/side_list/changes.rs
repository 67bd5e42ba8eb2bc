//! As-built: what was changed on the plan since it was opened, newest first.

use egui::{Label, Ui};

use super::header;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// Shows the changes.
pub fn ui(ui: &mut Ui, session: &Session, theme: &Theme) {
    let labels: Vec<&str> = session.history().labels().collect();
    header(ui, |ui| {
        lines::heading(ui, "Changes");
        let words = match labels.len() {
            0 => "Nothing was changed since the plan was opened.".to_owned(),
            1 => "1 change since the plan was opened.".to_owned(),
            count => format!("{count} changes since the plan was opened, newest first."),
        };
        lines::caption(ui, theme, words);
    });
    lines::thin_rule(ui, theme);
    for (index, label) in labels.iter().enumerate().rev() {
        lines::line(ui, theme, false, |ui| {
            ui.horizontal_top(|ui| {
                ui.set_min_height(16.0);
                lines::cell(ui, theme, &(index + 1).to_string(), 11.0, 26.0);
                ui.add(Label::new(*label).wrap());
            });
        });
    }
}
