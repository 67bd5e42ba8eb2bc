//! Placing a plan on the paper at a scale: does it fit, where does it go, and which scale is next.

use kurbo::{Affine, Rect, Shape as _, Vec2};

use crate::drawing::labels::text_bounds;
use crate::drawing::{Item, Layer, Role, Shape};

/// Scales of drawings of buildings, denominators (ISO 5455:1979, with the step of 1:25 the trade also uses;
/// from memory).
pub const STANDARD_SCALES: [u32; 8] = [10, 20, 25, 50, 100, 200, 500, 1000];

/// Clear margin around the plan within its area, mm on paper.
const MARGIN_MM: f64 = 3.0;

/// The scale to try after one that is too large for the paper.
pub(super) fn next_scale(scale: u32) -> Option<u32> {
    STANDARD_SCALES.into_iter().find(|standard| *standard > scale)
}

/// The rectangle, plan mm, that what is drawn takes at a scale. Areas of coverage and zones are left out: they
/// may reach far beyond the house and are cut at the edge of the drawing, as the boundary of the site is.
pub(super) fn plan_bounds(items: &[Item], scale: f64) -> Option<Rect> {
    items
        .iter()
        .filter(|item| !matches!(item.layer, Layer::Coverage | Layer::Underlay | Layer::LevelBelow))
        .filter(|item| item.role != Role::SiteBoundary)
        .filter_map(|item| match &item.shape {
            Shape::Path(path) if !path.elements().is_empty() => Some(path.bounding_box()),
            Shape::Path(_) | Shape::Picture { .. } => None,
            Shape::Text { .. } => text_bounds(&item.shape, scale),
        })
        .reduce(|a, b| a.union(b))
}

/// A plan placed on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Placed {
    /// Places plan millimetres on the paper.
    pub paper_from_plan: Affine,
    /// The area of the paper it lies in, mm.
    pub area: Rect,
}

/// Centres a plan at a scale in the first area in which it fits, moved by whole millimetres of paper so that
/// grids of the plan stay on grids of the paper. `None` where it fits in none.
pub(super) fn place(bounds: Rect, scale: f64, areas: &[Rect]) -> Option<Placed> {
    let size = bounds.size() / scale;
    areas
        .iter()
        .find(|area| {
            let room = area.inset(-MARGIN_MM);
            size.width <= room.width() && size.height <= room.height()
        })
        .map(|area| Placed { paper_from_plan: centred(bounds, scale, *area), area: *area })
}

/// Centres a plan in an area whether it fits or not.
pub(super) fn centred(bounds: Rect, scale: f64, area: Rect) -> Affine {
    let centre = bounds.center().to_vec2() / scale;
    let shift = area.center().to_vec2() - centre;
    Affine::translate(Vec2::new(shift.x.round(), shift.y.round())) * Affine::scale(1.0 / scale)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_goes_where_it_fits_and_stays_on_whole_millimetres() {
        let areas = [Rect::new(0.0, 0.0, 200.0, 100.0), Rect::new(0.0, 0.0, 100.0, 300.0)];
        let tall = Rect::new(0.0, 0.0, 4_321.0, 14_000.0);
        let placed = place(tall, 50.0, &areas).unwrap();
        assert_eq!(placed.area, areas[1]);
        let shift = placed.paper_from_plan.translation();
        assert_eq!(shift, Vec2::new(shift.x.round(), shift.y.round()));
        let on_paper = placed.paper_from_plan.transform_rect_bbox(tall);
        assert!(areas[1].contains_rect(on_paper));
        assert!(place(Rect::new(0.0, 0.0, 20_000.0, 9_000.0), 50.0, &areas).is_none());
    }

    #[test]
    fn scales_go_on_to_the_next_standard_one() {
        assert_eq!(next_scale(50), Some(100));
        assert_eq!(next_scale(75), Some(100));
        assert_eq!(next_scale(1000), None);
    }
}
