//! What a change would look like, drawn without touching the project.

use kurbo::{Point, Shape as _};
use pattress_model::drawing::plan::{
    coverage_item, device_items, joinery_items, opening_items, room_line_item, spot_items,
};
use pattress_model::drawing::{Item, Layer, Role};
use pattress_model::edit::snap::distances_for;
use pattress_model::edit::{Change, History, Subject};
use pattress_model::geometry::Ring;
use pattress_model::id::Id;
use pattress_model::kit::{Device, Mount};
use pattress_model::plan::{MakeUp, Opening, Side, Wall};
use pattress_model::project::Project;
use pattress_model::studies::coverage::{SensorCoverage, sensor_polygon};
use pattress_model::units::{Area, Length};

use super::figures::measured;
use super::{Around, Ghost, live};

/// So many sensors at once show what they would see; more would make the board stutter.
const MOST_CONES: usize = 8;

/// So many things of a selection are drawn where they would be; the rest follow when it is let go.
const MOST_GHOSTS: usize = 300;

/// The project as a change would make it; `None` where the change is refused.
pub fn preview(project: &Project, change: &Change) -> Option<Project> {
    let mut after = project.clone();
    History::default().apply(&mut after, change.clone()).ok()?;
    Some(after)
}

/// Shows what a change puts where it would be, and hides it where it is. Returns the project as it would be.
pub fn show(ghost: &mut Ghost, around: &mut Around<'_>, change: &Change) -> Option<Project> {
    let after = preview(around.project(), change)?;
    let mut cones = 0;
    let devices = change.ops.iter().filter(|op| matches!(op.subject(), Subject::Device(_))).count();
    for op in change.ops.iter().take(MOST_GHOSTS) {
        let subject = op.subject();
        ghost.hides.push(subject);
        match subject {
            Subject::Device(id) => {
                cones += 1;
                show_device(ghost, around, &after, id, (cones <= MOST_CONES, devices == 1));
            }
            Subject::Wall(id) => show_wall(ghost, around, &after, id),
            Subject::Opening(id) => show_opening(ghost, &after, id),
            Subject::Joinery(_) => {
                let items = joinery_items(&after, around.level(), around.scale);
                ghost.items.extend(items.into_iter().filter(|item| item.subject == Some(subject)));
            }
            Subject::RoomLine(id) => {
                ghost.items.extend(after.room_lines.get(id).map(|line| room_line_item(id, line)));
            }
            Subject::Spot(_) | Subject::Walk(_) => {
                let items = spot_items(&after, around.level(), around.scale);
                ghost.items.extend(items.into_iter().filter(|item| item.subject == Some(subject)));
            }
            Subject::Underlay(id) => {
                ghost.hides.pop();
                ghost.items.extend(after.underlays.get(id).map(underlay_item));
            }
            Subject::Room(id) => {
                ghost.hides.pop();
                ghost.mark = after.rooms.get(id).map(|room| room.seed);
            }
            _ => {}
        }
    }
    Some(after)
}

/// A wall with what is cut into it and what is fixed to it.
fn show_wall(ghost: &mut Ghost, around: &mut Around<'_>, after: &Project, id: Id<Wall>) {
    ghost.items.extend(after.walls.get(id).map(wall_item));
    for (opening, _) in after.openings.iter().filter(|(_, opening)| opening.wall == id) {
        ghost.hides.push(Subject::Opening(opening));
        show_opening(ghost, after, opening);
    }
    for (device, found) in after.devices.iter() {
        if matches!(found.mount, Mount::WallFace { wall, .. } if wall == id) {
            ghost.hides.push(Subject::Device(device));
            show_device(ghost, around, after, device, (false, false));
        }
    }
}

fn show_opening(ghost: &mut Ghost, after: &Project, id: Id<Opening>) {
    if let Some(opening) = after.openings.get(id)
        && let Some(wall) = after.walls.get(opening.wall)
    {
        ghost.items.push(hole_item(opening, wall));
        ghost.items.extend(opening_items(id, opening, wall));
    }
}

fn show_device(
    ghost: &mut Ghost,
    around: &mut Around<'_>,
    after: &Project,
    id: Id<Device>,
    (cone, told): (bool, bool),
) {
    let Some(device) = after.devices.get(id) else { return };
    let Some(kind) = after.kinds.get(device.kind) else { return };
    if device.level != around.level() {
        return;
    }
    if cone
        && let Some(detection) = kind.senses()
        && let Some(polygon) = sensor_polygon(after, around.scenes, device, &detection)
    {
        let coverage = SensorCoverage {
            device: id,
            level: device.level,
            room: None,
            sense: detection.sense,
            area: Area::mm2(polygon.area()),
            polygon,
            share_of_room: None,
        };
        ghost.items.extend(coverage_item(after, &coverage));
        if told {
            live::tell(ghost, around, after, &coverage);
        }
    }
    ghost.items.extend(device_items(after, id, device, kind, around.scale));
}

/// Shows the distances that would set a device out.
pub fn show_setting_out(ghost: &mut Ghost, after: &Project, id: Id<Device>) {
    let Some(device) = after.devices.get(id) else { return };
    for distance in distances_for(after, device.level, device.mount, device.height_affl) {
        if distance.length.as_mm() >= 1.0 {
            ghost.measures.push(measured(distance.from, distance.to));
        }
    }
}

/// A wall by itself.
pub fn wall_item(wall: &Wall) -> Item {
    let role = match wall.make_up {
        MakeUp::Masonry => Role::WallMasonry,
        MakeUp::Block => Role::WallBlock,
        MakeUp::Stud => Role::WallStud,
        MakeUp::Glazed => Role::WallGlazed,
    };
    stretch_item(role, wall, Length::ZERO, wall.length())
}

/// The hole of an opening, drawn over the wall that it is cut out of.
fn hole_item(opening: &Opening, wall: &Wall) -> Item {
    stretch_item(Role::DoorLeaf, wall, opening.from(), opening.to())
}

fn stretch_item(role: Role, wall: &Wall, from: Length, to: Length) -> Item {
    let corners = [(from, Side::Right), (to, Side::Right), (to, Side::Left), (from, Side::Left)]
        .map(|(along, side)| wall.on_face(along, side));
    area_item(role, corners.to_vec())
}

/// An area by its corners.
pub fn area_item(role: Role, corners: Vec<Point>) -> Item {
    Item::path(Layer::Building, role, None, Ring::new(corners).to_path())
}

fn underlay_item(underlay: &pattress_model::plan::Underlay) -> Item {
    let (width, height) = (underlay.width, underlay.height);
    let mut path = kurbo::Rect::new(0.0, 0.0, width, height).to_path(1.0);
    path.apply_affine(underlay.plan_from_drawing());
    Item::path(Layer::Underlay, Role::Ghost, None, path)
}
