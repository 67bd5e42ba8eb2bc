//! How each kind is drawn on the plan.
//!
//! A symbol has the same size on paper at every scale; only linear lights are drawn as long as they are. A
//! device on a wall is drawn on the room's side of the wall face, any other around its centre, and letters stay
//! upright whichever way the device looks. Every form is explained in the legend of its sheet.

mod coded;
mod lights;
mod pen;
mod shapes;

use kurbo::{Point, Rect, Shape as _};

use super::{Item, Shape, lettering, style_of};
use crate::edit::Subject;
use crate::kit::{Kind, Symbol};
use crate::units::Angle;
use pen::Place;

/// The symbol of a device of that kind.
///
/// `at` is where the device is, in plan millimetres: for one on a wall, on the wall's face. `facing` is the way
/// it looks: off a wall, into the room. `mm_per_paper_mm` is the denominator of the scale (50 for 1:50).
pub fn symbol(
    kind: &Kind,
    at: Point,
    facing: Angle,
    on_wall: bool,
    mm_per_paper_mm: f64,
    subject: Option<Subject>,
) -> Vec<Item> {
    let place = Place { at, facing, on_wall, mm_per_paper_mm };
    match kind.symbol {
        Symbol::CodeInCircle => coded::circle(kind, &kind.code, place, subject),
        Symbol::CodeInHalfCircle => coded::half_circle(kind, place, subject),
        Symbol::CodeInSquare => coded::square(kind, place, subject),
        Symbol::CodeInHexagon => coded::hexagon(kind, place, subject),
        Symbol::CodeInRectangle => coded::rectangle(kind, place, subject),
        Symbol::Motor => coded::circle(kind, "M", place, subject),
        Symbol::LightingPoint => lights::lighting_point(kind, place, subject),
        Symbol::Downlight => lights::downlight(kind, place, subject),
        Symbol::WallLight => lights::wall_light(kind, place, subject),
        Symbol::LinearLight => lights::linear_light(kind, place, subject),
        Symbol::Floodlight => lights::floodlight(kind, place, subject),
        Symbol::Contact => shapes::contact(kind, place, subject),
        Symbol::Camera => shapes::camera(kind, place, subject),
        Symbol::Plate => shapes::plate(kind, place, subject),
        Symbol::Loudspeaker => shapes::loudspeaker(kind, place, subject),
        Symbol::Sounder => shapes::sounder(kind, place, subject),
        Symbol::Screen => shapes::screen(kind, place, subject),
        Symbol::Outlet => shapes::outlet(kind, place, subject),
        Symbol::AccessPoint => shapes::access_point(kind, place, subject),
    }
}

/// The upright rectangle that a symbol takes up with its lines, in plan millimetres: for placing labels and for
/// picking. Arguments as for [`symbol`].
pub fn symbol_bounds(kind: &Kind, at: Point, facing: Angle, on_wall: bool, mm_per_paper_mm: f64) -> Rect {
    symbol(kind, at, facing, on_wall, mm_per_paper_mm, None)
        .iter()
        .map(|item| bounds_of(item, mm_per_paper_mm))
        .reduce(|all, one| all.union(one))
        .unwrap_or_else(|| Rect::from_center_size(at, (0.0, 0.0)))
}

/// How far beyond its path the mitre of a right angle reaches, in widths of the line: half the square root of
/// two. No symbol has a sharper corner that is outlined.
const MITRE_REACH: f64 = std::f64::consts::FRAC_1_SQRT_2;

fn bounds_of(item: &Item, mm_per_paper_mm: f64) -> Rect {
    match &item.shape {
        Shape::Path(path) => {
            let reach = MITRE_REACH * style_of(item.role).width_mm * mm_per_paper_mm;
            path.bounding_box().inflate(reach, reach)
        }
        Shape::Text { at, text, height_mm, weight, anchor, .. } => {
            let width = lettering::width(text, *height_mm, *weight);
            let start = *at + lettering::start_from_anchor(*anchor, width, *height_mm) * mm_per_paper_mm;
            Rect::from_origin_size(start, (width * mm_per_paper_mm, height_mm * mm_per_paper_mm))
        }
        Shape::Picture { plan_from_units, size, .. } => {
            plan_from_units.transform_rect_bbox(Rect::new(0.0, 0.0, size.0, size.1))
        }
    }
}

#[cfg(test)]
mod tests;
