//! The detection sets as people drew them, and what their movement detectors see.

use std::collections::BTreeSet;

use crate::geometry::Region;
use crate::id::Id;
use crate::kit::{Device, Kind};
use crate::plan::{DoorsAs, Level, Sense};
use crate::project::Project;
use crate::studies::coverage::{Question, Scenes, sensor_polygon_for};
use crate::systems::ZonePurpose;

/// The devices of each set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sets {
    /// Those of the full set.
    pub full: BTreeSet<Id<Device>>,
    /// Those of the part set.
    pub part: BTreeSet<Id<Device>>,
    /// Those that wait on the entry route.
    pub entry: BTreeSet<Id<Device>>,
}

impl Sets {
    /// The sets of a project, all zones of a purpose together.
    pub fn of(project: &Project) -> Self {
        let of = |purpose: ZonePurpose| {
            let zones = project.zones.iter().filter(move |(_, zone)| zone.purpose == purpose);
            zones.flat_map(|(_, zone)| zone.points.iter().map(|point| point.device)).collect()
        };
        Self {
            full: of(ZonePurpose::FullSet),
            part: of(ZonePurpose::PartSet),
            entry: of(ZonePurpose::EntryRoute),
        }
    }
}

/// Whether a kind notices people who move.
pub(super) fn notices_movement(kind: &Kind) -> bool {
    kind.detection
        .as_ref()
        .is_some_and(|detection| matches!(detection.sense, Sense::BodyHeat | Sense::Microwave | Sense::Dual))
}

/// A movement detector with the floor on which it notices somebody walking.
pub(super) struct Watcher {
    pub(super) device: Id<Device>,
    pub(super) region: Region,
}

/// What the movement detectors among these see on a level, doors taken so.
pub(super) fn watchers(
    project: &Project,
    level: Id<Level>,
    among: &BTreeSet<Id<Device>>,
    doors: DoorsAs,
) -> Vec<Watcher> {
    let mut scenes = Scenes::of_level(project, level, doors);
    project
        .devices_on(level)
        .filter(|(id, _, kind)| among.contains(id) && notices_movement(kind))
        .filter_map(|(id, device, kind)| {
            let detection = kind.detection.as_ref()?;
            let question = Question::with_doors(doors);
            let region = sensor_polygon_for(project, &mut scenes, device, detection, question)?;
            Some(Watcher { device: id, region })
        })
        .collect()
}
