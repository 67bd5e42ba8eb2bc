//! Scenes and house modes, beneath the zones: what rules run and speak of, made and named here.

use egui::{Align, Layout, Ui};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::sentence::scene_sentence;
use pattress_model::systems::Scene;

use super::pick;
use crate::window::intent::{Intent, Overlay};
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{lines, telling, text_field};

/// Shows the scenes, then the modes.
pub fn ui(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    let added = heading(ui, theme, "Scenes", "New scene");
    if added {
        let id = Id::from_number(project.next_id());
        let name = free_name("Scene", |name| project.scenes.iter().any(|(_, scene)| scene.name == name));
        let change = verbs::add_scene(project, Scene { name, room: None, settings: Vec::new() });
        let opens = change.is_ok();
        intents.push(Intent::Change(change));
        intents.extend(opens.then_some(Intent::Open(Overlay::SceneEditor(id))));
    }
    if project.scenes.is_empty() {
        lines::nothing(ui, theme, "No scenes yet. A scene sets several things in one go; rules run it.");
    }
    for (id, scene) in project.scenes.iter() {
        scene_line(ui, session, id, scene, theme, intents);
    }
    modes(ui, session, theme, intents);
}

/// A heading with a button at its right that adds one more; whether it was clicked.
fn heading(ui: &mut Ui, theme: &Theme, words: &str, adding: &str) -> bool {
    ui.horizontal(|ui| {
        lines::group(ui, theme, words);
        ui.with_layout(Layout::right_to_left(Align::Max), |ui| {
            ui.add_space(12.0);
            lines::small_button(ui, adding, adding).clicked()
        })
        .inner
    })
    .inner
}

/// A name that nothing of the sort has yet.
fn free_name(stem: &str, taken: impl Fn(&str) -> bool) -> String {
    let mut number = 1;
    while taken(&format!("{stem} {number}")) {
        number += 1;
    }
    format!("{stem} {number}")
}

fn scene_line(
    ui: &mut Ui,
    session: &Session,
    id: Id<Scene>,
    scene: &Scene,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let subject = Subject::Scene(id);
    let marked = session.pointed_at() == Some(subject) || session.selection().contains(&subject);
    let name = &scene.name;
    let line = lines::line(ui, theme, marked, |ui| {
        ui.push_id(("scene", id.number()), |ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if lines::small_button(ui, "Remove", &format!("Remove scene {name}")).clicked() {
                    intents.push(Intent::Change(verbs::remove_scene(project, id)));
                }
                if lines::small_button(ui, "Edit", &format!("Edit scene {name}")).clicked() {
                    intents.push(Intent::Open(Overlay::SceneEditor(id)));
                }
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    if lines::name_button(ui, name, &format!("Scene {name}"), theme.ink).clicked() {
                        pick(subject, intents);
                    }
                });
            });
            telling::sentence(ui, theme, &scene_sentence(project, scene), false)
        })
        .inner
    });
    match line.inner.pointed {
        Some(thing) => intents.push(Intent::PointAt(thing)),
        None if line.hovered => intents.push(Intent::PointAt(subject)),
        None => {}
    }
    if let Some(thing) = line.inner.clicked {
        pick(thing, intents);
    }
}

/// The modes of the house; the first is every house's own.
fn modes(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    if heading(ui, theme, "House modes", "New mode") {
        let name = free_name("Mode", |name| project.modes.iter().any(|(_, mode)| mode.name == name));
        intents.push(Intent::Change(verbs::add_mode(project, &name)));
    }
    let own = "At home, which every house has and starts in; others are entered by a rule or by hand.";
    lines::line(ui, theme, false, |ui| lines::caption(ui, theme, own));
    for (id, mode) in project.modes.iter() {
        lines::line(ui, theme, session.selection().contains(&Subject::Mode(id)), |ui| {
            ui.horizontal(|ui| {
                let salt = egui::Id::unique(("mode", id.number()));
                let label = format!("Name of the mode {}", mode.name);
                if let (_, Some(name)) = text_field(ui, salt, &label, &mode.name, 160.0) {
                    intents.push(Intent::Change(verbs::rename_mode(project, id, &name)));
                }
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    if lines::small_button(ui, "Remove", &format!("Remove mode {}", mode.name)).clicked() {
                        intents.push(Intent::Change(verbs::remove_mode(project, id)));
                    }
                });
            });
        });
    }
}
