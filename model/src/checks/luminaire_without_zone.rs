//! A luminaire in no lighting zone: nothing will ever switch it.

use super::{Check, Finding, House};
use crate::kit::Family;
use crate::systems::ZonePurpose;

pub(super) const CHECK: Check = Check { name: "luminaire-without-zone", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    found.extend(house.outside_zones(
        ZonePurpose::Lighting,
        |kind| kind.family == Family::Luminaires,
        CHECK.name,
        "lighting zone",
    ));
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::small_house::small_house;

    #[test]
    fn only_the_luminaire_in_no_zone_is_reported() {
        let mut house = small_house();
        assert!(found(CHECK, &house.project).is_empty());
        let (kind, _) = house.project.kinds.iter().find(|(_, kind)| kind.code == "DL").unwrap();
        let lamp = house.place(kind, Mount::Ceiling { at: Point::new(2000.0, 500.0) }, None);
        let found_there = found(CHECK, &house.project);
        assert_eq!(found_there.len(), 1);
        assert_eq!(found_there[0].subject, crate::edit::Subject::Device(lamp));
    }
}
