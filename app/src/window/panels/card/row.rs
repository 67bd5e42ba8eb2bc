//! Rows of a card: a name on the left, a field on the right.

use egui::{Align, Id, Layout, RichText, Ui, vec2};
use pattress_model::edit::{Change, Subject};
use pattress_model::units::{Angle, Length};

use crate::window::intent::Intent;
use crate::window::widgets::{angle_field, length_field, text_field};

/// Width of the names.
const NAMES: f32 = 86.0;

/// A row with any field.
pub fn row<R>(ui: &mut Ui, name: &str, field: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(vec2(NAMES, 24.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_width(NAMES);
            let quiet = ui.visuals().weak_text_color();
            ui.label(RichText::new(name).color(quiet));
        });
        field(ui)
    })
    .inner
}

/// A row that only tells.
pub fn fact(ui: &mut Ui, name: &str, words: &str) {
    row(ui, name, |ui| ui.add(egui::Label::new(words).wrap()));
}

/// Name of a field's memory: by the thing and the field, never by a label.
pub fn salt(subject: Subject, field: &str) -> Id {
    Id::unique((subject, field))
}

/// A row with a length, with its unit beside.
pub fn length(
    ui: &mut Ui,
    subject: Subject,
    name: &str,
    unit: &str,
    value: Option<Length>,
    intents: &mut Vec<Intent>,
    change: impl FnOnce(Length) -> Result<Change, String>,
) {
    row(ui, name, |ui| {
        let edited = length_field(ui, salt(subject, name), name, value);
        let quiet = ui.visuals().weak_text_color();
        ui.label(RichText::new(unit).color(quiet));
        if let Some(length) = edited {
            intents.push(Intent::Change(length.and_then(change)));
        }
    });
}

/// A row with an angle.
pub fn angle(
    ui: &mut Ui,
    subject: Subject,
    name: &str,
    value: Angle,
    intents: &mut Vec<Intent>,
    change: impl FnOnce(Angle) -> Result<Change, String>,
) {
    row(ui, name, |ui| {
        let edited = angle_field(ui, salt(subject, name), name, value);
        let quiet = ui.visuals().weak_text_color();
        ui.label(RichText::new("°").color(quiet));
        if let Some(angle) = edited {
            intents.push(Intent::Change(angle.and_then(change)));
        }
    });
}

/// A row with words.
pub fn words(
    ui: &mut Ui,
    subject: Subject,
    name: &str,
    value: &str,
    intents: &mut Vec<Intent>,
    change: impl FnOnce(String) -> Result<Change, String>,
) {
    row(ui, name, |ui| {
        let width = ui.available_width().min(180.0);
        if let (_, Some(words)) = text_field(ui, salt(subject, name), name, value, width) {
            intents.push(Intent::Change(change(words)));
        }
    });
}

/// A row with a choice among values.
pub fn choice<T: PartialEq + Copy>(
    ui: &mut Ui,
    subject: Subject,
    name: &str,
    value: T,
    offered: &[(T, &str)],
    intents: &mut Vec<Intent>,
    change: impl FnOnce(T) -> Result<Change, String>,
) {
    let shown = offered.iter().find(|(each, _)| *each == value).map_or("", |(_, words)| *words);
    let mut picked = None;
    row(ui, name, |ui| {
        let combo = egui::ComboBox::from_id_salt(salt(subject, name))
            .selected_text(shown)
            .width(140.0)
            .show_ui(ui, |ui| {
                for (each, words) in offered {
                    if ui.selectable_label(*each == value, *words).clicked() && *each != value {
                        picked = Some(*each);
                    }
                }
            });
        combo.response.widget_info(|| {
            egui::WidgetInfo::labeled(egui::Role::ComboBox, true, format!("{name}: {shown}"))
        });
    });
    if let Some(picked) = picked {
        intents.push(Intent::Change(change(picked)));
    }
}
