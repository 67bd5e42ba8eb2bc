//! Two rules that one thing starts under conditions that can both hold, and that give one point different values.

use std::collections::BTreeMap;

use super::house::COMMON_PRACTICE;
use super::together::can_hold;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::id::Id;
use crate::project::Project;
use crate::sentence::device_words;
use crate::studies::rehearsal::whole_ms;
use crate::systems::{Condition, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value};

pub(super) const CHECK: Check = Check { name: "rules-disagree", limits: &[], run };

/// What a rule surely gives: the point, how long after its start, whether by hand.
type Given = BTreeMap<(PointRef, i64, bool), Value>;

struct Starting<'a> {
    id: Id<Rule>,
    rule: &'a Rule,
    trigger: &'a Trigger,
    conditions: &'a [Condition],
    gives: Given,
}

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let starting: Vec<Starting<'_>> = house
        .project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled)
        .filter_map(|(id, rule)| match &rule.body {
            RuleBody::When { trigger, conditions, .. } => {
                Some(Starting { id, rule, trigger, conditions, gives: gives(house.project, rule) })
            }
            _ => None,
        })
        .collect();
    // Only rules that start together are compared: houses have rules by the thousand.
    let mut together: BTreeMap<String, Vec<&Starting<'_>>> = BTreeMap::new();
    for later in &starting {
        let before = together.entry(format!("{:?}", later.trigger)).or_default();
        for earlier in before.iter() {
            let Some((point, _, _)) = difference(earlier, later) else { continue };
            let both: Vec<&Condition> = earlier.conditions.iter().chain(later.conditions).collect();
            if !can_hold(house.project, &both) {
                continue;
            }
            let sentence = format!(
                "The rules “{}” and “{}” start together and give {} {} different values: join them, or give them \
                 conditions that exclude each other.",
                earlier.rule.name,
                later.rule.name,
                device_words(house.project, point.device),
                point.point
            );
            let subject = Subject::Rule(later.id);
            found.push(house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
        before.push(later);
    }
}

fn difference<'a>(a: &'a Starting<'_>, b: &Starting<'_>) -> Option<&'a (PointRef, i64, bool)> {
    a.gives.iter().find(|(at, value)| b.gives.get(at).is_some_and(|other| other != *value)).map(|(at, _)| at)
}

/// What a rule surely gives, scenes and zones opened out; the last value counts.
fn gives(project: &Project, rule: &Rule) -> Given {
    let RuleBody::When { actions, .. } = &rule.body else { return Given::new() };
    let mut found = Given::new();
    for action in actions {
        let settings: Vec<(&Target, Value)> = match &action.deed {
            Deed::Set(value) => action.target.iter().map(|target| (target, *value)).collect(),
            Deed::RunScene(scene) => project.scenes.get(*scene).map_or_else(Vec::new, |scene| {
                scene.settings.iter().map(|setting| (&setting.target, setting.value)).collect()
            }),
            _ => Vec::new(),
        };
        for (target, value) in settings {
            for point in points(project, target) {
                found.insert((point, whole_ms(action.after), action.by_hand.is_some()), value);
            }
        }
    }
    found
}

/// The points of a target.
pub(super) fn points(project: &Project, target: &Target) -> Vec<PointRef> {
    match target {
        Target::Point(point) => vec![point.clone()],
        Target::Zone(zone) => project.zones.get(*zone).map_or_else(Vec::new, |zone| zone.points.clone()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::{key_rule, small_house};
    use crate::units::Seconds;

    #[test]
    fn values_that_differ_at_one_moment_under_conditions_that_may_meet_are_found() {
        use Value::{Number, Off, On};
        let dark = || vec![Condition::Dark];
        let light = || vec![Condition::Daylight];
        for (first, second, conditions, after, expected) in [
            (On, Off, [vec![], vec![]], 0.0, 1),
            (On, On, [vec![], vec![]], 0.0, 0),
            (On, Number(20.0), [dark(), vec![]], 0.0, 1),
            (On, Off, [dark(), light()], 0.0, 0),
            (On, Off, [vec![], vec![]], 5.0, 0),
        ] {
            let mut house = small_house();
            let plate =
                house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "PL").unwrap().0;
            let lamp = house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "DL").unwrap().0;
            let zone = house.project.zones.ids().next().unwrap();
            let targets = [Target::Zone(zone), Target::Point(PointRef::new(lamp, "level"))];
            for (place, (value, target)) in [first, second].into_iter().zip(targets).enumerate() {
                let mut rule = key_rule("Test", None, plate, "key 2", target);
                let RuleBody::When { conditions: own, actions, .. } = &mut rule.body else { unreachable!() };
                own.clone_from(&conditions[place]);
                actions[0].deed = Deed::Set(value);
                actions[0].after = Seconds(if place == 1 { after } else { 0.0 });
                house.put(rule);
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{first:?} {second:?} {conditions:?}");
        }
    }
}
