//! Conditions of a rule that can never hold together: the rule waits for what cannot be.

use super::house::COMMON_PRACTICE;
use super::together::can_hold;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::systems::{Condition, Rule, RuleBody, Trigger, Until};

pub(super) const CHECK: Check = Check { name: "never-holds", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, rule) in house.project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let never = asked(rule).into_iter().any(|conditions| !can_hold(house.project, &conditions));
        if never {
            let sentence = format!(
                "The rule “{}” waits for conditions that can never hold together: change one of them.",
                rule.name
            );
            let subject = Subject::Rule(id);
            found.push(house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

/// Each set of conditions that must hold together somewhere in a rule.
fn asked(rule: &Rule) -> Vec<Vec<&Condition>> {
    match &rule.body {
        RuleBody::When { trigger, conditions, actions } => {
            let stays = match trigger {
                Trigger::Stays { condition, .. } => Some(condition),
                _ => None,
            };
            let ends = actions.iter().filter_map(|action| match &action.by_hand {
                Some(Until::Holds { condition, .. }) => Some(vec![condition]),
                _ => None,
            });
            let mut all: Vec<Vec<&Condition>> = ends.collect();
            all.push(stays.into_iter().chain(conditions).collect());
            all
        }
        RuleBody::While { conditions, .. } => vec![conditions.iter().collect()],
        RuleBody::Wired { .. } => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;
    use crate::systems::{
        Comparison, HouseMode, Mode, PointRef, Value, Weekday, Weekdays, Zone, ZonePurpose,
    };
    use crate::units::{Seconds, TimeOfDay};

    #[test]
    fn what_cannot_hold_together_is_found_and_what_can_is_not() {
        use Comparison::{Above, Below, Is, IsNot};
        use Value::{Number, Off, On};
        let mut house = small_house();
        let lamp = house.project.devices_on(house.ground).find(|(_, _, kind)| kind.code == "DL").unwrap().0;
        let plate = house.project.devices_on(house.ground).find(|(_, _, kind)| kind.code == "PL").unwrap().0;
        let night = house.put(Mode { name: "Night".to_owned() });
        let empty =
            house.put(Zone { name: "Empty".to_owned(), purpose: ZonePurpose::Lighting, points: Vec::new() });
        let level =
            |comparison, value| Condition::Point { point: PointRef::new(lamp, "level"), comparison, value };
        let key = Condition::Point { point: PointRef::new(plate, "key 1"), comparison: Is, value: On };
        let not = |condition| Condition::Not(Box::new(condition));
        let between = |from: u16, to: u16| {
            Condition::Between(TimeOfDay { minutes: from * 60 }, TimeOfDay { minutes: to * 60 })
        };
        let mode = |mode| Condition::Mode(mode);
        let bearing = |from_degrees, to_degrees| Condition::SunBetween { from_degrees, to_degrees };
        for (conditions, possible) in [
            (vec![], true),
            (vec![level(Is, On), level(Is, Off)], false),
            (vec![level(Is, On), level(Below, Number(20.0))], true),
            (vec![level(Above, Number(20.0)), level(Below, Number(20.0))], false),
            (vec![level(Above, Number(20.0)), level(Below, Number(20.5))], true),
            (vec![level(Is, Number(20.0)), level(IsNot, Number(20.0))], false),
            (vec![level(Is, Number(20.0)), not(level(Is, On))], false),
            (vec![level(Is, Value::Colour([1, 2, 3]))], false),
            (vec![key.clone()], false),
            (vec![not(key)], true),
            (vec![between(8, 8)], false),
            (vec![not(between(8, 8))], true),
            (vec![between(8, 12), between(13, 15)], false),
            (vec![between(22, 6), between(5, 8)], true),
            (vec![Condition::Weekdays(Weekdays::default())], false),
            (
                vec![
                    Condition::Weekdays(Weekdays::WEEKEND),
                    Condition::Weekdays(Weekdays::of(&[Weekday::Monday])),
                ],
                false,
            ),
            (vec![mode(HouseMode::AtHome), mode(HouseMode::Named(night))], false),
            (vec![not(mode(HouseMode::AtHome)), not(mode(HouseMode::Named(night)))], false),
            (vec![Condition::Dark, Condition::Daylight], false),
            (vec![Condition::Dark, Condition::SunHigher { degrees: 1.0 }], false),
            (vec![Condition::Dark, Condition::SunLower { degrees: -6.0 }], true),
            (vec![bearing(350.0, 10.0), bearing(90.0, 180.0)], false),
            (vec![bearing(350.0, 100.0), bearing(90.0, 180.0)], true),
            (vec![Condition::AnyOf(empty)], false),
            (vec![Condition::OneOf(vec![])], false),
            (vec![Condition::OneOf(vec![between(8, 8), Condition::Dark])], true),
            (vec![Condition::OneOf(vec![between(8, 8), Condition::Dark]), Condition::Daylight], false),
        ] {
            let body = RuleBody::While {
                conditions: conditions.clone(),
                linger: Seconds::ZERO,
                settings: Vec::new(),
                rank: 0,
                yields_to_hand: true,
            };
            let comment = String::new();
            let rule = house.put(Rule { name: "Test".to_owned(), room: None, enabled: true, comment, body });
            let about = found(CHECK, &house.project)
                .into_iter()
                .filter(|finding| finding.subject == Subject::Rule(rule))
                .count();
            assert_eq!(about == 0, possible, "{conditions:?}");
        }
    }
}
