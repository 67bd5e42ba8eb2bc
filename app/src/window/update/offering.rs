//! What is proposed: traced, accepted or set aside.

use pattress_model::edit::verbs;
use pattress_model::survey::Part;

use crate::window::board::{Board, Said};
use crate::window::intent::Viewing;
use crate::window::session::Stage;
use crate::window::survey::Drawing;
use crate::window::survey::accepting::accepting;
use crate::window::survey::at_hand::drawing_at_hand;
use crate::window::survey::offer::Offer;
use crate::window::survey::proposed::Offering;
use crate::window::survey::tracing::Tracing;

use super::{let_in, refuse, view};

/// Carries out what is asked of the offers.
pub fn offering(board: &mut Board, ctx: &egui::Context, asked: Offering) {
    match asked {
        Offering::Trace => trace(board, ctx),
        Offering::StopTracing => {
            board.proposed.awaited = None;
            if let Some(tracing) = &board.proposed.tracing {
                tracing.stop();
            }
        }
        Offering::Lay(offer) => {
            lay(board, *offer);
        }
        Offering::PointAt(part) => board.proposed.pointed = Some(part),
        Offering::ShowPart(part) => show(board, Some(part)),
        Offering::Step(by) => {
            let next = board.proposed.stepped(&left(board), by);
            show(board, next);
        }
        Offering::Accept(parts) => accept(board, parts),
        Offering::AcceptAtHand => match board.proposed.at_hand {
            Some(part) => {
                let next = following(board, part);
                accept(board, vec![part]);
                show(board, next);
            }
            None => say(board, "Arrow keys go from one proposed part to the next; Enter accepts it."),
        },
        Offering::AcceptAll => {
            let parts = left(board);
            accept(board, parts);
        }
        Offering::AcceptSure => {
            let least = board.proposed.least;
            let level = board.session.level;
            let sure: Vec<Part> = board.proposed.on(level).map_or_else(Vec::new, |offer| {
                left(board).into_iter().filter(|part| offer.percent(*part) >= least).collect()
            });
            if sure.is_empty() {
                return say(board, &format!("Nothing that is left is at least {least} % sure."));
            }
            accept(board, sure);
        }
        Offering::SetAside(parts) => set_aside(board, parts),
        Offering::SetRestAside => {
            let parts = left(board);
            set_aside(board, parts);
        }
        Offering::BringBack => {
            let level = board.session.level;
            if let Some(offer) = board.proposed.offers.get_mut(&level) {
                offer.bring_back();
            }
        }
        Offering::Least(percent) => board.proposed.least = percent.min(100),
    }
}

/// Takes in a trace that has ended, and drops offers whose level or drawing is gone.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    begin_awaited(board, ctx);
    let project = &board.session.project;
    board.proposed.offers.retain(|_, offer| !offer.is_orphaned(project));
    let Some(outcome) = board.proposed.tracing.as_ref().and_then(Tracing::outcome) else { return };
    let Some(tracing) = board.proposed.tracing.take() else { return };
    match outcome {
        Ok(Some(proposal)) => {
            let words = format!(
                "{} walls, {} openings and {} rooms proposed: accept what is right.",
                proposal.walls.len(),
                proposal.openings.len(),
                proposal.rooms.len()
            );
            let offer = tracing.offer(proposal);
            if !offer.is_orphaned(&board.session.project) {
                let already = match lay(board, offer) {
                    0 => String::new(),
                    1 => " 1 of them stands already.".to_owned(),
                    count => format!(" {count} of them stand already."),
                };
                say(board, &format!("{words}{already}"));
            }
        }
        Ok(None) => say(board, "The trace was stopped; nothing is proposed."),
        Err(sentence) => refuse(board, sentence),
    }
}

/// Lays an offer over its level; what of it stands there already is decided. Gives how many parts do.
fn lay(board: &mut Board, mut offer: Offer) -> usize {
    let standing = verbs::standing_parts(&board.session.project, offer.level(), offer.proposal());
    let count = standing.len();
    for (part, thing) in standing {
        offer.note_accepted(vec![part], vec![thing]);
    }
    board.proposed.at_hand = None;
    board.proposed.offers.insert(offer.level(), offer);
    count
}

