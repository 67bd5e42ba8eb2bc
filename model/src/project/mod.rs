//! A project: all that people decided about one house, and nothing that can be computed.
//!
//! Each sort of thing has a [`Table`]. Tables share their content when a project is cloned, so that a snapshot
//! for a study or for undo costs a few pointers. Nothing here can be changed from outside but through
//! [`crate::edit::History::apply`].

mod entity;
mod site;
mod table;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::id::{FreshIds, Id};
use crate::kit::{Device, Kind, Tag};
use crate::plan::{Joinery, Level, Opening, Room, RoomLine, Spot, Underlay, Walk, Wall};
use crate::systems::{Mode, Rule, Scene, Script, Zone};
use crate::units::Angle;

pub use crate::calendar::{LocalClock, SummerTime};
pub use crate::sun::Place;
pub use entity::{Entity, Kept, Op, Subject};
pub use site::{CameraEdition, FireCategory, IntrusionAims, Site};
pub use table::Table;

/// One house: every decision, nothing computed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Project {
    /// Title block data and site facts.
    pub site: Arc<Site>,
    /// Storeys.
    pub levels: Table<Level>,
    /// Walls.
    pub walls: Table<Wall>,
    /// Doors, windows and plain openings.
    pub openings: Table<Opening>,
    /// Rooms: names at points.
    pub rooms: Table<Room>,
    /// Lines between rooms that no wall parts.
    pub room_lines: Table<RoomLine>,
    /// Joinery.
    pub joinery: Table<Joinery>,
    /// Pictures to trace.
    pub underlays: Table<Underlay>,
    /// Places that matter to what the house senses.
    pub spots: Table<Spot>,
    /// Ways that people take.
    pub walks: Table<Walk>,
    /// The Kit used.
    pub kinds: Table<Kind>,
    /// Devices placed.
    pub devices: Table<Device>,
    /// Zones.
    pub zones: Table<Zone>,
    /// House modes, `at home` apart.
    pub modes: Table<Mode>,
    /// Scenes.
    pub scenes: Table<Scene>,
    /// Scripts of rehearsals, which are the acceptance test on site too.
    pub scripts: Table<Script>,
    /// Rules.
    pub rules: Table<Rule>,
    /// The next id to issue; only ever rises.
    next_id: u32,
    /// The highest number given under each tag code; only ever rises.
    highest_tag: Arc<BTreeMap<String, u32>>,
}

impl Project {
    /// An empty house with one ground floor and nothing on it.
    pub fn new() -> Self {
        let mut project = Self { next_id: 1, ..Self::default() };
        let ground = Level {
            name: "Ground floor".to_owned(),
            floor_above_datum: crate::units::Length::ZERO,
            ceiling_affl: crate::units::Length::mm(2400.0),
        };
        project.perform(Op::put(project.fresh_ids().issue(), ground));
        project
    }

    /// Rebuilds a project from a file's counters; entities are put by [`Project::perform`] afterwards.
    pub(crate) fn with_counters(next_id: u32, highest_tag: BTreeMap<String, u32>) -> Self {
        Self { next_id: next_id.max(1), highest_tag: Arc::new(highest_tag), ..Self::default() }
    }

    /// Issues ids for a change that is being put together. They count as used once the change is applied.
    pub fn fresh_ids(&self) -> FreshIds {
        FreshIds::starting_at(self.next_id.max(1))
    }

    /// The next id the project will issue.
    pub fn next_id(&self) -> u32 {
        self.next_id.max(1)
    }

    /// The highest number given under each tag code so far, removed devices included.
    pub fn highest_tags(&self) -> &BTreeMap<String, u32> {
        &self.highest_tag
    }

    /// The tag for the next device of that code, `already` numbers of which the change at hand has used.
    pub fn next_tag(&self, code: &str, already: u32) -> Tag {
        let highest = self.highest_tag.get(code).copied().unwrap_or(0);
        Tag { code: code.to_owned(), number: highest + 1 + already }
    }

