//! Things drawn as what they are: contacts, cameras, plates, loudspeakers, bells, screens, outlets, aerials.
//!
//! Loudspeaker, bell and telecommunication outlet follow the forms of IEC 60617 as remembered; the others are
//! plain pictures of our own, which the legend explains.

use kurbo::{Arc, BezPath, Circle, Rect, Shape as _, Vec2};

use super::pen::{Pen, Place};
use crate::drawing::Item;
use crate::edit::Subject;
use crate::kit::{Kind, PointRole, PointType};
use crate::units::Angle;

/// Two short strokes.
pub(super) fn contact(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 2.4, kind, subject);
    for middle in [-0.6, 0.6] {
        pen.solid(Rect::new(0.0, middle - 0.25, 2.4, middle + 0.25));
    }
    pen.finish()
}

/// A body on a bracket, with a lens that points where it looks.
pub(super) fn camera(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 5.4, kind, subject);
    pen.stroke((0.0, 0.0), (0.9, 0.0));
    pen.outline(Rect::new(0.9, -1.25, 3.9, 1.25));
    let mut lens = BezPath::new();
    lens.move_to((3.9, -0.55));
    lens.line_to((5.4, -1.25));
    lens.line_to((5.4, 1.25));
    lens.line_to((3.9, 0.55));
    lens.close_path();
    pen.solid(lens);
    pen.finish()
}

/// A plate with one stroke for each key. Keys are the events that it reports.
pub(super) fn plate(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const SPACING: f64 = 0.9;
    let is_key = |point: &&crate::kit::PointSpec| {
        point.role == PointRole::Reports && point.point_type == PointType::Event
    };
    let keys = kind.points.iter().filter(is_key).count() as f64;
    let half_width = ((keys + 0.5) * SPACING / 2.0).max(2.0);
    let mut pen = Pen::new(place, 2.9, kind, subject);
    pen.outline(Rect::new(0.0, -half_width, 1.5, half_width));
    let mut along = -(keys - 1.0) / 2.0 * SPACING;
    for _ in 0..keys as usize {
        pen.stroke((1.5, along), (2.9, along));
        along += SPACING;
    }
    pen.finish()
}

/// A box with a horn: against the wall, or in a circle on the ceiling.
pub(super) fn loudspeaker(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    if place.on_wall {
        let mut pen = Pen::new(place, 3.9, kind, subject);
        pen.polyline(&[(1.5, -1.0), (3.9, -2.5), (3.9, 2.5), (1.5, 1.0)], true);
        pen.outline(Rect::new(0.0, -1.0, 1.5, 1.0));
        pen.finish()
    } else {
        let mut pen = Pen::new(place, 5.0, kind, subject);
        pen.outline(Circle::new((2.5, 0.0), 2.5));
        pen.polyline(&[(2.2, -0.6), (3.7, -1.6), (3.7, 1.6), (2.2, 0.6)], true);
        pen.outline(Rect::new(1.1, -0.6, 2.2, 0.6));
        pen.finish()
    }
}

/// A bell: a dome on two leads.
pub(super) fn sounder(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const FOOT: f64 = 1.4;
    const RADIUS: f64 = 2.5;
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut pen = Pen::new(place, FOOT + RADIUS, kind, subject);
    for lead in [-0.9, 0.9] {
        pen.stroke((0.0, lead), (FOOT, lead));
    }
    let mut dome =
        Arc::new((FOOT, 0.0), Vec2::new(RADIUS, RADIUS), -quarter, 2.0 * quarter, 0.0).to_path(0.005);
    dome.close_path();
    pen.outline(dome);
    pen.finish()
}

/// A flat screen on its bracket.
pub(super) fn screen(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 2.0, kind, subject);
    pen.solid(Rect::new(0.0, -0.9, 0.8, 0.9));
    pen.outline(Rect::new(0.8, -2.5, 2.0, 2.5));
    pen.finish()
}

/// A telecommunication outlet: a square cup on a stem, open to the room.
pub(super) fn outlet(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 3.6, kind, subject);
    pen.stroke((0.0, 0.0), (1.5, 0.0));
    pen.polyline(&[(3.6, -1.8), (1.5, -1.8), (1.5, 1.8), (3.6, 1.8)], false);
    pen.finish()
}

/// Arcs over a dot, in a circle; always upright, as radio goes all ways.
pub(super) fn access_point(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const RADIUS: f64 = 2.5;
    let off_the_wall = if place.on_wall { RADIUS * place.mm_per_paper_mm } else { 0.0 };
    let upright = Place {
        at: place.at + place.facing.direction() * off_the_wall,
        facing: Angle::degrees(90.0),
        on_wall: false,
        ..place
    };
    let mut pen = Pen::new(upright, 2.0 * RADIUS, kind, subject);
    pen.outline(Circle::new((RADIUS, 0.0), RADIUS));
    let half_sweep = 45.0_f64.to_radians();
    for radius in [2.6, 1.5] {
        pen.outline(Arc::new((1.2, 0.0), Vec2::new(radius, radius), -half_sweep, 2.0 * half_sweep, 0.0));
    }
    pen.solid(Circle::new((1.2, 0.0), 0.35));
    pen.finish()
}
