//! Rules in the window: edited as their sentence, typed, and tried in every order, by accessible name and by key.

mod window_hand;
mod window_house;

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use pattress::window::Board;
use pattress::window::intent::{Intent, Viewing};
use pattress_model::systems::{RuleBody, Trigger};

use egui::Key;
use egui::Role;

use window_hand::{click, do_it, kitchen, type_in, window};

#[test]
fn a_trigger_is_picked_from_what_is_on_the_plan() {
    let mut harness = kitchen();
    click(&mut harness, "Edit rule Kitchen light");
    click(&mut harness, "What happens: Kitchen · PL-01 key 1");
    harness.get_by_role_and_label(Role::TextInput, "Search what to pick").type_text("key 3");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let session = harness.state().session();
    let rule = session.project().rules.iter().next().unwrap().1;
    let RuleBody::When { trigger: Trigger::Event { point, .. }, .. } = &rule.body else { panic!("{rule:?}") };
    assert_eq!(point.point, "key 3");
    assert_eq!(session.history().labels().count(), 1, "one pick is one change");
    click(&mut harness, "How: is pressed");
    click(&mut harness, "is held");
    let rule = harness.state().session().project().rules.iter().next().unwrap().1.clone();
    let RuleBody::When { trigger: Trigger::Event { gesture, .. }, .. } = rule.body else { panic!() };
    assert_eq!(gesture, pattress_model::systems::Gesture::Hold);
}

fn only_rule(harness: &Harness<'static, Board>) -> pattress_model::systems::Rule {
    harness.state().session().project().rules.iter().next().unwrap().1.clone()
}

fn sentence_of(harness: &Harness<'static, Board>) -> String {
    let rule = only_rule(harness);
    pattress_model::sentence::sentence_text(harness.state().session().project(), &rule)
}

#[test]
fn a_word_of_the_sentence_opens_the_list_of_what_could_stand_there() {
    let mut harness = kitchen();
    click(&mut harness, "Edit rule Kitchen light");
    click(&mut harness, "Instead of PL-01 key 1");
    harness.get_by_role_and_label(Role::TextInput, "Search what to pick").type_text("key 4");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    assert!(sentence_of(&harness).starts_with("When PL-01 key 4 is pressed: "), "{}", sentence_of(&harness));
    assert_eq!(harness.state().session().history().labels().count(), 1, "one pick is one change");
    // Any other word chooses the part that is worked on.
    click(&mut harness, "Instead of Kitchen ceiling");
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label_contains("Deed: ");
    click(&mut harness, "Work on “is pressed”");
    harness.get_by_label("How: is pressed");
}

#[test]
fn every_part_of_a_rule_is_added_and_taken_away() {
    let mut harness = kitchen();
    click(&mut harness, "Edit rule Kitchen light");
    click(&mut harness, "Add a condition: Add a condition");
    click(&mut harness, "it is one of these days");
    click(&mut harness, "Saturday");
    assert!(sentence_of(&harness).contains(", if it is Monday to Saturday: "), "{}", sentence_of(&harness));
    click(&mut harness, "Condition: it is one of these days");
    click(&mut harness, "it is not so that");
    assert!(sentence_of(&harness).contains("if it is not so that it is Monday"), "{}", sentence_of(&harness));
    click(&mut harness, "Remove condition 1");
    assert!(!sentence_of(&harness).contains(", if "));
    click(&mut harness, "Add an action");
    click(&mut harness, "By hand: beneath what rules hold");
    click(&mut harness, "by hand for a time");
    assert!(sentence_of(&harness).contains("; then set Kitchen ceiling"), "{}", sentence_of(&harness));
    assert!(sentence_of(&harness).contains(" by hand for 2 h."), "{}", sentence_of(&harness));
    click(&mut harness, "Move action 2 earlier");
    click(&mut harness, "Remove action 1");
    assert!(!sentence_of(&harness).contains(" by hand"), "{}", sentence_of(&harness));
    click(&mut harness, "A wired key");
    assert!(sentence_of(&harness).contains("PL-01 key 1 is wired to Kitchen ceiling"));
    click(&mut harness, "While something holds");
    click(&mut harness, "Time after, rank and hand");
    type_in(&mut harness, "Rank", "7");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(sentence_of(&harness).ends_with(" (rank 7)."), "{}", sentence_of(&harness));
}

#[test]
fn a_rule_is_typed_and_taken_once_it_reads() {
    let mut harness = kitchen();
    click(&mut harness, "Edit rule Kitchen light");
    click(&mut harness, "Type it");
    let field = |harness: &mut Harness<'static, Board>, text: &str| {
        harness.get_by_role_and_label(Role::MultilineTextInput, "The rule as a sentence").focus();
        harness.run();
        harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
        harness.run();
        harness.get_by_role_and_label(Role::MultilineTextInput, "The rule as a sentence").type_text(text);
        harness.run();
    };
    field(&mut harness, "When PL-01 kye 2 is held: turn Kitchen ceiling lights off.");
    harness.get_by_label("no point is called “PL-01 kye 2”: did you mean “PL-01 key 2”?");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(sentence_of(&harness).contains("key 1"), "what does not read is not taken");
    field(&mut harness, "when pl-01 key 2 is held: turn kitchen ceiling off after all");
    field(&mut harness, "when pl-01 key 2 is held: turn kitchen ceiling off");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(sentence_of(&harness).starts_with("When PL-01 key 2 is held: turn Kitchen ceiling"));
    harness.get_by_label("Instead of PL-01 key 2");
    assert_eq!(harness.state().session().history().labels().count(), 1);
}

