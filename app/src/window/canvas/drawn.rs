//! What lies on the board: each layer is made again only when something it is made from has changed.
//!
//! The building, joinery and devices follow the project at once. What takes longer (coverage, room names, zones,
//! the sheet with its tags and dimensions) comes from [`crate::window::jobs`]; until it does, tags of things
//! that changed meanwhile are left out rather than shown where they no longer belong.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::Rect;
use pattress_model::drawing::plan::{
    boundary_within, building_items, coverage_items, device_items, ghost_items, joinery_items, spot_items,
};
use pattress_model::drawing::{Item, Layer, Role, Shape, Sheet};
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::studies::coverage::{CameraCoverage, SensorCoverage};

use super::chunks::{Chunks, Squares, cut};
use crate::window::jobs::{Figures, Laid};
use crate::window::session::Session;

/// The layers that come with the sheet and speak of single things.
const WITH_THE_SHEET: [Layer; 2] = [Layer::Tags, Layer::Dimensions];

/// The layers that come with the sheet and stay as they are until the next.
const TILL_THE_NEXT: [Layer; 3] = [Layer::Frame, Layer::Rooms, Layer::Zones];

/// Of a change of more things than these the whole layer is made again, which costs no more.
const FEW: usize = 200;

/// The drawing on the board.
#[derive(Default)]
pub struct Drawn {
    /// Its items, tessellated.
    pub chunks: Chunks,
    made_from: Option<MadeFrom>,
    sheet: Option<Sheet>,
}

/// What the chunks were made from.
struct MadeFrom {
    project: Project,
    level: Id<Level>,
    level_below: Option<Id<Level>>,
    /// What the areas on the board were made from.
    covered: Option<Covered>,
    laid: Option<u64>,
    scale: u32,
}

/// What sensors and cameras cover, as it was computed; shared with the figures.
#[derive(Clone)]
struct Covered {
    sensors: Arc<BTreeMap<Id<Device>, SensorCoverage>>,
    cameras: Arc<Vec<CameraCoverage>>,
}

impl Covered {
    fn of(figures: &Figures) -> Self {
        Self { sensors: Arc::clone(&figures.coverage), cameras: Arc::clone(&figures.cameras) }
    }

    fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.sensors, &other.sensors) && Arc::ptr_eq(&self.cameras, &other.cameras)
    }
}

/// What changed since the drawing was made last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Changed {
    /// Walls, openings or the level itself.
    pub building: bool,
    /// Devices or kinds.
    pub devices: bool,
}

impl Drawn {
    /// The sheet that the plan lies on, once it has been composed.
    pub fn sheet(&self) -> Option<&Sheet> {
        self.sheet.as_ref()
    }

    /// Denominator of the scale at which the level is drawn: the sheet's, which may be smaller than asked for.
    pub fn scale(&self, project: &Project) -> f64 {
        f64::from(self.sheet.as_ref().map_or(project.site.scale, |sheet| sheet.scale))
    }

