//! A device on a wall behind an open door: nobody finds the plate, and the leaf strikes it.
//!
//! The leaf is taken swung from shut to lying against the wall: what lies on the wall's face within a leaf's
//! width beyond the hinge, on the side into which the door swings and below its head, is behind it.

use kurbo::Point;

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::geometry::Segment;
use crate::kit::{Device, Family, Kind, Mount};
use crate::plan::{Hand, Opening, OpeningForm, Wall};
use crate::units::{Angle, Length};

pub(super) const CHECK: Check = Check { name: "behind-door", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if matches!(kind.family, Family::Contacts | Family::Motors) {
            continue;
        }
        let door = house
            .project
            .openings_on(device.level)
            .find(|(_, door, wall)| is_behind(house, device, kind, door, wall));
        if door.is_some() {
            let sentence = format!(
                "{} is behind an open door: move it to the latch side or turn the door's hinges.",
                house.called(device)
            );
            found.push(house.of_device(
                (id, device),
                Severity::Warning,
                CHECK.name,
                sentence,
                COMMON_PRACTICE,
            ));
        }
    }
}

fn is_behind(house: &House<'_>, device: &Device, kind: &Kind, door: &Opening, wall: &Wall) -> bool {
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
    let open = crate::plan::DoorState::Open(Angle::degrees(90.0));
    let (Some((pivot, free)), Some(at)) = (door.leaf(wall, open), house.project.position_of(device)) else {
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
        && faces_leaf(house, device, at, pivot + leaf * (along_leaf / width))
}

/// Whether the device looks towards the leaf from its own wall's face, with no wall between: on the far face of a
/// partition, or round a corner, the leaf covers nothing.
fn faces_leaf(house: &House<'_>, device: &Device, at: Point, on_leaf: Point) -> bool {
    let Mount::WallFace { wall, side, .. } = device.mount else { return false };
    let Some(host) = house.project.walls.get(wall) else { return false };
    let out = host.normal(side);
    if (on_leaf - at).dot(out) <= 0.0 {
        return false;
    }
    let sight = Segment::new(at + out * OFF_FACE_MM, on_leaf);
    !house.project.walls_on(device.level).any(|(_, other)| {
        let axis = Segment::new(other.start, other.end);
        axis.intersection(&sight).is_some()
    })
}

/// The line of sight starts so far off the device's own wall, mm.
const OFF_FACE_MM: f64 = 5.0;

/// A face nearer than this behind a leaf that stands at a right angle is hidden by it, mm. Common practice,
/// no published source.
const BEHIND_LEAF_MM: f64 = 300.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::small_house::{bare_house, plain_kind};
    use crate::checks::tests::found;
    use crate::kit::MountKind;
    use crate::plan::{DoorState, Side};

    #[test]
    fn only_the_hinge_side_of_the_face_it_swings_to_is_behind_a_door() {
        // A door from 1500 to 2300 along the south wall, hinged at 1500, swinging in.
        for (wall, along, side, height, expected) in [
            (0, 1000.0, Side::Left, 1100.0, 1),
            (0, 600.0, Side::Left, 1100.0, 0),
            (0, 2500.0, Side::Left, 1100.0, 0),
            (0, 1000.0, Side::Right, 1100.0, 0),
            (0, 1000.0, Side::Left, 2200.0, 0),
            (3, 2500.0, Side::Left, 1100.0, 0),
        ] {
            let mut house = bare_house();
            let host = house.walls[0];
            house.put(door_in(host, 1900.0));
            let kind = house.put(plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &[]));
            let mount = Mount::WallFace { wall: house.walls[wall], side, along: Length::mm(along) };
            house.place(kind, mount, Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{wall} {along} {side:?} {height}");
        }
    }

    #[test]
    fn a_leaf_that_opens_against_the_next_wall_hides_what_is_on_it() {
        // Hinged 150 mm from the west wall's face: at a right angle the leaf hides that wall for its width.
        for (from_corner, expected) in [(500.0, 1), (1200.0, 0)] {
            let mut house = bare_house();
            let host = house.walls[0];
            house.put(door_in(host, 600.0));
            let kind = house.put(plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &[]));
            let mount = house.on_wall(3, 3000.0 - from_corner);
            house.place(kind, mount, Some(1100.0));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{from_corner}");
        }
    }

    #[test]
    fn on_the_far_face_of_that_wall_the_leaf_hides_nothing() {
        let mut house = bare_house();
        let host = house.walls[0];
        house.put(door_in(host, 600.0));
        let kind = house.put(plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &[]));
        let Mount::WallFace { wall, side, along } = house.on_wall(3, 2500.0) else { panic!("on a wall") };
        house.place(kind, Mount::WallFace { wall, side: side.other(), along }, Some(1100.0));
        assert!(found(CHECK, &house.project).is_empty());
    }

    fn door_in(wall: crate::id::Id<Wall>, centre: f64) -> Opening {
        Opening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(800.0),
            head: Length::mm(2050.0),
            form: OpeningForm::Door { hinge: Hand::Start, swing: Side::Left, state: DoorState::Shut },
        }
    }
}
