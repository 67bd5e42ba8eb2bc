//! A rule that moves a gate, a garage door or a lock: it can crush, trap or let someone in with nobody there.

use super::house::is_powered_way;
use super::life_safety_rule::targets;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;

pub(super) const CHECK: Check = Check { name: "powered-way-rule", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, rule) in house.project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let moved = targets(house, rule).into_iter().find_map(|device| {
            let device = house.project.devices.get(device)?;
            is_powered_way(house.project.kinds.get(device.kind)?).then_some(device)
        });
        if let Some(device) = moved {
            let sentence = format!(
                "The rule “{}” moves {}: it needs protective devices of its own, and a way out without power; \
                 have both checked by someone competent before the rule is switched on.",
                rule.name, device.tag
            );
            let source = super::house::COMMON_PRACTICE;
            found.push(house.of_subject(Subject::Rule(id), Severity::Warning, CHECK.name, sentence, source));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::small_house::{bare_house, key_rule, plain_kind};
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::systems::{PointRef, Target};

    #[test]
    fn gates_doors_and_locks_are_cautioned_and_blinds_are_not() {
        for (name, expected) in
            [("Gate motor", 1), ("Garage door motor", 1), ("Motor lock", 1), ("Blind motor", 0)]
        {
            let mut house = bare_house();
            let kind = house.put(plain_kind(name, Family::Motors, "M", MountKind::Wall, &["position"]));
            let motor = house.place(kind, house.on_wall(0, 1000.0), Some(500.0));
            let target = Target::Point(PointRef::new(motor, "position"));
            house.put(key_rule("Away", None, motor, "position", target));
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{name}");
            assert!(found_there.iter().all(|finding| finding.sentence.contains("protective devices")));
        }
    }
}
