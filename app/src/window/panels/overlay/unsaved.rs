//! Unsaved work before something that would lose it: save, do not save, or stay.

use egui::Ui;

use super::title;
use crate::window::intent::{AfterSaving, Filing, Intent, Overlay, PathFor};
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// Asks.
pub fn ui(ui: &mut Ui, session: &Session, after: &AfterSaving, fresh: bool, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    title(ui, "The plan has changes that are not saved", &mut intents);
    let what = match after {
        AfterSaving::New => "before a new plan is started",
        AfterSaving::Open => "before another plan is opened",
        AfterSaving::Quit => "before the window closes",
    };
    let name = &session.project().site.project_name;
    ui.add(egui::Label::new(format!("Save the changes to “{name}” {what}?")).wrap());
    if session.path().is_none() {
        lines::caption(ui, theme, "It has no file yet: saving asks where to keep it.");
    }
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        let save = ui.button("Save");
        if fresh {
            save.request_focus();
        }
        if save.clicked() {
            intents.push(Intent::CloseOverlay);
            intents.push(Intent::File(Filing::SaveThen(after.clone())));
        }
        if ui.button("Don’t save").clicked() {
            intents.push(Intent::CloseOverlay);
            intents.push(match after {
                AfterSaving::New => Intent::File(Filing::New),
                AfterSaving::Open => Intent::Open(Overlay::TypePath(PathFor::Open)),
                AfterSaving::Quit => Intent::File(Filing::Quit),
            });
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
    intents
}
