//! One scene of obstacles for each sense of a level, built when first needed and then asked again and again,
//! so that dragging a sensor costs one polygon and not the whole level.

use std::collections::BTreeMap;

use kurbo::Rect;

use crate::building::obstacle::obstacles;
use crate::geometry::{Region, Scene, View};
use crate::id::Id;
use crate::kit::{Detection, Device, Mount, Pattern};
use crate::plan::{DoorsAs, Level, Sense};
use crate::project::Project;

/// How far the eye of a wall-mounted sensor stands off the face, so that its own wall is behind it, mm.
const EYE_OFF_FACE_MM: f64 = 0.5;

/// A scene reaches at least so far beyond everything on its level, mm.
const LEAST_REACH_MM: f64 = 20_000.0;

/// The scenes of one level, as the project was when they were asked for.
pub struct Scenes {
    project: Project,
    level: Id<Level>,
    doors: DoorsAs,
    built: BTreeMap<Sense, Option<Scene>>,
}

impl Scenes {
    /// No scene is built yet. The project is a snapshot; taking it costs a few pointers.
    pub fn of_level(project: &Project, level: Id<Level>, doors: DoorsAs) -> Self {
        Self { project: project.clone(), level, doors, built: BTreeMap::new() }
    }

    /// The level they are of.
    pub fn level(&self) -> Id<Level> {
        self.level
    }

    /// Whether they still hold for a project: nothing that blocks a sense has changed.
    pub fn hold_for(&self, project: &Project, doors: DoorsAs) -> bool {
        self.doors == doors
            && self.project.walls.is_same(&project.walls)
            && self.project.openings.is_same(&project.openings)
            && self.project.joinery.is_same(&project.joinery)
    }

    /// The scene of a sense; `None` where nothing on the level stops it.
    pub fn scene(&mut self, sense: Sense) -> Option<&Scene> {
        let (project, level, doors) = (&self.project, self.level, self.doors);
        self.built
            .entry(sense)
            .or_insert_with(|| {
                let segments = obstacles(project, level, sense, doors);
                if segments.is_empty() { None } else { Scene::new(bounds(project, level), &segments).ok() }
            })
            .as_ref()
    }
}

/// A rectangle that no sensor of the level sees beyond.
fn bounds(project: &Project, level: Id<Level>) -> Option<Rect> {
    let reach = project
        .kinds
        .iter()
        .filter_map(|(_, kind)| kind.senses())
        .map(|detection| detection.pattern.range().as_mm())
        .fold(LEAST_REACH_MM, f64::max);
    let corners = project.walls_on(level).flat_map(|(_, wall)| [wall.start, wall.end]);
    let devices = project.devices_on(level).filter_map(|(_, device, _)| project.position_of(device));
    corners
        .chain(devices)
        .map(|point| Rect::from_center_size(point, (2.0, 2.0)))
        .reduce(|a, b| a.union(b))
        .map(|rect| rect.inflate(reach, reach))
}

/// What a device of that detection would see from where it is, plan mm. `None` where its host is gone.
pub fn sensor_polygon(
    project: &Project,
    scenes: &mut Scenes,
    device: &Device,
    detection: &Detection,
) -> Option<Region> {
    let mut eye = project.position_of(device)?;
    let facing = project.facing_of(device);
    if let Mount::WallFace { wall, side, .. } = device.mount {
        eye += project.walls.get(wall)?.normal(side) * EYE_OFF_FACE_MM;
    }
    let view = view_of(detection.pattern, facing.as_radians());
    Some(Region::from_ring(match scenes.scene(detection.sense) {
        Some(scene) if scene.bounds().contains(eye) => scene.visible_from(eye, view),
        _ => Scene::unobstructed(eye, view),
    }))
}

fn view_of(pattern: Pattern, facing: f64) -> View {
    View { facing, width: pattern.angle().as_radians(), range: pattern.range().as_mm() }
}
