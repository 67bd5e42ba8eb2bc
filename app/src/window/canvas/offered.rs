//! The ghost of an offer over the drawing: walls, openings, rooms with their names.
//!
//! How sure a part is shows by the form of its line and by the depth of its tone, and in words where it is
//! pointed at. Every line lies on a wider one of the sheet's colour, so that it reads over dark poché too.

use egui::{Align2, Color32, FontId, Painter, Pos2, Shape, Stroke, vec2};
use kurbo::{BezPath, Point};
use pattress_model::project::Project;
use pattress_model::survey::Part;

use super::chunks::Look;
use crate::window::survey::offer::{Offer, Sureness};
use crate::window::survey::proposed::Proposed;
use crate::window::theme::Theme;

/// Names of rooms are left out where their letters would be lost among the lines, screen points to a metre.
const NAMES_FROM: f64 = 12.0;

/// Paints what is left of an offer; what is lit last and in full.
pub fn paint(painter: &Painter, look: &Look<'_>, proposed: &Proposed, offer: &Offer, project: &Project) {
    let left = offer.left(project);
    let stale = offer.is_stale(project);
    let lit = proposed.lit().filter(|part| left.contains(part));
    let in_view = look.camera.in_view(look.board);
    for sort in [is_room, is_wall, is_opening] {
        for part in left.iter().rev().filter(|part| sort(part) && Some(**part) != lit) {
            let corners = offer.outline(*part);
            if touches(&corners, in_view) {
                paint_part(
                    painter,
                    look,
                    offer,
                    *part,
                    &corners,
                    if stale { Tone::Stale } else { Tone::Usual },
                );
            }
        }
    }
    if look.camera.points_per_mm * 1000.0 >= NAMES_FROM {
        for part in left.iter().filter(|part| is_room(part) && Some(**part) != lit) {
            paint_name(painter, look, offer, *part, false);
        }
    }
    if let Some(part) = lit {
        paint_part(painter, look, offer, part, &offer.outline(part), Tone::Lit);
        paint_name(painter, look, offer, part, true);
    }
}

/// Says what the lit part is, beside it.
pub fn paint_words(
    painter: &Painter,
    look: &Look<'_>,
    proposed: &Proposed,
    offer: &Offer,
    project: &Project,
) {
    let Some(part) = proposed.lit().filter(|part| offer.left(project).contains(part)) else { return };
    let Some(place) = offer.place(part) else { return };
    let at = look.camera.screen_from_plan(look.board, place) + vec2(12.0, -14.0);
    let words = offer.words_with_sureness(part);
    let galley = painter.layout_no_wrap(words, FontId::proportional(12.0), look.theme.ink);
    let room = look.board.shrink(6.0);
    let mut rect = Align2::LEFT_BOTTOM.anchor_size(at, galley.size());
    // Words at the edge of the board are drawn in, so that they can be read whole.
    rect = rect.translate(vec2((room.right() - rect.right()).min(0.0), (room.top() - rect.top()).max(0.0)));
    rect =
        rect.translate(vec2((room.left() - rect.left()).max(0.0), (room.bottom() - rect.bottom()).min(0.0)));
    let edge = Stroke::new(1.0, look.theme.pointed);
    painter.rect(rect.expand(4.0), 3.0, look.theme.raised, edge, egui::StrokeKind::Outside);
    painter.galley(rect.min, galley, look.theme.ink);
}

fn is_room(part: &Part) -> bool {
    matches!(part, Part::Room(_))
}

fn is_wall(part: &Part) -> bool {
    matches!(part, Part::Wall(_))
}

fn is_opening(part: &Part) -> bool {
    matches!(part, Part::Opening(_))
}

