//! The head of the window: the stage of the job, the level, undo and redo by name, and the way to everything
//! else.

use egui::{Align, Button, Layout, RichText, Ui};
use pattress_model::edit::Subject;

use crate::window::command::{Command, Group, TABLE};
use crate::window::intent::{Intent, Viewing};
use crate::window::session::{Session, Stage};
use crate::window::theme::{Theme, medium};

/// Shows the head.
pub fn ui(ui: &mut Ui, session: &Session, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    ui.horizontal(|ui| {
        stages(ui, session, theme, &mut intents);
        ui.separator();
        levels(ui, session, &mut intents);
        ui.separator();
        steps(ui, session, &mut intents);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            for group in Group::ALL.into_iter().rev() {
                menu(ui, group, &mut intents);
            }
            if ui.button("Find…").on_hover_text(tip(Command::Find)).clicked() {
                intents.push(Intent::Run(Command::Find));
            }
            let changed = if session.is_changed() { "Save •" } else { "Save" };
            if ui.button(changed).on_hover_text(tip(Command::Save)).clicked() {
                intents.push(Intent::Run(Command::Save));
            }
        });
    });
    intents
}

/// The stages as tabs: the one at hand is filled.
fn stages(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    ui.spacing_mut().item_spacing.x = 2.0;
    for stage in Stage::ALL {
        let chosen = session.stage() == stage;
        let ink = if chosen { theme.on_accent } else { theme.ink };
        let words = RichText::new(stage.name()).family(medium()).color(ink);
        let fill = if chosen { theme.accent } else { theme.panel };
        let button = Button::new(words).fill(fill).stroke(egui::Stroke::NONE);
        let response = ui.add(button);
        response
            .widget_info(|| egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, stage.name()));
        if response.clicked() {
            intents.push(Intent::View(Viewing::Stage(stage)));
        }
    }
    ui.spacing_mut().item_spacing.x = 8.0;
}

fn levels(ui: &mut Ui, session: &Session, intents: &mut Vec<Intent>) {
    let levels = session.project().levels_upwards();
    let now = session.project().levels.get(session.level()).map_or("", |level| level.name.as_str());
    let combo = egui::ComboBox::from_id_salt("level").selected_text(now).width(120.0).show_ui(ui, |ui| {
        for (id, level) in levels.into_iter().rev() {
            if ui.selectable_label(id == session.level(), &level.name).clicked() {
                intents.push(Intent::View(Viewing::Level(id)));
                intents.push(Intent::Say(format!("{}.", level.name)));
            }
        }
    });
    combo
        .response
        .widget_info(|| egui::WidgetInfo::labeled(egui::Role::ComboBox, true, format!("Level: {now}")));
    let _ = Subject::Site;
}

fn steps(ui: &mut Ui, session: &Session, intents: &mut Vec<Intent>) {
    for (command, label) in
        [(Command::Undo, session.history().undo_label()), (Command::Redo, session.history().redo_label())]
    {
        let words = command.label();
        let hover = label.map_or_else(
            || format!("Nothing to {}.", words.to_lowercase()),
            |label| format!("{words}: {label}"),
        );
        let response = ui.add_enabled(label.is_some(), Button::new(words));
        let response = response.on_hover_text(&hover).on_disabled_hover_text(&hover);
        if response.clicked() {
            intents.push(Intent::Run(command));
        }
    }
}

fn menu(ui: &mut Ui, group: Group, intents: &mut Vec<Intent>) {
    ui.menu_button(group.name(), |ui| {
        ui.set_min_width(230.0);
        for row in TABLE.iter().filter(|row| row.group == group) {
            let keys = row.key_words(ui.ctx());
            let button = Button::new(row.label).shortcut_text(keys).frame(false);
            if ui.add_sized([ui.available_width(), 24.0], button).on_hover_text(row.tip).clicked() {
                intents.push(Intent::Run(row.command));
                ui.close();
            }
        }
    });
}

fn tip(command: Command) -> String {
    command.row().tip.to_owned()
}
