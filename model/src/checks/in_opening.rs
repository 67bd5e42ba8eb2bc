//! A device in the gap of a door, a window or an opening: there is no wall to fix it to.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::kit::{Family, Mount};

pub(super) const CHECK: Check = Check { name: "in-opening", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        // Contacts sit on leaves and frames; locks and window motors do too.
        if matches!(kind.family, Family::Contacts | Family::Motors) {
            continue;
        }
        let (Mount::WallFace { wall, along, .. }, Some(height)) = (device.mount, device.height_affl) else {
            continue;
        };
        let gap = house.project.openings_on(device.level).find(|(_, opening, _)| {
            opening.wall == wall
                && opening.from() < along
                && along < opening.to()
                && opening.sill() < height
                && height < opening.head
        });
        if let Some((_, opening, _)) = gap {
            let sentence = format!(
                "{} is in the gap of a {}: move it onto the wall beside or above it.",
                house.called(device),
                opening.name()
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
    use crate::kit::MountKind;
    use crate::plan::{Opening, OpeningForm};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    #[test]
    fn a_device_below_the_sill_above_the_head_or_beside_the_reveal_is_on_the_wall() {
        for (family, along, height, expected) in [
            (Family::Plates, 1900.0, 1100.0, 1),
            (Family::Plates, 1900.0, 450.0, 0),
            (Family::Plates, 1900.0, 2200.0, 0),
            (Family::Plates, 1200.0, 1100.0, 0),
            (Family::Contacts, 1900.0, 1100.0, 0),
        ] {
            let mut house = bare_house();
            let wall = house.walls[0];
            house.put(Opening {
                wall,
                centre: Length::mm(1900.0),
                width: Length::mm(1200.0),
                head: Length::mm(2100.0),
                form: OpeningForm::Window { sill: Length::mm(900.0) },
            });
            let kind = house.put(plain_kind("Thing", family, "T", MountKind::Wall, &[]));
            house.place(kind, house.on_wall(0, along), Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{family:?} {along} {height}");
        }
    }
}
