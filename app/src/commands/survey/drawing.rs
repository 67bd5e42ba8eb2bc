//! A page or a picture: under the storey, to scale, straight, and traced if asked.

use kurbo::Point;
use pattress_model::edit::verbs::{self, Defaults, accept_proposal};
use pattress_model::id::Id;
use pattress_model::plan::{Level, ScaleFrom, Underlay};
use pattress_model::survey::scale::{Scale, stated_scales};
use pattress_model::survey::{DrawingRead, Page, Proposal};
use pattress_model::units::{Angle, Length};

use super::wish::{ScaleWish, TurnWish, Wish};
use super::{Surveyed, storey};
use crate::commands::Stop;
use crate::print::unlocked_page;
use crate::survey::{Asked, Corners, PageRead, PictureFile, PictureRead, Sort, square_up, square_up_page};

/// How strongly the drawing shows beneath the plan. Our own choice.
const OPACITY: f64 = 0.5;

/// Lays a page of a PDF or an SVG.
pub fn lay_page(plan: &mut Surveyed, wish: &Wish, bytes: Vec<u8>, read: PageRead) -> Result<(), Stop> {
    let page = &read.page;
    let scale = match &wish.scale {
        ScaleWish::Drawn(denominator) => told(*denominator)?,
        ScaleWish::Between(first, second, length) => between(*first, *second, *length)?,
        ScaleWish::AsStated => stated(plan, wish, page)?,
        ScaleWish::Corners(corners) => return lay_page_made_square(plan, wish, &bytes, &read, corners),
    };
    let ending = if read.sort == Sort::Svg { "svg" } else { "pdf" };
    let size = (page.width, page.height);
    let (bytes, page) = match (&wish.password, read.sort) {
        (Some(password), Sort::Pdf) => {
            let unlocked = unlocked_page(&bytes, password, wish.page, size);
            let unlocked =
                unlocked.map_err(|reason| Stop::unreadable(format!("“{}”: {reason}", wish.name)))?;
            plan.tell(format!("“{}” is kept without its password", wish.name));
            (unlocked, 1)
        }
        _ => (bytes, wish.page),
    };
    bring_in(plan, wish, Drawing { bytes, ending, page, size, scale, read: read.into() })
}

/// Lays a page that is a photograph or a scan, made square.
fn lay_page_made_square(
    plan: &mut Surveyed,
    wish: &Wish,
    bytes: &[u8],
    read: &PageRead,
    corners: &Corners,
) -> Result<(), Stop> {
    let Some(scan) = &read.scan else {
        return Err(Stop::unreadable(format!(
            "“{}” is a page of lines, not a photograph: give --scale or --length in place of --corners",
            wish.name
        )));
    };
    let asked = Asked { page: wish.page, password: wish.password.clone() };
    let squared = square_up_page(&wish.name, bytes, &asked, scan.mm_per_px, corners, &|_| true)
        .map_err(Stop::unreadable)?;
    let from = ScaleFrom::FourCorners { width: corners.width, depth: corners.depth };
    let scale = Scale { mm_per_unit: squared.mm_per_px, from };
    let size = (squared.size_px.0 as f64, squared.size_px.1 as f64);
    let read = squared.grey.into();
    bring_in(plan, wish, Drawing { bytes: squared.bytes, ending: "jpg", page: 1, size, scale, read })
}

/// Lays a picture; a photograph of which four corners are known is made square first.
pub fn lay_picture(plan: &mut Surveyed, wish: &Wish, read: PictureRead) -> Result<(), Stop> {
    let smaller = f64::from(read.times_smaller.max(1));
    if read.times_smaller > 1 {
        plan.tell(format!(
            "“{}” is larger than a trace can use and came in at 1/{} of its size.",
            wish.name, read.times_smaller
        ));
    }
    let own = |point: Point| (point.to_vec2() / smaller).to_point();
    let PictureRead { picture, grey, px_per_inch, .. } = read;
    let (picture, grey, scale) = match &wish.scale {
        ScaleWish::Drawn(denominator) => {
            let px_per_inch = px_per_inch.ok_or_else(|| {
                Stop::unreadable(format!(
                    "“{}” doesn't say how many pixels make an inch, so no drawing scale holds: give --length",
                    wish.name
                ))
            })?;
            (picture, grey, told(*denominator)?.of_a_scan(px_per_inch / smaller))
        }
        ScaleWish::Between(first, second, length) => {
            let scale = between(own(*first), own(*second), *length)?;
            (picture, grey, scale)
        }
        ScaleWish::AsStated => {
            return Err(Stop::unreadable(format!(
                "“{}” is a picture and states no scale: give two points and the length between them with --length",
                wish.name
            )));
        }
        ScaleWish::Corners(corners) => {
            let mut corners = corners.clone();
            corners.at = corners.at.map(own);
            let from = ScaleFrom::FourCorners { width: corners.width, depth: corners.depth };
            let squared = square_up(&picture.bytes, &corners, &|_| true).map_err(Stop::unreadable)?;
            let (width_px, height_px) = (squared.size_px.0 as u32, squared.size_px.1 as u32);
            let grey = squared.grey;
            let picture = PictureFile { bytes: squared.bytes, ending: "jpg", width_px, height_px };
            (picture, grey, Scale { mm_per_unit: squared.mm_per_px, from })
        }
    };
    let size = (f64::from(picture.width_px), f64::from(picture.height_px));
    let (bytes, ending) = (picture.bytes, picture.ending);
    bring_in(plan, wish, Drawing { bytes, ending, page: 1, size, scale, read: grey.into() })
}

