//! A plate or an outlet out of reach from a chair: new dwellings have them within a band.

use super::height_band::HeightBand;
use super::{Check, Finding, House};
use crate::kit::{Family, Kind, Symbol};

pub(super) const CHECK: Check =
    Check { name: "accessory-height", limits: &["accessory_height_lowest", "accessory_height_highest"], run };

const BAND: HeightBand =
    HeightBand { applies_to, belongs: "in a new dwelling it belongs", way_out: "move it, or note why not" };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    BAND.run(&CHECK, house, found);
}

fn applies_to(kind: &Kind) -> bool {
    kind.family == Family::Plates || kind.symbol == Symbol::Outlet
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::MountKind;
    use crate::small_house::{bare_house, plain_kind};

    #[test]
    fn plates_and_outlets_beyond_reach_are_noted() {
        for (family, height, expected) in [
            (Family::Plates, 449.0, 1),
            (Family::Plates, 450.0, 0),
            (Family::Plates, 1200.0, 0),
            (Family::Plates, 1201.0, 1),
            (Family::Network, 300.0, 1),
            (Family::Sounders, 2300.0, 0),
        ] {
            let mut house = bare_house();
            let mut kind = plain_kind("Thing", family, "T", MountKind::Wall, &[]);
            if family == Family::Network {
                kind.symbol = Symbol::Outlet;
            }
            let kind = house.put(kind);
            house.place(kind, house.on_wall(0, 1000.0), Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{family:?} {height}");
        }
    }
}