    /// Makes again what has changed.
    pub fn keep_up(&mut self, session: &Session, figures: &Figures, laid: Option<&Laid>) -> Changed {
        let project = session.project();
        let level = session.level();
        let laid = laid.filter(|laid| laid.level == level);
        let before = self.made_from.take().filter(|before| before.level == level);
        if before.is_none() {
            self.sheet = None;
        }
        let new_sheet =
            laid.is_some() && before.as_ref().and_then(|before| before.laid) != laid.map(|laid| laid.number);
        if new_sheet && let Some(laid) = laid {
            self.sheet = Some(laid.sheet.clone());
        }
        let scale = self.scale(project);
        let before = before.filter(|before| f64::from(before.scale) == scale);
        let same = |pick: &dyn Fn(&Project, &Project) -> bool| {
            before.as_ref().is_some_and(|before| pick(&before.project, project))
        };
        let same_walls = same(&|a, b| {
            a.walls.is_same(&b.walls)
                && a.openings.is_same(&b.openings)
                && a.room_lines.is_same(&b.room_lines)
                && a.levels.is_same(&b.levels)
        });
        let same_joinery = same(&|a, b| a.joinery.is_same(&b.joinery));
        let same_devices = same(&|a, b| a.devices.is_same(&b.devices) && a.kinds.is_same(&b.kinds));
        let same_below = before.as_ref().is_some_and(|before| before.level_below == session.level_below());
        let fresh = figures.level == Some(level) && figures.generation == Some(session.generation());

        if !(same_walls && same_below) {
            let below = session.level_below().map(|below| ghost_items(project, below)).unwrap_or_default();
            self.chunks.set_layer(Layer::LevelBelow, below);
        }
        if !same_walls {
            self.chunks.set_layer(Layer::Building, building_items(project, level));
        }
        if !same_joinery {
            self.chunks.set_layer(Layer::Joinery, joinery_items(project, level, scale));
        }
        let same_life =
            same(&|a, b| a.spots.is_same(&b.spots) && a.walks.is_same(&b.walks) && a.site == b.site);
        if !same_life || new_sheet {
            let items = spots(project, level, scale, laid);
            let area = self.sheet.as_ref().map(area_on_plan);
            self.chunks.set_layer(
                Layer::Spots,
                match area {
                    Some(area) => boundary_within(items, area),
                    None => items,
                },
            );
        }
        // Where only some devices changed, all others are left as they are.
        let some = before.as_ref().filter(|_| same_walls && same_joinery);
        let some = some.and_then(|before| few_changed(&before.project, project));
        if !(same_devices && same_walls && same_joinery) {
            self.keep_up_devices(project, level, scale, some.as_ref());
        }
        let (covered_before, covered) =
            (before.as_ref().and_then(|before| before.covered.clone()), Covered::of(figures));
        let same_figures = covered_before.as_ref().is_some_and(|before| before.is_same(&covered));
        if fresh && !(same_figures && same_devices && same_walls) {
            let before = covered_before.as_ref().filter(|_| some.is_some());
            self.keep_up_coverage(project, scale, before, &covered);
        }
        match (laid, &some) {
            (Some(laid), _) if new_sheet => self.keep_up_sheet(laid, project),
            (_, Some(some)) if !same_devices => {
                for layer in WITH_THE_SHEET {
                    self.chunks.set_things(layer, some, Vec::new());
                }
            }
            (laid, _) if !(same_devices && same_walls) => {
                for layer in WITH_THE_SHEET {
                    let items = laid.map(|laid| still_true(laid, project, layer)).unwrap_or_default();
                    self.chunks.set_layer(layer, items);
                }
            }
            _ => {}
        }
        self.made_from = Some(MadeFrom {
            project: project.clone(),
            level,
            level_below: session.level_below(),
            covered: if fresh { Some(covered) } else { covered_before.filter(|_| same_walls) },
            laid: laid.map(|laid| laid.number),
            scale: scale as u32,
        });
        Changed { building: !same_walls, devices: !same_devices }
    }

    fn keep_up_devices(
        &mut self,
        project: &Project,
        level: Id<Level>,
        scale: f64,
        some: Option<&BTreeSet<Subject>>,
    ) {
        let wanted = |id: Id<Device>| some.is_none_or(|some| some.contains(&Subject::Device(id)));
        let items = project
            .devices_on(level)
            .filter(|(id, ..)| wanted(*id))
            .flat_map(|(id, device, kind)| device_items(project, id, device, kind, scale))
            .collect();
        match some {
            Some(some) => self.chunks.set_things(Layer::Devices, some, items),
            None => self.chunks.set_layer(Layer::Devices, items),
        }
    }

    /// What sensors cover: of all, or of those whose area differs from what it was, as long as no camera differs,
    /// for the words of cameras make way for one another.
    fn keep_up_coverage(&mut self, project: &Project, scale: f64, before: Option<&Covered>, now: &Covered) {
        let before = before.filter(|before| before.cameras == now.cameras);
        let Some(before) = before else {
            let items = coverage_items(project, now.sensors.values(), &now.cameras, scale);
            return self.chunks.set_layer(Layer::Coverage, items);
        };
        let cameras: BTreeSet<Id<Device>> = now.cameras.iter().map(|camera| camera.device).collect();
        let differs = |id: &&Id<Device>| before.sensors.get(id) != now.sensors.get(id);
        let all = before.sensors.keys().chain(now.sensors.keys());
        let changed: BTreeSet<Id<Device>> = all.filter(differs).copied().collect();
        if changed.iter().any(|id| cameras.contains(id)) {
            return self.keep_up_coverage(project, scale, None, now);
        }
        let items = coverage_items(project, changed.iter().filter_map(|id| now.sensors.get(id)), &[], scale);
        let changed = changed.into_iter().map(Subject::Device).collect();
        self.chunks.set_things(Layer::Coverage, &changed, items);
    }

