//! The desk on which a kind is edited: its rows of fields, and what could not be read of what was typed.

use egui::{RichText, Ui, vec2};
use pattress_model::id::Id;
use pattress_model::kit::Kind;
use pattress_model::units::Length;

use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::{length_field, lines, text_field};

/// A kind in hand, and what was refused.
pub struct Desk<'a> {
    /// Which.
    pub id: Id<Kind>,
    /// Colours.
    pub theme: &'a Theme,
    /// Sentences that say what could not be read.
    pub refusals: Vec<String>,
}

impl Desk<'_> {
    /// Names a field's memory.
    pub fn salt(&self, field: &str) -> egui::Id {
        egui::Id::unique(("kind", self.id.number(), field))
    }

    /// A row: a quiet name, then the field.
    pub fn row<R>(&mut self, ui: &mut Ui, name: &str, field: impl FnOnce(&mut Ui, &mut Self) -> R) -> R {
        ui.horizontal(|ui| {
            ui.allocate_ui_with_layout(
                vec2(128.0, 22.0),
                egui::Layout::left_to_right(egui::Align::Center),
                |ui| {
                    ui.set_width(128.0);
                    ui.label(RichText::new(name).color(self.theme.quiet));
                },
            );
            field(ui, self)
        })
        .inner
    }

    /// A heading between rows.
    pub fn heading(&self, ui: &mut Ui, words: &str) {
        ui.add_space(10.0);
        ui.label(RichText::new(words).family(semi_bold()));
    }

    /// A field of words.
    pub fn words(&mut self, ui: &mut Ui, name: &str, value: &mut String, width: f32) {
        let salt = self.salt(name);
        self.row(ui, name, |ui, _| {
            if let (_, Some(typed)) = text_field(ui, salt, name, value, width) {
                *value = typed.trim().to_owned();
            }
        });
    }

    /// A field for a figure with its unit.
    pub fn figure(&mut self, ui: &mut Ui, name: &str, unit: &str, value: &mut f64) {
        let salt = self.salt(name);
        self.row(ui, name, |ui, desk| {
            let (_, typed) = text_field(ui, salt, name, &value.to_string(), 76.0);
            lines::caption(ui, desk.theme, unit);
            let Some(typed) = typed else { return };
            match typed.trim().replace(',', ".").parse::<f64>() {
                Ok(figure) if figure.is_finite() => *value = figure,
                _ => desk.refusals.push(format!("“{}” is not a figure: type one such as 12.5", typed.trim())),
            }
        });
    }

    /// A field for a length; `None` stays open where it may.
    pub fn length(&mut self, ui: &mut Ui, name: &str, unit: &str, value: &mut Length) {
        let salt = self.salt(name);
        self.row(ui, name, |ui, desk| {
            match length_field(ui, salt, name, Some(*value)) {
                Some(Ok(length)) => *value = length,
                Some(Err(sentence)) => desk.refusals.push(sentence),
                None => {}
            }
            lines::caption(ui, desk.theme, unit);
        });
    }

    /// A choice.
    pub fn choice<T: Clone>(
        &mut self,
        ui: &mut Ui,
        name: &str,
        shown: &str,
        offered: &[(T, String)],
    ) -> Option<T> {
        let salt = self.salt(name);
        self.row(ui, name, |ui, _| lines::choice(ui, salt, name, shown, 200.0, offered))
    }
}
