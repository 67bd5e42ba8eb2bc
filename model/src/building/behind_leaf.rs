//! What an open door hides: the wall's face that its leaf swings against.
//!
//! The leaf is taken swung from shut to lying against the wall: what lies on the wall's face within a leaf's
//! width beyond the hinge, on the side into which the door swings and below its head, is behind it. At a right angle
//! it may also hide the face of the wall that meets the door's at its hinges.

use kurbo::Point;

use crate::geometry::Segment;
use crate::kit::{Device, Kind, Mount};
use crate::plan::{DoorState, Hand, Opening, OpeningForm, Wall};
use crate::project::Project;
use crate::units::{Angle, Length};

/// The line of sight starts so far off the device's own wall, mm.
const OFF_FACE_MM: f64 = 5.0;

/// A face nearer than this behind a leaf that stands at a right angle is hidden by it, mm. Common practice,
/// no published source.
const BEHIND_LEAF_MM: f64 = 300.0;

/// Whether a device is hidden by the leaf of a door in that wall as it swings open.
pub fn is_behind_leaf(project: &Project, device: &Device, kind: &Kind, door: &Opening, wall: &Wall) -> bool {
    let OpeningForm::Door { hinge, swing, .. } = door.form else { return false };
    let Mount::WallFace { wall: host, side, along } = device.mount else { return false };
    let below_head = device.height_affl.or(kind.default_height).is_some_and(|height| height < door.head);
    if !below_head {
        return false;
    }
    if host == door.wall {
        let beyond_hinge = match hinge {
            Hand::Start => door.from() - along,
            Hand::End => along - door.to(),
        };
        return side == swing && beyond_hinge > Length::ZERO && beyond_hinge < door.width;
    }
    // On the wall that meets the door's at its hinges, the leaf at a right angle may lie along the face.
    let open = DoorState::Open(Angle::degrees(90.0));
    let (Some((pivot, free)), Some(at)) = (door.leaf(wall, open), project.position_of(device)) else {
        return false;
    };
    let leaf = free - pivot;
    let width = leaf.hypot();
    let along_leaf = (at - pivot).dot(leaf) / width;
    let off_leaf = (at - pivot).cross(leaf).abs() / width;
    let to_latch = match hinge {
        Hand::Start => wall.direction(),
        Hand::End => -wall.direction(),
    };
    let at_hinge_side = (at - pivot).dot(to_latch) < 0.0;
    at_hinge_side
        && (0.0..width).contains(&along_leaf)
        && off_leaf < BEHIND_LEAF_MM
        && faces_leaf(project, device, at, pivot + leaf * (along_leaf / width))
}

/// Whether the device looks towards the leaf from its own wall's face, with no wall between: on the far face of a
/// partition, or round a corner, the leaf covers nothing.
fn faces_leaf(project: &Project, device: &Device, at: Point, on_leaf: Point) -> bool {
    let Mount::WallFace { wall, side, .. } = device.mount else { return false };
    let Some(host) = project.walls.get(wall) else { return false };
    let out = host.normal(side);
    if (on_leaf - at).dot(out) <= 0.0 {
        return false;
    }
    let sight = Segment::new(at + out * OFF_FACE_MM, on_leaf);
    !project.walls_on(device.level).any(|(_, other)| {
        let axis = Segment::new(other.start, other.end);
        axis.intersection(&sight).is_some()
    })
}
