//! The card of several things at once, and of what has no card of its own.

use egui::{RichText, Ui};
use pattress_model::edit::{Subject, verbs};
use pattress_model::units::Length;

use super::row;
use crate::window::intent::{Intent, Overlay};
use crate::window::session::Session;
use crate::window::theme::Theme;

/// Shows what several things share and can be given together.
pub fn ui(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    match session.only_selected() {
        Some(Subject::Rule(id)) => {
            if let Some(rule) = project.rules.get(id) {
                ui.label(pattress_model::sentence::sentence_text(project, rule));
                if ui.button("Change the rule…").clicked() {
                    intents.push(Intent::Open(Overlay::RuleEditor(id)));
                }
            }
            return;
        }
        Some(Subject::Zone(id)) => {
            if let Some(zone) = project.zones.get(id) {
                row::fact(ui, "For", zone.purpose.name());
                row::fact(
                    ui,
                    "Joins",
                    &match zone.points.len() {
                        1 => "1 point".to_owned(),
                        count => format!("{count} points"),
                    },
                );
            }
            return;
        }
        _ => {}
    }
    let devices: Vec<Subject> =
        session.selection().iter().copied().filter(|subject| matches!(subject, Subject::Device(_))).collect();
    if devices.is_empty() {
        ui.label(RichText::new("Drag to move them together.").color(theme.quiet));
        return;
    }
    let heights: Vec<Option<Length>> = devices
        .iter()
        .filter_map(|subject| match subject {
            Subject::Device(id) => project.devices.get(*id).map(|device| device.height_affl),
            _ => None,
        })
        .collect();
    let shared = heights
        .first()
        .copied()
        .flatten()
        .filter(|first| heights.iter().all(|height| *height == Some(*first)));
    let first = devices[0];
    row::length(ui, first, "All at height", "mm AFFL", shared, intents, |height| {
        verbs::set_height(project, &devices, Some(height))
    });
}
