//! Zones as soft areas about their devices, with a tie from the middle of each area to every device in it.
//!
//! A zone that spans rooms has one area in each, kept within the room's walls, because that is how people think
//! of it: "the lights in the hall and on the landing".

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Point, Rect, Size, Vec2};

use crate::building::outline::{RoomOutline, room_at};
use crate::drawing::labels::stretch_within;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::geometry::{Region, Ring, intersection, sector};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::systems::{Zone, ZonePurpose};
use crate::units::Angle;

use super::rooms::{lettering_boxes, room_items, symbol_boxes};

/// How far an area reaches beyond its devices, mm. Our own choice, no source.
const REACH_MM: f64 = 600.0;

/// Shorter pieces of a tie are left out, mm.
const SHORTEST_TIE_MM: f64 = 20.0;

/// Height of a zone's name, mm on paper (ISO 3098 series).
const NAME_HEIGHT_MM: f64 = 1.8;

/// How far off its wall a wall device is taken to be when asked which room it is in, mm.
const OFF_WALL_MM: f64 = 50.0;

/// The zones that have devices on a level.
pub fn zone_items(
    project: &Project,
    level: Id<Level>,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    scale: f64,
) -> Vec<Item> {
    let mut taken = symbol_boxes(project, level, scale);
    taken.extend(lettering_boxes(&room_items(project, level, outlines, scale), scale));
    let mut items = Vec::new();
    for (id, zone) in project.zones.iter() {
        for (room, places) in places_by_room(project, level, outlines, zone) {
            let outline = room.and_then(|room| outlines.get(&room));
            items.extend(area_items(id, zone, &places, outline, &mut taken, scale));
        }
    }
    items
}

/// Where the devices of a zone are, by the room they are in.
fn places_by_room(
    project: &Project,
    level: Id<Level>,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    zone: &Zone,
) -> BTreeMap<Option<Id<Room>>, Vec<Point>> {
    let devices: BTreeSet<Id<Device>> = zone.points.iter().map(|point| point.device).collect();
    let mut places: BTreeMap<Option<Id<Room>>, Vec<Point>> = BTreeMap::new();
    for id in devices {
        let Some(device) = project.devices.get(id).filter(|device| device.level == level) else { continue };
        let Some(at) = project.position_of(device) else { continue };
        let off_wall = match device.mount {
            crate::kit::Mount::WallFace { wall, side, .. } => {
                project.walls.get(wall).map_or(Vec2::ZERO, |wall| wall.normal(side) * OFF_WALL_MM)
            }
            _ => Vec2::ZERO,
        };
        places.entry(room_at(outlines, at + off_wall)).or_default().push(at);
    }
    places
}

/// One area of a zone, its ties and its name.
fn area_items(
    id: Id<Zone>,
    zone: &Zone,
    places: &[Point],
    outline: Option<&RoomOutline>,
    taken: &mut Vec<Rect>,
    scale: f64,
) -> Vec<Item> {
    let subject = Some(Subject::Zone(id));
    let role = if zone.purpose == ZonePurpose::Lighting { Role::ZoneLighting } else { Role::ZoneOther };
    let mut area = Region::from_ring(area_about(places));
    if let Some(outline) = outline {
        area = intersection(&area, &Region { shapes: vec![outline.shape.clone()] });
    }
    let Some(bounds) = area.bounds() else { return Vec::new() };
    let sum: Vec2 = places.iter().map(|place| place.to_vec2()).fold(Vec2::ZERO, |sum, place| sum + place);
    let middle = (sum / places.len() as f64).to_point();
    let mut items = vec![Item::path(Layer::Zones, role, subject, area.to_path())];
    for place in places {
        for (from, to) in between_rects(middle, *place, taken) {
            items.push(Item::line(Layer::Zones, Role::ZoneTie, subject, from, to));
        }
    }
    items.extend(name_item(zone, subject, &area, bounds, taken, scale));
    items
}

/// The parts of a line outside all of the rectangles: a tie breaks off where it would run behind a symbol or
/// lettering.
fn between_rects(from: Point, to: Point, rects: &[Rect]) -> Vec<(Point, Point)> {
    let along = to - from;
    let mut parts = vec![(0.0, 1.0)];
    for (enters, leaves) in rects.iter().filter_map(|rect| stretch_within(from, to, *rect)) {
        parts = parts
            .into_iter()
            .flat_map(|(start, end)| [(start, enters.min(end)), (leaves.max(start), end)])
            .filter(|(start, end)| start < end)
            .collect();
    }
    let points = parts.into_iter().map(|(start, end)| (from + along * start, from + along * end));
    points.filter(|(start, end)| start.distance(*end) > SHORTEST_TIE_MM).collect()
}

