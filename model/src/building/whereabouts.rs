//! Which room each device is in: worked out once for a whole house, then asked by every check and schedule.
//!
//! A device on a wall is in the room that its face looks into; one on a ceiling, on the floor or on joinery is
//! in the room it stands in. A device outdoors, or on a face that looks out of the house, is in none.

use std::collections::BTreeMap;

use kurbo::Point;

use super::outline::{RoomOutline, room_at, room_outlines};
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::units::Length;

/// How far in front of its wall's face a device is looked for, so that it is in the room and not on its
/// outline, mm.
const OFF_FACE_MM: f64 = 1.0;

/// The outlines of every room, level by level.
#[derive(Clone, Debug, Default)]
pub struct Whereabouts {
    outlines: BTreeMap<Id<Level>, BTreeMap<Id<Room>, RoomOutline>>,
}

impl Whereabouts {
    /// Works out the rooms of the whole house.
    pub fn of(project: &Project) -> Self {
        Self { outlines: project.levels.ids().map(|level| (level, room_outlines(project, level))).collect() }
    }

    /// The outline of a room; `None` where its walls do not close.
    pub fn outline(&self, project: &Project, room: Id<Room>) -> Option<&RoomOutline> {
        self.outlines.get(&project.rooms.get(room)?.level)?.get(&room)
    }

    /// The outlines of the rooms of a level; `None` where there is no such level.
    pub fn outlines_on(&self, level: Id<Level>) -> Option<&BTreeMap<Id<Room>, RoomOutline>> {
        self.outlines.get(&level)
    }

    /// The rooms of a level that have an outline.
    pub fn rooms_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Room>, &RoomOutline)> {
        self.outlines.get(&level).into_iter().flatten().map(|(room, outline)| (*room, outline))
    }

    /// The room of a level that holds a point, mm; the first by id where two share one space.
    pub fn room_at(&self, level: Id<Level>, point: Point) -> Option<Id<Room>> {
        room_at(self.outlines.get(&level)?, point)
    }

    /// Where a device is, mm, a touch in front of its wall's face. `None` where its host is gone.
    pub fn stands_at(project: &Project, device: &Device) -> Option<Point> {
        let at = project.position_of(device)?;
        Some(match device.mount {
            Mount::WallFace { wall, side, .. } => at + project.walls.get(wall)?.normal(side) * OFF_FACE_MM,
            _ => at,
        })
    }

    /// The height of a device's centre above its finished floor: its own, or that of the ceiling or floor it
    /// is fixed to. `None` where it is not decided.
    pub fn height_of(project: &Project, device: &Device) -> Option<Length> {
        device.height_affl.or_else(|| match device.mount {
            Mount::Ceiling { .. } => project.levels.get(device.level).map(|level| level.ceiling_affl),
            Mount::Floor { .. } => Some(Length::ZERO),
            _ => None,
        })
    }

    /// The room a device is in.
    pub fn room_of(&self, project: &Project, device: &Device) -> Option<Id<Room>> {
        if matches!(device.mount, Mount::Outdoors { .. }) {
            return None;
        }
        room_at(self.outlines.get(&device.level)?, Self::stands_at(project, device)?)
    }
}
