//! Suggested places: sought, pointed at, taken.

use pattress_model::building::outline::room_at;
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::plan::Room;

use crate::window::board::{Board, Said};
use crate::window::intent::{Intent, Selecting};
use crate::window::suggesting::{Sought, Suggesting, can_be_sought, wishes};
use crate::window::tool_choice::ToolChoice;

use super::{refuse, survey, update};

/// Carries out what is asked of the suggested places.
pub fn suggesting(board: &mut Board, ctx: &egui::Context, asked: Suggesting) {
    match asked {
        Suggesting::Seek(sought) => {
            let hands = survey::hands(board, ctx);
            let (project, generation) = (board.session.project.clone(), board.session.generation());
            board.suggested.seek(&project, generation, *sought, &hands);
        }
        Suggesting::PointAt(index) => board.suggested.pointed = Some(index),
        Suggesting::Take(index) => {
            let Some(found) = board.suggested.found() else { return };
            let change = found.change(&board.session.project, index);
            let placed = change.is_ok();
            update(board, ctx, Intent::Change(change));
            if placed {
                update(board, ctx, Intent::TakeUp(ToolChoice::Pointer));
            }
        }
        Suggesting::Drop => drop_all(board),
    }
}

/// Takes in what was found, and drops what is of an older plan or no longer in hand.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    let in_hand = *board.surface.choice() == ToolChoice::TakePlace;
    let had = board.suggested.found().is_some();
    let generation = board.session.generation();
    if board.suggested.keep_up(&board.session.project, generation) {
        return show(board, ctx);
    }
    if in_hand && board.suggested.found().is_none() {
        board.surface.take_up(ToolChoice::Pointer);
    } else if had && !in_hand {
        board.suggested.drop_all();
    }
}

/// Shows what has just been found, and says what it was ranked by.
fn show(board: &mut Board, ctx: &egui::Context) {
    let Some(found) = board.suggested.found() else { return };
    if found.suggestion.best.is_empty() {
        let sentence = format!("No place is suggested. {}", found.suggestion.said);
        board.suggested.drop_all();
        return refuse(board, sentence);
    }
    let (room, tried) = (found.sought.room, found.suggestion.tried);
    let level = found.level;
    let sentence = format!("The best of {tried} poses: click a number to place it, Esc drops them.");
    if level == board.session.level {
        update(board, ctx, Intent::Select(Selecting::Only(vec![Subject::Room(room)])));
        update(board, ctx, Intent::TakeUp(ToolChoice::TakePlace));
    }
    board.said = Said { sentence, refused: false };
}

fn drop_all(board: &mut Board) {
    board.suggested.drop_all();
    if *board.surface.choice() == ToolChoice::TakePlace {
        board.surface.take_up(ToolChoice::Pointer);
    }
}

/// Seeks a place for the kind in hand, in the room under the pointer, else in the one that is selected.
pub fn for_kind_in_hand(board: &Board) -> Intent {
    let ToolChoice::Place(kind) = board.surface.choice() else {
        return Intent::Say("Suggest a place: take a kind that senses from the Kit first.".to_owned());
    };
    if !can_be_sought(kind) {
        return Intent::Say(format!(
            "Suggest a place: none is sought for {}, only for detectors of people and cameras on walls and ceilings.",
            kind.name
        ));
    }
    let Some(room) = room_at_hand(board) else {
        return Intent::Say(
            "Suggest a place: point into a room whose walls close, or select one.".to_owned(),
        );
    };
    match wishes(&board.session.project, board.session.level, kind).into_iter().next() {
        Some((wish, _)) => {
            Intent::Suggest(Suggesting::Seek(Box::new(Sought { room, kind: kind.as_ref().clone(), wish })))
        }
        None => Intent::Say(
            "Suggest a place: mark a spot on this storey that the camera is to show (Draw, Mark a spot)."
                .to_owned(),
        ),
    }
}

fn room_at_hand(board: &Board) -> Option<Id<Room>> {
    let outlines = &board.jobs.figures().outlines;
    let pointed = board.surface.pointer_at().and_then(|at| room_at(outlines, at));
    pointed.or(match board.session.only_selected() {
        Some(Subject::Room(room)) => Some(room),
        _ => None,
    })
}
