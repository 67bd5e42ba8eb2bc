//! A body-heat detector on a wall higher or lower than makers usually ask: too high it loses what is close in,
//! too low its reach.

use super::height_band::HeightBand;
use super::house::sees_body_heat;
use super::{Check, Finding, House};
use crate::kit::Kind;

pub(super) const CHECK: Check = Check {
    name: "motion-detector-height",
    limits: &["motion_detector_height_lowest", "motion_detector_height_highest"],
    run,
};

const BAND: HeightBand =
    HeightBand { applies_to, belongs: "its kind usually works", way_out: "follow its data sheet" };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    BAND.run(&CHECK, house, found);
}

fn applies_to(kind: &Kind) -> bool {
    sees_body_heat(kind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, Family, MountKind, Pattern};
    use crate::plan::Sense;
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::{Angle, Length};

    #[test]
    fn heights_beyond_the_usual_band_are_noted() {
        for (height, sense, expected) in [
            (2099.0, Sense::BodyHeat, 1),
            (2100.0, Sense::BodyHeat, 0),
            (2400.0, Sense::BodyHeat, 0),
            (2401.0, Sense::Dual, 1),
            (1300.0, Sense::Microwave, 0),
        ] {
            let mut house = bare_house();
            let mut kind = plain_kind("Detector", Family::Presence, "PIR", MountKind::Wall, &["motion"]);
            let pattern = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(12.0) };
            kind.detection = Some(Detection::plain(sense, pattern));
            let kind = house.put(kind);
            house.place(kind, house.on_wall(0, 1000.0), Some(height));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{height} {sense:?}");
        }
    }
}
