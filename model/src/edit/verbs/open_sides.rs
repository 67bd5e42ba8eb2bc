//! The sides of rooms that no wall stands on: where a model of a building parts one open space into rooms.

use kurbo::{Point, Vec2};

use crate::building::outline::{RoomOutline, enclosed_spaces};
use crate::geometry::{Region, Ring, Segment, stretches_inside};
use crate::id::Id;
use crate::plan::{Level, RoomLine};
use crate::project::Project;
use crate::survey::ProposedRoom;
use crate::units::round_point;

/// A side of a room that keeps nearer than this to a face runs along it, mm.
const ALONG_A_FACE_MM: f64 = 30.0;

/// A side that ends so near to a face leads to it, mm.
const TO_A_FACE_MM: f64 = 60.0;

/// Shorter sides are corners that walls and rooms differ in, mm.
const SHORTEST_MM: f64 = 100.0;

/// Points of two lines nearer than this are one, mm.
const SAME_MM: f64 = 1.0;

/// Lines that part the spaces of a level as these rooms do, the longest first; what a line of the level parts already is
/// left out.
pub(super) fn open_sides(project: &Project, level: Id<Level>, rooms: &[&ProposedRoom]) -> Vec<RoomLine> {
    let spaces = enclosed_spaces(project, level);
    let mut sides: Vec<Segment> = rooms
        .iter()
        .filter_map(|room| Some((room, spaces.iter().find(|space| space.contains(room.seed))?)))
        .flat_map(|(room, space)| sides_in_the_open(&Ring::new(room.outline.clone()), space))
        .collect();
    sides.sort_by(|a, b| b.length().total_cmp(&a.length()));
    let mut parted: Vec<Segment> =
        project.room_lines_on(level).map(|(_, line)| Segment::new(line.start, line.end)).collect();
    let mut lines = Vec::new();
    for side in sides {
        let is_parted =
            parted.iter().any(|line| [side.a, side.b].iter().all(|end| line.distance_to(*end) <= SAME_MM));
        if !is_parted {
            parted.push(side);
            lines.push(RoomLine { level, start: round_point(side.a), end: round_point(side.b) });
        }
    }
    lines
}

/// The stretches of a room's outline beyond which the space goes on, ended at the faces that they lead to.
fn sides_in_the_open(outline: &Ring, space: &RoomOutline) -> Vec<Segment> {
    let region = Region { shapes: vec![space.shape.clone()] };
    let outline = outline.clone().anticlockwise();
    let mut found = Vec::new();
    for edge in outline.edges() {
        let Some(along) = edge.direction() else { continue };
        // Of an edge along a face, what lies a little outwards is within the wall.
        let outwards = edge.offset_left(-ALONG_A_FACE_MM);
        for (from, to) in stretches_inside(&region, &outwards) {
            let (start, end) = (edge.a + along * from, edge.a + along * to);
            let stretch =
                Segment::new(led_to_a_face(start, -along, &region), led_to_a_face(end, along, &region));
            if stretch.length() >= SHORTEST_MM {
                found.push(stretch);
            }
        }
    }
    found
}

/// The point itself, or where a face stands in that direction, if one does within reach.
fn led_to_a_face(at: Point, direction: Vec2, space: &Region) -> Point {
    let ahead = Segment::new(at, at + direction * TO_A_FACE_MM);
    match stretches_inside(space, &ahead).first() {
        Some((from, to)) if *from <= 0.0 && *to < TO_A_FACE_MM => at + direction * *to,
        _ => at,
    }
}
