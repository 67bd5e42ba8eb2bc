//! A rule that does nothing.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::systems::RuleBody;

pub(super) const CHECK: Check = Check { name: "empty-rule", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, rule) in house.project.rules.iter() {
        let empty = match &rule.body {
            RuleBody::When { actions, .. } => actions.is_empty(),
            RuleBody::While { settings, .. } => settings.is_empty(),
            RuleBody::Wired { .. } => false,
        };
        if empty {
            let sentence = format!("The rule “{}” does nothing: say what it does, or remove it.", rule.name);
            let subject = Subject::Rule(id);
            found.push(house.of_subject(subject, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;
    use crate::systems::{Condition, Rule};
    use crate::units::Seconds;

    #[test]
    fn a_rule_of_either_form_without_deeds_is_reported() {
        let mut house = small_house();
        assert!(found(CHECK, &house.project).is_empty());
        let body = RuleBody::While {
            conditions: vec![Condition::Dark],
            linger: Seconds::ZERO,
            settings: Vec::new(),
            rank: 0,
            yields_to_hand: true,
        };
        let comment = String::new();
        house.put(Rule { name: "Dusk".to_owned(), room: None, enabled: true, comment, body });
        let found_there = found(CHECK, &house.project);
        assert_eq!(found_there.len(), 1);
        assert!(found_there[0].sentence.contains("“Dusk”"));
    }
}
