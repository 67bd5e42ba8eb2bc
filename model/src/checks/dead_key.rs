//! A key of a plate that no rule listens to.

use std::collections::BTreeSet;

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::kit::{Family, PointRole, PointType};

pub(super) const CHECK: Check = Check { name: "dead-key", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let rules = house.project.rules.iter().filter(|(_, rule)| rule.enabled);
    let listened_to: BTreeSet<_> = rules.flat_map(|(_, rule)| rule.points().into_iter().cloned()).collect();
    for (id, device, kind) in house.devices() {
        if kind.family != Family::Plates {
            continue;
        }
        let dead: Vec<&str> = kind
            .points
            .iter()
            .filter(|point| point.role == PointRole::Reports && point.point_type == PointType::Event)
            .filter(|point| !listened_to.iter().any(|of| of.device == id && of.point == point.name))
            .map(|point| point.name.as_str())
            .collect();
        if !dead.is_empty() {
            let sentence = format!(
                "{}: no rule that is on listens to {}: write one, or fit a plate with fewer keys.",
                house.called(device),
                dead.join(", ")
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;

    #[test]
    fn a_key_of_a_rule_that_is_off_is_dead() {
        let found_there = found(CHECK, &small_house().project);
        assert_eq!(found_there.len(), 1);
        assert!(found_there[0].sentence.contains("listens to key 2:"), "{}", found_there[0].sentence);
    }
}
