//! A consumer unit that cannot be reached to reset it: new dwellings have its switches within a band.

use super::house::{is_consumer_unit, mm};
use super::{Check, Finding, House, Severity};
use crate::kit::{Kind, Mount};

pub(super) const CHECK: Check = Check {
    name: "consumer-unit-height",
    limits: &["consumer_unit_height_lowest", "consumer_unit_height_highest"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let (Some(lowest), Some(highest)) =
        (house.limit("consumer_unit_height_lowest"), house.limit("consumer_unit_height_highest"))
    else {
        return;
    };
    for (id, device, kind) in house.devices() {
        let (Some(height), Mount::WallFace { .. }) = (device.height_affl, device.mount) else { continue };
        let limit = match height.as_mm() {
            below if below < lowest.value => lowest,
            above if above > highest.value => highest,
            _ => continue,
        };
        if applies_to(kind) && house.room_of(device).is_some() {
            let sentence = format!(
                "{} is {} above the floor; in a new dwelling its switches belong between {:.0} and {:.0} mm: agree it with the electrician.",
                house.called(device),
                mm(height),
                lowest.value,
                highest.value
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, &limit.source));
        }
    }
}

fn applies_to(kind: &Kind) -> bool {
    is_consumer_unit(kind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::small_house::{bare_house, plain_kind};
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};

    #[test]
    fn a_consumer_unit_beyond_the_band_is_noted_and_a_hub_is_not() {
        for (name, height, expected) in [
            ("Consumer unit", 1349.0, 1),
            ("Consumer unit", 1350.0, 0),
            ("Consumer unit", 1450.0, 0),
            ("Consumer unit", 2000.0, 1),
            ("Hub", 2000.0, 0),
        ] {
            let mut house = bare_house();
            let kind = house.put(plain_kind(name, Family::Plant, "CU", MountKind::Wall, &[]));
            house.place(kind, house.on_wall(0, 1000.0), Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{name} {height}");
        }
    }
}
