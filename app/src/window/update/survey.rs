//! Drawings from outside: reading a file, laying it under a level, and work on one that lies there.

use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::plan::Underlay;
use pattress_model::units::Angle;

use crate::survey::{Asked, Corners, Squared, square_up, square_up_page};
use crate::window::board::{Board, Said};
use crate::window::intent::{Intent, Laying, Overlay, Surveying, Viewing};
use crate::window::survey::Drawing;
use crate::window::survey::at_hand::{CAUTION_IN_SHORT, drawing_at_hand, is_page, scale_in_words};
use crate::window::survey::changes::straightened;
use crate::window::survey::desk::Stand;
use crate::window::survey::doing::Doing;
use crate::window::survey::reading::{ToKeep, What};
use crate::window::survey::squaring::in_place_of;
use crate::window::survey::work::{Hands, Work};
use crate::window::tool_choice::ToolChoice;

use super::beneath::show_beneath;
use super::update;

/// How strongly a drawing shows at first: what is traced over it must stand out.
const FIRST_OPACITY: f64 = 0.6;

/// A picture is laid at this scale until two points tell better: an A3 scan of a house at 1:100 with 200 dots to the
/// inch.
const FIRST_MM_PER_PX: f64 = 12.7;

/// A page that states no scale is laid at 1:100 until two points tell better.
const FIRST_MM_PER_MM: f64 = 100.0;

pub(super) fn hands(board: &Board, ctx: &egui::Context) -> Hands {
    if board.in_place { Hands::InPlace } else { Hands::Apart(ctx.clone()) }
}

/// Carries out what is asked.
pub fn survey(board: &mut Board, ctx: &egui::Context, surveying: Surveying) {
    let hands = hands(board, ctx);
    match surveying {
        Surveying::Take(path) => {
            board.desk.take(path, &hands);
            board.overlay = Some(Overlay::BringIn);
        }
        Surveying::TurnTo(page) => board.desk.turn_to(page, &hands),
        Surveying::Unlock(password) => board.desk.unlock(password, &hands),
        Surveying::Stop => {
            board.desk.stop();
            if let Some(doing) = &board.doing {
                doing.stop();
            }
        }
        Surveying::Lay(laying) => {
            if let Err(sentence) = lay(board, ctx, laying) {
                super::refuse(board, sentence);
            }
        }
        Surveying::LayStoreys(storeys) => super::storeys::lay(board, ctx, &storeys),
        Surveying::Straighten => straighten(board, ctx),
        Surveying::SquareUp { drawing, corners } => square(board, drawing, corners, &hands),
    }
}

/// Looks in on what threads are doing; once a frame.
pub fn keep_up(board: &mut Board, ctx: &egui::Context) {
    let hands = hands(board, ctx);
    board.desk.keep_up(&hands);
    let Some(doing) = board.doing.take() else { return };
    match doing {
        Doing::Skew(id, work) => match work.answer() {
            None => board.doing = Some(Doing::Skew(id, work)),
            Some(Ok(Some(skew))) => {
                for intent in straightened(board.session.project(), id, skew.angle) {
                    update(board, ctx, intent);
                }
            }
            Some(Ok(None)) => {
                let sentence =
                    "the drawing shows too few lines to tell how it lies: use Level by a line instead";
                super::refuse(board, sentence.to_owned());
            }
            Some(Err(lost)) => super::refuse(board, lost.to_string()),
        },
        Doing::Squaring(id, corners, work) => match work.answer() {
            None => board.doing = Some(Doing::Squaring(id, corners, work)),
            Some(Ok(Ok(squared))) => put_squared(board, ctx, id, &corners, squared),
            Some(Ok(Err(sentence))) => super::refuse(board, sentence),
            Some(Err(lost)) => super::refuse(board, lost.to_string()),
        },
    }
}