fn trace(board: &mut Board, ctx: &egui::Context) {
    if board.proposed.tracing.is_some() || board.proposed.awaited.is_some() {
        return say(board, "A trace is under way: stop it first, or wait for it to end.");
    }
    let at_hand = drawing_at_hand(&board.session).map(|(id, underlay)| (id, underlay.clone()));
    let Some(drawing) = at_hand else {
        let sentence = "there is no drawing on this level: bring one in first (Plan menu)";
        return refuse(board, sentence.to_owned());
    };
    view(board, Viewing::Stage(Stage::Survey));
    board.proposed.awaited = Some(drawing);
    keep_up(board, ctx);
}

/// Begins the trace that was asked for, once its drawing has been read.
fn begin_awaited(board: &mut Board, ctx: &egui::Context) {
    let Some((id, underlay)) = board.proposed.awaited.take() else { return };
    let read = match board.drawings.get(&board.session.media, &underlay.media, underlay.page) {
        Drawing::Coming => {
            board.proposed.awaited = Some((id, underlay));
            return;
        }
        Drawing::Unreadable(sentence) => return refuse(board, sentence),
        Drawing::Ready(read) => read,
    };
    let hands = super::survey::hands(board, ctx);
    board.proposed.tracing = Some(Tracing::start((id, underlay), read, &hands));
}

/// What is left of the offer for the level on the board; nothing while it is stale.
fn left(board: &Board) -> Vec<Part> {
    let project = &board.session.project;
    board.proposed.open(project, board.session.level).map_or_else(Vec::new, |offer| offer.left(project))
}

/// The part to go on to after one that leaves the list.
fn following(board: &Board, part: Part) -> Option<Part> {
    let left = left(board);
    let place = left.iter().position(|other| *other == part)?;
    left.get(place + 1).or_else(|| left.get(place.checked_sub(1)?)).copied()
}

fn show(board: &mut Board, part: Option<Part>) {
    board.proposed.at_hand = part;
    let level = board.session.level;
    let offer = board.proposed.on(level);
    if let Some(place) = part.and_then(|part| offer?.place(part)) {
        board.surface.bring(place);
    }
}

fn accept(board: &mut Board, parts: Vec<Part>) {
    let level = board.session.level;
    let Some(offer) = board.proposed.on(level) else {
        return say(board, "Nothing is proposed on this level.");
    };
    if offer.is_stale(&board.session.project) {
        return refuse(board, "the drawing has moved since it was traced: trace it again".to_owned());
    }
    if parts.is_empty() {
        return say(board, "Everything that was proposed is decided on.");
    }
    match accepting(&board.session.project, offer, parts) {
        Ok((change, taken)) => {
            let selection = std::mem::take(&mut board.session.selection);
            let things = let_in(board, change);
            // A crowd that comes in at once would hide what is left under its marks.
            board.session.selection = selection;
            if let (Some(things), Some(offer)) = (things, board.proposed.offers.get_mut(&level)) {
                offer.note_accepted(taken, things);
            }
        }
        Err(sentence) => refuse(board, sentence),
    }
    forget_at_hand(board);
}

fn set_aside(board: &mut Board, parts: Vec<Part>) {
    let level = board.session.level;
    let next = board.proposed.at_hand.filter(|part| parts.contains(part)).map(|part| following(board, part));
    let Some(offer) = board.proposed.offers.get_mut(&level) else { return };
    let words = match &parts[..] {
        [] => return,
        [one] => format!("Set aside: {}.", offer.words(*one)),
        many => format!("{} parts set aside.", many.len()),
    };
    offer.set_aside(parts);
    say(board, &words);
    if let Some(next) = next {
        show(board, next);
    }
}

fn forget_at_hand(board: &mut Board) {
    let left = left(board);
    board.proposed.at_hand = board.proposed.at_hand.filter(|part| left.contains(part));
}

fn say(board: &mut Board, sentence: &str) {
    board.said = Said { sentence: sentence.to_owned(), refused: false };
}