    /// Performs one op and returns its inverse. Counters only rise, also when an op is undone.
    pub(crate) fn perform(&mut self, op: Op) -> Op {
        match op {
            Op::Put(entity) => {
                if let Some(number) = entity.subject().number() {
                    self.next_id = self.next_id.max(number + 1);
                }
                if let Entity::Device(_, device) = &entity {
                    let Tag { code, number } = &device.tag;
                    if self.highest_tag.get(code).is_none_or(|highest| highest < number) {
                        Arc::make_mut(&mut self.highest_tag).insert(code.clone(), *number);
                    }
                }
                entity.put_into(self)
            }
            Op::Remove(subject) => subject.remove_from(self),
        }
    }
}

/// Look-ups that a reader of a plan would make with a finger.
impl Project {
    /// Walls of a level.
    pub fn walls_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Wall>, &Wall)> + Clone {
        self.walls.iter().filter(move |(_, wall)| wall.level == level)
    }

    /// Openings of a level, with their walls.
    pub fn openings_on(
        &self,
        level: Id<Level>,
    ) -> impl Iterator<Item = (Id<Opening>, &Opening, &Wall)> + Clone {
        self.openings.iter().filter_map(move |(id, opening)| {
            let wall = self.walls.get(opening.wall)?;
            (wall.level == level).then_some((id, opening, wall))
        })
    }

    /// Rooms of a level.
    pub fn rooms_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Room>, &Room)> + Clone {
        self.rooms.iter().filter(move |(_, room)| room.level == level)
    }

    /// Room lines of a level.
    pub fn room_lines_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<RoomLine>, &RoomLine)> + Clone {
        self.room_lines.iter().filter(move |(_, line)| line.level == level)
    }

    /// Joinery of a level.
    pub fn joinery_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Joinery>, &Joinery)> + Clone {
        self.joinery.iter().filter(move |(_, piece)| piece.level == level)
    }

    /// Spots of a level.
    pub fn spots_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Spot>, &Spot)> + Clone {
        self.spots.iter().filter(move |(_, spot)| spot.level == level)
    }

    /// Devices of a level, with their kinds.
    pub fn devices_on(&self, level: Id<Level>) -> impl Iterator<Item = (Id<Device>, &Device, &Kind)> + Clone {
        self.devices.iter().filter_map(move |(id, device)| {
            let kind = self.kinds.get(device.kind)?;
            (device.level == level).then_some((id, device, kind))
        })
    }

    /// Where a device is on the plan, mm: the face of its wall, its place on its joinery, or the point it was
    /// put at. `None` only where its host is gone, which no accepted project has.
    pub fn position_of(&self, device: &Device) -> Option<kurbo::Point> {
        use crate::kit::Mount;
        match device.mount {
            Mount::WallFace { wall, side, along } => Some(self.walls.get(wall)?.on_face(along, side)),
            Mount::Joinery { joinery, offset } => {
                let piece = self.joinery.get(joinery)?;
                let front = piece.turn.direction();
                let back = kurbo::Vec2::new(-front.y, front.x);
                Some(piece.centre + front * offset.x + back * offset.y)
            }
            Mount::Ceiling { at } | Mount::Floor { at } | Mount::Outdoors { at } | Mount::Loose { at } => {
                Some(at)
            }
        }
    }

    /// The direction a device looks: its turn, from its wall's normal, its joinery's front or +x.
    pub fn facing_of(&self, device: &Device) -> Angle {
        use crate::kit::Mount;
        let base = match device.mount {
            Mount::WallFace { wall, side, .. } => self.walls.get(wall).map(|wall| wall.facing(side)),
            Mount::Joinery { joinery, .. } => self.joinery.get(joinery).map(|piece| piece.turn),
            _ => None,
        };
        base.unwrap_or_default() + device.turn
    }

    /// Levels from the lowest floor up.
    pub fn levels_upwards(&self) -> Vec<(Id<Level>, &Level)> {
        let mut levels: Vec<_> = self.levels.iter().collect();
        levels.sort_by(|(_, a), (_, b)| a.floor_above_datum.as_mm().total_cmp(&b.floor_above_datum.as_mm()));
        levels
    }
}
