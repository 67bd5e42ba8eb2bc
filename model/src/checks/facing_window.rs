//! A body-heat detector on a wall that looks at a window: sun and headlamps warm what they fall on, and it alarms.

use std::collections::BTreeMap;

use super::house::sees_body_heat;
use super::{Check, Finding, House, Severity};
use crate::kit::{Mount, Pattern};
use crate::plan::DoorsAs;
use crate::studies::coverage::windows::windows_seen;
use crate::studies::coverage::{Scenes, sensor_polygon};

pub(super) const CHECK: Check = Check { name: "facing-window", limits: &[], run };

/// Guidance that makers and retailers of wall detectors give alike; read in secondary pages.
const SOURCE: &str = "makers' guidance on placing body-heat detectors on walls; read in a secondary page";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let mut scenes = BTreeMap::new();
    for (id, device, kind) in house.devices() {
        let (Some(detection), true) = (&kind.detection, sees_body_heat(kind)) else { continue };
        // The guidance is about detectors that look along a room from its wall; one on the ceiling looks down.
        let on_wall = matches!(device.mount, Mount::WallFace { .. });
        if house.room_of(device).is_none() || !on_wall || matches!(detection.pattern, Pattern::Round { .. }) {
            continue;
        }
        let on_level = scenes
            .entry(device.level)
            .or_insert_with(|| Scenes::of_level(project, device.level, DoorsAs::Drawn));
        let (Some(view), Some(at)) =
            (sensor_polygon(project, on_level, device, detection), project.position_of(device))
        else {
            continue;
        };
        let own_wall = match device.mount {
            Mount::WallFace { wall, .. } => Some(wall),
            _ => None,
        };
        let seen = !windows_seen(project, device.level, own_wall, at, &view).is_empty();
        if seen {
            let sentence = format!(
                "{} looks at a window, where sun and headlamps can set it off: turn or move it.",
                house.called(device)
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, SOURCE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, Family, MountKind};
    use crate::plan::{Opening, OpeningForm, Sense};
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::{Angle, Length};

    #[test]
    fn a_window_counts_when_it_is_in_the_fan_within_reach_and_of_a_sense_that_minds() {
        for (wall_of_window, sense, range, expected) in [
            (2, Sense::BodyHeat, 12_000.0, 1),
            (2, Sense::Dual, 12_000.0, 1),
            (2, Sense::Microwave, 12_000.0, 0),
            (2, Sense::BodyHeat, 2000.0, 0),
            (0, Sense::BodyHeat, 12_000.0, 0),
        ] {
            let mut house = bare_house();
            let wall = house.walls[wall_of_window];
            house.put(Opening {
                wall,
                centre: Length::mm(2000.0),
                width: Length::mm(1200.0),
                head: Length::mm(2100.0),
                form: OpeningForm::Window { sill: Length::mm(900.0) },
            });
            let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Wall, &["motion"]);
            let pattern = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::mm(range) };
            kind.detection = Some(Detection::plain(sense, pattern));
            let kind = house.put(kind);
            house.place(kind, house.on_wall(0, 3000.0), Some(2200.0));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{wall_of_window} {sense:?} {range}");
        }
    }

    #[test]
    fn a_detector_that_looks_down_from_the_ceiling_faces_no_window() {
        let mut house = bare_house();
        let wall = house.walls[2];
        house.put(Opening {
            wall,
            centre: Length::mm(2000.0),
            width: Length::mm(1200.0),
            head: Length::mm(2100.0),
            form: OpeningForm::Window { sill: Length::mm(900.0) },
        });
        for pattern in [
            Pattern::Round { radius: Length::m(3.0) },
            Pattern::Fan { angle: Angle::degrees(360.0), range: Length::m(3.0) },
        ] {
            let mut kind = plain_kind("Detector", Family::Presence, "PD", MountKind::Ceiling, &["motion"]);
            kind.detection = Some(Detection::plain(Sense::BodyHeat, pattern));
            let kind = house.put(kind);
            house.place(kind, Mount::Ceiling { at: kurbo::Point::new(2000.0, 1500.0) }, None);
        }
        assert!(found(CHECK, &house.project).is_empty());
    }
}
