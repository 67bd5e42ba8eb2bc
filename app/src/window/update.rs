//! The only place where the session changes: one intent at a time.

mod beneath;
mod commands;
mod files;
mod offering;
mod rehearsal;
mod storeys;
mod suggesting;
mod survey;

pub use files::{DRAWINGS, Opened, keep_scratch, open, put_on_board};

use pattress_model::edit::verbs::new_things;
use pattress_model::edit::{Change, Subject};

use super::board::{Board, Said};
use super::intent::{Intent, Rehearsing, Selecting, Viewing};
use super::panels::card;
use super::session::Stage;

/// Carries out an intent.
pub fn update(board: &mut Board, ctx: &egui::Context, intent: Intent) {
    match intent {
        Intent::Change(Ok(change)) => apply(board, ctx, change),
        Intent::Change(Err(sentence)) => refuse(board, sentence),
        // Nothing is moved or changed while it is rehearsed: what is picked shows its card.
        Intent::Select(Selecting::Only(of)) if board.live.is_some() => {
            rehearsal::rehearse(board, ctx, Rehearsing::Card(of.first().copied()));
        }
        Intent::Select(_) if board.live.is_some() => {}
        Intent::Select(selecting) => select(board, selecting),
        Intent::PointAt(subject) => board.session.pointed_at = Some(subject),
        Intent::TakeUp(_) if board.live.is_some() => refuse(board, rehearsal::NO_DRAWING.to_owned()),
        Intent::TakeUp(choice) => {
            if board.said.refused {
                board.said = Said::default();
            }
            board.surface.take_up(choice);
        }
        Intent::Run(command) => commands::run(board, ctx, command),
        Intent::View(viewing) => {
            if matches!(viewing, Viewing::Stage(_)) && board.live.is_some() {
                rehearsal::rehearse(board, ctx, Rehearsing::Stop);
            }
            view(board, viewing);
        }
        Intent::Open(overlay) => board.overlay = Some(overlay),
        Intent::CloseOverlay => board.overlay = None,
        Intent::File(filing) => files::file(board, ctx, filing),
        Intent::DrawWalls(manner) => board.surface.draw_walls(manner),
        Intent::Offer(asked) => offering::offering(board, ctx, asked),
        Intent::Suggest(asked) => suggesting::suggesting(board, ctx, asked),
        Intent::Survey(surveying) => survey::survey(board, ctx, surveying),
        Intent::Rehearse(rehearsing) => rehearsal::rehearse(board, ctx, rehearsing),
        Intent::Say(sentence) => board.said = Said { sentence, refused: false },
    }
}

/// Takes in what has come meanwhile from dialogs, issues and traces.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    files::keep_up(board, ctx);
    offering::keep_up(board, ctx);
    rehearsal::keep_up(board, ctx);
    suggesting::keep_up(board, ctx);
}

/// Lets a change in; what it brought is selected.
fn apply(board: &mut Board, ctx: &egui::Context, change: Change) {
    let Some(fresh) = let_in(board, change) else { return };
    if let [Subject::Room(id)] = fresh[..]
        && let Some(room) = board.session.project().rooms.get(id)
    {
        card::name_room(ctx, id, &room.name);
    }
    if !fresh.is_empty() {
        board.session.selection = fresh.into_iter().collect();
    }
}

/// Lets a change in through the project's door, says so and writes it to the recovery log. Returns what it
/// brought; `None` where it was refused.
fn let_in(board: &mut Board, change: Change) -> Option<Vec<Subject>> {
    let fresh: Vec<Subject> = new_things(board.session.project(), &change)
        .into_iter()
        .filter(|subject| !matches!(subject, Subject::Kind(_) | Subject::Level(_)))
        .collect();
    let label = change.label.clone();
    match board.session.apply(change) {
        Ok(()) => {
            board.said = Said { sentence: format!("{label}."), refused: false };
            if let Some(done) = board.session.history.last().cloned() {
                files::log(board, &done);
            }
            Some(fresh)
        }
        Err(refusal) => {
            refuse(board, refusal.sentence);
            None
        }
    }
}

