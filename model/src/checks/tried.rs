//! Faults that trying the rules in every order showed, as findings, each with its shortest script.
//!
//! What a check has told from the rules' words alone is not told a second time: it gets the script.

use std::sync::Arc;

use super::{Finding, House, Severity};
use crate::edit::Subject;
use crate::project::Project;
use crate::sentence::device_words;
use crate::studies::rehearsal::RuleBook;
use crate::studies::rehearsal::proof::{
    Fault, HouseProof, Options, Wrong, fault_sentence, script_of, step_sentence,
};
use crate::systems::Script;

/// The name of these findings, stable across releases.
pub const TRIED: &str = "rules-tried";

/// Where they come from.
const SOURCE: &str = "found by playing the rules in every order; what they mean is in model/rules.md";

/// No more steps of a script are told in its sentence; the whole of it is played.
const MOST_STEPS_TOLD: usize = 8;

/// The findings of the checks with those of a search, the serious first.
pub fn with_faults(
    project: &Project,
    mut findings: Vec<Finding>,
    proof: &HouseProof,
    options: &Options,
) -> Vec<Finding> {
    if proof.faults.is_empty() {
        return findings;
    }
    let house = House::of(project);
    let book = Arc::new(RuleBook::of(project));
    let mut told: Vec<&Fault> = Vec::new();
    for fault in &proof.faults {
        if told.iter().any(|other| is_alike(other, fault)) {
            continue;
        }
        told.push(fault);
        let script = script_of(project, &book, fault, options);
        match findings.iter_mut().find(|finding| tells(finding, fault)) {
            Some(known) => known.script = known.script.take().or(script),
            None => {
                let alike = proof.faults.iter().filter(|other| *other != fault && is_alike(other, fault));
                findings.push(finding(&house, fault, &alike.collect::<Vec<_>>(), script));
            }
        }
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
}

/// Whether one script shows the same of two lamps: that is told once.
fn is_alike(a: &Fault, b: &Fault) -> bool {
    let of_lamps = matches!(
        (&a.wrong, &b.wrong),
        (Wrong::NeverDark(_), Wrong::NeverDark(_)) | (Wrong::LeftLit(_), Wrong::LeftLit(_))
    );
    of_lamps && a.start == b.start && a.script == b.script
}

/// Whether a check has told of a fault already.
fn tells(finding: &Finding, fault: &Fault) -> bool {
    let checks: &[&str] = match fault.wrong {
        Wrong::Loop => &["rules-circle"],
        Wrong::Disagree(_) => &["rules-disagree", "duplicate-gesture"],
        Wrong::HoldsMeet(_) => &["holds-overlap"],
        Wrong::NeverDark(_) | Wrong::LeftLit(_) => &["never-put-out"],
    };
    let is_meant = match (finding.subject, &fault.wrong) {
        (Subject::Rule(rule), _) => fault.rules.contains(&rule),
        (Subject::Device(device), Wrong::NeverDark(at) | Wrong::LeftLit(at)) => at.device == device,
        _ => false,
    };
    checks.contains(&finding.check) && is_meant
}

fn lamp_words(project: &Project, fault: &Fault) -> Option<String> {
    match &fault.wrong {
        Wrong::NeverDark(at) | Wrong::LeftLit(at) => {
            Some(format!("{} {}", device_words(project, at.device), at.point))
        }
        _ => None,
    }
}

fn finding(house: &House<'_>, fault: &Fault, alike: &[&Fault], script: Option<Script>) -> Finding {
    let project = house.project;
    let others: Vec<String> = alike.iter().filter_map(|other| lamp_words(project, other)).collect();
    let told: Vec<String> =
        fault.script.iter().take(MOST_STEPS_TOLD).map(|step| step_sentence(project, step)).collect();
    let more = fault.script.len().saturating_sub(MOST_STEPS_TOLD);
    let mut sentence = fault_sentence(project, fault);
    if !others.is_empty() {
        sentence += &format!(" The same goes for {}.", others.join(", "));
    }
    sentence += " The shortest way there";
    if let Some(start) = project.site.clock.shows(fault.start) {
        sentence += &format!(", from {start}");
    }
    sentence += &match (told.is_empty(), more) {
        (true, _) => ": it is so from the start.".to_owned(),
        (_, 0) => format!(": {}.", told.join("; ")),
        _ => format!(": {}; and {more} steps more.", told.join("; ")),
    };
    let subject = match (&fault.wrong, fault.rules.first()) {
        (Wrong::NeverDark(at) | Wrong::LeftLit(at), _) => Subject::Device(at.device),
        (_, Some(rule)) => Subject::Rule(*rule),
        (Wrong::Disagree(at) | Wrong::HoldsMeet(at), None) => Subject::Device(at.device),
        (Wrong::Loop, None) => Subject::Site,
    };
    let found = match subject {
        Subject::Device(id) => project
            .devices
            .get(id)
            .map(|device| house.of_device((id, device), Severity::Warning, TRIED, sentence.clone(), SOURCE)),
        _ => None,
    };
    found
        .unwrap_or_else(|| house.of_subject(subject, Severity::Warning, TRIED, sentence, SOURCE))
        .shown_by(script)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::calendar::Date;
    use crate::checks::findings;
    use crate::small_house::{key_rule, small_house};
    use crate::studies::rehearsal::EvenSky;
    use crate::studies::rehearsal::proof::{Budget, MOST_STEPS_OF_A_HOUSE, prove_house};
    use crate::systems::{Deed, RuleBody, Target, Value};

    /// Two rules that answer one press, the one with light, the other with dark.
    #[test]
    fn what_a_check_told_already_gets_the_script_and_no_second_sentence() {
        let mut house = small_house();
        let (plate, ..) =
            house.project.devices_on(house.ground).find(|(.., kind)| kind.code == "PL").unwrap();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        for (name, value) in [("Light", Value::On), ("Dark", Value::Off)] {
            let mut rule = key_rule(name, Some(house.kitchen), plate, "key 2", Target::Zone(zone));
            if let RuleBody::When { actions, .. } = &mut rule.body {
                actions.iter_mut().for_each(|action| action.deed = Deed::Set(value));
            }
            house.put(rule);
        }
        let project = &house.project;
        let options = Options {
            date: Date::new(2026, 1, 15).unwrap(),
            clock: project.site.clock,
            sky: Arc::new(EvenSky),
            budget: Budget::default(),
        };
        let proof = prove_house(project, &options, MOST_STEPS_OF_A_HOUSE, || true);
        let before = findings(project);
        let after = with_faults(project, before.clone(), &proof, &options);
        let told = |check: &str| -> Vec<&Finding> {
            after.iter().filter(|finding| finding.check == check).collect()
        };
        let by_check = told("duplicate-gesture").into_iter().chain(told("rules-disagree"));
        let scripts: Vec<&Script> = by_check.filter_map(|finding| finding.script.as_ref()).collect();
        assert!(
            scripts.iter().any(|script| script.lines.contains(&"press PL-01 key 2".to_owned())),
            "{after:#?}"
        );
        let rules_told =
            told(TRIED).into_iter().filter(|finding| matches!(finding.subject, Subject::Rule(_)));
        assert_eq!(rules_told.count(), 0, "{after:#?}");
        for finding in told(TRIED) {
            assert!(finding.sentence.contains("The shortest way there"), "{}", finding.sentence);
        }
        assert!(after.is_sorted_by_key(|finding| std::cmp::Reverse(finding.severity)));
    }
}
