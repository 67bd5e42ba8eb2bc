//! The rehearsal on the plan: what is asked of it, carried out. It reads the plan and never changes it, but for a
//! script that is kept.

mod begin;
mod clock;
mod people;
mod things;

use pattress_model::edit::verbs;
use pattress_model::studies::rehearsal::Incoming;
use pattress_model::systems::Value;

use crate::window::board::{Board, Said};
use crate::window::intent::{Intent, Rehearsing, Viewing};

use super::{refuse, update};

/// What is said where a tool for drawing is taken up meanwhile.
pub(super) const NO_DRAWING: &str =
    "a rehearsal is under way: stop it (Esc) before drawing or placing anything";

/// Carries out what is asked.
pub fn rehearse(board: &mut Board, ctx: &egui::Context, what: Rehearsing) {
    let begun = match what {
        Rehearsing::Start => begin::start(board, ctx),
        Rehearsing::Play(script) => begin::play_script(board, ctx, script),
        Rehearsing::KeepAs(name) => return keep_as(board, ctx, &name),
        Rehearsing::Stop => return stop(board, ctx),
        other => {
            while_played(board, ctx, other);
            Ok(())
        }
    };
    if let Err(sentence) = begun {
        refuse(board, sentence);
    }
    ctx.request_repaint();
}

/// What is done while the rules are played.
fn while_played(board: &mut Board, ctx: &egui::Context, what: Rehearsing) {
    let Some(live) = board.live.as_deref_mut() else { return };
    match what {
        Rehearsing::Do(what) => things::come_in(board, what),
        Rehearsing::Touch(subject) => things::touch(board, subject),
        Rehearsing::Card(subject) => live.card = subject,
        Rehearsing::Plays(plays) => {
            (live.plays, live.last_frame) = (plays, None);
            if plays {
                live.paused = None;
            }
        }
        Rehearsing::Pace(pace) => live.pace = pace,
        Rehearsing::JumpTo(at) => clock::jump(live, at),
        Rehearsing::StopJump => live.running = None,
        Rehearsing::StepBack => {
            if !clock::step_back(live) {
                say(board, "This is where the rehearsal began.");
            }
        }
        Rehearsing::StepForward => {
            if !clock::step_forward(live) {
                say(board, "Nothing happens by itself in the next seven days.");
            }
        }
        Rehearsing::GoTo(entry) => clock::go_to(live, entry),
        Rehearsing::Choose(entry) => {
            live.chosen = entry;
            if entry.is_some() {
                board.panels.rehearsal.show_timeline();
            }
        }
        Rehearsing::StepIn(at) => people::step_in(board, ctx, at),
        Rehearsing::LeadTo(at) => people::lead_to(board, at),
        Rehearsing::Leave => people::leave(board),
        Rehearsing::Walk(walk) => people::walk(board, ctx, walk),
        Rehearsing::Daylight(lux) => {
            for point in live.outdoor_light.clone() {
                things::come_in(board, Incoming::Value { point, value: Value::Number(lux) });
            }
        }
        Rehearsing::Pauses(pauses) => live.pauses = pauses,
        Rehearsing::Start | Rehearsing::Play(_) | Rehearsing::Stop | Rehearsing::KeepAs(_) => {}
    }
}

/// Lets the clock go on by what has passed since the last frame, and ends a rehearsal of a plan that is another now.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    let Some(live) = board.live.as_deref_mut() else { return };
    if !live.holds_for(&board.session) {
        stop(board, ctx);
        return say(board, "The plan was changed, so the rehearsal of it has ended: start it again.");
    }
    live.sensors.keep_up();
    begin::keep_up(board);
    people::keep_up(board);
    clock::keep_up(board, ctx);
}

/// Ends it, and shows the board as it was.
fn stop(board: &mut Board, ctx: &egui::Context) {
    let Some(live) = board.live.take() else { return };
    board.session.layers = live.before.layers;
    board.session.selection =
        live.before.selection.into_iter().filter(|it| it.is_in(board.session.project())).collect();
    board.surface.take_up(live.before.choice);
    board.surface.view(Viewing::WholeSheet);
    say(board, "The rehearsal has ended; the plan is as it was.");
    ctx.request_repaint();
}

fn say(board: &mut Board, sentence: &str) {
    board.said = Said { sentence: sentence.to_owned(), refused: false };
}

/// Keeps what was done so far as a script of the plan.
fn keep_as(board: &mut Board, ctx: &egui::Context, name: &str) {
    let Some(live) = board.live.as_deref() else { return };
    let lines = pattress_model::studies::rehearsal::script::written(board.session.project(), live.reel());
    let script = pattress_model::systems::Script { name: name.to_owned(), lines };
    let change = verbs::add_script(board.session.project(), script);
    update(board, ctx, Intent::Change(change));
    let session = &board.session;
    if let Some(live) = board.live.as_deref_mut() {
        // A script more changes nothing of what is played.
        live.holds_for(session);
    }
}