fn refuse(board: &mut Board, sentence: String) {
    let mut letters = sentence.chars();
    let sentence =
        letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect());
    board.said = Said { sentence, refused: true };
}

fn select(board: &mut Board, selecting: Selecting) {
    let selection = &mut board.session.selection;
    match selecting {
        Selecting::Only(subjects) => *selection = subjects.into_iter().collect(),
        Selecting::Add(subjects) => selection.extend(subjects),
        Selecting::Toggle(subjects) => {
            for subject in subjects {
                if !selection.remove(&subject) {
                    selection.insert(subject);
                }
            }
        }
        Selecting::Nothing => selection.clear(),
    }
}

fn view(board: &mut Board, viewing: Viewing) {
    match viewing {
        Viewing::Level(level) => {
            if board.session.level != level {
                board.session.level = level;
                board.session.selection.clear();
                board.surface.view(Viewing::WholeSheet);
            }
        }
        Viewing::Stage(stage) if board.session.stage != stage => {
            board.session.stage = stage;
            board.session.layers = stage.layers();
        }
        Viewing::Stage(_) => {}
        Viewing::Layer(layer, true) => {
            board.session.layers.insert(layer);
        }
        Viewing::Layer(layer, false) => {
            board.session.layers.remove(&layer);
        }
        Viewing::Doors(doors) => board.session.doors = doors,
        Viewing::ClientView(on) => {
            board.session.client_view = on;
            let sentence = if on {
                "Client view: tags, dimensions and what else only the trade needs are hidden."
            } else {
                "Everything the trade needs shows again."
            };
            board.said = Said { sentence: sentence.to_owned(), refused: false };
        }
        Viewing::Findings => {
            view(board, Viewing::Stage(Stage::Design));
            board.panels.side_list.show_findings();
        }
        Viewing::Bring(subject) => {
            if let Some(level) = level_of(board, subject) {
                board.session.level = level;
            }
            board.surface.view(viewing);
        }
        Viewing::WholeSheet | Viewing::WholePlan | Viewing::Zoom(_) => board.surface.view(viewing),
    }
}

/// The level a thing is on, if it is on one.
fn level_of(
    board: &Board,
    subject: pattress_model::edit::Subject,
) -> Option<pattress_model::id::Id<pattress_model::plan::Level>> {
    use pattress_model::edit::Subject;
    let project = board.session.project();
    match subject {
        Subject::Level(id) => Some(id),
        Subject::Wall(id) => project.walls.get(id).map(|wall| wall.level),
        Subject::Opening(id) => project
            .openings
            .get(id)
            .and_then(|opening| project.walls.get(opening.wall))
            .map(|wall| wall.level),
        Subject::Room(id) => project.rooms.get(id).map(|room| room.level),
        Subject::Joinery(id) => project.joinery.get(id).map(|piece| piece.level),
        Subject::Underlay(id) => project.underlays.get(id).map(|underlay| underlay.level),
        Subject::RoomLine(id) => project.room_lines.get(id).map(|line| line.level),
        Subject::Spot(id) => project.spots.get(id).map(|spot| spot.level),
        Subject::Walk(id) => {
            project.walks.get(id).and_then(|walk| walk.points.first()).map(|point| point.level)
        }
        Subject::Device(id) => project.devices.get(id).map(|device| device.level),
        Subject::Zone(id) => project
            .zones
            .get(id)
            .and_then(|zone| zone.points.first())
            .and_then(|point| project.devices.get(point.device))
            .map(|device| device.level),
        Subject::Rule(id) => project
            .rules
            .get(id)
            .and_then(|rule| rule.room)
            .and_then(|room| project.rooms.get(room))
            .map(|room| room.level),
        Subject::Scene(id) => project
            .scenes
            .get(id)
            .and_then(|scene| scene.room)
            .and_then(|room| project.rooms.get(room))
            .map(|room| room.level),
        Subject::Site | Subject::Kind(_) | Subject::Mode(_) | Subject::Script(_) => None,
    }
}
