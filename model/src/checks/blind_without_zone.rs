//! A blind or curtain motor in no blind zone: it will not move with its neighbours, nor at all by a zone.

use super::house::is_blind_motor;
use super::{Check, Finding, House};
use crate::systems::ZonePurpose;

pub(super) const CHECK: Check = Check { name: "blind-without-zone", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    found.extend(house.outside_zones(ZonePurpose::Blinds, is_blind_motor, CHECK.name, "blind zone"));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Drives, Family, MountKind};
    use crate::small_house::{bare_house, plain_kind};
    use crate::systems::{PointRef, Zone};

    #[test]
    fn a_blind_counts_only_in_a_zone_of_blinds_and_a_gate_never() {
        let mut house = bare_house();
        let points = &["position"];
        let [blind, gate] = [Drives::Blind, Drives::Gate].map(|what| {
            let mut kind = plain_kind("Motor", Family::Motors, "M", MountKind::Wall, points);
            kind.drives = Some(what);
            house.put(kind)
        });
        let motor = house.place(blind, house.on_wall(0, 1000.0), Some(2300.0));
        house.place(gate, house.on_wall(0, 2000.0), Some(500.0));
        assert_eq!(found(CHECK, &house.project).len(), 1);
        let zone = |purpose| Zone {
            name: "Kitchen".to_owned(),
            purpose,
            points: vec![PointRef::new(motor, "position")],
        };
        house.put(zone(ZonePurpose::Lighting));
        assert_eq!(found(CHECK, &house.project).len(), 1);
        house.put(zone(ZonePurpose::Blinds));
        assert!(found(CHECK, &house.project).is_empty());
    }
}
