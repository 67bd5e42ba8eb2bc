//! What one sensor sees in height.

mod question;

use crate::geometry::Region;
use crate::kit::{Detection, Device, Pattern};
use crate::project::Project;
use crate::units::Length;

use super::scenes::{Scenes, sensor_polygon};

pub use question::{Question, Target};

/// What a device of that detection would see of the target in question, plan mm. `None` where its host is gone.
pub fn sensor_polygon_for(
    project: &Project,
    scenes: &mut Scenes,
    device: &Device,
    detection: &Detection,
    question: Question,
) -> Option<Region> {
    let left = detection.reach_left;
    let share = left.for_movement(question.movement) * if question.warm { left.warm } else { 1.0 };
    let shorter = |length: Length| Length::mm(length.as_mm() * share);
    let pattern = match detection.pattern {
        Pattern::Fan { angle, range } => Pattern::Fan { angle, range: shorter(range) },
        Pattern::Round { radius } => Pattern::Round { radius: shorter(radius) },
    };
    sensor_polygon(project, scenes, device, &Detection { pattern, ..detection.clone() })
}
