//! What a room answers from what the sensors see: covered and blind floor, ways in and where somebody is first
//! seen, walks, spots at which somebody dwells, and what sensors see of other rooms.
//!
//! All of it works from the sensors' polygons and from the rooms' outlines, so that it holds for whatever the
//! polygons are made of. Which sensors light a room is what the rules say ([`lighters`]).

pub mod dwell;
pub mod first_seen;
pub mod floor;
pub mod lighters;
pub mod moving;
pub mod route;
pub mod spill;
pub mod walks;
pub mod ways_in;

pub use dwell::DwellAnswer;
pub use first_seen::{Entry, Line, Seen};
pub use floor::{Blind, Floor};
pub use lighters::{Lighter, StaysOn};
pub use spill::{Spill, SpillInto};
pub use walks::{Light, Stretch, WalkAnswer};
pub use ways_in::{Way, WayIn};

use std::collections::BTreeMap;

use kurbo::Point;

use super::SensorCoverage;
use crate::building::Whereabouts;
use crate::building::outline::RoomOutline;
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::units::Area;

/// What one room answers.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomCoverage {
    /// The room.
    pub room: Id<Room>,
    /// The level it is on.
    pub level: Id<Level>,
    /// Its clear floor area.
    pub area: Area,
    /// Its middle: the point within its outer outline that is farthest from it, plan mm.
    pub middle: Option<Point>,
    /// What is covered of its floor, and what is blind.
    pub floor: Floor,
    /// The sensors that light it, by id.
    pub lighters: Vec<Lighter>,
    /// Its ways in, the worst first.
    pub entries: Vec<Entry>,
}

impl RoomCoverage {
    /// Whether a rule puts its light on by a sensor or a contact.
    pub fn is_lit_by_rule(&self) -> bool {
        self.lighters.iter().any(|lighter| lighter.rule.is_some())
    }

    /// Whether a rule puts its light on by this device.
    pub fn is_lit_by(&self, device: Id<Device>) -> bool {
        self.lighters.iter().any(|lighter| lighter.device == device && lighter.rule.is_some())
    }
}

/// What every room whose walls close answers, level by level, by id.
pub fn of_house(
    project: &Project,
    whereabouts: &Whereabouts,
    lighters: &BTreeMap<Id<Room>, Vec<Lighter>>,
    sensors: &[SensorCoverage],
) -> Vec<RoomCoverage> {
    let mut answers = Vec::new();
    for level in project.levels.ids() {
        for (room, outline) in whereabouts.rooms_on(level) {
            let lighting = lighters.get(&room).map_or(&[][..], Vec::as_slice);
            answers.push(of_room(project, whereabouts, (room, level), outline, lighting, sensors));
        }
    }
    answers
}

/// What one room answers, from the sensors of the house and those among them that light it.
pub fn of_room(
    project: &Project,
    whereabouts: &Whereabouts,
    (room, level): (Id<Room>, Id<Level>),
    outline: &RoomOutline,
    lighting: &[Lighter],
    sensors: &[SensorCoverage],
) -> RoomCoverage {
    let on_level: Vec<&SensorCoverage> = sensors.iter().filter(|sensor| sensor.level == level).collect();
    let views: Vec<first_seen::View<'_>> =
        on_level.iter().map(|sensor| (sensor.device, &sensor.polygon)).collect();
    let middle = first_seen::middle_of(outline);
    let ways = ways_in::ways_into(project, whereabouts, (room, level), outline);
    RoomCoverage {
        room,
        level,
        area: outline.area(),
        middle,
        floor: floor::floor(outline, &on_level),
        lighters: lighting.to_vec(),
        entries: first_seen::entries(&ways, (outline, middle), lighting, &views),
    }
}

#[cfg(test)]
pub(crate) mod small_rooms;
#[cfg(test)]
mod tests;