fn touches(corners: &[Point], view: kurbo::Rect) -> bool {
    let bounds =
        corners.iter().map(|corner| kurbo::Rect::from_points(*corner, *corner)).reduce(|a, b| a.union(b));
    bounds.is_some_and(|bounds| bounds.overlaps(view))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Tone {
    Usual,
    Lit,
    Stale,
}

/// The colour of a part's lines.
pub fn ink_of(theme: &Theme, sureness: Sureness) -> Color32 {
    match sureness {
        Sureness::Sure | Sureness::Likely => theme.accent,
        Sureness::Doubtful => theme.warn,
    }
}

fn paint_part(painter: &Painter, look: &Look<'_>, offer: &Offer, part: Part, corners: &[Point], tone: Tone) {
    let sureness = Sureness::of(offer.percent(part));
    let theme = look.theme;
    let ink = match tone {
        Tone::Usual => ink_of(theme, sureness),
        Tone::Lit => theme.pointed,
        Tone::Stale => theme.quiet,
    };
    let mut ring: Vec<Pos2> =
        corners.iter().map(|corner| look.camera.screen_from_plan(look.board, *corner)).collect();
    if ring.len() < 3 {
        return;
    }
    let depth = match (tone, sureness, part) {
        (Tone::Lit, _, Part::Room(_)) => 0.12,
        (Tone::Lit, ..) => 0.45,
        (_, _, Part::Room(_)) => 0.0,
        (_, Sureness::Sure, _) => 0.34,
        (_, Sureness::Likely, _) => 0.2,
        (_, Sureness::Doubtful, _) => 0.08,
    };
    if depth > 0.0 {
        fill(painter, &ring, part, theme, ink.gamma_multiply(depth));
    }
    ring.push(ring[0]);
    let width = match (tone, part) {
        (Tone::Lit, _) => 2.5,
        (_, Part::Room(_)) => 1.0,
        _ => 1.6,
    };
    line(painter, look, &ring, Stroke::new(width, ink), sureness);
    if let Part::Opening(index) = part {
        opening(painter, look, offer, index, &ring, Stroke::new(width, ink));
    }
}

/// An opening has the sheet's ground, so that it reads as a hole in its wall.
fn fill(painter: &Painter, ring: &[Pos2], part: Part, theme: &Theme, ink: Color32) {
    if let Part::Opening(_) = part {
        painter.add(Shape::convex_polygon(ring.to_vec(), theme.sheet, Stroke::NONE));
    }
    if let Part::Room(_) = part {
        // Outlines of rooms turn in on themselves: a fan of triangles would fill what is not theirs.
        return;
    }
    painter.add(Shape::convex_polygon(ring.to_vec(), ink, Stroke::NONE));
}

/// What an opening is: a door has its leaf and arc or a bar, a window two lines along.
fn opening(painter: &Painter, look: &Look<'_>, offer: &Offer, index: usize, ring: &[Pos2], stroke: Stroke) {
    use pattress_model::survey::ProposedForm;
    let Some(form) = offer.proposal().openings.get(index).map(|opening| opening.form) else { return };
    match form {
        ProposedForm::Door(_) => {
            let leaf = offer.leaf(index).unwrap_or_default();
            for run in runs(look, &leaf) {
                line(painter, look, &run, stroke, Sureness::Sure);
            }
            if leaf.is_empty() {
                line(painter, look, &[ring[0], ring[2]], stroke, Sureness::Sure);
            }
        }
        ProposedForm::Window => {
            for share in [1.0 / 3.0, 2.0 / 3.0] {
                let between = [ring[0].lerp(ring[3], share), ring[1].lerp(ring[2], share)];
                line(painter, look, &between, Stroke::new(1.0, stroke.color), Sureness::Sure);
            }
        }
        ProposedForm::Plain => {}
    }
}

/// A path as runs of screen points.
fn runs(look: &Look<'_>, path: &BezPath) -> Vec<Vec<Pos2>> {
    let mut runs: Vec<Vec<Pos2>> = Vec::new();
    let place = |point| look.camera.screen_from_plan(look.board, point);
    let tolerance = 0.3 / look.camera.points_per_mm;
    kurbo::flatten(path.elements().iter().copied(), tolerance, |element| match element {
        kurbo::PathEl::MoveTo(point) => runs.push(vec![place(point)]),
        kurbo::PathEl::LineTo(point) => {
            if let Some(run) = runs.last_mut() {
                run.push(place(point));
            }
        }
        _ => {}
    });
    runs
}

/// A line in the form of its sureness, on a wider one of the sheet's colour.
fn line(painter: &Painter, look: &Look<'_>, points: &[Pos2], stroke: Stroke, sureness: Sureness) {
    let casing = Stroke::new(stroke.width + 2.0, look.theme.sheet.gamma_multiply(0.85));
    painter.add(Shape::line(points.to_vec(), casing));
    if sureness == Sureness::Sure {
        painter.add(Shape::line(points.to_vec(), stroke));
        return;
    }
    let around = look.board.expand(8.0);
    for pair in points.windows(2) {
        // Only what is seen is broken into dashes: near by, a wall may run far beyond the board.
        let Some(seen) = within(pair[0], pair[1], around) else { continue };
        match sureness {
            Sureness::Likely => painter.extend(Shape::dashed_line(&seen, stroke, 8.0, 4.0)),
            _ => painter.extend(Shape::dotted_line(&seen, stroke.color, 5.0, stroke.width * 0.75)),
        };
    }
}

/// The part of a straight line that lies within a rectangle.
fn within(from: Pos2, to: Pos2, rect: egui::Rect) -> Option<[Pos2; 2]> {
    let run = to - from;
    let (mut first, mut last) = (0.0_f32, 1.0_f32);
    for (start, step, low, high) in
        [(from.x, run.x, rect.left(), rect.right()), (from.y, run.y, rect.top(), rect.bottom())]
    {
        if step.abs() < 1e-6 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        first = first.max(a.min(b));
        last = last.min(a.max(b));
    }
    (first < last).then(|| [from + run * first, from + run * last])
}

/// How wide an outline is, plan mm.
fn width_of(corners: &[Point]) -> f64 {
    let (low, high) = corners
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at.x), high.max(at.x)));
    high - low
}

fn paint_name(painter: &Painter, look: &Look<'_>, offer: &Offer, part: Part, lit: bool) {
    let Some(place) = offer.place(part) else { return };
    let Part::Room(index) = part else { return };
    let name = offer.proposal().rooms.get(index).map_or("", |room| room.name.trim());
    let percent = offer.percent(part);
    let whole = if name.is_empty() { format!("room?  {percent} %") } else { format!("{name}  {percent} %") };
    let at = look.camera.screen_from_plan(look.board, place);
    if !look.board.contains(at) {
        return;
    }
    let sureness = Sureness::of(percent);
    let ink = if lit { look.theme.pointed } else { ink_of(look.theme, sureness) };
    // What does not fit into its room would lie over the next one's.
    let width = width_of(&offer.outline(part)) * look.camera.points_per_mm;
    let fits = |words: String| {
        let galley = painter.layout_no_wrap(words, FontId::proportional(12.0), ink);
        (lit || f64::from(galley.size().x) + 8.0 <= width).then_some(galley)
    };
    let Some(galley) = fits(whole).or_else(|| fits(format!("{percent} %"))) else { return };
    let rect = Align2::CENTER_CENTER.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(4.0, 2.0)), 3.0, look.theme.sheet.gamma_multiply(0.9));
    let [left, right] = [rect.left_bottom(), rect.right_bottom()];
    painter.galley(rect.min, galley, ink);
    line(painter, look, &[left, right], Stroke::new(1.2, ink), sureness);
}
