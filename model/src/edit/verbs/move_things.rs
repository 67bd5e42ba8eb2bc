//! Move things: walls with their corners, joinery with what is fixed to it, devices along their walls.

use kurbo::{Point, Vec2};

use super::draft::Draft;
use super::wall_ends::{ends_moved_with_corners, put_ends};
use super::words::{gone, label, picked};
use crate::edit::snap::host::{self, Fixing};
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::kit::{Device, Mount, MountKind};
use crate::plan::Wall;
use crate::project::Project;
use crate::units::{Angle, Length, round_point};

/// Moves things by a vector, mm. A device on a wall slides along it unless its wall moves too; an opening
/// does likewise; ends of other walls at a moved corner follow.
///
/// # Errors
/// A sentence, where nothing of it can be moved or something would no longer fit.
pub fn move_things(project: &Project, subjects: &[Subject], by: Vec2) -> Result<Change, String> {
    let things = movable(project, subjects)?;
    if !by.is_finite() {
        return Err("the distance to move by is not a finite number: type a length".to_owned());
    }
    let mut draft = Draft::of(project);
    move_in(&mut draft, &things, by);
    draft.finish(label(project, "Move", &things))
}

/// The picked things that have a place of their own.
pub(super) fn movable(project: &Project, subjects: &[Subject]) -> Result<Vec<Subject>, String> {
    let mut things = picked(project, subjects)?;
    things.retain(|thing| {
        matches!(
            thing,
            Subject::Wall(_)
                | Subject::Opening(_)
                | Subject::Room(_)
                | Subject::Joinery(_)
                | Subject::Underlay(_)
                | Subject::RoomLine(_)
                | Subject::Spot(_)
                | Subject::Walk(_)
                | Subject::Device(_)
        )
    });
    if things.is_empty() {
        return Err("what is picked has no place on the plan: pick walls, joinery or devices".to_owned());
    }
    Ok(things)
}

/// Moves things within a draft.
pub(super) fn move_in(draft: &mut Draft, things: &[Subject], by: Vec2) {
    let walls: Vec<Id<Wall>> = things
        .iter()
        .filter_map(|thing| if let Subject::Wall(id) = thing { Some(*id) } else { None })
        .collect();
    if !walls.is_empty() {
        let ends = ends_moved_with_corners(draft.now(), &walls, by);
        put_ends(draft, &ends);
    }
    for thing in things {
        match *thing {
            Subject::Opening(id) => {
                if let Some(opening) = draft.now().openings.get(id)
                    && !walls.contains(&opening.wall)
                    && let Some(slid) = super::openings::slid_by(draft.now(), id, by)
                {
                    draft.put(id, slid);
                }
            }
            Subject::Room(id) => {
                if let Some(mut room) = draft.now().rooms.get(id).cloned() {
                    room.seed = round_point(room.seed + by);
                    draft.put(id, room);
                }
            }
            Subject::Joinery(id) => {
                if let Some(mut piece) = draft.now().joinery.get(id).cloned() {
                    piece.centre = round_point(piece.centre + by);
                    draft.put(id, piece);
                }
            }
            Subject::Underlay(id) => {
                if let Some(mut underlay) = draft.now().underlays.get(id).cloned() {
                    underlay.position = round_point(underlay.position + by);
                    draft.put(id, underlay);
                }
            }
            Subject::RoomLine(id) => {
                if let Some(mut line) = draft.now().room_lines.get(id).cloned() {
                    (line.start, line.end) = (round_point(line.start + by), round_point(line.end + by));
                    draft.put(id, line);
                }
            }
            Subject::Spot(id) => {
                if let Some(mut spot) = draft.now().spots.get(id).cloned() {
                    spot.at = round_point(spot.at + by);
                    draft.put(id, spot);
                }
            }
            Subject::Walk(id) => {
                if let Some(mut walk) = draft.now().walks.get(id).cloned() {
                    for point in &mut walk.points {
                        point.at = round_point(point.at + by);
                    }
                    draft.put(id, walk);
                }
            }
            Subject::Device(id) => move_device(draft, id, by, things),
            _ => {}
        }
    }
}

fn move_device(draft: &mut Draft, id: Id<Device>, by: Vec2, things: &[Subject]) {
    let Some(mut device) = draft.now().devices.get(id).cloned() else { return };
    if host_of(&device).is_some_and(|host| things.contains(&host)) {
        return;
    }
    if let Some(mount) = mount_moved(draft.now(), &device, by) {
        device.mount = mount;
        draft.put(id, device);
    }
}

