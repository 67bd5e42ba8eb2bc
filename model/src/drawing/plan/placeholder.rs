//! A plain circle with the letter code, until symbols are drawn in their own forms.

use kurbo::{Circle, Point, Rect, Shape as _};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::kit::Kind;
use crate::units::Angle;

const RADIUS_MM: f64 = 2.5;

fn centre(at: Point, facing: Angle, on_wall: bool, scale: f64) -> Point {
    if on_wall { at + facing.direction() * (RADIUS_MM * scale) } else { at }
}

pub(super) fn symbol(
    kind: &Kind,
    at: Point,
    facing: Angle,
    on_wall: bool,
    mm_per_paper_mm: f64,
    subject: Option<Subject>,
) -> Vec<Item> {
    let centre = centre(at, facing, on_wall, mm_per_paper_mm);
    let circle = Circle::new(centre, RADIUS_MM * mm_per_paper_mm).to_path(0.05 * mm_per_paper_mm);
    let code = Shape::Text {
        at: centre,
        text: kind.code.clone(),
        height_mm: 1.8,
        weight: Weight::Medium,
        anchor: Anchor::Centre,
        turn: Angle::ZERO,
    };
    vec![
        Item::path(Layer::Devices, Role::Symbol, subject, circle),
        Item { layer: Layer::Devices, role: Role::SymbolCode, subject, shape: code },
    ]
}

pub(super) fn symbol_bounds(_: &Kind, at: Point, facing: Angle, on_wall: bool, mm_per_paper_mm: f64) -> Rect {
    let side = 2.0 * RADIUS_MM * mm_per_paper_mm;
    Rect::from_center_size(centre(at, facing, on_wall, mm_per_paper_mm), (side, side))
}
