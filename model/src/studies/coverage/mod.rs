//! Coverage: what each sensor sees on the plan, as an area and as a share of its room.
//!
//! The polygon is where the sensor notices a target at a height, by lines of sight in space ([`sight`]); what rooms,
//! walks and spots make of it is told in [`rooms`].

pub mod alarms;
mod cameras;
pub mod intrusion;
pub mod rooms;
mod scenes;
mod sight;
pub mod suggest;
pub mod ways;
pub mod windows;

use std::collections::BTreeMap;

use crate::building::Whereabouts;
use crate::building::outline::{RoomOutline, room_at};
use crate::geometry::{Region, intersection, union_of_regions};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{DoorsAs, Level, Room, Sense};
use crate::project::Project;
use crate::units::Area;

use self::rooms::lighters::lighters;

pub use cameras::{
    CameraCoverage, HOW_SAMPLED, Lens, LevelReach, SunPath, SunSpell, TargetSeen, Unseen, camera, cameras,
};
pub use rooms::{DwellAnswer, RoomCoverage, Spill, WalkAnswer};
pub use scenes::Scenes;
pub use sight::{
    Blind, Cut, Question, Reservation, Section, Seen, Target, sections, seen_by, sensor_polygon,
    sensor_polygon_for,
};

/// What the study may be told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// How doors are taken.
    pub doors: DoorsAs,
}

/// What one sensor covers.
#[derive(Clone, Debug, PartialEq)]
pub struct SensorCoverage {
    /// The sensor.
    pub device: Id<Device>,
    /// The level it is on.
    pub level: Id<Level>,
    /// The room it is in, if any.
    pub room: Option<Id<Room>>,
    /// What it senses.
    pub sense: Sense,
    /// The floor it covers, plan mm, through open doors too.
    pub polygon: Region,
    /// Its size.
    pub area: Area,
    /// How much of its own room it covers, 0 to 1; `None` where it is in none.
    pub share_of_room: Option<f64>,
}

/// The answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// One entry a sensor, by id.
    pub sensors: Vec<SensorCoverage>,
    /// One entry a room whose walls close, level by level, by id.
    pub rooms: Vec<RoomCoverage>,
    /// One entry a drawn walk, by id.
    pub walks: Vec<WalkAnswer>,
    /// One entry a spot at which somebody dwells, by id.
    pub dwell: Vec<DwellAnswer>,
    /// One entry a sensor that sees other rooms through open doors, by id.
    pub spill: Vec<Spill>,
    /// One entry a camera, level by level, by id.
    pub cameras: Vec<CameraCoverage>,
}

/// Studies the whole house.
pub fn coverage(project: &Project, options: Options) -> Report {
    let whereabouts = Whereabouts::of(project);
    let mut report = Report::default();
    for level in project.levels.ids() {
        let Some(outlines) = whereabouts.outlines_on(level) else { continue };
        let mut scenes = Scenes::of_level(project, level, options.doors);
        for (id, device, kind) in project.devices_on(level) {
            if kind.senses().is_none() {
                continue;
            }
            report.sensors.extend(sensor(project, &mut scenes, outlines, id, device));
        }
    }
    let lighters = lighters(project, &whereabouts);
    report.rooms = rooms::of_house(project, &whereabouts, &lighters, &report.sensors);
    report.walks = rooms::walks::walks(project, &whereabouts, &lighters, &report.sensors);
    report.dwell = rooms::dwell::dwell(project, &whereabouts, &lighters, options.doors);
    report.spill = rooms::spill::spill(project, &whereabouts);
    report.cameras = cameras(project, options);
    report
}

/// Studies one sensor among the scenes of its level; `None` for a device that senses nothing.
pub fn sensor(
    project: &Project,
    scenes: &mut Scenes,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    id: Id<Device>,
    device: &Device,
) -> Option<SensorCoverage> {
    let detection = project.kinds.get(device.kind)?.senses()?;
    let polygon = sensor_polygon(project, scenes, device, &detection)?;
    let position = project.position_of(device)?;
    let facing = project.facing_of(device).direction();
    let room = room_at(outlines, position + facing);
    let share_of_room = room.and_then(|room| outlines.get(&room)).map(|outline| share(outline, &[&polygon]));
    Some(SensorCoverage {
        device: id,
        level: device.level,
        room,
        sense: detection.sense,
        area: Area::mm2(polygon.area()),
        polygon,
        share_of_room,
    })
}

/// The share of a room that polygons cover together.
fn share(outline: &RoomOutline, polygons: &[&Region]) -> f64 {
    let room = Region { shapes: vec![outline.shape.clone()] };
    let covered = union_of_regions(polygons);
    let whole = room.area();
    if whole > 0.0 { (intersection(&room, &covered).area() / whole).clamp(0.0, 1.0) } else { 0.0 }
}
