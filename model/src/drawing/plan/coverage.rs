//! What a sensor covers, as an area of its sense; of a camera, with its levels of detail.

use crate::drawing::{Item, Layer, Role};
use crate::edit::Subject;
use crate::plan::Sense;
use crate::project::Project;
use crate::studies::coverage::{CameraCoverage, SensorCoverage};

use super::camera_items;

/// What all sensors of a level cover. A camera whose height is known is drawn as it sees in height; any other sensor,
/// and a camera that waits for its height, as an area on the plan.
pub fn coverage_items<'a>(
    project: &Project,
    sensors: impl IntoIterator<Item = &'a SensorCoverage>,
    cameras: &[CameraCoverage],
    scale: f64,
) -> Vec<Item> {
    let mut items = Vec::new();
    let mut written = Vec::new();
    for sensor in sensors {
        let camera = cameras.iter().find(|camera| camera.device == sensor.device && camera.height.is_some());
        match camera {
            Some(camera) => items.extend(camera_items(project, camera, scale, &mut written)),
            None => items.extend(coverage_item(project, sensor)),
        }
    }
    items
}

/// The area a sensor covers. Nothing for an empty one or one whose sensor is gone.
pub fn coverage_item(project: &Project, coverage: &SensorCoverage) -> Vec<Item> {
    if coverage.polygon.is_empty() || !project.devices.contains(coverage.device) {
        return Vec::new();
    }
    let subject = Some(Subject::Device(coverage.device));
    vec![Item::path(Layer::Coverage, role_of(coverage.sense), subject, coverage.polygon.to_path())]
}

/// A detector that needs both body heat and microwave sees no farther than body heat, and is drawn as that.
pub(super) const fn role_of(sense: Sense) -> Role {
    match sense {
        Sense::BodyHeat | Sense::Dual => Role::CoverageHeat,
        Sense::Microwave => Role::CoverageMicrowave,
        Sense::Camera => Role::CoverageCamera,
        Sense::Sound => Role::CoverageSound,
        Sense::FireOrGas => Role::CoverageFire,
    }
}
