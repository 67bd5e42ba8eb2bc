//! Storeys of a building model, straight into the plan as one change: levels, walls, openings and rooms.

use pattress_model::edit::{Change, verbs};
use pattress_model::survey::ifc::Storey;

use crate::window::board::{Board, Said};
use crate::window::survey::desk::Stand;
use crate::window::survey::reading::What;

use super::beneath::show_beneath;

/// Brings in the chosen storeys of the building on the desk.
pub fn lay(board: &mut Board, ctx: &egui::Context, chosen: &[usize]) {
    let Stand::Read(brought) = board.desk.stand().clone() else { return };
    let What::Building(building) = &brought.what else { return };
    let storeys: Vec<&Storey> = chosen.iter().filter_map(|index| building.storeys.get(*index)).collect();
    let (change, levels) = match verbs::bring_in_building(board.session.project(), building, &storeys) {
        Ok(laid) => laid,
        Err(sentence) => return super::refuse(board, sentence),
    };
    let label = format!("Bring in the building from {}", brought.name);
    let rooms_before = board.session.project().rooms.len();
    super::apply(board, ctx, Change { label, ..change });
    if board.said.refused {
        return;
    }
    board.overlay = None;
    board.desk.clear();
    board.session.selection.clear();
    if let Some(lowest) = levels.first() {
        show_beneath(board, ctx, *lowest);
    }
    let named = board.session.project().rooms.len() - rooms_before;
    let told: usize = storeys.iter().map(|storey| storey.proposal.rooms.len()).sum();
    let open = match told.saturating_sub(named) {
        0 => String::new(),
        1 => " 1 room that no walls part from its neighbour has no name.".to_owned(),
        count => format!(" {count} rooms that no walls part from their neighbours have no name."),
    };
    let sentence = format!("Brought in {}: check it on site.{open}", brought.name);
    board.said = Said { sentence, refused: false };
}
