//! A body-heat detector near what grows warm: above a radiator, or looking at one or into blown air.

use std::collections::BTreeMap;

use super::house::{mm, sees_body_heat};
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::plan::{DoorsAs, SpotUse};
use crate::studies::coverage::{Scenes, sensor_polygon};
use crate::units::Length;

pub(super) const CHECK: Check =
    Check { name: "near-heat", limits: &["heat_beneath_detector", "heat_in_view"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let (Some(beneath), Some(in_view)) = (house.limit("heat_beneath_detector"), house.limit("heat_in_view"))
    else {
        return;
    };
    let mut scenes = BTreeMap::new();
    for (id, device, kind) in house.devices() {
        let (Some(detection), true) = (&kind.detection, sees_body_heat(kind)) else { continue };
        let Some(at) = Whereabouts::stands_at(project, device) else { continue };
        let height = Whereabouts::height_of(project, device);
        let own_room = house.room_of(device).map(|(room, _)| room);
        let on_level = scenes
            .entry(device.level)
            .or_insert_with(|| Scenes::of_level(project, device.level, DoorsAs::Drawn));
        let mut view = None;
        for (_, spot) in project.spots_on(device.level) {
            if !matches!(spot.spot_use, SpotUse::Radiator | SpotUse::WarmAir) {
                continue;
            }
            let distance = (spot.at - at).hypot();
            let in_one_room =
                own_room.is_some() && house.whereabouts.room_at(spot.level, spot.at) == own_room;
            let is_above = in_one_room && height.is_some_and(|height| height > spot.height_affl);
            let (limit, how) = if is_above && distance < beneath.value {
                (beneath, "stands in the warm air of")
            } else if distance < in_view.value {
                let view = view.get_or_insert_with(|| {
                    sensor_polygon(project, on_level, device, detection).unwrap_or_default()
                });
                // A radiator stands against the wall; what is seen is the air before it.
                let towards = (at - spot.at) * (BEFORE_WALL_MM / distance.max(BEFORE_WALL_MM));
                if !view.contains(spot.at + towards) {
                    continue;
                }
                (in_view, "looks at")
            } else {
                continue;
            };
            let sentence = format!(
                "{} {how} {} ({}) {} away, which can set it off: move or turn it.",
                house.called(device),
                spot.name,
                spot.spot_use.name(),
                mm(Length::mm(distance)),
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, &limit.source));
        }
    }
}

/// How far before a spot against a wall it is looked for, mm.
const BEFORE_WALL_MM: f64 = 100.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::plan::Sense;
    use crate::small_house::{bare_house, detector, spot};

    #[test]
    fn heat_counts_beneath_a_detector_and_in_its_view() {
        for (sense, spot_use, at, expected) in [
            // In front of the detector on the south wall, which looks north over 90°.
            (Sense::BodyHeat, SpotUse::Radiator, (2000.0, 2500.0), Some("looks at")),
            (Sense::BodyHeat, SpotUse::WarmAir, (2000.0, 2500.0), Some("looks at")),
            (Sense::Microwave, SpotUse::Radiator, (2000.0, 2500.0), None),
            (Sense::BodyHeat, SpotUse::Desk, (2000.0, 2500.0), None),
            // Beside it on the same wall, out of view but beneath.
            (Sense::BodyHeat, SpotUse::Radiator, (2800.0, 100.0), Some("stands in")),
            (Sense::BodyHeat, SpotUse::Radiator, (3500.0, 100.0), None),
            // Outside the house.
            (Sense::BodyHeat, SpotUse::Radiator, (2000.0, -500.0), None),
        ] {
            let mut house = bare_house();
            let kind = detector(&mut house, sense);
            house.place(kind, house.on_wall(0, 2000.0), Some(2200.0));
            spot(&mut house, spot_use, at, 300.0);
            let all = found(CHECK, &house.project);
            assert_eq!(all.len(), usize::from(expected.is_some()), "{spot_use:?} {at:?} {all:?}");
            if let Some(words) = expected {
                assert!(all[0].sentence.contains(words), "{}", all[0].sentence);
            }
        }
    }
}
