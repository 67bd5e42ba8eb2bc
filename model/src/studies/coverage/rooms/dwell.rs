//! Whether somebody who sits or stands at a spot with small movements is noticed by what lights the room.
//!
//! Where rules put the light on by motion they also put it out: a desk, a sofa or a basin that no such sensor
//! notices small movements at is a place where people sit in the dark.

use std::collections::BTreeMap;

use super::lighters::Lighter;
use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{DoorsAs, Level, Room, Spot};
use crate::project::Project;
use crate::studies::coverage::{Question, Scenes, sensor_polygon_for};

/// What a spot at which somebody dwells answers.
#[derive(Clone, Debug, PartialEq)]
pub struct DwellAnswer {
    /// The spot.
    pub spot: Id<Spot>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// The room it is in, if any.
    pub room: Option<Id<Room>>,
    /// The sensors that notice somebody there and light the room, by id.
    pub noticed_by: Vec<Id<Device>>,
    /// Whether a rule lights the room by a sensor, and so may put the light out again.
    pub by_rule: bool,
}

impl DwellAnswer {
    /// Whether somebody there is left in the dark by a rule.
    pub fn sits_in_the_dark(&self) -> bool {
        self.by_rule && self.noticed_by.is_empty()
    }
}

/// What every spot at which somebody dwells answers, by id.
pub fn dwell(
    project: &Project,
    whereabouts: &Whereabouts,
    lighters: &BTreeMap<Id<Room>, Vec<Lighter>>,
    doors: DoorsAs,
) -> Vec<DwellAnswer> {
    let mut scenes: BTreeMap<Id<Level>, Scenes> = BTreeMap::new();
    let dwelt_in = project.spots.iter().filter(|(_, spot)| spot.spot_use.is_dwelt_in());
    dwelt_in
        .map(|(id, spot)| {
            let room = whereabouts.room_at(spot.level, spot.at);
            let lighting = room.and_then(|room| lighters.get(&room)).map_or(&[][..], Vec::as_slice);
            let noticed_by = lighting
                .iter()
                .map(|lighter| lighter.device)
                .filter(|sensor| notices(project, &mut scenes, *sensor, spot, doors))
                .collect();
            let by_rule = lighting.iter().any(|lighter| lighter.rule.is_some());
            DwellAnswer { spot: id, level: spot.level, room, noticed_by, by_rule }
        })
        .collect()
}

/// Whether a sensor notices somebody who sits at a spot.
fn notices(
    project: &Project,
    scenes: &mut BTreeMap<Id<Level>, Scenes>,
    sensor: Id<Device>,
    spot: &Spot,
    doors: DoorsAs,
) -> bool {
    let Some(device) = project.devices.get(sensor).filter(|device| device.level == spot.level) else {
        return false;
    };
    let kind = project.kinds.get(device.kind);
    let Some(detection) = kind.and_then(|kind| kind.detection.as_ref()) else { return false };
    let scenes = scenes.entry(spot.level).or_insert_with(|| Scenes::of_level(project, spot.level, doors));
    let question = Question { doors, ..Question::of_seated() };
    let view = sensor_polygon_for(project, scenes, device, detection, question);
    view.is_some_and(|view| view.contains(spot.at))
}
