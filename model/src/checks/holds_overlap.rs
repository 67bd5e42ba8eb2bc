//! Two *while* rules of equal rank that may hold one point at different values at one time.

use std::collections::{BTreeMap, BTreeSet};

use super::house::COMMON_PRACTICE;
use super::rules_disagree::points;
use super::together::can_hold;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::id::Id;
use crate::sentence::device_words;
use crate::systems::{Condition, PointRef, Rule, RuleBody, Value};

pub(super) const CHECK: Check = Check { name: "holds-overlap", limits: &[], run };

struct Hold<'a> {
    id: Id<Rule>,
    rule: &'a Rule,
    conditions: &'a [Condition],
    rank: u8,
    held: Vec<(PointRef, Value)>,
}

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let holds: Vec<Hold<'_>> = project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled)
        .filter_map(|(id, rule)| match &rule.body {
            RuleBody::While { conditions, settings, rank, .. } => {
                let held = settings.iter().flat_map(|setting| {
                    points(project, &setting.target).into_iter().map(|point| (point, setting.value))
                });
                Some(Hold { id, rule, conditions, rank: *rank, held: held.collect() })
            }
            _ => None,
        })
        .collect();
    // Only holds of one rank at one point are compared: houses have rules by the thousand.
    let mut at_point: BTreeMap<(u8, &PointRef), Vec<usize>> = BTreeMap::new();
    for (place, later) in holds.iter().enumerate() {
        let mut before: BTreeSet<usize> = BTreeSet::new();
        for (point, _) in &later.held {
            let known = at_point.entry((later.rank, point)).or_default();
            before.extend(known.iter());
            if known.last() != Some(&place) {
                known.push(place);
            }
        }
        for earlier in before.into_iter().filter(|earlier| *earlier < place).filter_map(|at| holds.get(at)) {
            let Some(point) = contested(earlier, later) else { continue };
            let both: Vec<&Condition> = earlier.conditions.iter().chain(later.conditions).collect();
            if !can_hold(project, &both) {
                continue;
            }
            let sentence = format!(
                "The rules “{}” and “{}” may hold {} {} at different values at one time and have the same rank, so \
                 that the later one shows: give one of them a higher rank.",
                earlier.rule.name,
                later.rule.name,
                device_words(project, point.device),
                point.point
            );
            let subject = Subject::Rule(later.id);
            found.push(house.of_subject(subject, Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

fn contested<'a>(a: &'a Hold<'_>, b: &Hold<'_>) -> Option<&'a PointRef> {
    let differs = |(point, value): &&(PointRef, Value)| {
        b.held.iter().any(|(other, otherwise)| other == point && otherwise != value)
    };
    a.held.iter().find(differs).map(|(point, _)| point)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;
    use crate::systems::{Setting, Target};
    use crate::units::Seconds;

    #[test]
    fn equal_ranks_with_different_values_are_found_where_both_may_hold() {
        use Condition::{Dark, Daylight};
        for (other, value, rank, expected) in
            [(Dark, 20.0, 0, 1), (Dark, 80.0, 0, 0), (Dark, 20.0, 1, 0), (Daylight, 20.0, 0, 0)]
        {
            let mut house = small_house();
            let zone = house.project.zones.ids().next().unwrap();
            for (condition, figure, rank) in [(Dark, 80.0, 0), (other, value, rank)] {
                let target = Target::Zone(zone);
                let setting = Setting { target, value: Value::Number(figure), fade: Seconds::ZERO };
                let body = RuleBody::While {
                    conditions: vec![condition],
                    linger: Seconds::ZERO,
                    settings: vec![setting],
                    rank,
                    yields_to_hand: true,
                };
                let (name, comment) = ("Test".to_owned(), String::new());
                house.put(Rule { name, room: None, enabled: true, comment, body });
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{value} {rank}");
        }
    }
}
