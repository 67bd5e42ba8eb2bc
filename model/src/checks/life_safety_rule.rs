//! A rule that works on a fire or carbon monoxide alarm: life safety never depends on a rule.
//!
//! An alarm must sound and link up by itself. A rule may tell people that it did, so a rule that merely starts
//! from an alarm is noted; one that sets, holds or silences an alarm is serious.

use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::id::Id;
use crate::kit::{Device, Family};
use crate::systems::{Rule, Target};

pub(super) const CHECK: Check = Check { name: "life-safety-rule", limits: &[], run };

/// BS 5839-6 wants a system that warns by itself, designed by someone competent in it.
const SOURCE: &str = "BS 5839-6; read in a secondary page: check the current edition";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, rule) in house.project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let worked_on = targets(house, rule).into_iter().find(|device| is_alarm(house, *device));
        let spoken_of =
            rule.points().iter().map(|point| point.device).find(|device| is_alarm(house, *device));
        let (severity, sentence) = match (worked_on, spoken_of) {
            (Some(device), _) => (
                Severity::Serious,
                format!(
                    "The rule “{}” works on {}: life safety never depends on a rule, so take it out.",
                    rule.name,
                    tag(house, device)
                ),
            ),
            (None, Some(device)) => (
                Severity::Note,
                format!(
                    "The rule “{}” follows {}: the alarm must warn by itself, whether or not the rule runs.",
                    rule.name,
                    tag(house, device)
                ),
            ),
            (None, None) => continue,
        };
        found.push(house.of_subject(Subject::Rule(id), severity, CHECK.name, sentence, SOURCE));
    }
}

/// Devices that a rule works on: by point, by zone or by a scene it runs.
pub(super) fn targets(house: &House<'_>, rule: &Rule) -> Vec<Id<Device>> {
    let scenes = rule.scenes().into_iter().filter_map(|scene| house.project.scenes.get(scene));
    let by_scene = scenes.flat_map(|scene| scene.settings.iter().map(|setting| &setting.target));
    let mut devices = Vec::new();
    for target in rule.targets().into_iter().chain(by_scene) {
        match target {
            Target::Point(point) => devices.push(point.device),
            Target::Zone(zone) => {
                let points = house.project.zones.get(*zone).map(|zone| zone.points.iter());
                devices.extend(points.into_iter().flatten().map(|point| point.device));
            }
        }
    }
    devices
}

fn is_alarm(house: &House<'_>, device: Id<Device>) -> bool {
    let kind = house.project.devices.get(device).and_then(|device| house.project.kinds.get(device.kind));
    kind.is_some_and(|kind| kind.family == Family::FireAndCo)
}

fn tag(house: &House<'_>, device: Id<Device>) -> String {
    house.project.devices.get(device).map(|device| device.tag.to_string()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Mount, MountKind};
    use crate::small_house::{bare_house, key_rule, plain_kind};
    use crate::systems::{PointRef, Zone, ZonePurpose};

    #[test]
    fn working_on_an_alarm_is_serious_by_point_and_by_zone_and_following_one_is_a_note() {
        let mut house = bare_house();
        let ceiling = |x| Mount::Ceiling { at: Point::new(x, 1500.0) };
        let points = &["alarm", "siren"];
        let alarm = plain_kind("Smoke alarm", Family::FireAndCo, "SD", MountKind::Ceiling, points);
        let alarm = house.put(alarm);
        let alarm = house.place(alarm, ceiling(1000.0), None);
        let lamp = house.put(plain_kind("Lamp", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]));
        let lamp = house.place(lamp, ceiling(3000.0), None);
        let point = |device, name: &str| Target::Point(PointRef::new(device, name));
        let zone = house.put(Zone {
            name: "Sirens".to_owned(),
            purpose: ZonePurpose::Sound,
            points: vec![PointRef::new(alarm, "siren")],
        });
        for (from, start, target, enabled, expected) in [
            (lamp, "level", point(alarm, "siren"), true, Some(Severity::Serious)),
            (lamp, "level", Target::Zone(zone), true, Some(Severity::Serious)),
            (alarm, "alarm", point(lamp, "level"), true, Some(Severity::Note)),
            (lamp, "level", point(lamp, "level"), true, None),
            (lamp, "level", point(alarm, "siren"), false, None),
        ] {
            let rule = house.put(Rule { enabled, ..key_rule("Test", None, from, start, target) });
            let about: Vec<Severity> = found(CHECK, &house.project)
                .into_iter()
                .filter(|finding| finding.subject == Subject::Rule(rule))
                .map(|finding| finding.severity)
                .collect();
            assert_eq!(about, Vec::from_iter(expected));
        }
    }
}
