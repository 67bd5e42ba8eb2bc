//! What a tool shows before anything is done, over the plan: handles, guides, distances, words.

use egui::{Align2, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, vec2};
use kurbo::Point;

use super::chunks::Look;
use super::tools::{Ghost, Measure};

/// Paints what a tool shows beside its items, which are drawn as the plan is.
pub fn paint(painter: &Painter, look: &Look<'_>, ghost: &Ghost) {
    let theme = look.theme;
    let place = |point: Point| look.camera.screen_from_plan(look.board, point);
    for point in &ghost.handles {
        let rect = Rect::from_center_size(place(*point), vec2(9.0, 9.0));
        painter.rect(rect, 1.0, theme.raised, Stroke::new(1.5, theme.accent), StrokeKind::Inside);
    }
    if let Some((ring, about)) = ghost.turner {
        painter.line_segment([place(about), place(ring)], Stroke::new(1.0, theme.accent));
        painter.circle(place(ring), 6.0, theme.raised, Stroke::new(1.5, theme.accent));
    }
    for measure in &ghost.measures {
        paint_measure(painter, look, measure);
    }
    for (from, to) in &ghost.guides {
        let line = [place(*from), place(*to)];
        painter.extend(Shape::dashed_line(&line, Stroke::new(1.0, theme.guide), 6.0, 4.0));
    }
    if let Some(at) = ghost.mark {
        let at = place(at);
        if ghost.of_drawing {
            // A square rather than a ring: the drawing is caught, not the plan.
            let square = Rect::from_center_size(at, vec2(11.0, 11.0));
            painter.rect_stroke(square, 0.0, Stroke::new(1.5, theme.guide), StrokeKind::Middle);
        } else {
            painter.circle_stroke(at, 5.0, Stroke::new(1.5, theme.guide));
        }
        painter.circle_filled(at, 1.5, theme.guide);
    }
    if let Some(lasso) = ghost.lasso {
        let rect =
            Rect::from_two_pos(place(Point::new(lasso.x0, lasso.y0)), place(Point::new(lasso.x1, lasso.y1)));
        painter.rect(
            rect,
            0.0,
            theme.accent.gamma_multiply(0.12),
            Stroke::new(1.0, theme.accent),
            StrokeKind::Inside,
        );
    }
    for (at, words) in &ghost.notes {
        paint_note(painter, look, place(*at) + vec2(12.0, -12.0), Align2::LEFT_BOTTOM, words);
    }
    if let Some((at, words)) = &ghost.told {
        paint_note(painter, look, place(*at) + vec2(18.0, 18.0), Align2::LEFT_TOP, words);
    }
}

/// A dimension while something is placed: a line with ticks, its figure beside the middle.
fn paint_measure(painter: &Painter, look: &Look<'_>, measure: &Measure) {
    let place = |point: Point| look.camera.screen_from_plan(look.board, point);
    let (from, to) = (place(measure.from), place(measure.to));
    let stroke = Stroke::new(1.0, look.theme.guide);
    painter.line_segment([from, to], stroke);
    let along = (to - from).normalized();
    let tick = vec2(along.y, -along.x) * 4.0;
    for end in [from, to] {
        painter.line_segment([end - tick, end + tick], stroke);
    }
    paint_note(painter, look, from.lerp(to, 0.5), Align2::CENTER_CENTER, &measure.words);
}

/// Words on a ground of their own; at the edge of the board they are drawn in, so that they can be read whole.
fn paint_note(painter: &Painter, look: &Look<'_>, at: Pos2, anchor: Align2, words: &str) {
    let theme = look.theme;
    let galley = painter.layout_no_wrap(words.to_owned(), FontId::proportional(12.0), theme.ink);
    let rect = anchor.anchor_size(at, galley.size());
    if !look.board.contains(at) {
        return;
    }
    let room = look.board.shrink(6.0);
    let rect = rect
        .translate(vec2((room.right() - rect.right()).min(0.0), (room.bottom() - rect.bottom()).min(0.0)));
    let rect = rect.translate(vec2((room.left() - rect.left()).max(0.0), (room.top() - rect.top()).max(0.0)));
    painter.rect(rect.expand(3.0), 3.0, theme.raised, Stroke::new(1.0, theme.edge), StrokeKind::Outside);
    painter.galley(rect.min, galley, theme.ink);
}
