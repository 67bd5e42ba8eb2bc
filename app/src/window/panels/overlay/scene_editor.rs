//! A scene, edited as its sentence like a rule: a name in it opens the list of what could stand there, any other word
//! chooses the setting that is worked on beneath. Each edit is one change of the plan.

use egui::{Align, Frame, Layout, Margin, RichText, ScrollArea, Ui};
use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::sentence::{Clause, USUAL_RANK, scene_sentence};
use pattress_model::systems::{RuleBody, Scene, Setting};
use pattress_model::units::Seconds;

use super::offered::Offered;
use super::rule_parts::{self, Desk};
use super::{rule_editor, rule_sentence};
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::{lines, text_field};

/// The part that is worked on.
#[derive(Default)]
pub struct State {
    chosen: Option<Clause>,
}

/// Shows the editor of a scene; a scene that is gone closes it.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    id: Id<Scene>,
    offered: &mut Offered,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let project = session.project();
    let Some(scene) = project.scenes.get(id) else { return vec![Intent::CloseOverlay] };
    offered.keep_up(project);
    if fresh {
        *state = State::default();
    }
    let mut desk = Desk { project, offered, theme, refusals: Vec::new() };
    let mut intents = Vec::new();
    let mut edited = scene.clone();
    head(ui, &desk, id, &mut edited, fresh);
    // A scene has settings as a hold has, so the same words and parts serve.
    let mut body = holding(std::mem::take(&mut edited.settings));
    Frame::NONE.fill(theme.raised).inner_margin(Margin::symmetric(12, 10)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let phrases = scene_sentence(project, scene);
        let pointed = rule_sentence::ui(ui, &desk, &phrases, &mut body, &mut state.chosen);
        intents.extend(pointed.map(Intent::PointAt));
    });
    if let RuleBody::While { settings, .. } = body {
        edited.settings = settings;
    }
    let tallest = (ui.ctx().content_rect().height() - 360.0).max(120.0);
    ScrollArea::vertical().id_salt("scene").max_height(tallest).auto_shrink([false, true]).show(ui, |ui| {
        part(ui, &mut desk, state, id, &mut edited.settings);
    });
    ui.horizontal(|ui| {
        if ui.button("Add a setting").clicked()
            && let Some(setting) = rule_editor::first_setting(&mut desk)
        {
            state.chosen = Some(Clause::Setting(edited.settings.len()));
            edited.settings.push(setting);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Done").clicked() {
                intents.push(Intent::CloseOverlay);
            }
            if ui.button("Remove scene").clicked() {
                let change = verbs::remove_scene(project, id);
                let goes = change.is_ok();
                intents.push(Intent::Change(change));
                intents.extend(goes.then_some(Intent::CloseOverlay));
            }
        });
    });
    intents.extend(desk.refusals.into_iter().map(|sentence| Intent::Change(Err(sentence))));
    if edited != *scene {
        intents.push(Intent::Change(verbs::edit_scene(project, id, edited)));
    }
    intents
}

fn holding(settings: Vec<Setting>) -> RuleBody {
    let linger = Seconds::ZERO;
    RuleBody::While { conditions: Vec::new(), linger, settings, rank: USUAL_RANK, yields_to_hand: true }
}

fn head(ui: &mut Ui, desk: &Desk<'_>, id: Id<Scene>, scene: &mut Scene, fresh: bool) {
    ui.horizontal(|ui| {
        let salt = egui::Id::unique(("scene name", id.number()));
        let (response, typed) = text_field(ui, salt, "Name of the scene", &scene.name, 220.0);
        if fresh {
            response.request_focus();
        }
        if let Some(name) = typed {
            scene.name = name;
        }
        ui.label(RichText::new("listed under").color(desk.theme.quiet));
        let mut offered = vec![(None, "Whole house".to_owned())];
        offered.extend(desk.project.rooms.iter().map(|(room, found)| (Some(room), found.name.clone())));
        let shown = offered.iter().find(|(room, _)| *room == scene.room).map_or("", |(_, words)| words);
        let shown = shown.to_owned();
        let salt = egui::Id::unique(("scene room", id.number()));
        if let Some(room) = lines::choice(ui, salt, "Listed under", &shown, 150.0, &offered) {
            scene.room = room;
        }
    });
    ui.add_space(6.0);
}

/// The setting that is worked on.
fn part(ui: &mut Ui, desk: &mut Desk<'_>, state: &mut State, id: Id<Scene>, settings: &mut Vec<Setting>) {
    ui.add_space(8.0);
    let at = match state.chosen {
        Some(Clause::Setting(at)) if at < settings.len() => at,
        _ => 0,
    };
    let Some(setting) = settings.get_mut(at) else { return };
    state.chosen = Some(Clause::Setting(at));
    let mut removed = false;
    ui.horizontal(|ui| {
        let words = format!("Setting {}", at + 1);
        ui.label(RichText::new(words).family(semi_bold()).color(desk.theme.ink));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            removed = lines::small_button(ui, "Remove", &format!("Remove setting {}", at + 1)).clicked();
        });
    });
    let salt = egui::Id::unique(("scene setting", id.number(), at));
    ui.horizontal_wrapped(|ui| rule_parts::setting(ui, desk, salt, setting));
    ui.add_space(8.0);
    if removed {
        settings.remove(at);
    }
}
