//! A consumer unit that cannot be reached to reset it: new dwellings have its switches within a band.

use super::height_band::HeightBand;
use super::house::is_consumer_unit;
use super::{Check, Finding, House};
use crate::kit::Kind;

pub(super) const CHECK: Check = Check {
    name: "consumer-unit-height",
    limits: &["consumer_unit_height_lowest", "consumer_unit_height_highest"],
    run,
};

const BAND: HeightBand = HeightBand {
    applies_to,
    belongs: "in a new dwelling its switches belong",
    way_out: "agree it with the electrician",
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    BAND.run(&CHECK, house, found);
}

fn applies_to(kind: &Kind) -> bool {
    is_consumer_unit(kind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::small_house::{bare_house, plain_kind};

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
