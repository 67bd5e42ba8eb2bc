//! Where in a room a kind could go: along its walls, or on a grid of its ceiling.
//!
//! A place on a wall is clear of openings at its height, of the swing of doors, of joinery that stands there and of
//! other devices; one on the ceiling is clear of walls and luminaires. Places are spread evenly, so that as many
//! poses are tried as were asked for and no more.

use kurbo::{Point, Vec2};

use crate::building::behind_leaf::is_behind_leaf;
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, Segment, stretches_inside};
use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount};
use crate::limits::limits;
use crate::plan::{Level, Opening, Side, Wall};
use crate::project::Project;
use crate::units::Length;

/// A box on a wall stays so far from a corner, an opening's reveal and its head, mm: half a double box and an
/// architrave. Common practice, no published source.
const CLEAR_ON_WALL_MM: f64 = 100.0;

/// A device on the ceiling stays so far from walls and luminaires, mm. Common practice, no published source; it is what
/// Approved Document B asks of smoke alarms.
const CLEAR_ON_CEILING_MM: f64 = 300.0;

/// Joinery is looked for so far in front of a face, mm.
const IN_FRONT_MM: f64 = 50.0;

/// A face is followed so far in front of it, so that it is in the room, mm.
const OFF_FACE_MM: f64 = 1.0;

/// Places are no nearer to each other than this, mm.
const LEAST_STEP_MM: f64 = 50.0;

/// A room, and what is to go into it.
pub(super) struct Wanted<'a> {
    pub project: &'a Project,
    pub level: Id<Level>,
    pub outline: &'a RoomOutline,
    pub kind: &'a Kind,
    /// Height above the finished floor.
    pub height: Length,
}

/// A free stretch of a wall's face.
struct Face<'a> {
    id: Id<Wall>,
    wall: &'a Wall,
    side: Side,
    from: f64,
    to: f64,
}

/// At most so many places on the walls of a room, spread evenly, made into devices by `device`; those that are not
/// clear are left out.
pub(super) fn on_walls(wanted: &Wanted<'_>, most: usize, device: impl Fn(Mount) -> Device) -> Vec<Device> {
    let faces = faces(wanted);
    let length: f64 = faces.iter().map(|face| face.to - face.from).sum();
    // Each face takes a place more than it has steps.
    let steps = most.saturating_sub(faces.len()).max(1);
    let step = (length / steps as f64).max(LEAST_STEP_MM);
    let mut places = Vec::new();
    for face in &faces {
        let count = ((face.to - face.from) / step).floor();
        let spacing = if count > 0.0 { (face.to - face.from) / count } else { 0.0 };
        for index in 0..=count as usize {
            let along = Length::mm(face.from + spacing * index as f64).rounded();
            let placed = device(Mount::WallFace { wall: face.id, side: face.side, along });
            if is_clear(wanted, face, along, &placed) {
                places.push(placed);
            }
        }
    }
    places
}

/// The faces of walls that look into the room, less what lies near corners.
fn faces<'a>(wanted: &Wanted<'a>) -> Vec<Face<'a>> {
    let room = Region { shapes: vec![wanted.outline.shape.clone()] };
    let mut faces = Vec::new();
    for (id, wall) in wanted.project.walls_on(wanted.level) {
        for side in [Side::Left, Side::Right] {
            let off = wall.normal(side) * OFF_FACE_MM;
            let line =
                Segment::new(wall.on_face(Length::ZERO, side) + off, wall.on_face(wall.length(), side) + off);
            for (from, to) in stretches_inside(&room, &line) {
                let (from, to) = (from + CLEAR_ON_WALL_MM, to - CLEAR_ON_WALL_MM);
                if from <= to {
                    faces.push(Face { id, wall, side, from, to });
                }
            }
        }
    }
    faces
}

fn is_clear(wanted: &Wanted<'_>, face: &Face<'_>, along: Length, placed: &Device) -> bool {
    let at = face.wall.on_face(along, face.side);
    let in_front = at + face.wall.normal(face.side) * IN_FRONT_MM;
    let in_gap = |opening: &Opening| {
        let clear = Length::mm(CLEAR_ON_WALL_MM);
        opening.wall == face.id
            && opening.from() - clear < along
            && along < opening.to() + clear
            && opening.sill() - clear < wanted.height
            && wanted.height < opening.head + clear
    };
    let near_opening = wanted.project.openings_on(wanted.level).any(|(_, opening, _)| in_gap(opening));
    let behind_leaf = wanted
        .project
        .openings_on(wanted.level)
        .any(|(_, door, wall)| is_behind_leaf(wanted.project, placed, wanted.kind, door, wall));
    !near_opening && !behind_leaf && !in_joinery(wanted, in_front) && !on_another(wanted, at)
}

fn in_joinery(wanted: &Wanted<'_>, at: Point) -> bool {
    wanted.project.joinery_on(wanted.level).any(|(_, piece)| {
        let front = piece.turn.direction();
        let (off, back) = (at - piece.centre, Vec2::new(-front.y, front.x));
        off.dot(front).abs() < piece.width.as_mm() / 2.0
            && off.dot(back).abs() < piece.depth.as_mm() / 2.0
            && piece.base <= wanted.height
            && wanted.height <= piece.top
    })
}

/// Whether another device is at that place, whatever its height: the check of two devices in one place warns of it.
fn on_another(wanted: &Wanted<'_>, at: Point) -> bool {
    let near = limits().get("same_place").map_or(0.0, |limit| limit.value);
    wanted.project.devices_on(wanted.level).any(|(_, device, _)| {
        wanted.project.position_of(device).is_some_and(|other| other.distance(at) < near)
    })
}

/// At most so many places on the ceiling of a room, on a square grid.
pub(super) fn on_ceiling(wanted: &Wanted<'_>, most: usize) -> Vec<Mount> {
    let Some(bounds) = wanted.outline.shape.outer.bounds() else { return Vec::new() };
    let mut step = (wanted.outline.area().as_mm2() / most.max(1) as f64).sqrt().max(LEAST_STEP_MM);
    loop {
        let places = grid(wanted, bounds, step);
        if places.len() <= most {
            return places;
        }
        step *= 1.05;
    }
}

fn grid(wanted: &Wanted<'_>, bounds: kurbo::Rect, step: f64) -> Vec<Mount> {
    let luminaires: Vec<Point> = wanted
        .project
        .devices_on(wanted.level)
        .filter(|(_, device, kind)| {
            kind.family == Family::Luminaires && matches!(device.mount, Mount::Ceiling { .. })
        })
        .filter_map(|(_, device, _)| wanted.project.position_of(device))
        .collect();
    let lines = |from: f64, to: f64| {
        // Centred, so that both sides are as far from the outermost line.
        let count = ((to - from) / step).floor().max(0.0);
        let start = from + (to - from - count * step) / 2.0;
        (0..=count as usize).map(move |index| start + step * index as f64)
    };
    let mut places = Vec::new();
    for y in lines(bounds.y0, bounds.y1) {
        for x in lines(bounds.x0, bounds.x1) {
            let at = crate::units::round_point(Point::new(x, y));
            let clear_of_walls = wanted.outline.contains(at)
                && wanted
                    .outline
                    .shape
                    .rings()
                    .all(|ring| ring.distance_to_outline(at) >= CLEAR_ON_CEILING_MM);
            let clear_of_lamps = luminaires.iter().all(|lamp| lamp.distance(at) >= CLEAR_ON_CEILING_MM);
            if clear_of_walls && clear_of_lamps && !on_another(wanted, at) {
                places.push(Mount::Ceiling { at });
            }
        }
    }
    places
}
