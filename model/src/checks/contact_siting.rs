//! A contact on a wall that belongs to no door or window.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::kit::{Family, Mount};

pub(super) const CHECK: Check = Check { name: "contact-siting", limits: &["contact_beyond_opening"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("contact_beyond_opening") else { return };
    for (id, device, kind) in house.devices() {
        let (Mount::WallFace { wall, along, .. }, Family::Contacts) = (device.mount, kind.family) else {
            continue;
        };
        let belongs = house.project.openings_on(device.level).any(|(_, opening, _)| {
            opening.wall == wall
                && (opening.from() - along).as_mm() <= limit.value
                && (along - opening.to()).as_mm() <= limit.value
        });
        if !belongs {
            let sentence = format!(
                "{} is at no door and no window of its wall: put it where the leaf or the sash meets its frame.",
                house.called(device)
            );
            let about = (id, device);
            found.push(house.of_device(about, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::MountKind;
    use crate::small_house::{bare_house, plain_kind};

    #[test]
    fn a_contact_stands_at_an_opening_or_just_beside_it() {
        // The door is from 1600 to 2400 along the south wall.
        for (wall, along, expected) in [(0, 2000.0, 0), (0, 1510.0, 0), (0, 1400.0, 1), (1, 2000.0, 1)] {
            let mut house = bare_house();
            let south = house.walls[0];
            house.door(south, 2000.0);
            let kind = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
            let mount = house.on_wall(wall, along);
            house.place_new(kind, mount, Some(2000.0));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{wall} {along}");
        }
    }
}
