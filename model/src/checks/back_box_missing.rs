//! A flush device without a box: nobody knows what to chase out of the wall for it.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};

pub(super) const CHECK: Check = Check { name: "back-box-missing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        if kind.needs_back_box() && kind.back_box.is_none() {
            let sentence = format!(
                "{} has no back box: give gangs and depth in its kind “{}”.",
                house.called(device),
                kind.name
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
    use crate::kit::{BackBox, Family, Kind, MountKind, Supply};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    #[test]
    fn plates_and_wired_room_controls_need_a_box() {
        let plate = plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &["key 1"]);
        let control = plain_kind("Room control", Family::Heating, "TH", MountKind::Wall, &["temperature"]);
        let boxed = BackBox { gangs: 1, depth: Length::mm(35.0) };
        for (kind, expected) in [
            (plate.clone(), 1),
            (Kind { back_box: Some(boxed), ..plate.clone() }, 0),
            (Kind { supply: Supply::Battery, ..plate }, 0),
            (control, 1),
            (plain_kind("Relay on a rail", Family::Modules, "REL", MountKind::Wall, &["on"]), 0),
        ] {
            let mut house = bare_house();
            let name = kind.name.clone();
            let kind = house.put(kind);
            house.place(kind, house.on_wall(0, 1000.0), Some(1100.0));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{name}");
        }
    }

    #[test]
    fn no_shipped_kind_lacks_the_box_it_needs() {
        let shipped = crate::kit::catalogue::catalogue();
        assert!(shipped.iter().filter(|entry| entry.kind.needs_back_box()).count() > 10);
        for entry in shipped {
            assert!(!entry.kind.needs_back_box() || entry.kind.back_box.is_some(), "{}", entry.key);
        }
    }
}