#[test]
fn a_new_rule_is_typed() {
    let mut harness = kitchen();
    click(&mut harness, "New rule");
    click(&mut harness, "Type it");
    harness
        .get_by_role_and_label(Role::MultilineTextInput, "The rule as a sentence")
        .type_text("When the sun sets: turn Kitchen ceiling on.");
    harness.run();
    click(&mut harness, "Make it");
    let project = harness.state().session().project().clone();
    assert_eq!(project.rules.len(), 2);
    harness.get_by_role_and_label(Role::TextInput, "Name of the rule");
}

#[test]
fn a_fault_found_by_trying_the_rules_is_shown_on_the_plan() {
    use pattress_model::systems::{Deed, Value};
    let mut project = window_house::kitchen();
    let (_, first) = project.rules.iter().next().map(|(id, rule)| (id, rule.clone())).unwrap();
    // The same key puts out what the other rule turns over.
    let mut other = first;
    other.name = "All dark".to_owned();
    let RuleBody::When { actions, .. } = &mut other.body else { panic!() };
    actions[0].deed = Deed::Set(Value::Off);
    let mut third = other.clone();
    third.name = "All bright".to_owned();
    let RuleBody::When { actions, .. } = &mut third.body else { panic!() };
    actions[0].deed = Deed::Set(Value::On);
    for rule in [other, third] {
        let change = pattress_model::edit::verbs::add_rule(&project, rule).unwrap();
        pattress_model::edit::History::default().apply(&mut project, change).unwrap();
    }
    let mut harness = window(Board::for_tests(project));
    do_it(&mut harness, Intent::View(Viewing::Findings));
    assert!(harness.query_by_label_contains("Rules tried in every order: ").is_some());
    let shown = harness.get_all_by_label_contains("Show it: ").next().unwrap();
    shown.click_accesskit();
    harness.run();
    assert!(!harness.state().said().refused, "{:?}", harness.state().said());
    assert!(harness.state().live().is_some(), "the rules are not played");
}

#[test]
fn a_scene_and_a_mode_are_made_and_a_rule_runs_and_enters_them() {
    let mut harness = kitchen();
    let zones = harness.state().session().project().zones.len();
    click(&mut harness, &format!("Zones {zones}"));
    harness.get_by_label("New mode").click_accesskit();
    harness.run();
    type_in(&mut harness, "Name of the mode Mode 1", "Night");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(harness.state().session().project().modes.iter().next().unwrap().1.name, "Night");
    harness.get_by_label("New scene").click_accesskit();
    harness.run();
    type_in(&mut harness, "Name of the scene", "Film");
    harness.key_press(Key::Enter);
    harness.run();
    click(&mut harness, "Add a setting");
    click(&mut harness, "Value: a figure");
    harness.get_by_role_and_label(Role::Button, "off").click();
    harness.run();
    let project = harness.state().session().project().clone();
    let (_, scene) = project.scenes.iter().next().unwrap();
    let words: String = pattress_model::sentence::scene_sentence(&project, scene)
        .into_iter()
        .map(|phrase| phrase.words)
        .collect();
    assert_eq!(words, "The scene “Film”: switch Kitchen ceiling lights off.");
    click(&mut harness, "Done");
    click(&mut harness, "Rules 1");
    click(&mut harness, "Edit rule Kitchen light");
    click(&mut harness, "Add an action");
    click(&mut harness, "Deed: set");
    click(&mut harness, "run a scene");
    assert!(sentence_of(&harness).ends_with("; then run the scene “Film”."), "{}", sentence_of(&harness));
    click(&mut harness, "Add an action");
    assert!(sentence_of(&harness).contains("; then set Kitchen"), "{}", sentence_of(&harness));
    click(&mut harness, "Deed: set");
    click(&mut harness, "set the house mode");
    click(&mut harness, "House mode: At home");
    click(&mut harness, "Night");
    let said = sentence_of(&harness);
    assert!(said.ends_with("; run the scene “Film”; then set the house mode to “Night”."), "{said}");
}

#[test]
fn templates_start_from_what_the_room_has_and_say_what_is_missing() {
    for (name, begins) in [
        ("Light on motion", "While "),
        ("Film", "When PL-01 key 1 is pressed: set Kitchen ceiling lights to 20 % over 3 s"),
        ("Film ends", "When PL-01 key 1 is pressed twice: turn Kitchen ceiling lights off over 3 s"),
        (
            "Key goes round",
            "When PL-01 key 1 is pressed: turn Kitchen ceiling lights to the next of 100 %, 20 % and off",
        ),
        ("Wired key", "PL-01 key 1 is wired to Kitchen ceiling lights"),
        (
            "Wake",
            "When it is 07:00, if it is Monday to Friday: set Kitchen ceiling lights to 60 % over 20 min",
        ),
        ("Goodnight", "When PL-01 key 1 is pressed: turn Kitchen ceiling lights off over 5 s"),
    ] {
        let mut harness = kitchen();
        do_it(&mut harness, Intent::Open(pattress::window::intent::Overlay::NewRule));
        harness.get_by_role_and_label(Role::Button, name).click_accesskit();
        harness.run();
        let project = harness.state().session().project().clone();
        let (_, rule) = project.rules.iter().next_back().unwrap();
        let said = pattress_model::sentence::sentence_text(&project, rule);
        assert!(said.starts_with(begins), "{name}: {said}");
        let read = pattress_model::sentence::read::read_rule(&project, &said);
        assert_eq!(read.as_ref(), Ok(&rule.body), "{name}: {said}");
    }
    let mut harness = kitchen();
    do_it(&mut harness, Intent::Open(pattress::window::intent::Overlay::NewRule));
    for lacking in ["no bell push", "no door station that sees who comes", "no contact at a door"] {
        assert!(harness.query_by_label_contains(lacking).is_some(), "{lacking}");
    }
}
