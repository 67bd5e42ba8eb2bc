//! Turn things about a point.
//!
//! A device on a wall that is not turned with it stays where it is and turns on the spot.

use kurbo::{Point, Vec2};

use super::draft::Draft;
use super::move_things::{host_of, movable, turned_back};
use super::wall_ends::{NewEnds, put_ends};
use super::words::label;
use crate::edit::{Change, Subject};
use crate::kit::{Device, Mount};
use crate::project::Project;
use crate::units::{Angle, round_point};

/// Turns things by an angle, anticlockwise, about a point.
///
/// # Errors
/// A sentence, where nothing of it can be turned.
pub fn turn_things(
    project: &Project,
    subjects: &[Subject],
    by: Angle,
    about: Point,
) -> Result<Change, String> {
    let mut things = movable(project, subjects)?;
    things.retain(|thing| !matches!(thing, Subject::Opening(_)));
    if things.is_empty() {
        return Err("an opening turns with its wall: pick the wall".to_owned());
    }
    let turned = |point: Point| {
        let (across, up) = (by.direction(), Vec2::new(-by.direction().y, by.direction().x));
        let from = point - about;
        round_point(about + across * from.x + up * from.y)
    };
    let mut draft = Draft::of(project);
    let mut ends = NewEnds::new();
    for thing in &things {
        match *thing {
            Subject::Wall(id) => {
                if let Some(wall) = project.walls.get(id) {
                    ends.insert(id, (turned(wall.start), turned(wall.end)));
                }
            }
            Subject::Room(id) => {
                if let Some(mut room) = project.rooms.get(id).cloned() {
                    room.seed = turned(room.seed);
                    draft.put(id, room);
                }
            }
            Subject::Joinery(id) => {
                if let Some(mut piece) = project.joinery.get(id).cloned() {
                    piece.centre = turned(piece.centre);
                    piece.turn = (piece.turn + by).wrapped();
                    draft.put(id, piece);
                }
            }
            Subject::Underlay(id) => {
                if let Some(mut underlay) = project.underlays.get(id).cloned() {
                    underlay.position = turned(underlay.position);
                    underlay.turn = (underlay.turn + by).wrapped();
                    draft.put(id, underlay);
                }
            }
            Subject::RoomLine(id) => {
                if let Some(mut line) = project.room_lines.get(id).cloned() {
                    (line.start, line.end) = (turned(line.start), turned(line.end));
                    draft.put(id, line);
                }
            }
            Subject::Spot(id) => {
                if let Some(mut spot) = project.spots.get(id).cloned() {
                    spot.at = turned(spot.at);
                    draft.put(id, spot);
                }
            }
            Subject::Walk(id) => {
                if let Some(mut walk) = project.walks.get(id).cloned() {
                    walk.points.iter_mut().for_each(|point| point.at = turned(point.at));
                    draft.put(id, walk);
                }
            }
            Subject::Device(id) => {
                if let Some(mut device) = project.devices.get(id).cloned()
                    && !host_of(&device).is_some_and(|host| things.contains(&host))
                {
                    device.mount = mount_taken(project, &device, turned);
                    device.turn = (device.turn + by).wrapped();
                    draft.put(id, device);
                }
            }
            _ => {}
        }
    }
    put_ends(&mut draft, &ends);
    draft.finish(label(project, "Turn", &things))
}

/// The mount of a device whose host stays, its place taken elsewhere where the host lets it go there.
pub(super) fn mount_taken(project: &Project, device: &Device, place: impl Fn(Point) -> Point) -> Mount {
    match device.mount {
        Mount::WallFace { .. } => device.mount,
        Mount::Joinery { joinery, offset } => {
            let taken = project.position_of(device).zip(project.joinery.get(joinery)).map(|(at, piece)| {
                let moved_by = place(at) - at;
                round_point(offset + turned_back(moved_by, piece.turn))
            });
            Mount::Joinery { joinery, offset: taken.unwrap_or(offset) }
        }
        Mount::Ceiling { at } => Mount::Ceiling { at: place(at) },
        Mount::Floor { at } => Mount::Floor { at: place(at) },
        Mount::Outdoors { at } => Mount::Outdoors { at: place(at) },
        Mount::Loose { at } => Mount::Loose { at: place(at) },
    }
}
