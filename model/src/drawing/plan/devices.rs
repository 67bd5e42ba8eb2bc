//! Devices as symbols, and a ring of warning around those whose place is not decided.

use kurbo::{Circle, Rect, Shape as _};

use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Kind, Mount, Symbol};
use crate::project::Project;
use crate::units::Angle;

use crate::drawing::labels::text_bounds;
use crate::drawing::symbols::{symbol, symbol_bounds};

/// How far the ring of warning stands off the symbol, mm on paper.
const RING_OFF_SYMBOL_MM: f64 = 0.6;

/// Height of the query in the ring, mm on paper.
const QUERY_HEIGHT_MM: f64 = 1.8;

/// Whether something is missing that whoever fits it has to know: its height, or what it is fixed to.
pub(crate) fn is_missing(device: &Device) -> bool {
    device.height_affl.is_none() || matches!(device.mount, Mount::Loose { .. })
}

/// A device's symbol; ringed, with a query, where its height or its host is missing.
pub fn device_items(
    project: &Project,
    id: Id<Device>,
    device: &Device,
    kind: &Kind,
    scale: f64,
) -> Vec<Item> {
    let Some(at) = project.position_of(device) else { return Vec::new() };
    let subject = Some(Subject::Device(id));
    let on_wall = matches!(device.mount, Mount::WallFace { .. });
    let facing = drawn_facing(project, device, kind);
    let mut items = symbol(kind, at, facing, on_wall, scale, subject);
    if is_missing(device) {
        let (ring, query) = warning(symbol_bounds(kind, at, facing, on_wall, scale), scale);
        let path = ring.to_path(0.05 * scale);
        items.push(Item::path(Layer::Devices, Role::Missing, subject, path));
        items.push(Item { layer: Layer::Devices, role: Role::Missing, subject, shape: query });
    }
    items
}

/// The way a symbol is drawn. On a wall it sits square on the face, however the detector within is turned (its
/// coverage shows that); only a camera is drawn the way it looks.
fn drawn_facing(project: &Project, device: &Device, kind: &Kind) -> Angle {
    let facing = project.facing_of(device);
    let turned_within = matches!(device.mount, Mount::WallFace { .. }) && kind.symbol != Symbol::Camera;
    if turned_within { facing - device.turn } else { facing }
}

/// The rectangle that a device's symbol takes, with its ring and query where it has them: nothing else may be
/// written there. `None` where its host is gone.
pub fn device_bounds(project: &Project, device: &Device, kind: &Kind, scale: f64) -> Option<Rect> {
    let at = project.position_of(device)?;
    let on_wall = matches!(device.mount, Mount::WallFace { .. });
    let bounds = symbol_bounds(kind, at, drawn_facing(project, device, kind), on_wall, scale);
    if !is_missing(device) {
        return Some(bounds);
    }
    let (ring, query) = warning(bounds, scale);
    let query = text_bounds(&query, scale).unwrap_or(bounds);
    Some(bounds.union(ring.bounding_box()).union(query))
}

/// The ring about a symbol, and the query at its upper right.
fn warning(bounds: Rect, scale: f64) -> (Circle, Shape) {
    let radius = bounds.width().hypot(bounds.height()) / 2.0 + RING_OFF_SYMBOL_MM * scale;
    let ring = Circle::new(bounds.center(), radius);
    let corner =
        bounds.center() + Angle::degrees(45.0).direction() * (radius + QUERY_HEIGHT_MM * scale * 0.8);
    let query = Shape::Text {
        at: corner,
        text: "?".to_owned(),
        height_mm: QUERY_HEIGHT_MM,
        weight: Weight::SemiBold,
        anchor: Anchor::Centre,
        turn: Angle::ZERO,
    };
    (ring, query)
}
