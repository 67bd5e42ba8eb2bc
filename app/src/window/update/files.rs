//! Opening, saving, issuing and the recovery log, from the window.
//!
//! What may take long (a dialog, an issue) runs on a thread of its own and is looked in on each frame.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};

use pattress_model::edit::Change;
use pattress_model::project::Project;
use pattress_model::store::Media;

use crate::files::{self, OpenPlan};
use crate::window::board::{Board, Said};
use crate::window::intent::{AfterSaving, Filing, Intent, Overlay, PathFor};
use crate::window::issuing::Issuing;
use crate::window::session::Session;

use super::update;

/// Endings of the drawings that can be brought in; what a file is is told by its content.
pub const DRAWINGS: &[&str] = &["pdf", "svg", "ifc", "png", "jpg", "jpeg", "tif", "tiff", "webp"];

/// A plan as it was opened.
pub type Opened = OpenPlan;

/// Opens a plan.
///
/// # Errors
/// One sentence that names the file, the place in it and the way out.
pub fn open(path: &Path) -> Result<Opened, String> {
    files::open(path).map_err(|error| error.to_string())
}

/// Puts an opened plan on the board in place of what was there.
pub fn put_on_board(board: &mut Board, opened: Opened) {
    let OpenPlan { path, project, media, recovered, missing_media, warnings, log } = opened;
    board.files.close();
    board.files.log = log;
    let name = path.display().to_string();
    lay(board, Session::new(project, media, Some(path)));
    let mut sentences = missing_media;
    sentences.extend(warnings);
    let refused = !sentences.is_empty();
    if let Some(recovered) = recovered {
        board.session.mark_unsaved();
        let changes = if recovered.changes == 1 { "change" } else { "changes" };
        sentences
            .insert(0, format!("{} unsaved {changes} brought back: save to keep them", recovered.changes));
    }
    if sentences.is_empty() {
        sentences.push(format!("Opened {name}"));
    }
    board.said = Said { sentence: format!("{}.", sentences.join("; ")), refused };
}

/// From now on a plan that was never saved keeps a log too; if `taking_up`, what a crash left of one comes
/// back.
pub fn keep_scratch(board: &mut Board, taking_up: bool) {
    board.files.keeps_scratch = true;
    if let Some(left) = taking_up.then(files::take_up_scratch).flatten() {
        put_on_board(board, left);
        board.session.path = None;
    }
}

fn lay(board: &mut Board, session: Session) {
    board.session = session.in_place_of(&board.session);
    board.jobs.forget();
    board.proposed.forget();
    board.surface = crate::window::canvas::Surface::default();
    board.overlay = None;
    board.desk.clear();
    board.doing = None;
}

/// Carries out what is asked of files.
pub fn file(board: &mut Board, ctx: &egui::Context, filing: Filing) {
    let outcome = match filing {
        Filing::New => {
            board.files.close();
            lay(board, Session::new(Project::new(), Media::default(), None));
            Ok("A new plan".to_owned())
        }
        Filing::Open(path) => match open(&path) {
            Ok(opened) => return put_on_board(board, opened),
            Err(sentence) => Err(sentence),
        },
        Filing::Save => match board.session.path.clone() {
            Some(path) => save(board, ctx, &path),
            None => {
                board.overlay = Some(Overlay::TypePath(PathFor::SaveAs));
                return;
            }
        },
        Filing::SaveAs(path) => save(board, ctx, &path),
        Filing::SaveThen(after) => {
            board.files.afterwards = Some(after);
            return file(board, ctx, Filing::Save);
        }
        Filing::Browse(purpose) => {
            browse(board, ctx, purpose);
            return;
        }
        Filing::Issue(folder) => {
            board.overlay = None;
            let waker = ctx.clone();
            let Session { project, media, .. } = &board.session;
            let issuing =
                Issuing::start(project.clone(), media.clone(), folder, move || waker.request_repaint());
            board.files.issuing = Some(issuing);
            return;
        }
        Filing::StopIssue => {
            if let Some(issuing) = &board.files.issuing {
                issuing.stop();
            }
            return;
        }
        Filing::Quit => {
            board.leaving = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            return;
        }
    };
    say(board, outcome);
}

