//! What lies on the board: each layer is made again only when something it is made from has changed.
//!
//! The building, joinery and devices follow the project at once. What takes longer (coverage, room names, zones,
//! the sheet with its tags and dimensions) comes from [`crate::window::jobs`]; until it does, tags of things
//! that changed meanwhile are left out rather than shown where they no longer belong.

use kurbo::Rect;
use pattress_model::drawing::plan::{
    boundary_within, building_items, coverage_items, device_items, ghost_items, joinery_items, spot_items,
};
use pattress_model::drawing::{Item, Layer, Shape, Sheet};
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;

use super::chunks::Chunks;
use crate::window::jobs::{Figures, Laid};
use crate::window::session::Session;

/// The layers that come with the sheet and speak of single things; rooms and zones come with it too, and stay as
/// they are until the next.
const WITH_THE_SHEET: [Layer; 2] = [Layer::Tags, Layer::Dimensions];

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
    figures_generation: Option<u64>,
    laid: Option<u64>,
    scale: u32,
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
            self.chunks.set_layer(Layer::Frame, frame_on_plan(&laid.sheet));
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
        let same_figures =
            before.as_ref().is_some_and(|before| before.figures_generation == figures.generation);

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
            let items = spot_items(project, level, scale);
            let area = self.sheet.as_ref().map(area_on_plan);
            self.chunks.set_layer(
                Layer::Spots,
                match area {
                    Some(area) => boundary_within(items, area),
                    None => items,
                },
            );
        }
        if !(same_devices && same_walls && same_joinery) {
            let items = project
                .devices_on(level)
                .flat_map(|(id, device, kind)| device_items(project, id, device, kind, scale));
            self.chunks.set_layer(Layer::Devices, items.collect());
        }
        if fresh && !(same_figures && same_devices && same_walls) {
            let coverage = coverage_items(project, figures.coverage.values(), &figures.cameras, scale);
            self.chunks.set_layer(Layer::Coverage, coverage);
        }
        if new_sheet && let Some(laid) = laid {
            for layer in [Layer::Rooms, Layer::Zones] {
                let items = laid.sheet.plan.iter().filter(|item| item.layer == layer);
                self.chunks.set_layer(layer, items.cloned().collect());
            }
        }
        if new_sheet || !(same_devices && same_walls) {
            for layer in WITH_THE_SHEET {
                let items = laid.map(|laid| still_true(laid, project, layer)).unwrap_or_default();
                self.chunks.set_layer(layer, items);
            }
        }
        self.made_from = Some(MadeFrom {
            project: project.clone(),
            level,
            level_below: session.level_below(),
            figures_generation: if fresh { figures.generation } else { None },
            laid: laid.map(|laid| laid.number),
            scale: scale as u32,
        });
        Changed { building: !same_walls, devices: !same_devices }
    }
}

/// The items of a layer of the sheet, without those of things that have changed since it was composed.
fn still_true(laid: &Laid, project: &Project, layer: Layer) -> Vec<Item> {
    let unmoved =
        laid.project.walls.is_same(&project.walls) && laid.project.openings.is_same(&project.openings);
    let as_it_was = |item: &&Item| match item.subject {
        Some(Subject::Device(id)) => unmoved && laid.project.devices.get(id) == project.devices.get(id),
        _ => unmoved,
    };
    laid.sheet.plan.iter().filter(|item| item.layer == layer).filter(as_it_was).cloned().collect()
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
