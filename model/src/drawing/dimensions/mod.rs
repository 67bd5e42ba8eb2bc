//! Setting out: how far each box on a wall is from the nearest thing a tape can be hooked on.
//!
//! On the wall face that a device is on, the nearest internal corner or the nearest reveal of an opening is
//! found from the outline of the walls as they meet, so that the figure is what the tape reads on site: along
//! the face, not along the wall's axis. [`dimension_items`] then draws the figures, stacked off the face so that
//! none runs into another.

mod drawn;

use kurbo::Point;

use crate::building::outline::WallSolid;
use crate::geometry::{Ring, Segment};
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{Level, Opening, Side, Wall};
use crate::project::Project;
use crate::units::Length;

pub use drawn::dimension_items;

/// A point this near to an edge of the walls lies on it, mm.
const ON_FACE_MM: f64 = 0.5;

/// Corners where an edge of the walls bends by less than this are none, mm off the chord.
const STRAIGHT_MM: f64 = 0.05;

/// What the tape is hooked on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettingOutFrom {
    /// Where the face meets the face of another wall, inside a room.
    InternalCorner,
    /// A reveal of an opening in the face.
    Reveal {
        /// The opening.
        opening: Id<Opening>,
    },
    /// The end of the wall or an outer corner, where the face has neither of the others.
    WallEnd,
}

/// Where one box goes.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingOut {
    /// The device.
    pub device: Id<Device>,
    /// The wall it is on.
    pub wall: Id<Wall>,
    /// The face it is on.
    pub side: Side,
    /// What it is measured from.
    pub from: SettingOutFrom,
    /// Where that lies on the face, plan mm.
    pub from_point: Point,
    /// The centre of the box on the face, plan mm.
    pub to_point: Point,
    /// From the one to the other along the face.
    pub distance: Length,
    /// Height of the centre of the box above the finished floor; `None` where it is not decided.
    pub height: Option<Length>,
}

/// Sets out every wall-mounted device of a level, by id.
pub fn setting_out(project: &Project, level: Id<Level>) -> Vec<SettingOut> {
    let faces = Faces::of_level(project, level);
    project
        .devices_on(level)
        .filter_map(|(id, device, _)| {
            let Mount::WallFace { wall: wall_id, side, .. } = device.mount else { return None };
            let wall = project.walls.get(wall_id)?;
            let to_point = project.position_of(device)?;
            let (from, from_point) = faces.nearest_hook(wall, side, to_point);
            Some(SettingOut {
                device: id,
                wall: wall_id,
                side,
                from,
                from_point,
                to_point,
                distance: Length::mm((to_point - from_point).hypot()),
                height: device.height_affl,
            })
        })
        .collect()
}

/// The faces of a level's walls where they are free, and the reveals in them.
struct Faces {
    edges: Vec<FaceEdge>,
    reveals: Vec<(Id<Opening>, Point)>,
}

/// One straight stretch of wall face, from corner to corner.
struct FaceEdge {
    line: Segment,
    /// Whether the face meets another at its start and at its end, rather than turning away.
    meets: [bool; 2],
}

impl Faces {
    fn of_level(project: &Project, level: Id<Level>) -> Self {
        let solid = WallSolid::of_level(project, level, |_, _| true).region();
        let edges = solid.rings().flat_map(face_edges).collect();
        let reveals = project
            .openings_on(level)
            .flat_map(|(id, opening, wall)| {
                [Side::Left, Side::Right].into_iter().flat_map(move |side| {
                    [opening.from(), opening.to()].map(|along| (id, wall.on_face(along, side)))
                })
            })
            .collect();
        Self { edges, reveals }
    }

    /// The nearest internal corner or reveal on the face, else the nearest end of it.
    fn nearest_hook(&self, wall: &Wall, side: Side, point: Point) -> (SettingOutFrom, Point) {
        let edge = self
            .edges
            .iter()
            .filter(|edge| is_along(edge.line, wall))
            .find(|edge| edge.line.distance_to(point) <= ON_FACE_MM);
        let Some(edge) = edge else {
            // The face is covered here, as by a wall that runs into it: only the wall's own ends are left.
            let ends = [Length::ZERO, wall.length()].map(|along| wall.on_face(along, side));
            return (SettingOutFrom::WallEnd, nearer(point, ends));
        };
        let corners = [edge.line.a, edge.line.b];
        let hooks = corners
            .into_iter()
            .zip(edge.meets)
            .filter(|(_, meets)| *meets)
            .map(|(corner, _)| (SettingOutFrom::InternalCorner, corner));
        let reveals = self
            .reveals
            .iter()
            .filter(|(_, reveal)| edge.line.distance_to(*reveal) <= ON_FACE_MM)
            .map(|(opening, reveal)| (SettingOutFrom::Reveal { opening: *opening }, *reveal));
        hooks
            .chain(reveals)
            .min_by(|(_, a), (_, b)| a.distance_squared(point).total_cmp(&b.distance_squared(point)))
            .unwrap_or_else(|| (SettingOutFrom::WallEnd, nearer(point, corners)))
    }
}

fn is_along(edge: Segment, wall: &Wall) -> bool {
    edge.direction().is_some_and(|direction| direction.cross(wall.direction()).abs() < 1e-3)
}

fn nearer(point: Point, [a, b]: [Point; 2]) -> Point {
    if a.distance_squared(point) <= b.distance_squared(point) { a } else { b }
}

/// The edges of one ring of the walls. Rings run with the wall on their left, so that a turn to the right is a
/// corner of the room and a turn to the left an outer corner of the wall.
fn face_edges(ring: &Ring) -> Vec<FaceEdge> {
    let ring = ring.without_collinear_points(STRAIGHT_MM);
    let points = ring.points();
    let count = points.len();
    if count < 3 {
        return Vec::new();
    }
    let meets = |index: usize| {
        let (before, corner, after) =
            (points[(index + count - 1) % count], points[index], points[(index + 1) % count]);
        (corner - before).cross(after - corner) < 0.0
    };
    (0..count)
        .map(|index| FaceEdge {
            line: Segment::new(points[index], points[(index + 1) % count]),
            meets: [meets(index), meets((index + 1) % count)],
        })
        .collect()
}

#[cfg(test)]
mod tests;
