//! The card of a room, where a place is suggested: for which kind, to do what, and the best three with their numbers.

use egui::{Id as UiId, RichText, Role, Ui, WidgetInfo};
use pattress_model::id::Id;
use pattress_model::kit::Kind;
use pattress_model::kit::catalogue::catalogue;
use pattress_model::plan::Room;
use pattress_model::project::Table;

use super::{Seen, row};
use crate::window::intent::Intent;
use crate::window::panels::kit::kinds_of;
use crate::window::suggesting::{Found, Sought, Suggesting, can_be_sought, gives, risks, wishes};
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::lines;

/// Width of the choices, points.
const CHOICE: f32 = 190.0;

/// What is remembered between frames: what was chosen last, by name, and the kinds there are.
#[derive(Default)]
pub struct State {
    kind: Option<String>,
    wish: Option<String>,
    shipped: Vec<Kind>,
    listed: Option<(Table<Kind>, Vec<Kind>)>,
    /// The answer that was brought into view.
    shown: Option<u64>,
}

impl State {
    /// The kinds for which places can be sought.
    fn keep_up(&mut self, own: &Table<Kind>, seen: &Seen<'_>) {
        if self.shipped.is_empty() {
            self.shipped = catalogue().into_iter().map(|entry| entry.kind).collect();
        }
        if !self.listed.as_ref().is_some_and(|(of, _)| of.is_same(own)) {
            let kinds = kinds_of(seen.session.project(), &self.shipped);
            self.listed = Some((own.clone(), kinds.into_iter().filter(can_be_sought).collect()));
        }
    }
}

/// Shows what can be asked, and what was answered for this room.
pub fn ui(
    ui: &mut Ui,
    seen: &Seen<'_>,
    room: Id<Room>,
    state: &mut State,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = seen.session.project();
    let Some(level) = project.rooms.get(room).map(|room| room.level) else { return };
    if seen.session.client_view() || !seen.figures.outlines.contains_key(&room) {
        return;
    }
    state.keep_up(&project.kinds, seen);
    let fresh = seen.suggested.found().filter(|found| state.shown != Some(found.number));
    if let Some(found) = fresh {
        state.kind = Some(found.sought.kind.name.clone());
    }
    let kinds = state.listed.as_ref().map_or(&[][..], |(_, kinds)| kinds);
    let chosen = kinds.iter().find(|kind| state.kind.as_ref() == Some(&kind.name)).or(kinds.first());
    let Some(kind) = chosen.cloned() else { return };
    let names: Vec<(String, String)> =
        kinds.iter().map(|kind| (kind.name.clone(), kind.name.clone())).collect();
    let wished = wishes(project, level, &kind);
    let wish =
        wished.iter().find(|(_, words)| state.wish.as_ref() == Some(words)).or(wished.first()).cloned();
    ui.add_space(6.0);
    ui.label(RichText::new("Suggest a place").family(semi_bold()).size(12.0).color(theme.quiet));
    row::row(ui, "For a", |ui| {
        let salt = UiId::unique("suggest a place: kind");
        if let Some(name) = lines::choice(ui, salt, "Kind to place", &kind.name, CHOICE, &names) {
            state.kind = Some(name);
        }
    });
    let Some((wish, words)) = wish else {
        lines::caption(
            ui,
            theme,
            "Mark what a camera is to show first: Draw, Mark a spot, to be seen by a camera.",
        );
        return;
    };
    row::row(ui, "to", |ui| {
        let salt = UiId::unique("suggest a place: wish");
        let offered: Vec<(String, String)> =
            wished.iter().map(|(_, words)| (words.clone(), words.clone())).collect();
        if let Some(picked) = lines::choice(ui, salt, "What it is to do", &words, CHOICE, &offered) {
            state.wish = Some(picked);
        }
    });
    if seen.suggested.seeking().is_some() {
        ui.horizontal(|ui| {
            ui.spinner();
            ui.label("Trying places …");
        });
        return;
    }
    let button = ui.button("Suggest a place").on_hover_text(
        "Try up to 200 poses on the walls or the ceiling of this room and show the best three on the plan.",
    );
    if button.clicked() {
        intents.push(Intent::Suggest(Suggesting::Seek(Box::new(Sought { room, kind, wish }))));
    }
    if let Some(found) = seen.suggested.found().filter(|found| found.sought.room == room) {
        let begin = ui.next_widget_position();
        answers(ui, seen, found, theme, intents);
        if state.shown.replace(found.number) != Some(found.number) {
            let answered = egui::Rect::from_min_max(begin, ui.next_widget_position());
            ui.scroll_to_rect(answered, None);
        }
    }
}

/// The places with their numbers, and what they were ranked by.
fn answers(ui: &mut Ui, seen: &Seen<'_>, found: &Found, theme: &Theme, intents: &mut Vec<Intent>) {
    ui.add_space(4.0);
    ui.label(RichText::new(format!("{}, best first", found.sought.kind.name)).size(12.0).color(theme.quiet));
    for (index, pose) in found.suggestion.best.iter().enumerate() {
        let words = gives(found.sought.wish, pose);
        let lit = seen.suggested.pointed() == Some(index);
        let line = lines::line(ui, theme, lit, |ui| {
            ui.horizontal_wrapped(|ui| {
                let name = format!("Place it at {}: {words}", index + 1);
                let button = ui.button(RichText::new((index + 1).to_string()).family(semi_bold()));
                button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
                ui.label(&words);
                button
            })
            .inner
        });
        if line.hovered || line.inner.has_focus() {
            intents.push(Intent::Suggest(Suggesting::PointAt(index)));
        }
        if line.inner.clicked() || line.response.clicked() {
            intents.push(Intent::Suggest(Suggesting::Take(index)));
        }
        if found.sought.kind.optics.is_none() {
            lines::caption(ui, theme, risks(pose));
        }
    }
    ui.add_space(2.0);
    lines::caption(ui, theme, &found.suggestion.said);
    if lines::small_button(ui, "Drop them", "Drop the suggested places").clicked() {
        intents.push(Intent::Suggest(Suggesting::Drop));
    }
}
