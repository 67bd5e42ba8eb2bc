//! The storeys of a building model, to be ticked, and what of the model was not understood.

use std::collections::BTreeSet;

use egui::{RichText, ScrollArea, Ui};
use pattress_model::survey::ifc::{Building, Note, Storey};

use crate::window::intent::{Intent, Surveying};
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// Shows the storeys.
pub fn ui(
    ui: &mut Ui,
    building: &Building,
    ticked: &mut BTreeSet<usize>,
    intents: &mut Vec<Intent>,
    theme: &Theme,
) {
    let named = building.project.as_ref().filter(|name| !name.trim().is_empty());
    let called = named.map_or(String::new(), |name| format!("“{name}”, "));
    lines::caption(ui, theme, format!("A building model: {called}{}.", building.schema));
    if let Some(by) = building.moved_by {
        let words = format!("It lay {:.0} km from its origin and was moved beside it.", by.hypot() / 1e6);
        lines::caption(ui, theme, words);
    }
    ui.add_space(6.0);
    let tallest = (ui.ctx().content_rect().height() - 260.0).max(160.0);
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).show(ui, |ui| {
        ui.set_width(ui.available_width());
        for (index, storey) in building.storeys.iter().enumerate().rev() {
            let mut on = ticked.contains(&index);
            if ui.checkbox(&mut on, &storey.name).changed() {
                if on {
                    ticked.insert(index)
                } else {
                    ticked.remove(&index)
                };
            }
            ui.indent(("storey", index), |ui| lines::caption(ui, theme, storey_in_words(storey)));
        }
        notes(ui, "Not understood", &building.not_understood, theme);
        notes(ui, "Left out: it has no place on a plan here", &building.left_out, theme);
    });
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let words = match ticked.len() {
            1 => "Bring in 1 storey".to_owned(),
            count => format!("Bring in {count} storeys"),
        };
        if ui.add_enabled(!ticked.is_empty(), egui::Button::new(words)).clicked() {
            intents.push(Intent::Survey(Surveying::LayStoreys(ticked.iter().copied().collect())));
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
    lines::caption(
        ui,
        theme,
        "A model is what was meant to be built: what is measured on site wins over it.",
    );
}

fn storey_in_words(storey: &Storey) -> String {
    let counted = |count: usize, one: &str| match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {one}s"),
    };
    let proposal = &storey.proposal;
    let floor = format!("floor {:+.0} mm", storey.floor_above_datum.as_mm());
    let ceiling = storey.ceiling.map_or(String::new(), |height| format!(", ceiling {height} mm above it"));
    let walls = counted(proposal.walls.len(), "wall");
    let openings = counted(proposal.openings.len(), "opening");
    let rooms = counted(proposal.rooms.len(), "room");
    format!("{floor}{ceiling}: {walls}, {openings}, {rooms}")
}

fn notes(ui: &mut Ui, heading: &str, notes: &[Note], theme: &Theme) {
    if notes.is_empty() {
        return;
    }
    ui.add_space(8.0);
    let count: usize = notes.iter().map(|note| note.count).sum();
    ui.label(RichText::new(format!("{heading} ({count})")).size(12.0).color(theme.quiet));
    for note in notes {
        let words = format!("{} × {}, first {}", note.count, note.what, note.example);
        lines::caption(ui, theme, words);
    }
}