    /// What comes with a sheet.
    fn keep_up_sheet(&mut self, laid: &Laid, project: &Project) {
        let as_it_is = laid.project.walls.is_same(&project.walls)
            && laid.project.openings.is_same(&project.openings)
            && laid.project.devices.is_same(&project.devices);
        for layer in TILL_THE_NEXT {
            self.chunks.lay(layer, laid.layers.get(&layer).unwrap_or(&Squares::new()));
        }
        for layer in WITH_THE_SHEET {
            if as_it_is {
                self.chunks.lay(layer, laid.layers.get(&layer).unwrap_or(&Squares::new()));
            } else {
                self.chunks.set_layer(layer, still_true(laid, project, layer));
            }
        }
    }
}

/// The marks of spots and walks with their names: those that came with the sheet, and beside what changed since.
fn spots(project: &Project, level: Id<Level>, scale: f64, laid: Option<&Laid>) -> Vec<Item> {
    let as_it_was = |subject: Option<Subject>| {
        laid.is_some_and(|laid| match subject {
            Some(Subject::Spot(id)) => laid.project.spots.get(id) == project.spots.get(id),
            Some(Subject::Walk(id)) => laid.project.walks.get(id) == project.walks.get(id),
            _ => false,
        })
    };
    let mut items = spot_items(project, level, scale);
    items.retain(|item| item.role != Role::SpotName || !as_it_was(item.subject));
    let placed = laid.and_then(|laid| laid.layers.get(&Layer::Spots)).into_iter().flatten();
    let placed = placed.flat_map(|(_, items)| items.iter()).filter(|item| as_it_was(item.subject));
    items.extend(placed.cloned());
    items
}

/// The devices that differ between two projects, if they are few and no kind does.
fn few_changed(before: &Project, now: &Project) -> Option<BTreeSet<Subject>> {
    if !before.kinds.is_same(&now.kinds) {
        return None;
    }
    let differs = |id: &Id<Device>| match (before.devices.get(*id), now.devices.get(*id)) {
        (Some(before), Some(now)) => !std::ptr::eq(before, now) && before != now,
        _ => true,
    };
    let ids = before.devices.ids().chain(now.devices.ids());
    let changed: BTreeSet<Subject> = ids.filter(differs).map(Subject::Device).collect();
    (changed.len() <= FEW).then_some(changed)
}

/// The items of a layer of the sheet, without those of things that have changed since it was composed.
fn still_true(laid: &Laid, project: &Project, layer: Layer) -> Vec<Item> {
    let unmoved =
        laid.project.walls.is_same(&project.walls) && laid.project.openings.is_same(&project.openings);
    let as_it_was = |item: &&Item| match item.subject {
        Some(Subject::Device(id)) => unmoved && laid.project.devices.get(id) == project.devices.get(id),
        _ => unmoved,
    };
    let squares = laid.layers.get(&layer).into_iter().flatten();
    squares.flat_map(|(_, items)| items.iter()).filter(as_it_was).cloned().collect()
}

/// Takes the items of a sheet apart into squares by their layers, which the worker does so that no frame has to;
/// what remains of the sheet says how it lies.
pub fn layers_of(mut sheet: Sheet) -> (Sheet, BTreeMap<Layer, Squares>) {
    let mut layers: BTreeMap<Layer, Vec<Item>> = BTreeMap::new();
    let frame = frame_on_plan(&sheet);
    sheet.frame.clear();
    for item in std::mem::take(&mut sheet.plan).into_iter().chain(frame) {
        layers.entry(item.layer).or_default().push(item);
    }
    (sheet, layers.into_iter().map(|(layer, items)| (layer, cut(items))).collect())
}

/// Where the plan is drawn, plan mm.
fn area_on_plan(sheet: &Sheet) -> Rect {
    sheet.paper_from_plan.inverse().transform_rect_bbox(sheet.area)
}

/// The frame's items, which are in paper millimetres, where they lie on the plan.
fn frame_on_plan(sheet: &Sheet) -> Vec<Item> {
    let plan_from_paper = sheet.paper_from_plan.inverse();
    sheet
        .frame
        .iter()
        .map(|item| {
            let mut item = Item { layer: Layer::Frame, ..item.clone() };
            match &mut item.shape {
                Shape::Path(path) => path.apply_affine(plan_from_paper),
                Shape::Text { at, .. } => *at = plan_from_paper * *at,
                Shape::Picture { plan_from_units, within, .. } => {
                    *plan_from_units = plan_from_paper * *plan_from_units;
                    *within = within.map(|within| plan_from_paper.transform_rect_bbox(within));
                }
            }
            item
        })
        .collect()
}