/// Lays the file on the desk under a level, its lower left corner at the origin.
fn lay(board: &mut Board, ctx: &egui::Context, laying: Laying) -> Result<(), String> {
    let Stand::Read(brought) = board.desk.stand().clone() else { return Ok(()) };
    let is_page = matches!(brought.what, What::Page(_));
    let (keep, (width, height), first_scale) = match &brought.what {
        What::Page(page) => (page.keep.clone(), page.size_mm, FIRST_MM_PER_MM),
        What::Picture(picture) => {
            let (width, height) = picture.size_px;
            (picture.keep.clone(), (f64::from(width), f64::from(height)), FIRST_MM_PER_PX)
        }
        What::Building(_) => return Ok(()),
    };
    let ToKeep { bytes, ending, page } = keep;
    let media = board.session.media.keep(bytes, ending);
    let project = board.session.project();
    let new_level = laying.on_a_new_level.then(|| verbs::level_on_top(project));
    let level = match new_level {
        Some(_) => project.fresh_ids().issue(),
        None => board.session.level(),
    };
    let underlay = Underlay {
        level,
        name: brought.name.clone(),
        media,
        page,
        width,
        height,
        mm_per_unit: laying.scale.as_ref().map_or(first_scale, |scale| scale.mm_per_unit),
        scale_from: laying.scale.as_ref().map(|scale| scale.from.clone()),
        second_length: None,
        position: kurbo::Point::ORIGIN,
        turn: Angle::ZERO,
        opacity: FIRST_OPACITY,
        on_sheets: is_page,
    };
    let is_scaled = underlay.scale_from.is_some();
    let underlay = underlay.turned_about(underlay.middle(), laying.turn);
    let scale = scale_in_words(&underlay);
    let change = verbs::bring_in_drawing(project, underlay, new_level)?;
    super::apply(board, ctx, change);
    if board.said.refused {
        return Ok(());
    }
    board.overlay = None;
    board.desk.clear();
    let level_name = board.session.project().levels.get(level).map_or("", |level| level.name.as_str());
    let sentence = match laying.scale {
        Some(_) => format!("{} lies under {level_name} at {scale}. {CAUTION_IN_SHORT}", brought.name),
        None => format!(
            "{} lies under {level_name}: now scale it by two points and the length between.",
            brought.name
        ),
    };
    show_beneath(board, ctx, level);
    if !is_scaled {
        board.surface.take_up(ToolChoice::ScaleDrawing);
    }
    board.said = Said { sentence, refused: false };
    Ok(())
}

/// Finds how far the drawing at hand lies askew.
fn straighten(board: &mut Board, ctx: &egui::Context) {
    let Some((id, underlay)) = drawing_at_hand(&board.session) else {
        let sentence = "there is no drawing on this level: bring one in first".to_owned();
        return super::refuse(board, sentence);
    };
    match board.drawings.get(board.session.media(), &underlay.media, underlay.page) {
        Drawing::Ready(read) => {
            let hands = hands(board, ctx);
            let work = Work::begin("Looking for lines".to_owned(), &hands, move |_| read.skew());
            board.doing = Some(Doing::Skew(id, work));
        }
        Drawing::Coming => {
            let sentence = "The drawing is still being read: straighten it in a moment.".to_owned();
            board.said = Said { sentence, refused: false };
        }
        Drawing::Unreadable(sentence) => super::refuse(board, sentence),
    }
}

fn square(board: &mut Board, id: Id<Underlay>, corners: Corners, hands: &Hands) {
    let media = board.session.media();
    let photograph = board.session.project().underlays.get(id).cloned();
    let Some((photograph, bytes)) =
        photograph.and_then(|drawing| media.get(&drawing.media).cloned().map(|bytes| (drawing, bytes)))
    else {
        return super::refuse(board, "the photograph is gone: bring it in again".to_owned());
    };
    let known = corners.clone();
    let work = if is_page(&photograph) {
        let read = board.drawings.get(media, &photograph.media, photograph.page).ready();
        let Some(pixels) = read.as_ref().and_then(|read| read.pixels.as_ref()) else {
            let sentence =
                "this page is made of lines, or not read yet: only photographs and scans are squared up";
            return super::refuse(board, sentence.to_owned());
        };
        let mm_per_px = pixels.drawing_from_pixels.determinant().abs().sqrt();
        let asked = Asked { page: photograph.page, password: None };
        Work::begin("Squaring up".to_owned(), hands, move |keep_going| {
            square_up_page(&photograph.name, &bytes, &asked, mm_per_px, &known, keep_going)
        })
    } else {
        Work::begin("Squaring up".to_owned(), hands, move |keep_going| square_up(&bytes, &known, keep_going))
    };
    let steps = [(0.0, "looking at the photograph"), (0.3, "drawing it anew"), (0.8, "keeping it")];
    board.doing = Some(Doing::Squaring(id, corners, work.in_steps(&steps)));
}

/// Lays the squared picture where the photograph lay, and hides the photograph.
fn put_squared(
    board: &mut Board,
    ctx: &egui::Context,
    id: Id<Underlay>,
    corners: &Corners,
    squared: Squared,
) {
    let Some(photograph) = board.session.project().underlays.get(id).cloned() else {
        return super::refuse(board, "the photograph is gone: bring it in again".to_owned());
    };
    let media = board.session.media.keep(squared.bytes.clone(), "jpg");
    let new = in_place_of(&photograph, corners, &squared, media);
    let scale = scale_in_words(&new);
    let change = verbs::lay_squared(board.session.project(), id, new);
    update(board, ctx, Intent::Change(change));
    if !board.said.refused {
        board.surface.take_up(ToolChoice::Pointer);
        board.surface.view(Viewing::WholePlan);
        let sentence = format!("Squared up: {scale}. The photograph is kept, hidden. {CAUTION_IN_SHORT}");
        board.said = Said { sentence, refused: false };
    }
}
