//! A device on a wall behind an open door: nobody finds the plate, and the leaf strikes it.
//!
//! What lies behind a leaf is told by [`crate::building::behind_leaf`].

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::building::behind_leaf::is_behind_leaf;
use crate::kit::Family;

pub(super) const CHECK: Check = Check { name: "behind-door", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if matches!(kind.family, Family::Contacts | Family::Motors) {
            continue;
        }
        let door = house
            .project
            .openings_on(device.level)
            .find(|(_, door, wall)| is_behind_leaf(house.project, device, kind, door, wall));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Mount, MountKind};
    use crate::plan::{DoorState, Hand, Opening, OpeningForm, Side, Wall};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

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
