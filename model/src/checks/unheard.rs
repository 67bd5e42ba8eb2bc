//! A sensor, or a zone, that no rule speaks of: bought, wired, and of no use to anyone.
//!
//! Keys of plates are told apart in `dead_key`. What belongs to a system of its own (fire alarms, the intruder alarm
//! and its zones, locks' and alarms' tamper contacts) is heard there, not by rules.

use std::collections::BTreeSet;

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity, scripted};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Family, PointRole, PointType};
use crate::systems::{PointRef, Rule, Zone, ZonePurpose};

pub(super) const CHECK: Check = Check { name: "unheard", limits: &[], run };

/// Families whose devices are there to be heard by rules.
const HEARD_BY_RULES: [Family; 3] = [Family::Presence, Family::Contacts, Family::Environment];

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let on: Vec<&Rule> =
        project.rules.iter().filter(|(_, rule)| rule.enabled).map(|(_, rule)| rule).collect();
    if on.is_empty() {
        // Nothing is written yet.
        return;
    }
    let scenes = on.iter().flat_map(|rule| rule.scenes()).filter_map(|scene| project.scenes.get(scene));
    let by_scene = scenes.flat_map(|scene| scene.zones());
    let zones: BTreeSet<Id<Zone>> = on.iter().flat_map(|rule| rule.zones()).chain(by_scene).collect();
    let mut heard: BTreeSet<Id<Device>> = on.iter().flat_map(|rule| rule.devices()).collect();
    for (id, zone) in project.zones.iter() {
        if zones.contains(&id) || is_of_alarm(zone.purpose) {
            heard.extend(zone.points.iter().map(|point| point.device));
        }
    }
    for (id, device, kind) in house.devices() {
        let reports = kind.points.iter().any(|point| point.role == PointRole::Reports);
        if HEARD_BY_RULES.contains(&kind.family) && reports && !heard.contains(&id) {
            let sentence = format!(
                "{}: no rule that is on listens to it: write one, or leave it out.",
                house.called(device)
            );
            let state = kind
                .points
                .iter()
                .find(|point| point.role == PointRole::Reports && point.point_type == PointType::State);
            let script = state.and_then(|point| {
                let point = PointRef::new(id, point.name.as_str());
                scripted::reports(project, &format!("Nothing answers {}", device.tag), &point)
            });
            let finding =
                house.of_device((id, device), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE);
            found.push(finding.shown_by(script));
        }
    }
    let spoken_of: BTreeSet<&PointRef> = on.iter().flat_map(|rule| rule.points()).collect();
    for (id, zone) in project.zones.iter() {
        if !zones.contains(&id) && !is_of_alarm(zone.purpose) && !by_points(&spoken_of, zone) {
            let sentence =
                format!("The zone “{}” is in no rule that is on: write one, or remove it.", zone.name);
            found.push(house.of_subject(
                Subject::Zone(id),
                Severity::Note,
                CHECK.name,
                sentence,
                COMMON_PRACTICE,
            ));
        }
    }
}

/// Whether rules speak of each point of a zone by itself.
fn by_points(spoken_of: &BTreeSet<&PointRef>, zone: &Zone) -> bool {
    !zone.points.is_empty() && zone.points.iter().all(|point| spoken_of.contains(point))
}

/// Zones that the alarm panel reads, not rules.
const fn is_of_alarm(purpose: ZonePurpose) -> bool {
    matches!(
        purpose,
        ZonePurpose::FullSet | ZonePurpose::PartSet | ZonePurpose::EntryRoute | ZonePurpose::Indication
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::MountKind;
    use crate::small_house::{key_rule, plain_kind, small_house};
    use crate::systems::Target;

    #[test]
    fn a_sensor_and_a_zone_are_heard_by_rules_or_by_the_alarm() {
        for (purpose, listens, expected) in [
            (None, false, vec!["PS-01"]),
            (None, true, vec![]),
            (Some(ZonePurpose::PartSet), false, vec![]),
            (Some(ZonePurpose::Lighting), false, vec!["PS-01", "Test"]),
        ] {
            let mut house = small_house();
            let kind = plain_kind("Presence", Family::Presence, "PS", MountKind::Wall, &["motion"]);
            let kind = house.put(kind);
            let sensor = house.place(kind, house.on_wall(0, 1000.0), Some(2200.0));
            let point = PointRef::new(sensor, "motion");
            if let Some(purpose) = purpose {
                house.put(Zone { name: "Test".to_owned(), purpose, points: vec![point.clone()] });
            }
            if listens {
                let lamp =
                    house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "DL").unwrap().0;
                house.put(key_rule(
                    "Follow",
                    None,
                    sensor,
                    "motion",
                    Target::Point(PointRef::new(lamp, "level")),
                ));
            }
            let told: Vec<String> =
                found(CHECK, &house.project).into_iter().map(|finding| finding.sentence).collect();
            assert_eq!(told.len(), expected.len(), "{told:?}");
            assert!(told.iter().zip(expected).all(|(told, word)| told.contains(word)), "{told:?}");
        }
    }
}
