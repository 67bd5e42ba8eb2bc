//! The head of the window: the stage of the job, the level, undo and redo by name, and the way to everything
//! else.

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Align, Button, Checkbox, Layout, PopupCloseBehavior, RichText, Ui};
use pattress_model::drawing::Layer;
use pattress_model::plan::DoorsAs;

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
        layers(ui, session, theme, &mut intents);
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
}

/// What shows on the board, layer by layer, and how coverage takes the doors.
fn layers(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let tip = "Choose what shows on the board. The sheets that are issued do not change.";
    let stays_open = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let menu = MenuButton::new("Layers").config(stays_open).ui(ui, |ui| {
        ui.set_min_width(210.0);
        // Menus take the edges from what they hold; boxes to tick need theirs.
        ui.visuals_mut().widgets.inactive.bg_stroke = egui::Stroke::new(1.0, theme.quiet);
        for layer in Layer::ALL.into_iter().rev() {
            let mut shown = session.layers().contains(&layer);
            let possible = layer != Layer::LevelBelow || session.level_below().is_some();
            let checkbox = ui.add_enabled(possible, Checkbox::new(&mut shown, words_of(layer)));
            if checkbox.on_disabled_hover_text("There is no level below.").changed() {
                intents.push(Intent::View(Viewing::Layer(layer, shown)));
            }
        }
        ui.separator();
        ui.label("Coverage takes doors");
        for (doors, words) in
            [(DoorsAs::Drawn, "as each is drawn"), (DoorsAs::Open, "all open"), (DoorsAs::Shut, "all shut")]
        {
            if ui.radio(session.doors() == doors, words).clicked() {
                intents.push(Intent::View(Viewing::Doors(doors)));
            }
        }
    });
    menu.0.on_hover_text(tip);
}

const fn words_of(layer: Layer) -> &'static str {
    match layer {
        Layer::Underlay => "Picture beneath",
        Layer::LevelBelow => "Level below",
        Layer::Zones => "Zones",
        Layer::Coverage => "Coverage",
        Layer::Joinery => "Joinery",
        Layer::Building => "Building",
        Layer::Rooms => "Room names",
        Layer::Spots => "Spots and walks",
        Layer::Devices => "Devices",
        Layer::Tags => "Tags and heights",
        Layer::Dimensions => "Setting-out dimensions",
        Layer::Frame => "Frame and legend",
    }
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
