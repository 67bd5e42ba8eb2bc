//! One level, whole: its computed figures, and its items from the bottom layer up.

use std::collections::{BTreeMap, BTreeSet};

use crate::building::outline::{RoomOutline, room_outlines};
use crate::drawing::dimensions::{dimension_items, setting_out};
use crate::drawing::labels::{spot_name_items, tag_items};
use crate::drawing::{Item, Layer};
use crate::id::Id;
use crate::plan::{DoorsAs, Level, Room};
use crate::project::Project;
use crate::studies::coverage::{CameraCoverage, Scenes, SensorCoverage, camera, sensor};

use super::*;

/// What has to be computed before a level can be drawn; kept by the window between changes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LevelFigures {
    /// The outline of every room whose walls close.
    pub outlines: BTreeMap<Id<Room>, RoomOutline>,
    /// What each sensor of the level covers, by id.
    pub coverage: Vec<SensorCoverage>,
    /// What each camera of the level shows, by id.
    pub cameras: Vec<CameraCoverage>,
}

impl LevelFigures {
    /// Computes the figures of a level.
    pub fn compute(project: &Project, level: Id<Level>, doors: DoorsAs) -> Self {
        let outlines = room_outlines(project, level);
        let mut scenes = Scenes::of_level(project, level, doors);
        let coverage = project
            .devices_on(level)
            .filter(|(_, _, kind)| kind.senses().is_some())
            .filter_map(|(id, device, _)| sensor(project, &mut scenes, &outlines, id, device))
            .collect();
        let cameras = project
            .devices_on(level)
            .filter_map(|of_kind| camera(project, &mut scenes, doors, of_kind))
            .collect();
        Self { outlines, coverage, cameras }
    }
}

/// What of a level is drawn, and how large.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanOptions {
    /// Plan millimetres to one millimetre of paper: 50 for 1:50.
    pub scale: f64,
    /// The layers that are shown.
    pub layers: BTreeSet<Layer>,
    /// The level drawn as a ghost beneath, where that layer is shown.
    pub level_below: Option<Id<Level>>,
}

/// All items of a level, sorted by layer from the bottom up; within a layer in the order of ids.
pub fn level_items(
    project: &Project,
    level: Id<Level>,
    figures: &LevelFigures,
    options: &PlanOptions,
) -> Vec<Item> {
    let scale = options.scale;
    let shows = |layer: Layer| options.layers.contains(&layer);
    let mut items = Vec::new();
    if shows(Layer::Underlay) {
        items.extend(underlay_items(project, level));
    }
    if shows(Layer::LevelBelow) {
        items.extend(options.level_below.iter().flat_map(|below| ghost_items(project, *below)));
    }
    if shows(Layer::Zones) {
        items.extend(zone_items(project, level, &figures.outlines, scale));
    }
    if shows(Layer::Coverage) {
        items.extend(coverage_items(project, &figures.coverage, &figures.cameras, scale));
    }
    if shows(Layer::Joinery) {
        items.extend(joinery_items(project, level, scale));
    }
    if shows(Layer::Building) {
        items.extend(building_items(project, level));
    }
    if shows(Layer::Spots) {
        items.extend(spot_marks(project, level, scale));
    }
    // A dimension has its place on the wall; the name of a room can go anywhere in it, so it comes second.
    if shows(Layer::Dimensions) {
        let mut obstacles = ground::symbol_boxes(project, level, scale);
        obstacles.extend(ground::lettering_boxes(&items, scale));
        let settings = setting_out(project, level);
        let with_heights = !shows(Layer::Tags);
        items.extend(dimension_items(project, &settings, scale, &obstacles, with_heights));
    }
    if shows(Layer::Rooms) {
        let rooms = room_items(project, level, &figures.outlines, scale, &items);
        items.extend(rooms);
    }
    if shows(Layer::Devices) {
        for (id, device, kind) in project.devices_on(level) {
            items.extend(device_items(project, id, device, kind, scale));
        }
    }
    if shows(Layer::Tags) {
        items.extend(tag_items(project, level, &items, scale));
    }
    if shows(Layer::Spots) {
        items.extend(spot_name_items(project, level, &items, scale));
    }
    items.sort_by_key(|item| item.layer);
    items
}
