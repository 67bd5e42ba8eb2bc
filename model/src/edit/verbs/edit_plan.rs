//! Name rooms, put joinery in, lay and scale underlays.

use kurbo::Point;

use super::draft::Draft;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::plan::{Joinery, Room, RoomUse, SlopingCeiling, Underlay};
use crate::project::Project;
use crate::survey::room_names::room_use_of;
use crate::units::round_point;

/// Names a room at a point between walls.
///
/// # Errors
/// A sentence, where the room has no name or its level is gone.
pub fn add_room(project: &Project, room: Room) -> Result<Change, String> {
    let room = used_as_named(tidy_room(room)?);
    let label = format!("Name room {}", room.name);
    let mut draft = Draft::of(project);
    draft.add(room);
    draft.finish(label)
}

/// Gives a room another name, use or place.
///
/// # Errors
/// A sentence, where the room is gone or would have no name.
pub fn name_room(project: &Project, id: Id<Room>, room: Room) -> Result<Change, String> {
    let before = project.rooms.get(id).ok_or_else(|| gone("room"))?;
    let room = tidy_room(room)?;
    let room = if room.name == before.name { room } else { used_as_named(room) };
    let label = format!("Change room {}", room.name);
    let mut draft = Draft::of(project);
    draft.put(id, room);
    draft.finish(label)
}

/// Says where a room's ceiling slopes, or that it is level.
///
/// # Errors
/// A sentence, where the room is gone or the heights are not above zero or the wrong way round.
pub fn slope_ceiling(
    project: &Project,
    id: Id<Room>,
    ceiling: Option<SlopingCeiling>,
) -> Result<Change, String> {
    let room = project.rooms.get(id).ok_or_else(|| gone("room"))?;
    let label = format!("{} ceiling of {}", if ceiling.is_some() { "Slope" } else { "Level" }, room.name);
    let room = tidy_room(Room { ceiling, ..room.clone() })?;
    let mut draft = Draft::of(project);
    draft.put(id, room);
    draft.finish(label)
}

/// A room whose use nobody has said is used as its new name tells, where it does.
fn used_as_named(room: Room) -> Room {
    match room.room_use {
        RoomUse::Unsaid => Room { room_use: room_use_of(&room.name).unwrap_or(RoomUse::Unsaid), ..room },
        _ => room,
    }
}

fn tidy_room(room: Room) -> Result<Room, String> {
    let name = named("room", &room.name)?;
    let ceiling = room.ceiling.map(|ceiling| SlopingCeiling {
        low: ceiling.low.rounded(),
        high: ceiling.high.rounded(),
        note: ceiling.note.trim().to_owned(),
    });
    Ok(Room { name, seed: round_point(room.seed), ceiling, ..room })
}

/// A name without spaces around it.
///
/// # Errors
/// A sentence, where nothing is left.
pub(super) fn named(sort: &str, name: &str) -> Result<String, String> {
    match name.trim() {
        "" => Err(format!("the {sort} has no name: type one")),
        name => Ok(name.to_owned()),
    }
}

/// Puts a piece of joinery in.
///
/// # Errors
/// A sentence, where a size is not above zero or its level is gone.
pub fn add_joinery(project: &Project, piece: Joinery) -> Result<Change, String> {
    let label = format!("Add {}", piece.form.name());
    let mut draft = Draft::of(project);
    draft.add(tidy_joinery(piece));
    draft.finish(label)
}

/// Changes a piece of joinery. What is fixed to it is drawn in to its new edges.
///
/// # Errors
/// A sentence, where the piece is gone or a size is not above zero.
pub fn edit_joinery(project: &Project, id: Id<Joinery>, piece: Joinery) -> Result<Change, String> {
    use crate::kit::Mount;
    if !project.joinery.contains(id) {
        return Err(gone("joinery"));
    }
    let label = format!("Change {}", piece.form.name());
    let piece = tidy_joinery(piece);
    let (half_width, half_depth) = (piece.width.as_mm().abs() / 2.0, piece.depth.as_mm().abs() / 2.0);
    let mut draft = Draft::of(project);
    for (device_id, device) in project.devices.iter() {
        if let Mount::Joinery { joinery, offset } = device.mount
            && joinery == id
        {
            let drawn_in = Point::new(
                offset.x.max(-half_width).min(half_width),
                offset.y.max(-half_depth).min(half_depth),
            );
            if drawn_in != offset {
                let mut device = device.clone();
                device.mount = Mount::Joinery { joinery, offset: round_point(drawn_in) };
                draft.put(device_id, device);
            }
        }
    }
    draft.put(id, piece);
    draft.finish(label)
}

