//! The order in which rooms and devices are listed: level by level upwards, room by room, tag by tag.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Kind};
use crate::plan::{Level, Room};
use crate::project::Project;

/// A device with all that a schedule asks about it.
pub struct Placed<'a> {
    /// Its id.
    pub id: Id<Device>,
    /// The device.
    pub device: &'a Device,
    /// Its kind.
    pub kind: &'a Kind,
    /// Its level.
    pub level: &'a Level,
    /// The room it is in, if any.
    pub room: Option<(Id<Room>, &'a Room)>,
}

/// The house as one would walk it, from the lowest level up.
pub struct WalkingOrder {
    /// Where everything is.
    pub whereabouts: Whereabouts,
    level_ranks: BTreeMap<Id<Level>, usize>,
}

impl WalkingOrder {
    /// Works out the rooms and ranks the levels.
    pub fn of(project: &Project) -> Self {
        let ranks = project.levels_upwards().into_iter().enumerate().map(|(rank, (id, _))| (id, rank));
        Self { whereabouts: Whereabouts::of(project), level_ranks: ranks.collect() }
    }

    /// Every device, in walking order; within a level those in no room come last.
    pub fn devices<'a>(&self, project: &'a Project) -> Vec<Placed<'a>> {
        let mut placed: Vec<Placed<'a>> = project
            .devices
            .iter()
            .filter_map(|(id, device)| {
                let room = self.whereabouts.room_of(project, device);
                Some(Placed {
                    id,
                    device,
                    kind: project.kinds.get(device.kind)?,
                    level: project.levels.get(device.level)?,
                    room: room.and_then(|room| Some((room, project.rooms.get(room)?))),
                })
            })
            .collect();
        placed.sort_by(|a, b| {
            self.rank(a.device.level)
                .cmp(&self.rank(b.device.level))
                .then_with(|| by_name(a.room, b.room))
                .then_with(|| a.device.tag.cmp(&b.device.tag))
        });
        placed
    }

    /// Every room, in walking order.
    pub fn rooms<'a>(&self, project: &'a Project) -> Vec<(Id<Room>, &'a Room)> {
        let mut rooms: Vec<_> = project.rooms.iter().collect();
        rooms.sort_by(|a, b| {
            self.rank(a.1.level).cmp(&self.rank(b.1.level)).then_with(|| by_name(Some(*a), Some(*b)))
        });
        rooms
    }

    fn rank(&self, level: Id<Level>) -> usize {
        self.level_ranks.get(&level).copied().unwrap_or(usize::MAX)
    }
}

fn by_name(a: Option<(Id<Room>, &Room)>, b: Option<(Id<Room>, &Room)>) -> Ordering {
    match (a, b) {
        (Some((first, a)), Some((second, b))) => a.name.cmp(&b.name).then(first.cmp(&second)),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}