fn say(board: &mut Board, outcome: Result<String, String>) {
    match outcome {
        Ok(sentence) => board.said = Said { sentence: format!("{sentence}."), refused: false },
        Err(sentence) => super::refuse(board, sentence),
    }
}

fn save(board: &mut Board, ctx: &egui::Context, path: &Path) -> Result<String, String> {
    let path = with_ending(path);
    let Session { project, media, .. } = &board.session;
    let saved = files::save(&path, project, media).map_err(|error| error.to_string());
    let saved = match saved {
        Ok(saved) => saved,
        Err(sentence) => {
            board.files.afterwards = None;
            return Err(sentence);
        }
    };
    let kept = board.session.path.as_deref() == Some(path.as_path());
    let logged = match (&mut board.files.log, kept) {
        (Some(log), true) => log.begin_again(&saved),
        _ => {
            board.files.close();
            files::start_log(&path, &saved).map(|started| board.files.log = Some(started))
        }
    };
    board.session.path = Some(path.clone());
    board.session.mark_saved();
    board.overlay = None;
    match board.files.afterwards.take() {
        Some(AfterSaving::New) => update(board, ctx, Intent::File(Filing::New)),
        Some(AfterSaving::Open) => update(board, ctx, Intent::Open(Overlay::TypePath(PathFor::Open))),
        Some(AfterSaving::Quit) => update(board, ctx, Intent::File(Filing::Quit)),
        None => {}
    }
    match logged {
        Ok(()) => Ok(format!("Saved {}", path.display())),
        Err(error) => {
            Ok(format!("Saved {}, but changes are not kept between saves: {error}", path.display()))
        }
    }
}

/// A path without an ending gets ours, unless it is a folder already.
fn with_ending(path: &Path) -> PathBuf {
    if path.extension().is_some() || path.is_dir() {
        path.to_owned()
    } else {
        path.with_extension("pattress")
    }
}

/// Asks the desktop for a path; where there is no dialog, nothing comes back and the typed path serves.
fn browse(board: &mut Board, ctx: &egui::Context, purpose: PathFor) {
    let (send, receive) = channel();
    let waker = ctx.clone();
    let spawned = std::thread::Builder::new().name("dialog".to_owned()).spawn(move || {
        let dialog = rfd::FileDialog::new();
        let picked = match purpose {
            PathFor::Open => dialog.add_filter("Plans", &["pattress", "json"]).pick_file(),
            PathFor::SaveAs => {
                dialog.add_filter("Plans", &["pattress"]).set_file_name("house.pattress").save_file()
            }
            PathFor::Drawing => dialog.add_filter("Drawings", DRAWINGS).pick_file(),
            PathFor::Issue => dialog.pick_folder(),
        };
        let _ = send.send(picked.map(|path| (purpose, path)));
        waker.request_repaint();
    });
    if spawned.is_ok() {
        board.files.dialog = Some(receive);
    }
}

/// Looks in on a dialog and an issue; once a frame.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    let answer = board.files.dialog.as_ref().map(Receiver::try_recv);
    if let Some(Ok(answer)) = answer {
        board.files.dialog = None;
        match answer {
            Some((purpose, path)) => update(board, ctx, purpose.intent(path)),
            None => say(board, Ok("No file was chosen; a path can be typed too".to_owned())),
        }
    }
    super::survey::keep_up(board, ctx);
    if let Some(outcome) = board.files.issuing.as_ref().and_then(Issuing::outcome) {
        board.files.issuing = None;
        say(board, outcome);
    }
}

/// Writes a change to the recovery log.
pub fn log(board: &mut Board, change: &Change) {
    if board.files.log.is_none() && board.files.keeps_scratch && board.session.path.is_none() {
        board.files.log = files::start_scratch(board.session.saved(), &board.session.media).ok();
    }
    let media = &board.session.media;
    if let Some(log) = &mut board.files.log
        && let Err(error) = log.append(change, media)
    {
        board.said =
            Said { sentence: format!("Changes are not kept between saves: {error}."), refused: true };
    }
}