/// What a device is fixed to.
pub(super) fn host_of(device: &Device) -> Option<Subject> {
    match device.mount {
        Mount::WallFace { wall, .. } => Some(Subject::Wall(wall)),
        Mount::Joinery { joinery, .. } => Some(Subject::Joinery(joinery)),
        _ => None,
    }
}

/// The mount of a device moved by a vector on the host it has; `None` where its wall has no free place.
pub(super) fn mount_moved(project: &Project, device: &Device, by: Vec2) -> Option<Mount> {
    Some(match device.mount {
        Mount::WallFace { wall: id, side, along } => {
            let wall = project.walls.get(id)?;
            let kind = project.kinds.get(device.kind)?;
            let wanted = along + Length::mm(by.dot(wall.direction()));
            let fixing = Fixing::of(kind, device.height_affl);
            Mount::WallFace { wall: id, side, along: host::nearest_free(project, id, side, wanted, fixing)? }
        }
        Mount::Joinery { joinery, offset } => {
            let turn = project.joinery.get(joinery)?.turn;
            Mount::Joinery { joinery, offset: round_point(offset + turned_back(by, turn)) }
        }
        Mount::Ceiling { at } => Mount::Ceiling { at: round_point(at + by) },
        Mount::Floor { at } => Mount::Floor { at: round_point(at + by) },
        Mount::Outdoors { at } => Mount::Outdoors { at: round_point(at + by) },
        Mount::Loose { at } => Mount::Loose { at: round_point(at + by) },
    })
}

/// A vector of the plan in the directions of something turned by an angle.
pub(super) fn turned_back(by: Vec2, turn: Angle) -> Vec2 {
    let front = turn.direction();
    Vec2::new(by.dot(front), by.dot(Vec2::new(-front.y, front.x)))
}

/// Takes a device to a point and fixes it to what it is fixed to there: the nearest wall face within
/// reach, the joinery beneath, the ceiling, the floor. Where there is no such host it is loose, which is
/// reported and never guessed; it then goes on looking where it looked.
///
/// # Errors
/// A sentence, where the device is gone or the point is out of bounds.
pub fn rehost_device(project: &Project, device: Id<Device>, to: Point) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    let found = project.devices.get(device).ok_or_else(|| gone("device"))?;
    let rehosted = rehosted(project, found, to);
    draft.put(device, rehosted);
    draft.finish(label(project, "Move", &[Subject::Device(device)]))
}

/// A device taken to a point of its level and fixed to a host there.
pub(super) fn rehosted(project: &Project, device: &Device, to: Point) -> Device {
    let mut device = device.clone();
    let to = round_point(to);
    let Some(kind) = project.kinds.get(device.kind) else { return device };
    let sort = match device.mount {
        Mount::WallFace { .. } => MountKind::Wall,
        Mount::Ceiling { .. } => MountKind::Ceiling,
        Mount::Floor { .. } => MountKind::Floor,
        Mount::Joinery { .. } => MountKind::Joinery,
        Mount::Outdoors { .. } => MountKind::Outdoors,
        Mount::Loose { .. } => kind.mount,
    };
    let mount = match sort {
        MountKind::Wall => {
            let fixing = Fixing::of(kind, device.height_affl);
            host::nearest_face(project, device.level, to, host::HOST_REACH_MM, fixing)
                .map(|face| Mount::WallFace { wall: face.wall, side: face.side, along: face.along })
        }
        MountKind::Joinery => host::joinery_at(project, device.level, to, 0.0)
            .map(|(joinery, offset)| Mount::Joinery { joinery, offset }),
        MountKind::Ceiling => Some(Mount::Ceiling { at: to }),
        MountKind::Floor => Some(Mount::Floor { at: to }),
        MountKind::Outdoors => Some(Mount::Outdoors { at: to }),
    };
    let facing = project.facing_of(&device);
    let had_host = host_of(&device).is_some();
    device.mount = mount.unwrap_or(Mount::Loose { at: to });
    let has_host = host_of(&device).is_some();
    if had_host && !has_host {
        device.turn = facing.wrapped();
    } else if !had_host && has_host {
        device.turn = Angle::ZERO;
    }
    device
}
