//! Rules that set each other off without end: what one gives starts the next, and the last starts the first again.
//!
//! Only what surely is a circle is told here: each rule, at once and without conditions, gives a point the value that
//! starts the next, so that it must change on every turn; and a *while* rule whose own hold puts its condition out.
//! Circles through conditions are found by trying, in `studies::rehearsal::proof`.

use std::collections::BTreeMap;

use super::house::COMMON_PRACTICE;
use super::rules_disagree::points;
use super::together::can_hold;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::id::Id;
use crate::project::Project;
use crate::studies::rehearsal::whole_ms;
use crate::systems::{Comparison, Condition, Deed, PointRef, Rule, RuleBody, Target, Trigger, Value};

pub(super) const CHECK: Check = Check { name: "rules-circle", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let on = || project.rules.iter().filter(|(_, rule)| rule.enabled);
    let mut say = |id, sentence: String| {
        let subject = Subject::Rule(id);
        found.push(house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
    };
    for (id, rule) in on() {
        if puts_itself_out(project, rule) {
            let sentence = format!(
                "What the rule “{}” holds puts its own condition out, so that it goes on and off without end: let \
                 it wait for something else.",
                rule.name
            );
            say(id, sentence);
        }
    }
    let links: Vec<Link<'_>> = on().filter_map(|(id, rule)| Link::of(project, id, rule)).collect();
    let mut started_at: BTreeMap<&PointRef, Vec<usize>> = BTreeMap::new();
    for (place, link) in links.iter().enumerate() {
        started_at.entry(link.start.0).or_default().push(place);
    }
    for first in &links {
        let mut way = vec![first];
        while let Some(next) = way.last().and_then(|last| next_of(last, &links, &started_at)) {
            if next.id == first.id {
                // Told once, at the rule that comes first; a circle that gives one value only comes to rest.
                let is_first = way.iter().all(|link| link.id >= first.id);
                if is_first && !comes_to_rest(&way) {
                    let names: Vec<String> = way.iter().map(|link| format!("“{}”", link.rule.name)).collect();
                    let sentence = format!(
                        "The rules {} set each other off without end: give one of them a condition that breaks the \
                         circle.",
                        names.join(" and ")
                    );
                    say(first.id, sentence);
                }
                break;
            }
            if way.iter().any(|link| link.id == next.id) {
                break;
            }
            way.push(next);
        }
    }
}

/// A rule without conditions that a point starts, and what it gives at once.
/// The first rule that what a rule gives starts.
fn next_of<'a, 'b>(
    last: &Link<'_>,
    links: &'b [Link<'a>],
    started_at: &BTreeMap<&PointRef, Vec<usize>>,
) -> Option<&'b Link<'a>> {
    let at = last.gives.iter().filter_map(|(point, _)| started_at.get(point));
    let started = at.flatten().filter(|place| links.get(**place).is_some_and(|next| last.starts(next)));
    started.min().and_then(|place| links.get(*place))
}

struct Link<'a> {
    id: Id<Rule>,
    rule: &'a Rule,
    start: (&'a PointRef, Comparison, Value),
    gives: Vec<(PointRef, Value)>,
}

impl<'a> Link<'a> {
    fn of(project: &Project, id: Id<Rule>, rule: &'a Rule) -> Option<Self> {
        let RuleBody::When { trigger: Trigger::Becomes { point, comparison, value }, conditions, actions } =
            &rule.body
        else {
            return None;
        };
        let mut gives: Vec<(PointRef, Value)> = Vec::new();
        for action in actions.iter().filter(|action| whole_ms(action.after) == 0 && action.by_hand.is_none())
        {
            let (Some(target), Deed::Set(value)) = (&action.target, &action.deed) else { continue };
            for point in points(project, target) {
                gives.retain(|(given, _)| *given != point);
                gives.push((point, *value));
            }
        }
        conditions.is_empty().then_some(Self { id, rule, start: (point, *comparison, *value), gives })
    }

