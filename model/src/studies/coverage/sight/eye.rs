//! Where a sensor looks from, and which way: its place, its height, and the axis of its lens.

use kurbo::{Point, Vec2};

use crate::building::Whereabouts;
use crate::kit::{Detection, Device, Mount, Pattern};
use crate::plan::{Joinery, Sense};
use crate::project::Project;

/// How far the eye of a sensor stands off the face that it is fixed to, so that its host is behind it, mm.
const OFF_FACE_MM: f64 = 0.5;

/// Which way the axis of a lens points; its layers are angles from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Axis {
    /// Straight down, as of a detector on the ceiling: layers are rings about its foot.
    Down,
    /// Ahead and down from level by so many radians, as of whatever hangs on a wall.
    Ahead(f64),
}

/// The eye of a sensor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Eye {
    /// Where on the plan, mm.
    pub at: Point,
    /// Height above the finished floor, mm; `None` where neither the device nor its kind says.
    pub height: Option<f64>,
    /// Which way it looks on the plan, radians.
    pub facing: f64,
    /// The axis of its lens.
    pub axis: Axis,
}

impl Eye {
    /// The eye of a device; `None` where its host is gone. A height that is not decided is its kind's usual one.
    pub fn of(project: &Project, device: &Device, detection: &Detection) -> Option<Self> {
        let mut at = project.position_of(device)?;
        let facing = project.facing_of(device);
        let usual = || project.kinds.get(device.kind)?.default_height;
        let height = Whereabouts::height_of(project, device).or_else(usual).map(|height| height.as_mm());
        match device.mount {
            Mount::WallFace { wall, side, .. } => at += project.walls.get(wall)?.normal(side) * OFF_FACE_MM,
            Mount::Joinery { joinery, .. } => {
                let piece = project.joinery.get(joinery)?;
                if height.is_some_and(|height| piece.base.as_mm() <= height && height <= piece.top.as_mm()) {
                    at = out_of(piece, at, facing.direction());
                }
            }
            _ => {}
        }
        let looks_down = matches!(device.mount, Mount::Ceiling { .. })
            || matches!(detection.pattern, Pattern::Round { .. });
        let axis = if looks_down && detection.sense != Sense::Camera {
            Axis::Down
        } else {
            Axis::Ahead(device.tilt.as_radians())
        };
        Some(Self { at, height, facing: facing.as_radians(), axis })
    }
}

/// Where a line of sight leaves the joinery that a device is built into: it looks out through that face.
fn out_of(piece: &Joinery, at: Point, towards: Vec2) -> Point {
    let across = piece.turn.direction();
    let back = Vec2::new(-across.y, across.x);
    let exit = |direction: Vec2, half: f64| {
        let (place, step) = ((at - piece.centre).dot(direction), towards.dot(direction));
        let beyond = half - place * step.signum();
        if beyond < -1e-6 {
            None
        } else if step.abs() < 1e-9 {
            Some(f64::INFINITY)
        } else {
            Some(beyond.max(0.0) / step.abs())
        }
    };
    let halves = (piece.width.as_mm() / 2.0, piece.depth.as_mm() / 2.0);
    match (exit(across, halves.0), exit(back, halves.1)) {
        (Some(a), Some(b)) if a.min(b).is_finite() => at + towards * (a.min(b) + OFF_FACE_MM),
        _ => at,
    }
}
