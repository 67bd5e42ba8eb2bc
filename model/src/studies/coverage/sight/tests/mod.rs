//! Tests of what sensors see, in a room drawn for the purpose.

mod against_rays;
mod cases;
mod properties;

use kurbo::Point;

use crate::edit::{Change, History, Op, Subject};
use crate::id::Id;
use crate::kit::catalogue::kind_by_key;
use crate::kit::{Detection, Device, Kind, Mount, Tag};
use crate::plan::{DoorsAs, Hand, Joinery, JoineryForm, Level, MakeUp, Opening, OpeningForm, Side, Wall};
use crate::project::{Kept, Project};
use crate::units::{Angle, Length};

use super::*;

/// A plan to place one sensor on.
pub(super) struct Drawn {
    pub project: Project,
    pub level: Id<Level>,
    kind: Id<Kind>,
}

impl Drawn {
    /// One level with a ceiling so high, and nothing on it.
    pub fn new(ceiling: f64) -> Self {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut storey = project.levels.get(level).unwrap().clone();
        storey.ceiling_affl = Length::mm(ceiling);
        put_as(&mut project, level, storey);
        let kind = kind_by_key("wall-motion-12m").unwrap();
        let kind = put(&mut project, kind);
        Self { project, level, kind }
    }

    /// A wall of 100 mm along an axis.
    pub fn wall(
        &mut self,
        (x0, y0): (f64, f64),
        (x1, y1): (f64, f64),
        height: f64,
        make_up: MakeUp,
    ) -> Id<Wall> {
        let wall = Wall {
            level: self.level,
            start: Point::new(x0, y0),
            end: Point::new(x1, y1),
            thickness: Length::mm(100.0),
            height: Length::mm(height),
            make_up,
        };
        put(&mut self.project, wall)
    }

    /// Four walls about a rectangle of axes, as high as the ceiling: south, east, north, west.
    pub fn box_of_walls(&mut self, x0: f64, y0: f64, x1: f64, y1: f64) -> [Id<Wall>; 4] {
        let height = self.project.levels.get(self.level).unwrap().ceiling_affl.as_mm();
        let corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        std::array::from_fn(|index| {
            self.wall(corners[index], corners[(index + 1) % 4], height, MakeUp::Block)
        })
    }

    /// A hole in a wall.
    pub fn hole(
        &mut self,
        wall: Id<Wall>,
        centre: f64,
        width: f64,
        head: f64,
        form: OpeningForm,
    ) -> Id<Opening> {
        let [centre, width, head] = [centre, width, head].map(Length::mm);
        put(&mut self.project, Opening { wall, centre, width, head, form })
    }

    /// A piece of joinery that lies along the axes.
    pub fn joinery(&mut self, centre: (f64, f64), size: (f64, f64), base: f64, top: f64) -> Id<Joinery> {
        let piece = Joinery {
            level: self.level,
            name: String::new(),
            form: JoineryForm::Island,
            centre: Point::new(centre.0, centre.1),
            width: Length::mm(size.0),
            depth: Length::mm(size.1),
            turn: Angle::ZERO,
            base: Length::mm(base),
            top: Length::mm(top),
            leaves: Vec::new(),
        };
        put(&mut self.project, piece)
    }

    /// A device so high that looks along an angle; it is on no plan, only asked about.
    pub fn device(&self, mount: Mount, height: Option<f64>, turn: f64, tilt: f64) -> Device {
        Device {
            kind: self.kind,
            level: self.level,
            tag: Tag { code: "PIR".to_owned(), number: 1 },
            name: String::new(),
            mount,
            height_affl: height.map(Length::mm),
            turn: Angle::degrees(turn),
            tilt: Angle::degrees(tilt),
            note: String::new(),
            legend: Default::default(),
        }
    }

    /// On a post at a point.
    pub fn at(&self, x: f64, y: f64, height: f64, turn: f64, tilt: f64) -> Device {
        self.device(Mount::Outdoors { at: Point::new(x, y) }, Some(height), turn, tilt)
    }

    pub fn seen(&self, device: &Device, detection: &Detection, question: Question) -> Seen {
        let mut scenes = Scenes::of_level(&self.project, self.level, DoorsAs::Drawn);
        seen_by(&self.project, &mut scenes, device, detection, question).unwrap()
    }
}

pub(super) fn put<T: Kept>(project: &mut Project, thing: T) -> Id<T> {
    let id = project.fresh_ids().issue();
    put_as(project, id, thing);
    id
}

fn put_as<T: Kept>(project: &mut Project, id: Id<T>, thing: T) {
    History::default().apply(project, Change::new("Put", vec![Op::put(id, thing)])).unwrap();
}

pub(super) fn door(state: crate::plan::DoorState) -> OpeningForm {
    OpeningForm::Door { hinge: Hand::Start, swing: Side::Left, state }
}

pub(super) fn window(sill: f64) -> OpeningForm {
    OpeningForm::Window { sill: Length::mm(sill) }
}

pub(super) fn remove(project: &mut Project, subject: Subject) {
    History::default().apply(project, Change::new("Remove", vec![Op::Remove(subject)])).unwrap();
}

pub(super) fn detection_of(key: &str) -> Detection {
    kind_by_key(key).unwrap().senses().unwrap()
}

/// Distance from the outline of a region.
pub(super) fn off_outline(region: &Region, at: Point) -> f64 {
    region.rings().map(|ring| ring.distance_to_outline(at)).fold(f64::INFINITY, f64::min)
}
