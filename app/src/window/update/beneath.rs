//! Where the eye is turned once something was laid beneath a level.

use pattress_model::drawing::Layer;
use pattress_model::id::Id;
use pattress_model::plan::Level;

use crate::window::board::Board;
use crate::window::intent::{Intent, Viewing};
use crate::window::session::Stage;

use super::update;

/// Turns to the survey of a level, where drawings beneath show.
pub(super) fn show_beneath(board: &mut Board, ctx: &egui::Context, level: Id<Level>) {
    update(board, ctx, Intent::View(Viewing::Stage(Stage::Survey)));
    update(board, ctx, Intent::View(Viewing::Layer(Layer::Underlay, true)));
    if board.session.level() != level {
        let selection = board.session.selection.clone();
        update(board, ctx, Intent::View(Viewing::Level(level)));
        board.session.selection = selection;
    }
    board.surface.view(Viewing::WholePlan);
}
