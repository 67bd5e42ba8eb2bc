//! How walls are drawn: by their centre or a face, and how thick.

use egui::{RichText, Ui};
use pattress_model::units::Length;

use crate::window::canvas::tools::manner::{Manner, Thickness, WallLine};
use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::theme::Theme;
use crate::window::tool_choice::ToolChoice;
use crate::window::widgets::{length_field, lines};

/// Shows the manner and what it can be changed to.
pub fn ui(ui: &mut Ui, choice: &ToolChoice, manner: Manner, theme: &Theme, intents: &mut Vec<Intent>) {
    let of_four = *choice == ToolChoice::FourWalls;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for line in WallLine::ALL {
            let (short, full) = words(line, of_four);
            let tip = format!("{full}. {} goes on to the next.", key(ui, Command::WallLine));
            let response = ui.selectable_label(manner.line == line, short).on_hover_text(tip);
            response.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::RadioButton, true, manner.line == line, full)
            });
            if response.clicked() {
                intents.push(Intent::DrawWalls(Manner { line, ..manner }));
            }
        }
    });
    ui.horizontal(|ui| {
        ui.label(RichText::new("Thick").color(theme.quiet));
        let typed = match manner.thickness {
            Thickness::Typed(typed) => Some(typed),
            Thickness::AsLast | Thickness::AsDrawn => None,
        };
        let salt = egui::Id::unique("thickness of walls to be drawn");
        match length_field(ui, salt, "Thickness of walls to be drawn", typed) {
            Some(Ok(length)) if length.as_mm() >= 1.0 => {
                intents.push(Intent::DrawWalls(with_thickness(manner, Some(length))));
            }
            Some(Ok(_)) => {
                let sentence = "a thickness must be above zero: type 100 or 0.1m";
                intents.push(Intent::Change(Err(sentence.to_owned())));
            }
            // An empty field asks for what goes without saying.
            Some(Err(_)) if typed.is_some() => {
                intents.push(Intent::DrawWalls(with_thickness(manner, None)));
            }
            Some(Err(sentence)) => intents.push(Intent::Change(Err(sentence))),
            None => {}
        }
        ui.label(RichText::new("mm").color(theme.quiet));
        let as_drawn = manner.thickness == Thickness::AsDrawn;
        let row = Command::WallAsDrawn.row();
        let tip = format!("{} {} does so too.", row.tip, key(ui, Command::WallAsDrawn));
        let response = ui.selectable_label(as_drawn, "as drawn").on_hover_text(tip);
        response.widget_info(|| egui::WidgetInfo::selected(egui::Role::CheckBox, true, as_drawn, row.label));
        if response.clicked() {
            intents.push(Intent::Run(Command::WallAsDrawn));
        }
    });
    if manner.thickness == Thickness::AsLast {
        lines::caption(ui, theme, "As thick as the wall that is selected, else as the last.");
    }
}

fn with_thickness(manner: Manner, typed: Option<Length>) -> Manner {
    Manner { thickness: typed.map_or(Thickness::AsLast, Thickness::Typed), ..manner }
}

fn words(line: WallLine, of_four: bool) -> (&'static str, &'static str) {
    match (line, of_four) {
        (WallLine::Centre, false) => ("centre", "Draw walls by their centre"),
        (WallLine::LeftFace, false) => ("left face", "Draw walls by their left face"),
        (WallLine::RightFace, false) => ("right face", "Draw walls by their right face"),
        (WallLine::Centre, true) => ("centres", "Draw four walls by their centres"),
        (WallLine::LeftFace, true) => ("inner faces", "Draw four walls by their inner faces"),
        (WallLine::RightFace, true) => ("outer faces", "Draw four walls by their outer faces"),
    }
}

fn key(ui: &Ui, command: Command) -> String {
    command.row().key_words(ui.ctx())
}
