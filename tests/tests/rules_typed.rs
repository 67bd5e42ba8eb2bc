//! Rules typed as sentences: what is written of any rule reads back to the same rule, and nothing that is typed
//! makes the reader panic or go on without end.

use pattress_model::project::Project;
use pattress_model::sentence::read::read_rule;
use pattress_model::sentence::sentence_text;
use pattress_model::systems::{RuleBody, Target};
use pattress_tests::ferry_cottage::ferry_cottage;
use pattress_tests::garden_flat::garden_flat;
use pattress_tests::reference::random_rules::houses;
use proptest::prelude::*;
use proptest::sample::select;

/// A rule as its sentence means it: a target that a deed does not work on is no part of it.
fn as_meant(body: &RuleBody) -> RuleBody {
    let mut body = body.clone();
    if let RuleBody::When { actions, .. } = &mut body {
        actions.iter_mut().filter(|action| !action.deed.has_target()).for_each(|action| action.target = None);
    }
    body
}

fn reads_back(project: &Project) {
    for (_, rule) in project.rules.iter() {
        let text = sentence_text(project, rule);
        let read = read_rule(project, &text).unwrap_or_else(|fault| panic!("{text}\n{fault:?}"));
        assert_eq!(read, as_meant(&rule.body), "{text}");
    }
}

#[test]
fn every_rule_of_the_sample_houses_reads_back() {
    for project in [ferry_cottage(), garden_flat()] {
        assert!(!project.rules.is_empty());
        reads_back(&project);
    }
}

/// Words that sentences are made of, to spoil them with.
const WORDS: [&str; 24] = [
    "When ",
    "While ",
    ", if ",
    ": ",
    "; then ",
    "either ",
    " or ",
    "(",
    ")",
    " and ",
    "D-11 key 1",
    "D-15",
    " level",
    "Zone 30",
    " is pressed",
    "“",
    "”",
    " for 5 min on end",
    "it is ",
    "07:00",
    " 20 %",
    "turn ",
    "é",
    "\u{202e}",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_rule_reads_back_from_its_sentence(house in houses(6)) {
        reads_back(&house.project());
    }

    #[test]
    fn a_spoilt_sentence_is_read_or_its_fault_lies_within_it(
        house in houses(2),
        at in any::<prop::sample::Index>(),
        cut in 0..12_usize,
        put in proptest::collection::vec(select(WORDS.to_vec()), 0..4),
    ) {
        let project = house.project();
        for (_, rule) in project.rules.iter() {
            let text = sentence_text(&project, rule);
            let letters: Vec<char> = text.chars().collect();
            let at = at.index(letters.len());
            let before: String = letters[..at].iter().collect();
            let after: String = letters[(at + cut).min(letters.len())..].iter().collect();
            let spoilt = format!("{before}{}{after}", put.concat());
            if let Err(fault) = read_rule(&project, &spoilt) {
                prop_assert!(spoilt.get(fault.at.clone()).is_some(), "{fault:?} of {spoilt}");
                prop_assert!(!fault.sentence.is_empty());
            }
        }
    }

    #[test]
    fn any_letters_are_read_without_panic(house in houses(1), typed in "\\PC{0,300}") {
        if let Err(fault) = read_rule(&house.project(), &typed) {
            prop_assert!(typed.get(fault.at).is_some());
        }
    }

    #[test]
    fn any_words_are_read_without_panic(
        house in houses(1),
        words in proptest::collection::vec(select(WORDS.to_vec()), 0..80),
    ) {
        let typed = format!("When {}", words.concat());
        if let Err(fault) = read_rule(&house.project(), &typed) {
            prop_assert!(typed.get(fault.at).is_some());
        }
    }
}

#[test]
fn a_key_is_wired_to_a_point_or_to_a_zone() {
    let project = garden_flat();
    let (zone, found) = project.zones.iter().next().expect("the flat has zones");
    let plate = project
        .devices
        .iter()
        .find(|(_, device)| {
            let kind = project.kinds.get(device.kind);
            kind.is_some_and(|kind| kind.points.iter().any(|point| point.name == "key 1"))
        })
        .map(|(_, device)| device.tag.to_string())
        .expect("the flat has a plate");
    let text = format!("{plate} key 1 is wired to {}", found.name);
    let RuleBody::Wired { target, .. } = read_rule(&project, &text).expect(&text) else { panic!("{text}") };
    assert_eq!(target, Target::Zone(zone));
}
