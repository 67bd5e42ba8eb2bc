//! More contacts on one indication than the standard allows, or a movement detector that shares one.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::kit::Family;
use crate::plan::Sense;
use crate::systems::ZonePurpose;

pub(super) const CHECK: Check =
    Check { name: "shared-indication", limits: &["detectors_on_one_indication"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("detectors_on_one_indication") else { return };
    for (id, zone) in house.project.zones.iter().filter(|(_, zone)| zone.purpose == ZonePurpose::Indication) {
        let mut devices: Vec<_> = zone.points.iter().map(|point| point.device).collect();
        devices.sort_unstable();
        devices.dedup();
        let moving = devices.iter().filter_map(|id| house.project.devices.get(*id)).find(|device| {
            house.project.kinds.get(device.kind).is_some_and(|kind| {
                let sense = kind.detection.as_ref().map(|detection| detection.sense);
                kind.family != Family::Contacts
                    && matches!(sense, Some(Sense::BodyHeat | Sense::Microwave | Sense::Dual))
            })
        });
        let mut tell = |sentence: String| {
            found.push(house.of_subject(
                Subject::Zone(id),
                Severity::Warning,
                CHECK.name,
                sentence,
                &limit.source,
            ));
        };
        if devices.len() as f64 > limit.value {
            tell(format!(
                "“{}” has {} contacts on one indication, of at most {:.0}: part it.",
                zone.name,
                devices.len(),
                limit.value
            ));
        }
        if let Some(device) = moving.filter(|_| devices.len() > 1) {
            tell(format!(
                "{} shares the indication “{}”: a movement detector is indicated by itself.",
                house.called(device),
                zone.name
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Detection, MountKind, Pattern};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, plain_kind};
    use crate::units::Length;

    /// Ten at most: CLC/TS 50131-7.
    #[test]
    fn ten_contacts_share_an_indication_and_no_movement_detector_does() {
        for (contacts, detectors, expected) in [(10, 0, 0), (11, 0, 1), (1, 1, 1), (0, 1, 0), (10, 1, 2)] {
            let mut house = bare_house();
            let contact =
                house.put(plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]));
            let mut kind = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Ceiling, &["alarm"]);
            let pattern = Pattern::Round { radius: Length::m(4.0) };
            kind.detection = Some(Detection::plain(Sense::BodyHeat, pattern));
            let detector = house.put(kind);
            let mut members = Vec::new();
            for index in 0..contacts {
                let mount = house.on_wall(0, 200.0 + 300.0 * f64::from(index));
                members.push((house.place(contact, mount, Some(2000.0)), "open"));
            }
            for _ in 0..detectors {
                members.push((house.place(detector, ceiling(2000.0, 1500.0), None), "alarm"));
            }
            house.zone(ZonePurpose::Indication, &members);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{contacts} {detectors}");
        }
    }
}
