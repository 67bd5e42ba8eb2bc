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
use crate::geometry::{Region, Ring, difference, intersection, sector, union_of_regions};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::systems::{Zone, ZonePurpose};
use crate::units::Angle;

use super::ground::{Ground, halo, leader_items, lettering_boxes};
use super::rooms::room_items;

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
    let mut board = Board::new(project, level, outlines, scale);
    let (mut items, mut names) = (Vec::new(), Vec::new());
    for (id, zone) in project.zones.iter() {
        for (room, places) in places_by_room(project, level, outlines, zone) {
            let outline = room.and_then(|room| outlines.get(&room));
            items.extend(board.area_items(id, zone, &places, outline, &mut names));
        }
    }
    // Names lie over all areas, so that none is tinted by the next zone's.
    items.extend(names);
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

/// The level as zones are drawn on it.
struct Board {
    /// What names keep off; those placed so far among it.
    ground: Ground,
    /// The walls and the rooms between them: a zone outdoors ends at the face of the house.
    house: Region,
    scale: f64,
}

impl Board {
    fn new(
        project: &Project,
        level: Id<Level>,
        outlines: &BTreeMap<Id<Room>, RoomOutline>,
        scale: f64,
    ) -> Self {
        let mut ground = Ground::of_level(project, level, scale);
        ground.boxes.extend(lettering_boxes(&room_items(project, level, outlines, scale, &[]), scale));
        let rooms = Region { shapes: outlines.values().map(|outline| outline.shape.clone()).collect() };
        let house = union_of_regions(&[&ground.walls, &rooms]);
        Self { ground, house, scale }
    }

    /// One area of a zone and its ties; its name goes to `names`.
    fn area_items(
        &mut self,
        id: Id<Zone>,
        zone: &Zone,
        places: &[Point],
        outline: Option<&RoomOutline>,
        names: &mut Vec<Item>,
    ) -> Vec<Item> {
        let subject = Some(Subject::Zone(id));
        let role = if zone.purpose == ZonePurpose::Lighting { Role::ZoneLighting } else { Role::ZoneOther };
        let about = Region::from_ring(area_about(places));
        let area = match outline {
            Some(outline) => intersection(&about, &Region { shapes: vec![outline.shape.clone()] }),
            None => difference(&about, &self.house),
        };
        let Some(bounds) = area.bounds() else { return Vec::new() };
        let sum: Vec2 = places.iter().map(|place| place.to_vec2()).fold(Vec2::ZERO, |sum, place| sum + place);
        let middle = (sum / places.len() as f64).to_point();
        let mut items = vec![Item::path(Layer::Zones, role, subject, area.to_path())];
        for place in places {
            for (from, to) in between_rects(middle, *place, &self.ground.boxes) {
                items.push(Item::line(Layer::Zones, Role::ZoneTie, subject, from, to));
            }
        }
        names.extend(self.name_items(&zone.name, subject, &area, bounds));
        items
    }

    /// The name of a zone, within its area where that has a clear place; elsewhere with a leader otherwise.
    fn name_items(&mut self, name: &str, subject: Option<Subject>, area: &Region, bounds: Rect) -> Vec<Item> {
        if name.is_empty() {
            return Vec::new();
        }
        let width = lettering::width(name, NAME_HEIGHT_MM, Weight::Medium);
        let size = Size::new(width + 1.0, NAME_HEIGHT_MM * 1.8) * self.scale;
        let mut items = Vec::new();
        let place = self.place_within(area, bounds, size).or_else(|| {
            let home = highest_of(area)?;
            let place = self.ground.elsewhere(home, size, &[])?;
            items.extend(leader_items(Layer::Zones, subject, place, home, self.scale));
            Some(place)
        });
        let Some(place) = place else { return Vec::new() };
        self.ground.boxes.push(place);
        let shape = Shape::Text {
            at: place.center(),
            text: name.to_owned(),
            height_mm: NAME_HEIGHT_MM,
            weight: Weight::Medium,
            anchor: Anchor::Centre,
            turn: Angle::ZERO,
        };
        items.push(halo(Layer::Zones, subject, place.inset(-0.25 * self.scale), self.scale));
        items.push(Item { layer: Layer::Zones, role: Role::RoomNote, subject, shape });
        items
    }

    /// A clear place within an area: from its top down, and in each row from the middle outwards.
    fn place_within(&self, area: &Region, bounds: Rect, size: Size) -> Option<Rect> {
        let step = size.height / 2.0;
        let centre = bounds.center();
        let down = (bounds.height() / step).ceil() as i32;
        let across = (bounds.width() / 2.0 / step).ceil() as i32;
        let near = self.ground.part(bounds);
        (0..=down)
            .flat_map(|row| (0..=2 * across).map(move |column| (row, column)))
            .map(|(row, column)| {
                let outwards = f64::from((column + 1) / 2) * if column % 2 == 0 { 1.0 } else { -1.0 };
                let at =
                    Point::new(centre.x + outwards * step, bounds.y1 - size.height - f64::from(row) * step);
                Rect::from_center_size(at, size)
            })
            .filter(|rect| {
                let corners =
                    [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
                corners.iter().all(|(x, y)| area.contains(Point::new(*x, *y)))
            })
            .find(|rect| near.is_clear(*rect) && near.pity(*rect) < 2)
    }
}

/// The highest point of an area's outline, and of those the one farthest to the left: where its name is tied to
/// it from outside.
fn highest_of(area: &Region) -> Option<Point> {
    let points = area.rings().flat_map(|ring| ring.points().to_vec());
    points.max_by(|a, b| a.y.total_cmp(&b.y).then(b.x.total_cmp(&a.x)))
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
