//! Mirror things on an upright or a level line.
//!
//! A mirrored wall takes its openings and devices along: doors swing to the mirrored side, devices change
//! faces. A device whose wall stays is taken to the wall at the mirrored place, or is loose where there is none.

use std::collections::BTreeSet;

use kurbo::Point;

use super::draft::Draft;
use super::move_things::{host_of, movable, rehosted};
use super::turn_things::mount_taken;
use super::wall_ends::{NewEnds, put_ends};
use super::words::label;
use crate::edit::{Change, Subject};
use crate::kit::{Device, Mount};
use crate::plan::{Opening, OpeningForm};
use crate::project::Project;
use crate::units::{Angle, round_point};

/// The line on which things are mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MirrorLine {
    /// Up the sheet: left and right change places.
    Upright,
    /// Across the sheet: top and bottom change places.
    Level,
}

impl MirrorLine {
    fn point(self, point: Point, through: Point) -> Point {
        round_point(match self {
            Self::Upright => Point::new(2.0 * through.x - point.x, point.y),
            Self::Level => Point::new(point.x, 2.0 * through.y - point.y),
        })
    }

    fn angle(self, angle: Angle) -> Angle {
        match self {
            Self::Upright => Angle::degrees(180.0) - angle,
            Self::Level => Angle::ZERO - angle,
        }
    }
}

/// Mirrors things on a line through a point.
///
/// # Errors
/// A sentence, where nothing of it can be mirrored.
pub fn mirror_things(
    project: &Project,
    subjects: &[Subject],
    line: MirrorLine,
    through: Point,
) -> Result<Change, String> {
    let mut things = movable(project, subjects)?;
    things.retain(|thing| !matches!(thing, Subject::Opening(_) | Subject::Underlay(_)));
    if things.is_empty() {
        return Err("openings and underlays are not mirrored by themselves: pick walls or devices".to_owned());
    }
    let hosts: BTreeSet<Subject> = things.iter().copied().collect();
    let mut draft = Draft::of(project);
    mirror_walls(&mut draft, &hosts, line, through);
    for thing in &things {
        match *thing {
            Subject::Room(id) => {
                if let Some(mut room) = project.rooms.get(id).cloned() {
                    room.seed = line.point(room.seed, through);
                    draft.put(id, room);
                }
            }
            Subject::Joinery(id) => {
                if let Some(mut piece) = project.joinery.get(id).cloned() {
                    piece.centre = line.point(piece.centre, through);
                    // Its front runs on from left to right, so that its back stays behind it.
                    piece.turn = (line.angle(piece.turn) + Angle::degrees(180.0)).wrapped();
                    draft.put(id, piece);
                }
            }
            Subject::RoomLine(id) => {
                if let Some(mut room_line) = project.room_lines.get(id).cloned() {
                    room_line.start = line.point(room_line.start, through);
                    room_line.end = line.point(room_line.end, through);
                    draft.put(id, room_line);
                }
            }
            Subject::Spot(id) => {
                if let Some(mut spot) = project.spots.get(id).cloned() {
                    spot.at = line.point(spot.at, through);
                    draft.put(id, spot);
                }
            }
            Subject::Walk(id) => {
                if let Some(mut walk) = project.walks.get(id).cloned() {
                    walk.points.iter_mut().for_each(|point| point.at = line.point(point.at, through));
                    draft.put(id, walk);
                }
            }
            _ => {}
        }
    }
    for (id, device) in project.devices.iter() {
        let host_goes = host_of(device).is_some_and(|host| hosts.contains(&host));
        if host_goes {
            draft.put(id, mirrored_on_its_host(device));
        } else if hosts.contains(&Subject::Device(id)) {
            let mirrored = mirrored_alone(draft.now(), project, device, line, through);
            draft.put(id, mirrored);
        }
    }
    draft.finish(label(project, "Mirror", &things))
}

fn mirror_walls(draft: &mut Draft, hosts: &BTreeSet<Subject>, line: MirrorLine, through: Point) {
    let now = draft.now().clone();
    let ends: NewEnds = now
        .walls
        .iter()
        .filter(|(id, _)| hosts.contains(&Subject::Wall(*id)))
        .map(|(id, wall)| (id, (line.point(wall.start, through), line.point(wall.end, through))))
        .collect();
    put_ends(draft, &ends);
    for (id, opening) in now.openings.iter().filter(|(_, opening)| ends.contains_key(&opening.wall)) {
        if let OpeningForm::Door { hinge, swing, state } = opening.form {
            let form = OpeningForm::Door { hinge, swing: swing.other(), state };
            draft.put(id, Opening { form, ..opening.clone() });
        }
    }
}

fn mirrored_on_its_host(device: &Device) -> Device {
    let mut device = device.clone();
    match device.mount {
        Mount::WallFace { wall, side, along } => {
            device.mount = Mount::WallFace { wall, side: side.other(), along };
            device.turn = (Angle::ZERO - device.turn).wrapped();
        }
        Mount::Joinery { joinery, offset } => {
            device.mount = Mount::Joinery { joinery, offset: Point::new(-offset.x, offset.y) };
            device.turn = (Angle::degrees(180.0) - device.turn).wrapped();
        }
        _ => {}
    }
    device
}

/// A device whose host stays: `before` is the project in which it stood, `now` the one it comes into.
fn mirrored_alone(
    now: &Project,
    before: &Project,
    device: &Device,
    line: MirrorLine,
    through: Point,
) -> Device {
    let facing = line.angle(before.facing_of(device));
    if let (Mount::WallFace { .. }, Some(at)) = (device.mount, before.position_of(device)) {
        let mut mirrored = rehosted(now, device, line.point(at, through));
        mirrored.turn = match mirrored.mount {
            Mount::WallFace { .. } => (Angle::ZERO - device.turn).wrapped(),
            _ => facing.wrapped(),
        };
        return mirrored;
    }
    let mut mirrored = device.clone();
    mirrored.mount = mount_taken(before, device, |at| line.point(at, through));
    let host_turn = before.facing_of(device) - device.turn;
    mirrored.turn = (facing - host_turn).wrapped();
    mirrored
}
