//! Copy things beside themselves or to another level.
//!
//! Copies have new tags and are in no zone and no rule. A device on a wall that is not copied with it is set
//! farther along the same wall, or on another level on the wall at the same place.

use std::collections::BTreeMap;

use kurbo::Vec2;

use super::draft::Draft;
use super::legends::provisional;
use super::move_things::{host_of, mount_moved, movable, rehosted};
use super::openings::nearest_room;
use super::words::{gone, label, name_of};
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{Joinery, Level, Opening, Room, RoomLine, Spot, Underlay, WalkPoint, Wall};
use crate::project::Project;
use crate::units::{Length, round_point};

/// Where copies go.
#[derive(Clone, Copy)]
enum Whither {
    By(Vec2),
    To(Id<Level>),
}

/// Copies of the hosts among what is copied.
#[derive(Default)]
struct Copies {
    walls: BTreeMap<Id<Wall>, Id<Wall>>,
    joinery: BTreeMap<Id<Joinery>, Id<Joinery>>,
}

/// Copies things by a vector, mm.
///
/// # Errors
/// A sentence, where nothing of it can be copied or there is no room for a copy.
pub fn copy_things(project: &Project, subjects: &[Subject], by: Vec2) -> Result<Change, String> {
    if !by.is_finite() {
        return Err("the distance to copy by is not a finite number: type a length".to_owned());
    }
    let things = movable(project, subjects)?;
    let label = label(project, "Copy", &things);
    copied(project, &things, Whither::By(by))?.finish(label)
}

/// Copies things to the same place on another level.
///
/// # Errors
/// A sentence, where nothing of it can be copied or an opening has no wall there.
pub fn copy_to_level(project: &Project, subjects: &[Subject], level: Id<Level>) -> Result<Change, String> {
    let target = project.levels.get(level).ok_or_else(|| gone("level"))?;
    let things = movable(project, subjects)?;
    let label = format!("{} to {}", label(project, "Copy", &things), target.name);
    copied(project, &things, Whither::To(level))?.finish(label)
}

fn copied(project: &Project, things: &[Subject], whither: Whither) -> Result<Draft, String> {
    let mut draft = Draft::of(project);
    let mut copies = Copies::default();
    let by = match whither {
        Whither::By(by) => by,
        Whither::To(_) => Vec2::ZERO,
    };
    let onto = |level: Id<Level>| match whither {
        Whither::By(_) => level,
        Whither::To(level) => level,
    };
    for thing in things {
        match *thing {
            Subject::Wall(id) => {
                if let Some(wall) = project.walls.get(id) {
                    let (start, end) = (round_point(wall.start + by), round_point(wall.end + by));
                    let copy = draft.add(Wall { level: onto(wall.level), start, end, ..wall.clone() });
                    copies.walls.insert(id, copy);
                }
            }
            Subject::Room(id) => {
                if let Some(room) = project.rooms.get(id) {
                    let seed = round_point(room.seed + by);
                    draft.add(Room { level: onto(room.level), seed, ..room.clone() });
                }
            }
            Subject::Joinery(id) => {
                if let Some(piece) = project.joinery.get(id) {
                    let centre = round_point(piece.centre + by);
                    let copy = draft.add(Joinery { level: onto(piece.level), centre, ..piece.clone() });
                    copies.joinery.insert(id, copy);
                }
            }
            Subject::Underlay(id) => {
                if let Some(underlay) = project.underlays.get(id) {
                    let position = round_point(underlay.position + by);
                    draft.add(Underlay { level: onto(underlay.level), position, ..underlay.clone() });
                }
            }
            Subject::RoomLine(id) => {
                if let Some(line) = project.room_lines.get(id) {
                    let [start, end] = [line.start, line.end].map(|at| round_point(at + by));
                    draft.add(RoomLine { level: onto(line.level), start, end });
                }
            }
            Subject::Spot(id) => {
                if let Some(spot) = project.spots.get(id) {
                    let at = round_point(spot.at + by);
                    draft.add(Spot { level: onto(spot.level), at, ..spot.clone() });
                }
            }
            Subject::Walk(id) => {
                if let Some(walk) = project.walks.get(id) {
                    let mut copy = walk.clone();
                    for point in &mut copy.points {
                        *point = WalkPoint { level: onto(point.level), at: round_point(point.at + by) };
                    }
                    draft.add(copy);
                }
            }
            _ => {}
        }
    }
    copy_openings(&mut draft, project, things, &copies, whither)?;
    for thing in things {
        if let Subject::Device(id) = *thing
            && let Some(device) = project.devices.get(id)
        {
            copy_device(&mut draft, id, device, &copies, whither)?;
        }
    }
    Ok(draft)
}

