//! Lights.
//!
//! The crossed circle is the lamp of IEC 60617 and BS EN 60617-11; ring, stem, rays and bar around it are drawn
//! as BS EN 60617-11 draws recessed, wall and projector luminaires and tubes, from memory.

use kurbo::{Circle, Rect};

use super::pen::{Pen, Place};
use crate::drawing::Item;
use crate::edit::Subject;
use crate::kit::Kind;

/// Crossed circle, 5 mm.
pub(super) fn lighting_point(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 5.0, kind, subject);
    pen.crossed_circle((2.5, 0.0), 2.5);
    pen.finish()
}

/// Crossed circle within a ring, 3.5 mm.
pub(super) fn downlight(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 3.5, kind, subject);
    pen.outline(Circle::new((1.75, 0.0), 1.75));
    pen.crossed_circle((1.75, 0.0), 1.0);
    pen.finish()
}

/// Crossed circle on a stem, with a foot on the wall.
pub(super) fn wall_light(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let mut pen = Pen::new(place, 4.8, kind, subject);
    pen.solid(Rect::new(0.0, -1.4, 0.4, 1.4));
    pen.stroke((0.4, 0.0), (1.3, 0.0));
    pen.crossed_circle((3.05, 0.0), 1.75);
    pen.finish()
}

/// Crossed circle with three rays.
pub(super) fn floodlight(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const RADIUS: f64 = 1.75;
    let mut pen = Pen::new(place, 5.2, kind, subject);
    pen.crossed_circle((RADIUS, 0.0), RADIUS);
    for degrees in [-35.0_f64, 0.0, 35.0] {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        let along = |distance: f64| (RADIUS + distance * cosine, distance * sine);
        pen.stroke(along(RADIUS + 0.5), along(RADIUS + 1.7));
    }
    pen.finish()
}

/// A bar of the true length with a line along it: along the wall, or the way it faces where there is none.
pub(super) fn linear_light(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const DEPTH: f64 = 1.5;
    /// What a bar without a length, or one too short to see, is drawn as, mm on paper.
    const SHORTEST: f64 = 2.0;
    let length = kind.drawn_length.map_or(5.0, |length| length.as_mm() / place.mm_per_paper_mm).max(SHORTEST);
    if place.on_wall {
        let mut pen = Pen::new(place, DEPTH, kind, subject);
        pen.outline(Rect::new(0.0, -length / 2.0, DEPTH, length / 2.0));
        pen.stroke((DEPTH / 2.0, -length / 2.0), (DEPTH / 2.0, length / 2.0));
        pen.finish()
    } else {
        let mut pen = Pen::new(place, length, kind, subject);
        pen.outline(Rect::new(0.0, -DEPTH / 2.0, length, DEPTH / 2.0));
        pen.stroke((0.0, 0.0), (length, 0.0));
        pen.finish()
    }
}