fn tidy_joinery(piece: Joinery) -> Joinery {
    Joinery {
        name: piece.name.trim().to_owned(),
        centre: round_point(piece.centre),
        width: piece.width.rounded(),
        depth: piece.depth.rounded(),
        turn: piece.turn.wrapped(),
        base: piece.base.rounded(),
        top: piece.top.rounded(),
        ..piece
    }
}

/// Lays a picture under a level.
///
/// # Errors
/// A sentence, where its scale is not above zero or its level is gone.
pub fn add_underlay(project: &Project, underlay: Underlay) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    draft.add(tidy_underlay(underlay));
    draft.finish("Add underlay")
}

/// Changes an underlay: its opacity, its place, its turn.
///
/// # Errors
/// A sentence, where it is gone or a figure is out of bounds.
pub fn edit_underlay(project: &Project, id: Id<Underlay>, underlay: Underlay) -> Result<Change, String> {
    if !project.underlays.contains(id) {
        return Err(gone("underlay"));
    }
    let mut draft = Draft::of(project);
    draft.put(id, tidy_underlay(underlay));
    draft.finish("Change underlay")
}

/// Makes an underlay fainter or stronger, 0 (invisible) to 1 (as it is).
///
/// # Errors
/// A sentence, where it is gone.
pub fn set_underlay_opacity(project: &Project, id: Id<Underlay>, opacity: f64) -> Result<Change, String> {
    let underlay = project.underlays.get(id).ok_or_else(|| gone("underlay"))?;
    edit_underlay(project, id, Underlay { opacity, ..underlay.clone() })
}

/// Prints an underlay beneath the sheets of its level, or no longer.
///
/// # Errors
/// A sentence, where it is gone.
pub fn print_underlay(project: &Project, id: Id<Underlay>, on_sheets: bool) -> Result<Change, String> {
    let underlay = project.underlays.get(id).ok_or_else(|| gone("underlay"))?;
    let mut draft = Draft::of(project);
    draft.put(id, Underlay { on_sheets, ..underlay.clone() });
    draft.finish(if on_sheets { "Print the drawing on sheets" } else { "Keep the drawing off sheets" })
}

pub(super) fn tidy_underlay(underlay: Underlay) -> Underlay {
    let opacity =
        if underlay.opacity.is_finite() { underlay.opacity.clamp(0.0, 1.0) } else { underlay.opacity };
    Underlay { position: round_point(underlay.position), turn: underlay.turn.wrapped(), opacity, ..underlay }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;

    #[test]
    fn a_room_is_used_as_its_name_tells_until_someone_says_otherwise() {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut history = History::default();
        let room = |name: &str, room_use| Room {
            level,
            name: name.to_owned(),
            room_use,
            seed: Point::new(1000.0, 1000.0),
            ceiling: None,
        };
        let change = add_room(&project, room("Room 1", RoomUse::Unsaid)).unwrap();
        history.apply(&mut project, change).unwrap();
        let id = project.rooms.ids().next().unwrap();
        let used_as = |project: &Project| project.rooms.get(id).unwrap().room_use;
        assert_eq!(used_as(&project), RoomUse::Unsaid);
        for (name, said, expected) in [
            ("Kitchen", RoomUse::Unsaid, RoomUse::Kitchen),
            ("Old kitchen", RoomUse::Study, RoomUse::Study),
            ("Old kitchen", RoomUse::Unsaid, RoomUse::Unsaid),
            ("Raum 3", RoomUse::Unsaid, RoomUse::Unsaid),
        ] {
            let change = name_room(&project, id, room(name, said)).unwrap();
            history.apply(&mut project, change).unwrap();
            assert_eq!(used_as(&project), expected, "{name}");
        }
    }
}