/// The tightest convex outline that stays [`REACH_MM`] away from every device: the hull of a circle about each.
fn area_about(places: &[Point]) -> Ring {
    let circles = places
        .iter()
        .flat_map(|place| sector::fan(*place, 0.0, std::f64::consts::TAU, REACH_MM).into_points());
    convex_hull(circles.collect())
}

/// The convex hull, anticlockwise (A. M. Andrew, "Another efficient algorithm for convex hulls in two
/// dimensions", 1979). Fewer than three points come back as they are.
fn convex_hull(mut points: Vec<Point>) -> Ring {
    points.retain(|point| point.is_finite());
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return Ring::new(points);
    }
    let mut chain: Vec<Point> = Vec::with_capacity(points.len() + 1);
    let mut extend = |ordered: &mut dyn Iterator<Item = &Point>| {
        let first = chain.len();
        for point in ordered {
            while chain.len() >= first + 2
                && (chain[chain.len() - 1] - chain[chain.len() - 2]).cross(*point - chain[chain.len() - 1])
                    <= 0.0
            {
                chain.pop();
            }
            chain.push(*point);
        }
        chain.pop();
    };
    extend(&mut points.iter());
    extend(&mut points.iter().rev());
    Ring::new(chain)
}

/// The name of a zone, within its area where that has a place clear of symbols and of other names; above it
/// otherwise.
fn name_item(
    zone: &Zone,
    subject: Option<Subject>,
    area: &Region,
    bounds: Rect,
    taken: &mut Vec<Rect>,
    scale: f64,
) -> Option<Item> {
    if zone.name.is_empty() {
        return None;
    }
    let width = lettering::width(&zone.name, NAME_HEIGHT_MM, Weight::Medium);
    let size = Size::new(width + 1.0, NAME_HEIGHT_MM * 1.8) * scale;
    let step = size.height / 2.0;
    let centre = bounds.center();
    let down = (bounds.height() / step).ceil() as i32;
    let across = (bounds.width() / 2.0 / step).ceil() as i32;
    // From the top of the area down, and in each row from the middle outwards.
    let within = (0..=down).flat_map(|row| {
        (0..=2 * across).map(move |column| {
            let outwards = f64::from((column + 1) / 2) * if column % 2 == 0 { 1.0 } else { -1.0 };
            Point::new(centre.x + outwards * step, bounds.y1 - size.height - f64::from(row) * step)
        })
    });
    let above = (0..).map(|row| Point::new(centre.x, bounds.y1 + size.height + f64::from(row) * step));
    let clear = |place: Point| {
        let rect = Rect::from_center_size(place, size);
        !taken.iter().any(|other| other.overlaps(rect))
    };
    let inside = |place: Point| {
        let rect = Rect::from_center_size(place, size);
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        corners.iter().all(|(x, y)| area.contains(Point::new(*x, *y)))
    };
    let most = taken.len() + 1000;
    let at = within
        .filter(|place| inside(*place))
        .find(|place| clear(*place))
        .or_else(|| above.take(most).find(|place| clear(*place)))?;
    taken.push(Rect::from_center_size(at, size));
    let shape = Shape::Text {
        at,
        text: zone.name.clone(),
        height_mm: NAME_HEIGHT_MM,
        weight: Weight::Medium,
        anchor: Anchor::Centre,
        turn: Angle::ZERO,
    };
    Some(Item { layer: Layer::Zones, role: Role::RoomNote, subject, shape })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_luminaire_gives_a_circle_and_two_a_capsule() {
        let circle = area_about(&[Point::new(5.0, 7.0)]).area();
        assert!((circle / (std::f64::consts::PI * REACH_MM * REACH_MM) - 1.0).abs() < 1e-3, "{circle}");
        let capsule = area_about(&[Point::ZERO, Point::new(2000.0, 0.0)]).area();
        assert!((capsule - circle - 2000.0 * 2.0 * REACH_MM).abs() < 2000.0, "{capsule}");
    }

    #[test]
    fn a_tie_breaks_off_behind_lettering() {
        let name = Rect::new(400.0, -50.0, 600.0, 50.0);
        let parts = between_rects(Point::ZERO, Point::new(1000.0, 0.0), &[name]);
        let ends: Vec<_> = parts.iter().map(|(from, to)| (from.x.round(), to.x.round())).collect();
        assert_eq!(ends, [(0.0, 400.0), (600.0, 1000.0)]);
    }

    #[test]
    fn a_hull_leaves_out_what_lies_within() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (5.0, 5.0), (5.0, 0.0)];
        let hull = convex_hull(square.iter().map(|(x, y)| Point::new(*x, *y)).collect());
        assert_eq!((hull.len(), hull.signed_area()), (4, 100.0));
    }
}
