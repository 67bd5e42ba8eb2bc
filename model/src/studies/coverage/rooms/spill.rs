//! What a sensor sees of other rooms through open doors: a passer-by there sets it off.
//!
//! Doors are taken as open, each by a right angle, whatever the plan says, for it is then that it happens.

use crate::building::Whereabouts;
use crate::geometry::{Region, intersection};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{DoorsAs, Room};
use crate::project::Project;
use crate::studies::coverage::{Question, Scenes, sensor_polygon_for};
use crate::units::Area;

use super::floor::SLIVER;
use super::lighters::notices_people;

/// What a sensor sees of one other room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpillInto {
    /// The other room.
    pub room: Id<Room>,
    /// How much of its floor.
    pub area: Area,
}

/// What a sensor sees of other rooms.
#[derive(Clone, Debug, PartialEq)]
pub struct Spill {
    /// The sensor, which notices people.
    pub device: Id<Device>,
    /// The room it is in.
    pub room: Id<Room>,
    /// The others, the most seen first; none of them a sliver.
    pub into: Vec<SpillInto>,
}

/// What every sensor that notices people and is in a room sees of others, by id; those that see none are left out.
pub fn spill(project: &Project, whereabouts: &Whereabouts) -> Vec<Spill> {
    let mut found = Vec::new();
    for level in project.levels.ids() {
        let mut scenes = Scenes::of_level(project, level, DoorsAs::Open);
        for (id, device, kind) in project.devices_on(level) {
            let Some(detection) = kind.detection.as_ref().filter(|_| notices_people(kind)) else { continue };
            let Some(own) = whereabouts.room_of(project, device) else { continue };
            let question = Question::with_doors(DoorsAs::Open);
            let Some(view) = sensor_polygon_for(project, &mut scenes, device, detection, question) else {
                continue;
            };
            let into = seen_of_others(whereabouts, device, own, &view);
            if !into.is_empty() {
                found.push(Spill { device: id, room: own, into });
            }
        }
    }
    found.sort_by_key(|spill| spill.device);
    found
}

fn seen_of_others(
    whereabouts: &Whereabouts,
    device: &Device,
    own: Id<Room>,
    view: &Region,
) -> Vec<SpillInto> {
    let own_outline = whereabouts.rooms_on(device.level).find(|(room, _)| *room == own);
    let mut into: Vec<SpillInto> = whereabouts
        .rooms_on(device.level)
        // A room that shares the space of its own is no other.
        .filter(|(_, outline)| own_outline.is_some_and(|(_, own)| own != *outline))
        .filter(|(_, outline)| match (outline.shape.outer.bounds(), view.bounds()) {
            (Some(a), Some(b)) => a.overlaps(b),
            _ => false,
        })
        .map(|(room, outline)| {
            let floor = Region { shapes: vec![outline.shape.clone()] };
            SpillInto { room, area: Area::mm2(intersection(view, &floor).area()) }
        })
        .filter(|into| into.area >= SLIVER)
        .collect();
    into.sort_by(|a, b| b.area.as_mm2().total_cmp(&a.area.as_mm2()));
    into
}
