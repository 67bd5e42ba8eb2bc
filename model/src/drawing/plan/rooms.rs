//! Room names and areas, at a place in the room where nothing else stands.

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Size};

use crate::building::outline::RoomOutline;
use crate::drawing::labels::text_bounds;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::geometry::{Ring, label_point};
use crate::id::Id;
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::units::Angle;

use super::devices::device_bounds;

/// Height of a room's name, mm on paper (ISO 3098 series).
const NAME_HEIGHT_MM: f64 = 2.5;

/// Height of its area, mm on paper (ISO 3098 series).
const AREA_HEIGHT_MM: f64 = 1.8;

/// From the base line of the name to the top of the area's figures, mm on paper.
const GAP_MM: f64 = 1.2;

/// Clear margin around names, mm on paper.
const MARGIN_MM: f64 = 1.2;

/// How many places along each axis of a room are tried for its name.
const TRIED_PER_AXIS: i32 = 12;

/// Names and areas of the rooms of a level. A room whose walls do not close shows its name at its seed and says
/// that it is open.
pub fn room_items(
    project: &Project,
    level: Id<Level>,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    scale: f64,
) -> Vec<Item> {
    let symbols = symbol_boxes(project, level, scale);
    let mut items = Vec::new();
    for (id, room) in project.rooms_on(level) {
        let outline = outlines.get(&id);
        let note =
            outline.map_or_else(|| "walls do not close".to_owned(), |outline| outline.area().to_string());
        let block = block_size(&room.name, &note, scale);
        let centre = match outline {
            Some(outline) => clear_place(outline, block, &symbols),
            None => room.seed,
        };
        items.extend(room_label(id, &room.name, &note, outline.is_some(), centre, scale));
    }
    items
}

/// The rectangles that the symbols of a level take.
pub(super) fn symbol_boxes(project: &Project, level: Id<Level>, scale: f64) -> Vec<Rect> {
    project
        .devices_on(level)
        .filter_map(|(_, device, kind)| device_bounds(project, device, kind, scale))
        .collect()
}

fn block_size(name: &str, note: &str, scale: f64) -> Size {
    let width = lettering::width(name, NAME_HEIGHT_MM, Weight::SemiBold).max(lettering::width(
        note,
        AREA_HEIGHT_MM,
        Weight::Regular,
    ));
    let height = NAME_HEIGHT_MM + GAP_MM + AREA_HEIGHT_MM;
    Size::new(width + 2.0 * MARGIN_MM, height + 2.0 * MARGIN_MM) * scale
}

fn room_label(id: Id<Room>, name: &str, note: &str, closed: bool, centre: Point, scale: f64) -> Vec<Item> {
    let top = centre.y + (NAME_HEIGHT_MM + GAP_MM + AREA_HEIGHT_MM) / 2.0 * scale;
    let name_base = top - NAME_HEIGHT_MM * scale;
    let note_base = name_base - (GAP_MM + AREA_HEIGHT_MM) * scale;
    let text = |words: &str, height_mm: f64, weight: Weight, base: f64, role: Role| Item {
        layer: Layer::Rooms,
        role,
        subject: Some(Subject::Room(id)),
        shape: Shape::Text {
            at: Point::new(centre.x, base),
            text: words.to_owned(),
            height_mm,
            weight,
            anchor: Anchor::Middle,
            turn: Angle::ZERO,
        },
    };
    let note_role = if closed { Role::RoomNote } else { Role::Missing };
    vec![
        text(name, NAME_HEIGHT_MM, Weight::SemiBold, name_base, Role::RoomName),
        text(note, AREA_HEIGHT_MM, Weight::Regular, note_base, note_role),
    ]
}

/// The place for a block of that size: the one nearest the point farthest from the walls at which the block lies
/// within the room and off every symbol; failing that, the one that at least lies off every symbol; failing that
/// too, that point itself.
fn clear_place(outline: &RoomOutline, block: Size, symbols: &[Rect]) -> Point {
    let ring = &outline.shape.outer;
    let Some(bounds) = ring.bounds() else { return Point::ZERO };
    let best = label_point(ring, 10.0).map_or(bounds.center(), |(point, _)| point);
    let near: Vec<Rect> = symbols.iter().copied().filter(|symbol| symbol.overlaps(bounds)).collect();
    let mut places: Vec<Point> = Vec::new();
    let step = kurbo::Vec2::new(bounds.width(), bounds.height()) / f64::from(2 * TRIED_PER_AXIS);
    for row in -2 * TRIED_PER_AXIS..=2 * TRIED_PER_AXIS {
        for column in -2 * TRIED_PER_AXIS..=2 * TRIED_PER_AXIS {
            places.push(best + kurbo::Vec2::new(step.x * f64::from(column), step.y * f64::from(row)));
        }
    }
    places.retain(|place| outline.contains(*place));
    places.sort_by(|a, b| a.distance_squared(best).total_cmp(&b.distance_squared(best)));
    let clear = |place: &&Point| {
        let rect = Rect::from_center_size(**place, block);
        !near.iter().any(|symbol| symbol.overlaps(rect))
    };
    places
        .iter()
        .filter(|place| lies_within(outline, Rect::from_center_size(**place, block)))
        .find(clear)
        .or_else(|| places.iter().find(clear))
        .copied()
        .unwrap_or(best)
}

/// Whether a rectangle lies wholly within a room: no edge of the room crosses it and its centre is inside.
pub(super) fn lies_within(outline: &RoomOutline, rect: Rect) -> bool {
    outline.contains(rect.center()) && outline.shape.rings().all(|ring| !crosses(ring, rect))
}

fn crosses(ring: &Ring, rect: Rect) -> bool {
    ring.edges().any(|edge| crate::drawing::labels::line_crosses(edge.a, edge.b, rect))
}

/// The rectangles that the lettering of some items takes.
pub(super) fn lettering_boxes(items: &[Item], scale: f64) -> Vec<Rect> {
    items.iter().filter_map(|item| text_bounds(&item.shape, scale)).collect()
}
