//! What a plate says: key by key its words, what it does, and whether the legend is final.

use egui::{RichText, Ui};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::Room;
use pattress_model::sentence::keys::{PlateKey, agreed_legend, keys_that_differ, legend_of, plate};

use super::row;
use crate::window::intent::{Intent, Selecting};
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::{lines, text_field};

/// How wide the field of a line of words is, points.
const LINE_WIDTH: f32 = 100.0;

/// Shows the keys of a plate that hangs in a room; nothing for what has no keys.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    id: Id<Device>,
    room: Option<Id<Room>>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let Some(device) = project.devices.get(id) else { return };
    let Some(plate) = plate(project, id) else { return };
    ui.add_space(6.0);
    row::row(ui, "Legend", |ui| {
        let is_final = device.legend.is_final;
        let name = if is_final { "Legend is final" } else { "Mark the legend final" };
        if lines::switch(ui, theme, is_final, name).clicked() {
            intents.push(Intent::Change(if is_final {
                verbs::take_legend_back(project, id)
            } else {
                verbs::mark_legend_final(project, id, agreed_legend(project, id, room).unwrap_or_default())
            }));
        }
        ui.label(if is_final { "final, may be engraved" } else { "provisional" });
    });
    let differing: Vec<&str> =
        keys_that_differ(&device.legend, &plate).iter().map(|(key, _)| key.key.as_str()).collect();
    for key in &plate.keys {
        key_rows(ui, session, (id, key), room, theme, intents);
        if differing.contains(&key.key.as_str()) {
            let words = "It did something else when the legend was agreed.";
            ui.label(RichText::new(words).size(12.0).color(theme.warn));
        }
    }
}

/// A key: two fields of words, and beneath them what it does, each a way to its rule.
fn key_rows(
    ui: &mut Ui,
    session: &Session,
    (id, key): (Id<Device>, &PlateKey),
    room: Option<Id<Room>>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let legend = legend_of(project, id, key, room);
    let is_final = project.devices.get(id).is_some_and(|device| device.legend.is_final);
    row::row(ui, &key.key, |ui| {
        if is_final {
            ui.label(RichText::new(legend.words.join(" ").trim()).family(medium()));
            return;
        }
        for (index, line) in ["first line", "second line"].into_iter().enumerate() {
            let name = format!("{}, {line}", key.key);
            let salt = row::salt(Subject::Device(id), &name);
            if let (_, Some(typed)) = text_field(ui, salt, &name, &legend.words[index], LINE_WIDTH) {
                let mut words = legend.words.clone();
                words[index] = typed;
                intents.push(Intent::Change(verbs::set_legend(project, id, &key.key, words)));
            }
        }
        if legend.is_decided {
            let name = format!("Let {} say again what it does", key.key);
            if lines::small_button(ui, "×", &name).clicked() {
                intents.push(Intent::Change(verbs::set_legend(project, id, &key.key, Default::default())));
            }
        }
    });
    if key.deeds.is_empty() {
        lines::caption(ui, theme, "does nothing: no rule that is on listens to it");
    }
    for deed in &key.deeds {
        let words = RichText::new(deed.told()).size(12.0);
        let response = ui.add(egui::Label::new(words).wrap().sense(egui::Sense::click()));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Link, true, deed.told()));
        lines::ring_if_focused(ui, &response);
        let rule = Subject::Rule(deed.rule);
        if response.hovered() {
            intents.push(Intent::PointAt(rule));
        }
        if response.clicked() {
            intents.push(Intent::Select(Selecting::Only(vec![rule])));
        }
    }
}