/// Copies the openings of copied walls, and picked openings whose walls stay.
fn copy_openings(
    draft: &mut Draft,
    project: &Project,
    things: &[Subject],
    copies: &Copies,
    whither: Whither,
) -> Result<(), String> {
    for (id, opening) in project.openings.iter() {
        if let Some(wall) = copies.walls.get(&opening.wall) {
            draft.add(Opening { wall: *wall, ..opening.clone() });
        } else if things.contains(&Subject::Opening(id)) {
            let place = opening_place(draft.now(), opening, whither);
            let (wall, centre) = place.ok_or_else(|| {
                format!("there is no wall with room for a copy of the {}: pick another place", opening.name())
            })?;
            draft.add(Opening { wall, centre, ..opening.clone() });
        }
    }
    Ok(())
}

fn opening_place(project: &Project, opening: &Opening, whither: Whither) -> Option<(Id<Wall>, Length)> {
    let wall = project.walls.get(opening.wall)?;
    match whither {
        Whither::By(by) => {
            let wanted = opening.centre + Length::mm(by.dot(wall.direction()));
            Some((opening.wall, nearest_room(project, None, opening.wall, opening.width, wanted)?))
        }
        Whither::To(level) => {
            let at = wall.on_axis(opening.centre);
            let (id, other) = project
                .walls_on(level)
                .filter(|(_, other)| other.distance_to_axis(at).as_mm() <= wall.thickness.as_mm())
                .min_by(|(_, a), (_, b)| {
                    a.distance_to_axis(at).as_mm().total_cmp(&b.distance_to_axis(at).as_mm())
                })?;
            Some((id, nearest_room(project, None, id, opening.width, other.along_of(at))?))
        }
    }
}

fn copy_device(
    draft: &mut Draft,
    id: Id<Device>,
    device: &Device,
    copies: &Copies,
    whither: Whither,
) -> Result<(), String> {
    let now = draft.now();
    let host_copy = match device.mount {
        Mount::WallFace { wall, side, along } => {
            copies.walls.get(&wall).map(|wall| Mount::WallFace { wall: *wall, side, along })
        }
        Mount::Joinery { joinery, offset } => {
            copies.joinery.get(&joinery).map(|joinery| Mount::Joinery { joinery: *joinery, offset })
        }
        _ => None,
    };
    let mut copy = device.clone();
    match (whither, host_copy) {
        (Whither::To(level), mount) => {
            let at = now.position_of(device).ok_or_else(|| gone("device"))?;
            let facing = now.facing_of(device);
            copy.level = level;
            match mount {
                Some(mount) => copy.mount = mount,
                None => copy = rehosted(now, &copy, at),
            }
            if host_of(&copy).is_none() && host_of(device).is_some() {
                copy.turn = facing.wrapped();
            }
        }
        (Whither::By(_), Some(mount)) => copy.mount = mount,
        (Whither::By(by), None) => {
            copy.mount = mount_moved(now, device, by).ok_or_else(|| {
                format!(
                    "the wall has no room for a copy of {}: pick another place",
                    name_of(now, Subject::Device(id))
                )
            })?;
        }
    }
    copy.tag = draft.next_tag(&device.tag.code);
    // No rule listens to a copy yet, so its words may stand, but nobody has agreed to them.
    copy.legend = provisional(copy.legend);
    draft.add(copy);
    Ok(())
}
