//! One scene of obstacles for each sense of a level and each range of heights, built when first needed and then asked
//! again and again, so that dragging a sensor costs one polygon and not the whole level.
//!
//! What spans every height from the sensor to its target makes the scene; two ranges of heights that the same walls and
//! joinery span share one, so that a level needs only a handful. What spans a part of the heights is kept beside it.

use std::collections::BTreeMap;

use kurbo::{Point, Rect};

use crate::building::obstacle::{Band, Obstacles};
use crate::building::outline::{RoomOutline, enclosed_spaces};
use crate::geometry::{Board, Scene};
use crate::id::Id;
use crate::plan::{DoorsAs, Level, Sense};
use crate::project::Project;
use crate::units::Length;

/// No camera of a house is asked what it sees beyond this distance on the plan: what stands there is on no plan.
pub const FARTHEST_STUDIED: Length = Length::mm(100_000.0);

/// A scene reaches at least so far beyond everything on its level, mm.
const LEAST_REACH_MM: f64 = 20_000.0;

/// What it takes to look through one partition: its two faces, or a leaf, which has but one.
pub(super) const PARTITION_TOLL: u8 = 2;

/// The scenes of one level, as the project was when they were asked for.
pub struct Scenes {
    project: Project,
    level: Id<Level>,
    doors: DoorsAs,
    built: BTreeMap<(Sense, DoorsAs), OfSense>,
    spaces: Option<Vec<RoomOutline>>,
}

/// What stands in the way of one sense, and the scenes built of it.
#[derive(Default)]
struct OfSense {
    obstacles: Obstacles,
    scenes: BTreeMap<Band, Standing>,
}

/// What stands through a range of heights.
#[derive(Default)]
pub(super) struct Standing {
    /// `None` where nothing does.
    pub scene: Option<Scene>,
    /// Whether some of it lets the sense through with a loss.
    pub has_boards: bool,
}

impl Scenes {
    /// No scene is built yet. The project is a snapshot; taking it costs a few pointers.
    pub fn of_level(project: &Project, level: Id<Level>, doors: DoorsAs) -> Self {
        Self { project: project.clone(), level, doors, built: BTreeMap::new(), spaces: None }
    }

    /// The level they are of.
    pub fn level(&self) -> Id<Level> {
        self.level
    }

    /// How doors are taken where a question does not say.
    pub fn doors(&self) -> DoorsAs {
        self.doors
    }

    /// Whether they still hold for a project: nothing that blocks a sense has changed.
    pub fn hold_for(&self, project: &Project, doors: DoorsAs) -> bool {
        self.doors == doors
            && self.project.walls.is_same(&project.walls)
            && self.project.openings.is_same(&project.openings)
            && self.project.joinery.is_same(&project.joinery)
    }

    /// All that stands in the way of a sense, and the scene of what stands through a range of heights, mm, that holds at
    /// least the rectangle `around`.
    pub(super) fn between(
        &mut self,
        sense: Sense,
        doors: DoorsAs,
        (low, high): (f64, f64),
        around: Rect,
    ) -> (&Obstacles, &Standing) {
        let (project, level) = (&self.project, self.level);
        let of_sense = self.built.entry((sense, doors)).or_insert_with(|| OfSense {
            obstacles: Obstacles::of_level(project, level, sense, doors),
            scenes: BTreeMap::new(),
        });
        let OfSense { obstacles, scenes } = of_sense;
        let build = |around| standing(project, level, obstacles, (low, high), around);
        let standing = scenes.entry(obstacles.band(low, high)).or_insert_with(|| build(around));
        let holds = |scene: &Scene| scene.bounds().union(around) == scene.bounds();
        if !standing.scene.as_ref().is_none_or(holds) {
            *standing = build(around);
        }
        (obstacles, standing)
    }

    /// The space between walls in which a point lies, openings taken as shut; `None` out of doors.
    pub(super) fn space_around(&mut self, at: Point) -> Option<&RoomOutline> {
        let (project, level) = (&self.project, self.level);
        let spaces = self.spaces.get_or_insert_with(|| enclosed_spaces(project, level));
        spaces.iter().find(|space| space.contains(at))
    }
}

fn standing(
    project: &Project,
    level: Id<Level>,
    obstacles: &Obstacles,
    heights: (f64, f64),
    around: Rect,
) -> Standing {
    let through = obstacles.standing_through(heights.0, heights.1);
    let faces = through.boards.iter().map(|face| Board { segment: *face, toll: 1 });
    let leaves = through.leaves.iter().map(|leaf| Board { segment: *leaf, toll: PARTITION_TOLL });
    let boards: Vec<Board> = faces.chain(leaves).collect();
    if through.stops.is_empty() && boards.is_empty() {
        return Standing::default();
    }
    let bounds = bounds(project, level).map_or(around, |bounds| bounds.union(around));
    // Grown by more than the grid of the scene can take off again.
    let scene = Scene::with_boards(Some(bounds.inflate(1.0, 1.0)), &through.stops, &boards).ok();
    Standing { scene, has_boards: !boards.is_empty() }
}

/// A rectangle that no sensor of the level sees beyond.
fn bounds(project: &Project, level: Id<Level>) -> Option<Rect> {
    let reach = project
        .kinds
        .iter()
        .filter_map(|(_, kind)| Some((kind, kind.senses()?)))
        .flat_map(|(kind, detection)| {
            let table: Vec<f64> = detection.by_height.iter().map(|row| row.walking.as_mm()).collect();
            let of_camera = kind.optics.map(|_| FARTHEST_STUDIED.as_mm());
            table.into_iter().chain(of_camera).chain([detection.pattern.range().as_mm()])
        })
        .fold(LEAST_REACH_MM, f64::max);
    let corners = project.walls_on(level).flat_map(|(_, wall)| [wall.start, wall.end]);
    let devices = project.devices_on(level).filter_map(|(_, device, _)| project.position_of(device));
    corners
        .chain(devices)
        .map(|point| Rect::from_center_size(point, (2.0, 2.0)))
        .reduce(|a, b| a.union(b))
        .map(|rect| rect.inflate(reach, reach))
}
