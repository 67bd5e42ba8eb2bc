//! The sentence of a rule as the thing that is edited: a word that names something opens the list of what could
//! stand in its place, any other chooses the part of the rule that is worked on beneath.

use egui::{Label, RichText, Role, Sense, Ui, WidgetInfo, vec2};
use pattress_model::edit::Subject;
use pattress_model::sentence::{Clause, Phrase, Thing, things_of};
use pattress_model::systems::RuleBody;

use super::offered::Point;
use super::picker::{Choice, pick_at};
use super::rule_parts::{self, Desk, grouped};
use crate::window::widgets::lines::ring_if_focused;

/// Shows the sentence. Returns the thing that the pointer or the keyboard is on.
pub fn ui(
    ui: &mut Ui,
    desk: &Desk<'_>,
    phrases: &[Phrase],
    body: &mut RuleBody,
    chosen: &mut Option<Clause>,
) -> Option<Subject> {
    let mut pointed = None;
    ui.spacing_mut().interact_size.y = 18.0;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(0.0, 3.0);
        for phrase in phrases {
            let Some(part) = phrase.part else {
                ui.label(RichText::new(&phrase.words).size(14.0).color(desk.theme.ink));
                continue;
            };
            let is_chosen = *chosen == Some(part.clause);
            let names_something = part.thing.is_some();
            let response = words(ui, desk, &phrase.words, names_something, is_chosen);
            if response.hovered() || response.has_focus() {
                pointed = phrase.subject.or(pointed);
            }
            if response.clicked() {
                *chosen = Some(part.clause);
            }
            if let Some(thing) = part.thing
                && let Some(thing) = things_of(body, part.clause).into_iter().nth(thing)
            {
                pick_instead(ui, desk, &response, thing);
            }
        }
    });
    pointed
}

fn words(ui: &mut Ui, desk: &Desk<'_>, words: &str, names_something: bool, chosen: bool) -> egui::Response {
    let theme = desk.theme;
    let ink = if names_something { theme.accent } else { theme.ink };
    let mut text = RichText::new(words).size(14.0).color(ink);
    if names_something {
        text = text.underline();
    }
    if chosen {
        text = text.background_color(theme.accent_soft);
    }
    let response = ui.add(Label::new(text).sense(Sense::click()));
    let (role, name) = if names_something {
        (Role::ComboBox, format!("Instead of {words}"))
    } else {
        (Role::Button, format!("Work on “{}”", words.trim()))
    };
    response.widget_info(|| WidgetInfo::labeled(role, true, &name));
    ring_if_focused(ui, &response);
    let tip = if names_something { "Pick another" } else { "Change this part" };
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text(tip)
}

/// Lets another thing be picked in place of one, and makes what depends on it fit.
fn pick_instead(ui: &mut Ui, desk: &Desk<'_>, response: &egui::Response, thing: Thing<'_>) {
    let (project, offered) = (desk.project, desk.offered);
    match thing {
        Thing::Event(point, gesture) => {
            if let Some(other) = at(ui, desk, response, || desk.points_offered(Point::is_event)) {
                rule_parts::fit_gesture(&other, gesture);
                *point = other;
            }
        }
        Thing::Key(point) => {
            if let Some(other) = at(ui, desk, response, || desk.points_offered(Point::is_event)) {
                *point = other;
            }
        }
        Thing::Compared(point, comparison, value) => {
            if let Some(other) = at(ui, desk, response, || desk.points_offered(Point::has_value)) {
                rule_parts::fit_comparison(offered, point, &other, comparison, value);
                *point = other;
            }
        }
        Thing::Worked(target, deed) => {
            if let Some(other) = at(ui, desk, response, || desk.targets_offered()) {
                rule_parts::fit_deed(project, offered, target.as_ref(), &other, deed);
                *target = Some(other);
            }
        }
        Thing::Held(target, value) => {
            if let Some(other) = at(ui, desk, response, || desk.targets_offered()) {
                rule_parts::fit_value(project, offered, target, &other, value);
                *target = other;
            }
        }
        Thing::WiredTo(target) => put(target, at(ui, desk, response, || desk.targets_offered())),
        Thing::Zone(zone) => put(zone, at(ui, desk, response, || grouped("Zone", desk.zones_offered()))),
        Thing::Mode(mode) => {
            put(mode, at(ui, desk, response, || grouped("House mode", desk.modes_offered())));
        }
        Thing::Scene(scene) => {
            put(scene, at(ui, desk, response, || grouped("Scene", desk.scenes_offered())));
        }
        Thing::Rule(rule) => put(rule, at(ui, desk, response, || grouped("Rule", desk.rules_offered()))),
        Thing::Camera(camera) => {
            put(camera, at(ui, desk, response, || grouped("Camera", desk.cameras_offered())));
        }
    }
}

fn at<T: Clone>(
    ui: &Ui,
    desk: &Desk<'_>,
    response: &egui::Response,
    choices: impl FnOnce() -> Vec<Choice<T>>,
) -> Option<T> {
    pick_at(ui, desk.theme, response, choices)
}

fn put<T>(place: &mut T, picked: Option<T>) {
    if let Some(picked) = picked {
        *place = picked;
    }
}
