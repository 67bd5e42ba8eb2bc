//! Commands of the table, carried out.

use pattress_model::edit::{Subject, verbs};

use crate::window::app::{Board, Said};
use crate::window::canvas::tools::{OpeningChoice, ToolChoice};
use crate::window::command::Command;
use crate::window::intent::{AfterSaving, Filing, Intent, Overlay, PathFor, Selecting, Viewing};
use crate::window::theme::Theme;

use super::{files, update};

/// Carries out a command.
pub fn run(board: &mut Board, ctx: &egui::Context, command: Command) {
    use Command as C;
    let intent = match command {
        C::NewPlan => unless_unsaved(board, AfterSaving::New, Intent::File(Filing::New)),
        C::OpenPlan => {
            unless_unsaved(board, AfterSaving::Open, Intent::Open(Overlay::TypePath(PathFor::Open)))
        }
        C::Quit => unless_unsaved(board, AfterSaving::Quit, Intent::File(Filing::Quit)),
        C::Save => Intent::File(Filing::Save),
        C::SaveAs => Intent::Open(Overlay::TypePath(PathFor::SaveAs)),
        C::LayUnderlay => Intent::Open(Overlay::TypePath(PathFor::Underlay)),
        C::Issue => Intent::Open(Overlay::TypePath(PathFor::Issue)),
        C::SiteFacts => Intent::Open(Overlay::Site),
        C::Preview => Intent::Open(Overlay::Preview),
        C::Find => Intent::Open(Overlay::Finder),
        C::Keys => Intent::Open(Overlay::Keys),
        C::Array => Intent::Open(Overlay::Array),
        C::Undo | C::Redo => return step(board, command == C::Undo),
        C::Pointer => return escape(board),
        C::DrawWall => Intent::TakeUp(ToolChoice::Wall),
        C::DrawRoom => Intent::TakeUp(ToolChoice::FourWalls),
        C::DrawDoor => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Door)),
        C::DrawWindow => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Window)),
        C::DrawPlainOpening => Intent::TakeUp(ToolChoice::Opening(OpeningChoice::Plain)),
        C::NameRoom => Intent::TakeUp(ToolChoice::NameRoom),
        C::DrawJoinery => Intent::TakeUp(ToolChoice::Joinery(pattress_model::plan::JoineryForm::Island)),
        C::Tape => Intent::TakeUp(ToolChoice::Tape),
        C::ScaleUnderlay => Intent::TakeUp(ToolChoice::ScaleUnderlay),
        C::WholeSheet => Intent::View(Viewing::WholeSheet),
        C::WholePlan => Intent::View(Viewing::WholePlan),
        C::ZoomIn => Intent::View(Viewing::Zoom(1.25)),
        C::ZoomOut => Intent::View(Viewing::Zoom(0.8)),
        C::LevelUp | C::LevelDown => match neighbour(board, command == C::LevelUp) {
            Some(level) => Intent::View(Viewing::Level(level)),
            None => return,
        },
        C::ClientView => Intent::View(Viewing::ClientView(!board.session.client_view)),
        C::DarkOrLight => {
            board.theme = Theme::of(!board.theme.dark);
            return;
        }
        C::SelectAll => {
            let level = board.session.level;
            let all = board.session.project().devices_on(level).map(|(id, ..)| Subject::Device(id)).collect();
            Intent::Select(Selecting::Only(all))
        }
        C::TurnLeft | C::TurnRight => {
            let degrees = if command == C::TurnLeft { 15.0 } else { -15.0 };
            if board.surface.turn_ghost(degrees) {
                return;
            }
            changing(board, command)
        }
        _ => changing(board, command),
    };
    update(board, ctx, intent);
}

/// Commands that change what is selected.
fn changing(board: &Board, command: Command) -> Intent {
    let _ = (board, command, verbs::remove_things);
    match command {
        Command::Remove => {
            let subjects: Vec<Subject> = board.session.selection.iter().copied().collect();
            Intent::Change(verbs::remove_things(board.session.project(), &subjects))
        }
        _ => Intent::Say(String::new()),
    }
}

fn step(board: &mut Board, back: bool) {
    let label = if back { board.session.history.undo_label() } else { board.session.history.redo_label() };
    let Some(label) = label.map(str::to_owned) else {
        let sentence = if back { "There is nothing to undo." } else { "There is nothing to redo." };
        board.said = Said { sentence: sentence.to_owned(), refused: false };
        return;
    };
    if let Some(change) = board.session.step(back) {
        files::log(board, &change);
        let what = if back { "Undone" } else { "Done again" };
        board.said = Said { sentence: format!("{what}: {label}."), refused: false };
    }
}

/// Escape closes what lies over the board, then drops what the tool has half done, then the selection.
fn escape(board: &mut Board) {
    if board.overlay.take().is_some() {
        return;
    }
    if *board.surface.choice() == ToolChoice::Pointer && board.surface.entry().is_none() {
        board.session.selection.clear();
    }
    board.surface.let_go();
}

fn unless_unsaved(board: &Board, after: AfterSaving, then: Intent) -> Intent {
    if board.session.is_changed() { Intent::Open(Overlay::Unsaved(after)) } else { then }
}

fn neighbour(board: &Board, up: bool) -> Option<pattress_model::id::Id<pattress_model::plan::Level>> {
    let levels = board.session.project().levels_upwards();
    let index = levels.iter().position(|(id, _)| *id == board.session.level)?;
    let other = if up { index + 1 } else { index.checked_sub(1)? };
    levels.get(other).map(|(id, _)| *id)
}