    /// Whether what it gives starts another.
    fn starts(&self, other: &Link<'_>) -> bool {
        let (point, comparison, value) = other.start;
        comparison == Comparison::Is && self.gives.contains(&(point.clone(), value))
    }
}

/// Whether no point of a circle is given two values: after one turn nothing changes any more.
fn comes_to_rest(way: &[&Link<'_>]) -> bool {
    let given = || way.iter().flat_map(|link| link.gives.iter());
    given().all(|(point, value)| given().all(|(other, otherwise)| other != point || otherwise == value))
}

/// Whether a *while* rule holds a point at a value at which its own conditions cannot hold, and at once.
fn puts_itself_out(project: &Project, rule: &Rule) -> bool {
    let RuleBody::While { conditions, settings, linger, .. } = &rule.body else { return false };
    let held: Vec<Condition> = settings
        .iter()
        .flat_map(|setting| {
            let at = |point| Condition::Point { point, comparison: Comparison::Is, value: setting.value };
            does(project, &setting.target).into_iter().map(at)
        })
        .collect();
    let all: Vec<&Condition> = conditions.iter().collect();
    whole_ms(*linger) == 0
        && can_hold(project, &all)
        && held.iter().any(|held| {
            let with: Vec<&Condition> = conditions.iter().chain([held]).collect();
            can_hold(project, &[held]) && !can_hold(project, &with)
        })
}

/// The points of a target that obey; what reports is not held.
fn does(project: &Project, target: &Target) -> Vec<PointRef> {
    let mut all = points(project, target);
    all.retain(|point| {
        let kind = project.devices.get(point.device).and_then(|device| project.kinds.get(device.kind));
        let spec = kind.and_then(|kind| kind.point(&point.point));
        spec.is_some_and(|spec| spec.role == crate::kit::PointRole::Does)
    });
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;
    use crate::systems::{Action, Setting};
    use crate::units::Seconds;

    fn rule(name: &str, body: RuleBody) -> Rule {
        Rule { name: name.to_owned(), room: None, enabled: true, comment: String::new(), body }
    }

    #[test]
    fn circles_that_change_something_on_every_turn_are_found() {
        use Value::{Off, On};
        // Lamp A or B becomes so: set A or B to that.
        for (rules, expected) in [
            (vec![(0, On, 0, Off), (0, Off, 0, On)], 1),
            (vec![(0, On, 1, On), (1, On, 0, On)], 0),
            (vec![(0, On, 1, On), (1, On, 0, Off), (0, Off, 1, Off), (1, Off, 0, On)], 1),
            (vec![(0, On, 0, Off)], 0),
        ] {
            let mut house = small_house();
            let lamps: Vec<PointRef> = house
                .project
                .devices_on(house.ground)
                .filter(|(.., kind)| kind.code == "DL")
                .map(|(id, ..)| PointRef::new(id, "level"))
                .collect();
            for (from, is, to, value) in &rules {
                let trigger =
                    Trigger::Becomes { point: lamps[*from].clone(), comparison: Comparison::Is, value: *is };
                let action = Action::new(Some(Target::Point(lamps[*to].clone())), Deed::Set(*value));
                house
                    .put(rule("Link", RuleBody::When { trigger, conditions: vec![], actions: vec![action] }));
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{rules:?}");
        }
    }

    #[test]
    fn a_hold_that_puts_its_own_condition_out_is_found() {
        for (value, linger, expected) in [(80.0, 0.0, 1), (0.0, 0.0, 0), (80.0, 5.0, 0)] {
            let mut house = small_house();
            let lamp = house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "DL").unwrap().0;
            let point = PointRef::new(lamp, "level");
            let setting = Setting {
                target: Target::Point(point.clone()),
                value: Value::Number(value),
                fade: Seconds::ZERO,
            };
            let off = Condition::Point { point, comparison: Comparison::Is, value: Value::Off };
            house.put(rule(
                "Never dark",
                RuleBody::While {
                    conditions: vec![off],
                    linger: Seconds(linger),
                    settings: vec![setting],
                    rank: 0,
                    yields_to_hand: true,
                },
            ));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{value} {linger}");
        }
    }
}
