//! What a rehearsal is played in: the clock and the sun of the site, and what walks make the sensors report, worked out
//! from what they cover. Whoever plays scripts, the window, the command line or the estimate of batteries, plays them in
//! the same world.

use std::sync::Arc;

use crate::kit::{Kind, PointRole, PointType};
use crate::plan::Walk;
use crate::project::Project;
use crate::studies::coverage::rooms::route::Route;
use crate::studies::coverage::{Options, SensorCoverage, coverage};
use crate::studies::rehearsal::script::{Footstep, Walks, World};
use crate::studies::rehearsal::{EvenSky, Sky, SkyOver};
use crate::systems::PointRef;
use crate::units::Seconds;

/// The world of a plan, with doors as they are drawn. A plan that does not say where it stands has a sun that rises at
/// six and sets at six.
pub fn world_of(project: &Project) -> World {
    if project.walks.is_empty() {
        return world_without_walks(project);
    }
    let walks = walks_past(project, &coverage(project, Options::default()).sensors);
    World { walks, ..world_without_walks(project) }
}

/// The same for scripts in which nobody walks, so that nothing has to be seen.
pub fn world_without_walks(project: &Project) -> World {
    World { clock: project.site.clock, sky: sky_of(project), walks: Walks::new() }
}

/// The sky over a plan.
pub fn sky_of(project: &Project) -> Arc<dyn Sky> {
    match project.site.place {
        Some(place) => Arc::new(SkyOver(place)),
        None => Arc::new(EvenSky),
    }
}

/// What every walk makes the sensors report.
pub fn walks_past(project: &Project, sensors: &[SensorCoverage]) -> Walks {
    project.walks.iter().map(|(_, walk)| (walk.name.clone(), walk_past(project, walk, sensors))).collect()
}

/// What one walk makes the sensors report, in order.
pub fn walk_past(project: &Project, walk: &Walk, sensors: &[SensorCoverage]) -> Vec<Footstep> {
    let route = Route::of(walk);
    let mut steps: Vec<Footstep> = Vec::new();
    for sensor in sensors {
        let Some(point) = what_it_reports(project, sensor) else { continue };
        for (from, to) in route.within(sensor.level, &sensor.polygon) {
            for (at_mm, seen) in [(from, true), (to, false)] {
                let after = Seconds(route.when(at_mm));
                steps.push(Footstep { after, point: point.clone(), seen });
            }
        }
    }
    steps.sort_by(|a, b| a.after.0.total_cmp(&b.after.0));
    steps
}

/// The point by which a sensor tells that it sees somebody.
pub fn what_it_reports(project: &Project, sensor: &SensorCoverage) -> Option<PointRef> {
    let kind: &Kind = project.kinds.get(project.devices.get(sensor.device)?.kind)?;
    // A fire alarm and a glass-break detector are not set off by somebody who walks past.
    if !sensor.sense.looks() {
        return None;
    }
    let told = |name: &str| {
        kind.points.iter().any(|point| {
            point.name == name && point.role == PointRole::Reports && point.point_type == PointType::State
        })
    };
    let name = ["motion", "alarm"].into_iter().find(|name| told(name))?;
    Some(PointRef::new(sensor.device, name))
}