/// A drawing to scale, not yet under a storey.
struct Drawing {
    bytes: Vec<u8>,
    ending: &'static str,
    page: u32,
    size: (f64, f64),
    scale: Scale,
    read: DrawingRead,
}

/// Lays it under its storey, its lower left corner at the origin, turned as wished, and traces it if asked.
fn bring_in(plan: &mut Surveyed, wish: &Wish, drawing: Drawing) -> Result<(), Stop> {
    if wish.storeys.len() > 1 {
        return Err(Stop::unreadable("a drawing shows one storey: give --storey once"));
    }
    let turn = turn_of(plan, wish, &drawing.read)?;
    let is_page = matches!(drawing.ending, "pdf" | "svg");
    let (level, new_level) = storey::storey_for(plan, wish.storeys.first())?;
    let underlay = Underlay {
        level,
        name: wish.name.clone(),
        media: plan.media.keep(drawing.bytes, drawing.ending),
        page: drawing.page,
        width: drawing.size.0,
        height: drawing.size.1,
        mm_per_unit: drawing.scale.mm_per_unit,
        scale_from: Some(drawing.scale.from.clone()),
        second_length: None,
        position: Point::ORIGIN,
        turn,
        opacity: OPACITY,
        on_sheets: is_page,
    };
    let unit = if is_page { "millimetre of paper" } else { "pixel" };
    plan.tell(format!("Scale: {:.4} mm of the house to a {unit}", drawing.scale.mm_per_unit));
    let change =
        verbs::bring_in_drawing(&plan.project, underlay.clone(), new_level).map_err(Stop::not_done)?;
    plan.take_in(change)?;
    if !wish.trace {
        return Ok(());
    }
    accept(plan, level, drawing.read.traced(&underlay, &|_| true).unwrap_or_default())
}

fn told(denominator: f64) -> Result<Scale, Stop> {
    Scale::told(denominator).map_err(Stop::unreadable)
}

fn between(first: Point, second: Point, length: Length) -> Result<Scale, Stop> {
    Scale::between(first, second, length).map_err(Stop::unreadable)
}

/// The one scale that a page states.
fn stated(plan: &mut Surveyed, wish: &Wish, page: &Page) -> Result<Scale, Stop> {
    let scales = stated_scales(page);
    let Some(first) = scales.first() else {
        return Err(Stop::unreadable(format!(
            "“{}” states no scale: give --scale 50 for 1:50, or two points and a length with --length",
            wish.name
        )));
    };
    if let Some(other) = scales.iter().find(|other| other.mm_per_unit != first.mm_per_unit) {
        return Err(Stop::unreadable(format!(
            "“{}” states more than one scale (“{}” and “{}”): say with --scale which one holds",
            wish.name, first.text, other.text
        )));
    }
    plan.tell(format!("The drawing says “{}”", first.text));
    if let Some(remark) = &first.remark {
        plan.tell(remark.clone());
    }
    Ok(Scale::of_statement(first))
}

fn turn_of(plan: &mut Surveyed, wish: &Wish, read: &DrawingRead) -> Result<Angle, Stop> {
    match wish.turn {
        TurnWish::By(angle) => Ok(angle),
        TurnWish::Straight => {
            let skew = read.skew().ok_or_else(|| {
                Stop::not_done(format!(
                    "“{}” shows too few lines to tell how it lies: give --turn in degrees",
                    wish.name
                ))
            })?;
            let turn = skew.levelling();
            plan.tell(format!(
                "Turned by {:+.2}° (anticlockwise is plus) to lie straight",
                turn.as_degrees()
            ));
            Ok(turn)
        }
    }
}

/// `1 wall`, `3 walls`.
fn counted(count: usize, sort: &str) -> String {
    format!("{count} {sort}{}", if count == 1 { "" } else { "s" })
}

/// Takes the whole proposal into the plan.
fn accept(plan: &mut Surveyed, level: Id<Level>, proposal: Proposal) -> Result<(), Stop> {
    if proposal.walls.is_empty() {
        plan.tell("Traced: no walls found; trace it by hand");
        return Ok(());
    }
    let confidences = proposal.walls.iter().map(|wall| wall.confidence);
    let unsure = confidences.filter(|confidence| *confidence < 0.7).count();
    let change = accept_proposal(&plan.project, level, &proposal, None, Defaults::default())
        .map_err(Stop::not_done)?;
    plan.take_in(change)?;
    let project = &plan.project;
    let counts = [
        (project.walls_on(level).count(), "wall"),
        (project.openings_on(level).count(), "opening"),
        (project.rooms_on(level).count(), "room"),
    ];
    let [walls, openings, rooms] = counts.map(|(count, sort)| counted(count, sort));
    plan.tell(format!("The storey has {walls}, {openings} and {rooms}"));
    match unsure {
        0 => plan.tell("Each wall of the trace is at least 70 % sure: look them over all the same"),
        _ => plan.tell(format!("{} of the trace less than 70 % sure: look over those first", are(unsure))),
    }
    Ok(())
}

/// `1 wall is`, `3 walls are`.
fn are(walls: usize) -> String {
    format!("{} {}", counted(walls, "wall"), if walls == 1 { "is" } else { "are" })
}
