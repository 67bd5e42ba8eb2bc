//! Two rules that answer one gesture at one key under the same conditions: both run, and the family is baffled.

use std::collections::BTreeMap;

use super::house::COMMON_PRACTICE;
use super::scripted::Stage;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::id::Id;
use crate::sentence::device_words;
use crate::systems::{Condition, Gesture, PointRef, Rule, RuleBody, Trigger};

pub(super) const CHECK: Check = Check { name: "duplicate-gesture", limits: &[], run };

/// A rule that a gesture starts.
struct Answer<'a> {
    id: Id<Rule>,
    rule: &'a Rule,
    point: &'a PointRef,
    gesture: Gesture,
    conditions: &'a [Condition],
}

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let answers: Vec<Answer<'_>> =
        house.project.rules.iter().filter_map(|(id, rule)| answer(id, rule)).collect();
    let stage = Stage::of(house.project);
    let mut at_one: BTreeMap<(&PointRef, Gesture), Vec<&Answer<'_>>> = BTreeMap::new();
    for later in &answers {
        let before = at_one.entry((later.point, later.gesture)).or_default();
        let clashing = before.iter().find(|earlier| clash(earlier, later)).copied();
        before.push(later);
        let Some(earlier) = clashing else { continue };
        let sentence = format!(
            "The rules “{}” and “{}” both start when {} {} {}: join them, or give one another gesture.",
            earlier.rule.name,
            later.rule.name,
            device_words(house.project, later.point.device),
            later.point.point,
            later.gesture.phrase()
        );
        let subject = Subject::Rule(later.id);
        let script = stage.runs(&format!("Both at once: {}", later.rule.name), &[earlier.id, later.id]);
        let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE);
        found.push(finding.shown_by(script));
    }
}

/// An enabled rule that a person's gesture starts. What a sensor tells may well start several rules.
fn answer(id: Id<Rule>, rule: &Rule) -> Option<Answer<'_>> {
    let RuleBody::When { trigger: Trigger::Event { point, gesture }, conditions, .. } = &rule.body else {
        return None;
    };
    (rule.enabled && *gesture != Gesture::Happens).then_some(Answer {
        id,
        rule,
        point,
        gesture: *gesture,
        conditions,
    })
}

/// Whether two that answer one gesture both do. Rules under different conditions may share a key: by day this, by
/// night that.
fn clash(a: &Answer<'_>, b: &Answer<'_>) -> bool {
    a.conditions.is_empty() || b.conditions.is_empty() || a.conditions == b.conditions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{key_rule, small_house};
    use crate::systems::Target;

    fn only_if(mut rule: Rule, condition: Condition) -> Rule {
        if let RuleBody::When { conditions, .. } = &mut rule.body {
            conditions.push(condition);
        }
        rule
    }

    #[test]
    fn one_key_may_start_one_rule_or_two_under_different_conditions() {
        let mut house = small_house();
        assert!(found(CHECK, &house.project).is_empty());
        let (plate, _, _) =
            house.project.devices_on(house.ground).find(|(_, _, kind)| kind.code == "PL").unwrap();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        let rule = |name, key| key_rule(name, None, plate, key, Target::Zone(zone));
        house.put(only_if(rule("Night", "key 2"), Condition::Dark));
        house.put(only_if(rule("Day", "key 2"), Condition::Daylight));
        assert!(found(CHECK, &house.project).is_empty());
        house.put(rule("Again", "key 1"));
        let found_there = found(CHECK, &house.project);
        assert_eq!(found_there.len(), 1);
        assert!(
            found_there[0]
                .sentence
                .contains("“Kitchen light” and “Again” both start when PL-01 key 1 is pressed")
        );
    }
}
