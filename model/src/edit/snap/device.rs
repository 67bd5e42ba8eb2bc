//! What a device catches: the host its kind is fixed to.
//!
//! On the ceiling and the floor it comes into rows and columns with the devices already there, else onto the
//! centre lines of the room, else onto the grid.

use kurbo::Point;

use super::host::{Fixing, joinery_at, nearest_face};
use super::point::GRID_MM;
use super::{SnapIndex, SnapReason};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Kind, Mount, MountKind};
use crate::project::Project;
use crate::units::{Length, round_point};

/// Where a device would go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HostSnap {
    /// What it would be fixed to, and where.
    pub mount: Mount,
    /// Where that is on the plan, mm.
    pub at: Point,
    /// Why there.
    pub why: SnapReason,
    /// The line that shows why, from what it is in line with.
    pub guide: Option<(Point, Point)>,
}

/// What a device of a kind catches near a point, at its kind's usual height unless another is given.
pub fn snap_to_host(
    project: &Project,
    index: &SnapIndex,
    kind: &Kind,
    height: Option<Length>,
    at: Point,
    reach_mm: f64,
    skip: &[Subject],
) -> HostSnap {
    let level = index.level();
    let free = || {
        let at = round_point(at);
        HostSnap { mount: Mount::Loose { at }, at, why: SnapReason::NoHost, guide: None }
    };
    match kind.mount {
        MountKind::Wall => {
            let fixing = Fixing::of(kind, height.or(kind.default_height));
            let Some(face) = nearest_face(project, level, at, reach_mm, fixing) else { return free() };
            let pushed = project.walls.get(face.wall).is_some_and(|wall| {
                let wanted = wall.along_of(at).as_mm().clamp(0.0, wall.length().as_mm());
                (wanted - face.along.as_mm()).abs() > 0.15
            });
            let why = if pushed { SnapReason::BesideReveal } else { SnapReason::WallFace };
            let mount = Mount::WallFace { wall: face.wall, side: face.side, along: face.along };
            HostSnap { mount, at: face.at, why, guide: None }
        }
        MountKind::Joinery => match joinery_at(project, level, at, reach_mm) {
            Some((joinery, offset)) => {
                let mount = Mount::Joinery { joinery, offset };
                let at = place_on(project, joinery, offset).unwrap_or(at);
                HostSnap { mount, at, why: SnapReason::OnJoinery, guide: None }
            }
            None => free(),
        },
        MountKind::Ceiling => {
            let (at, why, guide) = in_rows(index, at, reach_mm, skip);
            HostSnap { mount: Mount::Ceiling { at }, at, why, guide }
        }
        MountKind::Floor => {
            let (at, why, guide) = in_rows(index, at, reach_mm, skip);
            HostSnap { mount: Mount::Floor { at }, at, why, guide }
        }
        MountKind::Outdoors => {
            let at = Point::new(to_grid(at.x), to_grid(at.y));
            HostSnap { mount: Mount::Outdoors { at }, at, why: SnapReason::Grid, guide: None }
        }
    }
}

fn place_on(project: &Project, joinery: Id<crate::plan::Joinery>, offset: Point) -> Option<Point> {
    let piece = project.joinery.get(joinery)?;
    let front = piece.turn.direction();
    Some(piece.centre + front * offset.x + kurbo::Vec2::new(-front.y, front.x) * offset.y)
}

fn to_grid(value: f64) -> f64 {
    (value / GRID_MM).round() * GRID_MM
}

/// A figure of a point that is caught, why, and the point it is caught from.
type Caught = Option<(f64, SnapReason, Point)>;

fn in_rows(
    index: &SnapIndex,
    at: Point,
    reach: f64,
    skip: &[Subject],
) -> (Point, SnapReason, Option<(Point, Point)>) {
    let room = index.room_around(at);
    let caught = |of: &dyn Fn(Point) -> f64| -> Caught {
        let device = index
            .ceiling_devices(skip)
            .filter(|other| (of(*other) - of(at)).abs() <= reach)
            .filter(|other| room.is_none_or(|room| room.contains(*other)))
            .min_by(|a, b| {
                let off = |point: &Point| ((of(*point) - of(at)).abs() * 10.0).round();
                off(a).total_cmp(&off(b)).then((*a - at).hypot2().total_cmp(&(*b - at).hypot2()))
            })
            .map(|other| (of(other), SnapReason::InLineWithDevice, other));
        let centre = room
            .map(|room| room.center())
            .filter(|centre| (of(*centre) - of(at)).abs() <= reach)
            .map(|centre| (of(centre), SnapReason::RoomCentreLine, centre));
        device.or(centre)
    };
    let (column, row) = (caught(&|point| point.x), caught(&|point| point.y));
    let landing = round_point(Point::new(
        column.map_or_else(|| to_grid(at.x), |(x, ..)| x),
        row.map_or_else(|| to_grid(at.y), |(y, ..)| y),
    ));
    match [column, row].into_iter().flatten().min_by_key(|(_, why, _)| *why) {
        Some((_, why, from)) => (landing, why, Some((from, landing))),
        None => (landing, SnapReason::Grid, None),
    }
}
