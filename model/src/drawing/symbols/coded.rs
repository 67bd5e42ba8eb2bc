//! Plain shapes around a letter code.
//!
//! Letters stay upright and 1.8 mm high; the shape grows where a code is long. Circles and arches are sized so
//! that the letters fit whichever way the wall runs; squares, hexagons and rectangles stay upright with their
//! letters and are pushed off the wall until they just touch it.

use kurbo::{Arc, BezPath, Circle, Point, Rect, Shape as _, Vec2};

use super::pen::{CODE_HEIGHT_MM, CODE_WEIGHT, Pen, Place};
use crate::drawing::{Item, lettering};
use crate::edit::Subject;
use crate::kit::Kind;
use crate::units::Angle;

/// Half the usual size of a coded shape, mm on paper.
const HALF_SIZE_MM: f64 = 2.5;

/// Room between letters and outline, mm on paper.
const CLEARANCE_MM: f64 = 0.3;

fn half_width_of(text: &str) -> f64 {
    lettering::width(text, CODE_HEIGHT_MM, CODE_WEIGHT) / 2.0
}

/// Radius of the circle in which the letters can stand at any turn.
fn radius_around(text: &str) -> f64 {
    (half_width_of(text).hypot(CODE_HEIGHT_MM / 2.0) + CLEARANCE_MM).max(HALF_SIZE_MM)
}

/// Letters in a circle.
pub(super) fn circle(kind: &Kind, letters: &str, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let radius = radius_around(letters);
    let mut pen = Pen::new(place, 2.0 * radius, kind, subject);
    pen.outline(Circle::new((radius, 0.0), radius));
    pen.letters((radius, 0.0), letters);
    pen.finish()
}

/// The code in a half circle whose straight sides run back to the wall.
pub(super) fn half_circle(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let radius = radius_around(&kind.code);
    let mut pen = Pen::new(place, 2.0 * radius, kind, subject);
    let quarter = std::f64::consts::FRAC_PI_2;
    let dome = Arc::new((radius, 0.0), Vec2::new(radius, radius), -quarter, 2.0 * quarter, 0.0);
    let mut path = dome.to_path(0.005);
    path.line_to((0.0, radius));
    path.line_to((0.0, -radius));
    path.close_path();
    pen.outline(path);
    pen.letters((radius, 0.0), &kind.code);
    pen.finish()
}

/// The code in a square, widened where the code is long.
pub(super) fn square(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let half_width = (half_width_of(&kind.code) + CLEARANCE_MM).max(HALF_SIZE_MM);
    upright(kind, place, subject, &box_of(half_width, HALF_SIZE_MM))
}

/// The code in a rectangle whose long side lies against the wall.
pub(super) fn rectangle(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    const HALF_LENGTH_MM: f64 = 4.0;
    const HALF_DEPTH_MM: f64 = 2.0;
    let needed = half_width_of(&kind.code) + CLEARANCE_MM;
    let direction = place.facing.direction();
    let stands = place.on_wall && direction.x.abs() > direction.y.abs();
    let path = if stands {
        box_of(needed.max(HALF_DEPTH_MM), HALF_LENGTH_MM)
    } else {
        box_of(needed.max(HALF_LENGTH_MM), HALF_DEPTH_MM)
    };
    upright(kind, place, subject, &path)
}

/// The code in a hexagon that lies on a side, widened where the code is long.
pub(super) fn hexagon(kind: &Kind, place: Place, subject: Option<Subject>) -> Vec<Item> {
    let slope = 1.0 / 3.0_f64.sqrt();
    let widest = half_width_of(&kind.code) + CLEARANCE_MM + CODE_HEIGHT_MM / 2.0 * slope;
    let half_width = widest.max(2.0 * HALF_SIZE_MM * slope);
    let shoulder = half_width - HALF_SIZE_MM * slope;
    let mut path = BezPath::new();
    path.move_to((half_width, 0.0));
    path.line_to((shoulder, HALF_SIZE_MM));
    path.line_to((-shoulder, HALF_SIZE_MM));
    path.line_to((-half_width, 0.0));
    path.line_to((-shoulder, -HALF_SIZE_MM));
    path.line_to((shoulder, -HALF_SIZE_MM));
    path.close_path();
    upright(kind, place, subject, &path)
}

fn box_of(half_width: f64, half_height: f64) -> BezPath {
    Rect::new(-half_width, -half_height, half_width, half_height).to_path(0.1)
}

/// A polygon around the origin that stays upright, just touching the wall if there is one.
fn upright(kind: &Kind, place: Place, subject: Option<Subject>, polygon: &BezPath) -> Vec<Item> {
    let direction = place.facing.direction();
    let reach_to_wall = polygon
        .elements()
        .iter()
        .filter_map(|element| element.end_point())
        .map(|corner: Point| -corner.to_vec2().dot(direction))
        .fold(0.0, f64::max);
    let push = if place.on_wall { reach_to_wall * place.mm_per_paper_mm } else { 0.0 };
    let centred = Place { at: place.at + direction * push, facing: Angle::ZERO, on_wall: false, ..place };
    let mut pen = Pen::new(centred, 0.0, kind, subject);
    pen.outline(polygon);
    pen.letters((0.0, 0.0), &kind.code);
    pen.finish()
}
