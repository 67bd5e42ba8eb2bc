//! The card at the thing that is worked: a device with its points, or the leaves of a window or a piece of joinery.

use egui::{Align, Area, Frame, Layout, Order, Rect, RichText, Stroke, Ui, vec2};
use pattress_model::building::told_open::{OPEN, ToldOpen};
use pattress_model::edit::Subject;
use pattress_model::systems::PointRef;

use super::points;
use crate::window::canvas::Surface;
use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::lines;
use crate::window::wording;

/// Width of a card, points.
const WIDTH: f32 = 292.0;

/// It stands so far beside the thing.
const BESIDE: f32 = 22.0;

/// Shows the card of the thing that is worked, beside it.
pub fn ui(ctx: &egui::Context, surface: &Surface, live: &LivePlan, theme: &Theme) -> Vec<Intent> {
    let Some(subject) = live.card() else { return Vec::new() };
    let board = surface.board().shrink(6.0);
    let at = place_of(live, subject).map_or(board.left_top(), |at| surface.screen_of(at));
    let at = if board.contains(at) { at } else { board.left_top() };
    let left = if at.x + BESIDE + WIDTH + 24.0 < board.right() {
        at.x + BESIDE
    } else {
        at.x - BESIDE - WIDTH - 24.0
    };
    let mut intents = Vec::new();
    Area::new(egui::Id::unique(("rehearsal card", subject)))
        .order(Order::Middle)
        .constrain_to(board)
        .fixed_pos(egui::pos2(left, at.y - 40.0))
        .show(ctx, |ui| {
            Frame::NONE
                .fill(theme.panel)
                .stroke(Stroke::new(1.0, theme.accent))
                .corner_radius(4)
                .inner_margin(10)
                .shadow(egui::Shadow { offset: [0, 3], blur: 12, spread: 0, color: theme.edge })
                .show(ui, |ui| content(ui, live, subject, board, theme, &mut intents));
        });
    intents
}

fn content(
    ui: &mut Ui,
    live: &LivePlan,
    subject: Subject,
    board: Rect,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    ui.set_width(WIDTH);
    ui.spacing_mut().item_spacing = vec2(6.0, 5.0);
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if lines::small_button(ui, "Close", "Close the card").clicked() {
                intents.push(Intent::Rehearse(Rehearsing::Card(None)));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let title = wording::title(live.plan(), subject);
                ui.add(egui::Label::new(RichText::new(title).family(semi_bold())).truncate());
            });
        });
    });
    let most = board.height() * 0.7;
    egui::ScrollArea::vertical().max_height(most).auto_shrink([false, true]).show(ui, |ui| match subject {
        Subject::Device(id) => points::of_device(ui, live, id, theme, intents),
        Subject::Opening(id) => leaves(ui, live, ToldOpen::Opening(id), theme, intents),
        Subject::Joinery(id) => leaves(ui, live, ToldOpen::Joinery(id), theme, intents),
        _ => {
            lines::caption(ui, theme, "Nothing of this can be worked by hand.");
        }
    });
}

/// The contacts of a thing that opens, each to be opened and shut.
fn leaves(ui: &mut Ui, live: &LivePlan, told: ToldOpen, theme: &Theme, intents: &mut Vec<Intent>) {
    for contact in live.contacts_of(told) {
        let name = pattress_model::sentence::device_words(live.plan(), contact);
        points::switch(ui, live, &PointRef::new(contact, OPEN), &name, theme, intents);
    }
}

/// Where a thing is on the plan.
fn place_of(live: &LivePlan, subject: Subject) -> Option<kurbo::Point> {
    let project = live.plan();
    match subject {
        Subject::Device(id) => project.position_of(project.devices.get(id)?),
        Subject::Opening(id) => {
            let opening = project.openings.get(id)?;
            Some(project.walls.get(opening.wall)?.on_axis(opening.centre))
        }
        Subject::Joinery(id) => project.joinery.get(id).map(|piece| piece.centre),
        _ => None,
    }
}
