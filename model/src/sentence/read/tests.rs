//! Texts as people type them, and the faults of those that are no rule. That every rule reads back is held in
//! `tests/tests/rules_typed.rs`.

use super::read_rule;
use crate::project::Project;
use crate::sentence::sentence_text;
use crate::small_house::small_house;
use crate::systems::{Mode, Rule, RuleBody, Scene};

fn house() -> Project {
    let mut house = small_house();
    house.put(Mode { name: "Night".to_owned() });
    house.put(Scene { name: "Film".to_owned(), room: None, settings: Vec::new() });
    house.project
}

fn said(project: &Project, body: RuleBody) -> String {
    let rule = Rule { name: "R".to_owned(), room: None, enabled: true, comment: String::new(), body };
    sentence_text(project, &rule)
}

#[test]
fn what_people_type_is_taken_as_they_type_it() {
    let house = house();
    for (typed, meant) in [
        (
            "when pl-01 KEY 1 is pressed : turn kitchen ceiling on",
            "When PL-01 key 1 is pressed: turn Kitchen ceiling lights on.",
        ),
        (
            "  When PL-01 key 1 is pressed twice:\n  turn Kitchen ceiling lights on;turn Kitchen ceiling lights off. ",
            "When PL-01 key 1 is pressed twice: turn Kitchen ceiling lights on; then turn Kitchen ceiling lights \
             off.",
        ),
        (
            "When it is 7:05, if it is Monday to Friday and the house mode is \"night\": run the scene \"film\".",
            "When it is 07:05, if it is Monday to Friday and the house mode is “Night”: run the scene “Film”.",
        ),
        (
            "While it is dark outside, and for 1,5 min after that: hold Kitchen ceiling at 20%.",
            "While it is dark outside, and for 90 s after that: hold Kitchen ceiling lights at 20 %.",
        ),
        (
            "PL-01 key 1 is wired to Kitchen ceiling",
            "PL-01 key 1 is wired to Kitchen ceiling lights: one press turns it on or off, with the hub or without.",
        ),
        (
            "When the sun sets: send the message \"Good evening.\"",
            "When the sun sets: send the message “Good evening.”",
        ),
        (
            "When it is 20 min until the sun rises, if it is Friday to Monday: set the house mode to at home",
            "When it is 20 min until the sun rises, if it is Monday, Friday, Saturday or Sunday: set the house mode \
             to “At home”.",
        ),
    ] {
        let read = read_rule(&house, typed).unwrap_or_else(|fault| panic!("{typed}: {fault:?}"));
        assert_eq!(said(&house, read), meant);
    }
}

#[test]
fn a_fault_points_at_its_word_and_says_what_would_do() {
    let house = house();
    for (typed, at_fault, says) in [
        (
            "When PL-01 kye 1 is pressed: turn Kitchen ceiling lights on.",
            "PL-01 kye 1",
            "no point is called “PL-01 kye 1”: did you mean “PL-01 key 1”?",
        ),
        (
            "When PL-10 key 1 is pressed: turn Kitchen ceiling on.",
            "PL-10 key 1",
            "did you mean “PL-01 key 1”?",
        ),
        ("When PL-01 key 1 is presed: turn Kitchen ceiling on.", "presed", "did you mean “pressed”?"),
        ("Wenn PL-01 key 1 is pressed", "Wenn", "did you mean “when”?"),
        (
            "When PL-01 key 1 is pressed: turn Kichen ceiling on.",
            "Kichen ceiling",
            "no zone is called “Kichen ceiling”: did you mean “Kitchen ceiling”?",
        ),
        (
            "When PL-01 key 1 is pressed: turn Kitchen ceiling lights sideways.",
            "sideways",
            "is not understood here",
        ),
        ("When PL-01 key 1 is pressed: ", "", "the rule ends too early"),
        ("When it is 25:00: run the scene “Film”.", "25:00", "a time of day such as 22:30"),
        ("When it is 22:00: run the scene “Flim”.", "“Flim”", "did you mean “““Film”””?"),
        ("When the house mode becomes “Nihgt”: run the scene “Film”.", "“Nihgt”", "no house mode is called"),
        ("When it is 22:00: run the scene “Film", "", "the closing quotation mark"),
        ("When it is 22:00: turn Kitchen ceiling on over 5 parsecs.", "parsecs", "“s”, “min” or “h”"),
        ("", "", "the rule ends too early"),
    ] {
        let fault = read_rule(&house, typed).expect_err(typed);
        assert_eq!(&typed[fault.at.clone()], at_fault, "{typed}: {fault:?}");
        assert!(fault.sentence.contains(&says.replace("““", "“").replace("””", "”")), "{typed}: {fault:?}");
    }
}

#[test]
fn conditions_within_conditions_end_somewhere() {
    let house = house();
    for words in ["it is not so that ", "either ", "(", "either never or "] {
        let typed = format!("While {}never: nothing yet.", words.repeat(1000));
        read_rule(&house, &typed).expect_err(words);
    }
    let long = format!("While never: {}", "nothing yet ".repeat(10_000));
    assert!(read_rule(&house, &long).unwrap_err().sentence.contains("write several"));
}
