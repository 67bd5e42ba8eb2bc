//! What lies over the board, one at a time: the finder, the sheets, editors, questions.
//!
//! Each is centred over the board, closes with Escape or a click beside it, and has the keyboard in its first
//! field when it opens. While one is open the bare keys of the board are at rest.

mod array;
mod bring_in;
mod finder;
mod keys;
mod kind_battery;
mod kind_desk;
mod kind_editor;
mod kind_lens;
mod kind_points;
mod kind_senses;
mod new_rule;
mod offered;
mod picker;
mod preview;
mod rule_editor;
mod rule_forms;
mod rule_parts;
mod rule_sentence;
mod rule_typed;
mod scale_checked;
mod scene_editor;
mod site;
mod site_field;
mod site_place;
mod storeys;
mod templates;
mod type_path;
mod unsaved;

use egui::{Context, Frame, Margin, Modal, Stroke, Ui};

use super::State as Panels;
use crate::window::intent::{Intent, Overlay};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::survey::Desk;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// What overlays remember between frames.
#[derive(Default)]
pub struct State {
    shown: Option<Overlay>,
    /// How large the overlay was in the frame before.
    size: Option<egui::Vec2>,
    offered: offered::Offered,
    finder: finder::State,
    array: array::State,
    bring_in: bring_in::State,
    new_rule: new_rule::State,
    rule: rule_editor::State,
    scene: scene_editor::State,
    kind: kind_editor::State,
    preview: preview::State,
    type_path: String,
}

impl State {
    /// Nothing lies over the board: what opens next is fresh.
    pub fn rest(&mut self) {
        self.shown = None;
    }

    /// Whether the overlay was not there in the frame before.
    fn is_fresh(&mut self, overlay: &Overlay) -> bool {
        let fresh = self.shown.as_ref() != Some(overlay);
        self.shown = Some(overlay.clone());
        fresh
    }
}

/// What overlays may look at.
pub struct Seen<'a> {
    /// The plan.
    pub session: &'a Session,
    /// What was computed of it.
    pub figures: &'a Figures,
    /// A file on its way in.
    pub desk: &'a Desk,
}

/// Shows what lies over the board.
pub fn ui(
    ctx: &Context,
    overlay: &mut Overlay,
    seen: &Seen<'_>,
    panels: &mut Panels,
    theme: &Theme,
) -> Vec<Intent> {
    let state = &mut panels.overlay;
    let fresh = state.is_fresh(overlay);
    let screen = ctx.content_rect();
    let width = match overlay {
        Overlay::Preview => screen.width() - 48.0,
        Overlay::RuleEditor(_) | Overlay::SceneEditor(_) | Overlay::KindEditor(_) => 780.0,
        Overlay::Keys => 820.0,
        Overlay::BringIn => (screen.width() * 0.55).max(900.0),
        Overlay::Site | Overlay::Finder | Overlay::NewRule => 600.0,
        Overlay::Array | Overlay::ScaleChecked(_) | Overlay::TypePath(_) | Overlay::Unsaved(_) => 460.0,
    }
    .min(screen.width() - 48.0);
    let frame = Frame::NONE
        .fill(theme.panel)
        .stroke(Stroke::new(1.0, theme.edge))
        .corner_radius(4.0)
        .inner_margin(Margin::same(18));
    let modal = Modal::new(egui::Id::unique("overlay")).frame(frame).show(ctx, |ui| {
        ui.set_width(width - 36.0);
        content(ui, overlay, seen, state, fresh, theme)
    });
    // It is centred by the size it had: where that is another now, it is laid out again before anybody clicks.
    let size = Some(modal.response.rect.size());
    if panels.overlay.size != size {
        panels.overlay.size = size;
        ctx.request_repaint();
    }
    let mut intents = Vec::new();
    let close = modal.should_close();
    intents.extend(modal.inner);
    if close {
        intents.push(Intent::CloseOverlay);
    }
    // The board beneath is at rest: its bare keys would draw and remove things unseen.
    ctx.input_mut(|input| {
        input.events.retain(|event| match event {
            egui::Event::Key { modifiers, .. } => modifiers.command,
            _ => true,
        });
    });
    intents
}

fn content(
    ui: &mut Ui,
    overlay: &Overlay,
    seen: &Seen<'_>,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let Seen { session, figures, desk } = *seen;
    match overlay {
        Overlay::Finder => finder::ui(ui, session, figures, &mut state.finder, fresh, theme),
        Overlay::Preview => preview::ui(ui, session, &mut state.preview, fresh, theme),
        Overlay::NewRule => new_rule::ui(ui, session, &mut state.offered, &mut state.new_rule, fresh, theme),
        Overlay::RuleEditor(id) => {
            rule_editor::ui(ui, session, *id, &mut state.offered, &mut state.rule, fresh, theme)
        }
        Overlay::SceneEditor(id) => {
            scene_editor::ui(ui, session, *id, &mut state.offered, &mut state.scene, fresh, theme)
        }
        Overlay::KindEditor(id) => kind_editor::ui(ui, session, *id, &mut state.kind, fresh, theme),
        Overlay::Site => site::ui(ui, session, fresh, theme),
        Overlay::BringIn => bring_in::ui(ui, session, desk, &mut state.bring_in, fresh, theme),
        Overlay::ScaleChecked(check) => scale_checked::ui(ui, session, check, fresh, theme),
        Overlay::Array => array::ui(ui, session, figures, &mut state.array, fresh, theme),
        Overlay::Keys => keys::ui(ui, fresh, theme),
        Overlay::TypePath(purpose) => {
            type_path::ui(ui, session, *purpose, &mut state.type_path, fresh, theme)
        }
        Overlay::Unsaved(after) => unsaved::ui(ui, session, after, fresh, theme),
    }
}

/// The title of an overlay, with a button at the right that closes it.
fn title(ui: &mut Ui, words: &str, intents: &mut Vec<Intent>) -> egui::Response {
    let close = ui
        .horizontal(|ui| {
            lines::heading(ui, words);
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                lines::small_button(ui, "Close", "Close (Esc)")
            })
            .inner
        })
        .inner;
    if close.clicked() {
        intents.push(Intent::CloseOverlay);
    }
    ui.add_space(6.0);
    close
}
