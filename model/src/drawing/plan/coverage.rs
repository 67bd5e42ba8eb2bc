//! What a sensor covers, as an area of its sense.

use crate::drawing::{Item, Layer, Role};
use crate::edit::Subject;
use crate::plan::Sense;
use crate::project::Project;
use crate::studies::coverage::SensorCoverage;

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
