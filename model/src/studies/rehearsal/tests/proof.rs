//! Rooms with one fault each, and what the search says of them: the fault, the shortest script, how far it went.

use std::sync::Arc;

use super::house::{House, after, date, hold_while, when, when_if};
use crate::calendar::{LocalClock, SummerTime};
use crate::id::Id;
use crate::studies::rehearsal::proof::{
    Budget, Fault, MOST_STEPS_OF_A_HOUSE, Options, RoomProof, Step, Wrong, fault_sentence, how_far,
    prove_house, prove_room, prove_rooms, reach_sentence, script_of,
};
use crate::studies::rehearsal::{EvenSky, Rehearsal, RuleBook, Setup, What};
use crate::systems::Value::{Number, Off, On};
use crate::systems::{Action, Condition, Deed, Gesture, Rule, RuleBody, Trigger};
use crate::units::TimeOfDay;

const KEY: (&str, &str) = ("plate", "key 1");
const LAMP: (&str, &str) = ("lamp", "level");
const EYE: (&str, &str) = ("eye", "motion");
const DOOR: (&str, &str) = ("door", "open");

const UK: LocalClock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };

/// A kitchen with a plate, a detector, a door contact and a lamp.
fn kitchen() -> House {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2"]);
    house.device("eye", &["state motion"]);
    house.device("door", &["state open"]);
    house.device("lamp", &["does number level"]);
    house.zone("Kitchen light", &[LAMP]);
    house
}

fn pressed(house: &House, actions: Vec<Action>) -> RuleBody {
    when(house.key(KEY, Gesture::Press), actions)
}

fn toggle(house: &House) -> Action {
    Action::new(Some(house.target(LAMP)), Deed::Toggle)
}

fn prove_within(house: &House, budget: Budget) -> RoomProof {
    let options = Options { date: date(2026, 6, 10), clock: UK, sky: Arc::new(EvenSky), budget };
    prove_room(&house.built.project, house.built.kitchen, &options)
}

fn prove(house: &House) -> RoomProof {
    let proof = prove_within(house, Budget::default());
    for fault in &proof.faults {
        let sentence = fault_sentence(&house.built.project, fault);
        assert!(sentence.ends_with('.') && !sentence.contains("missing"), "{sentence}");
    }
    proof
}

fn only_fault(proof: &RoomProof) -> &Fault {
    assert_eq!(proof.faults.len(), 1, "{:#?}", proof.faults);
    &proof.faults[0]
}

/// Plays a fault's script in a rehearsal of the whole house.
fn replay(house: &House, fault: &Fault) -> Rehearsal {
    let book = Arc::new(RuleBook::of(&house.built.project));
    let mut run = Rehearsal::start(book, &Setup::at(fault.start, UK, Arc::new(EvenSky))).unwrap();
    for step in &fault.script {
        let at = fault.start.after_ms(step.after_ms);
        run.run_until(at);
        if let Some(incoming) = step.step.incoming(run.book()) {
            run.come_in(at, incoming).unwrap();
        }
    }
    run
}

#[test]
fn a_room_without_faults_is_tried_whole_and_every_state_is_counted() {
    let mut house = kitchen();
    house.rule("Motion", hold_while(vec![house.is(EYE, On)], 0.0, vec![house.holding(LAMP, On, 0.0)], 0));
    house.rule("Key", pressed(&house, vec![toggle(&house)]));
    let proof = prove(&house);
    assert!(proof.faults.is_empty(), "{:#?}", proof.faults);
    // Motion or none, base on or off.
    assert_eq!((proof.reaches.len(), proof.reaches[0].states, proof.reaches[0].whole), (1, 4, true));
    assert_eq!((proof.two_state_inputs, proof.rules.len()), (1, 2));
    let said = reach_sentence(&house.built.project, &proof, UK);
    assert!(said.contains("all 4 states that can be reached were tried"), "{said}");
}

#[test]
fn a_linger_is_waited_out_and_adds_its_states() {
    let mut house = kitchen();
    house.rule("Motion", hold_while(vec![house.is(EYE, On)], 60.0, vec![house.holding(LAMP, On, 0.0)], 0));
    let proof = prove(&house);
    // Nothing yet; motion; lingering.
    assert_eq!((proof.reaches[0].states, proof.reaches[0].whole), (3, true));
    assert!(proof.faults.is_empty(), "{:#?}", proof.faults);
}

#[test]
fn a_loop_is_found_with_its_rules_and_its_script_shows_it() {
    let mut house = kitchen();
    let circle: Vec<Id<Rule>> = [(On, Off), (Off, On)]
        .into_iter()
        .map(|(from, to)| {
            let body = when(house.becomes(LAMP, from), vec![house.set(LAMP, to)]);
            house.rule("Circle", body)
        })
        .collect();
    house.rule("Key", pressed(&house, vec![house.set(LAMP, On)]));
    let proof = prove(&house);
    let fault = proof.faults.iter().find(|fault| fault.wrong == Wrong::Loop).expect("a loop");
    assert_eq!((&fault.rules, fault.script.len()), (&circle, 1));
    let run = replay(&house, fault);
    assert!(run.journal().entries().iter().any(|entry| entry.what == What::LoopStopped));
}

#[test]
fn rules_that_give_one_lamp_two_values_at_one_moment_disagree() {
    let mut house = kitchen();
    let open = vec![house.is(DOOR, On)];
    house.rule("Bright", pressed(&house, vec![house.set(LAMP, On)]));
    let body = when_if(house.key(KEY, Gesture::Press), open.clone(), vec![house.set(LAMP, Number(20.0))]);
    house.rule("Soft", body);
    // A second one under conditions that exclude each other is none.
    let shut = vec![Condition::Not(Box::new(open[0].clone()))];
    let body = when_if(house.key(KEY, Gesture::Hold), open, vec![house.set(LAMP, On)]);
    house.rule("Held open", body);
    let body = when_if(house.key(KEY, Gesture::Hold), shut, vec![house.set(LAMP, Off)]);
    house.rule("Held shut", body);
    let proof = prove(&house);
    let fault = only_fault(&proof);
    assert_eq!(fault.wrong, Wrong::Disagree(house.point(LAMP)));
    let steps: Vec<&Step> = fault.script.iter().map(|step| &step.step).collect();
    assert!(matches!(steps[..], [Step::Value(..), Step::Gesture(_, Gesture::Press)]), "{steps:?}");
}

#[test]
fn actions_that_waited_for_the_same_moment_may_disagree() {
    let mut house = kitchen();
    // Both wait until the same millisecond.
    house.rule("Late on", pressed(&house, vec![after(5.0, house.set(LAMP, On))]));
    house.rule("Late off", pressed(&house, vec![after(5.0, house.set(LAMP, Off))]));
    let proof = prove(&house);
    let fault = only_fault(&proof);
    assert_eq!(fault.wrong, Wrong::Disagree(house.point(LAMP)));
    assert_eq!(fault.script.last().map(|step| (step.after_ms, step.step.clone())), Some((5000, Step::Wait)));
}

#[test]
fn holds_of_equal_rank_that_meet_are_found_and_others_are_not() {
    for (rank, value, meets) in [(0, 20.0, true), (1, 20.0, false), (0, 100.0, false)] {
        let mut house = kitchen();
        house.rule("Motion", hold_while(vec![house.is(EYE, On)], 0.0, vec![house.holding(LAMP, On, 0.0)], 0));
        let body =
            hold_while(vec![house.is(DOOR, On)], 0.0, vec![house.holding(LAMP, Number(value), 0.0)], rank);
        house.rule("Door", body);
        let proof = prove(&house);
        let found: Vec<&Wrong> = proof.faults.iter().map(|fault| &fault.wrong).collect();
        let expected = Wrong::HoldsMeet(house.point(LAMP));
        assert_eq!(found, if meets { vec![&expected] } else { vec![] });
        assert!(proof.faults.iter().all(|fault| fault.script.len() == 2));
    }
}

#[test]
fn a_lamp_that_motion_lights_and_nothing_but_a_key_puts_out_is_left_lit() {
    let mut house = kitchen();
    house.rule("Motion", when(house.becomes(EYE, On), vec![house.set(LAMP, On)]));
    house.rule("Key", pressed(&house, vec![toggle(&house)]));
    let proof = prove(&house);
    let fault = only_fault(&proof);
    assert_eq!(fault.wrong, Wrong::LeftLit(house.point(LAMP)));
    assert_eq!(fault.script.len(), 2);
    assert!(
        replay(&house, fault)
            .seen(RuleBook::of(&house.built.project).number(&house.point(LAMP)).unwrap())
            .is_on()
    );
    // With a time after which it goes dark it is none.
    house.rule("Dark", when(house.becomes(EYE, Off), vec![after(60.0, house.set(LAMP, Off))]));
    assert!(prove(&house).faults.is_empty());
}

#[test]
fn a_lamp_that_nothing_makes_dark_is_found_unless_the_clock_does() {
    let mut house = kitchen();
    house.rule("Key", pressed(&house, vec![house.set(LAMP, On)]));
    let proof = prove(&house);
    let fault = only_fault(&proof);
    assert_eq!((&fault.wrong, fault.script.len()), (&Wrong::NeverDark(house.point(LAMP)), 1));
    let night = Trigger::Time(TimeOfDay { minutes: 1380 });
    house.rule("Night", when(night, vec![house.set(LAMP, Off)]));
    assert!(prove(&house).faults.is_empty());
}

#[test]
fn the_clock_stands_by_day_and_by_night_and_brings_the_times_of_rules() {
    let mut house = kitchen();
    let by_night = vec![house.is(EYE, On), Condition::Dark];
    house.rule("Motion", hold_while(by_night, 0.0, vec![house.holding(LAMP, On, 0.0)], 0));
    let evening = Trigger::Time(TimeOfDay { minutes: 1320 });
    house.rule("Late", when(evening.clone(), vec![house.set(LAMP, On)]));
    house.rule("Later", when(evening, vec![house.set(LAMP, Off)]));
    let proof = prove(&house);
    assert_eq!(proof.reaches.len(), 2);
    assert!(proof.reaches.iter().all(|reach| reach.whole));
    let fault = only_fault(&proof);
    assert_eq!(fault.wrong, Wrong::Disagree(house.point(LAMP)));
    assert!(matches!(fault.script[..], [ref step] if matches!(step.step, Step::TimeComes { .. })));
}

#[test]
fn a_search_that_stops_says_where_and_finds_the_same_each_time() {
    let mut house = kitchen();
    for at in [EYE, DOOR] {
        let body = hold_while(vec![house.is(at, On)], 30.0, vec![house.holding(LAMP, On, 0.0)], 0);
        house.rule("Hold", body);
    }
    house.rule("Key", pressed(&house, vec![toggle(&house), after(7.0, toggle(&house))]));
    let whole = prove(&house);
    assert!(whole.reaches[0].whole);
    let budget = Budget { most_steps: 60, most_states: 1000 };
    let stopped = prove_within(&house, budget);
    let reach = &stopped.reaches[0];
    assert!(!reach.whole && reach.steps <= 60 && reach.states < whole.reaches[0].states, "{reach:?}");
    assert!(reach.depth < whole.reaches[0].depth);
    let said = reach_sentence(&house.built.project, &stopped, UK);
    assert!(said.contains("stopped after"), "{said}");
    assert_eq!(prove_within(&house, budget), stopped);
}

#[test]
fn rooms_in_which_no_rule_works_are_passed_over() {
    let house = kitchen();
    let options = Options::of(&house.built.project, date(2026, 6, 10));
    assert!(prove_rooms(&house.built.project, &options).is_empty());
}

fn options() -> Options {
    Options { date: date(2026, 6, 10), clock: UK, sky: Arc::new(EvenSky), budget: Budget::default() }
}

#[test]
fn the_script_of_a_fault_can_be_played_in_the_house_and_shows_it() {
    let mut house = kitchen();
    let by_day = vec![house.is(EYE, On), Condition::Daylight];
    house.rule("Motion", when(house.becomes(EYE, On), vec![house.set(LAMP, On)]));
    let evening = Trigger::Time(TimeOfDay { minutes: 1320 });
    house.rule("Late", when(evening.clone(), vec![house.set(LAMP, On)]));
    house.rule("Later", when(evening, vec![house.set(LAMP, Off)]));
    house.rule("By day", hold_while(by_day, 0.0, vec![house.holding(LAMP, On, 0.0)], 0));
    let project = &house.built.project;
    let book = Arc::new(RuleBook::of(project));
    let proof = prove_house(project, &options(), MOST_STEPS_OF_A_HOUSE, || true);
    assert!(!proof.faults.is_empty());
    for fault in &proof.faults {
        let script = script_of(project, &book, fault, &options());
        let script = script.unwrap_or_else(|| panic!("{fault:#?}"));
        assert!(script.lines[0].starts_with("start 2026-06-1"), "{script:?}");
    }
    // A fault that was made up is shown by no script.
    let false_fault = Fault { wrong: Wrong::Loop, ..proof.faults[0].clone() };
    assert_eq!(script_of(project, &book, &false_fault, &options()), None);
}

#[test]
fn a_house_is_searched_room_by_room_within_its_budget_and_claims_no_more() {
    let mut house = kitchen();
    for at in [EYE, DOOR] {
        let body = hold_while(vec![house.is(at, On)], 30.0, vec![house.holding(LAMP, On, 0.0)], 0);
        house.rule("Hold", body);
    }
    let project = &house.built.project;
    let said = |most_steps, go_on: bool| {
        let proof = prove_house(project, &options(), most_steps, || go_on);
        how_far(project, &proof)
    };
    assert!(said(MOST_STEPS_OF_A_HOUSE, true).starts_with("1 of 1 rooms searched whole. "));
    let stopped = said(12, true);
    assert!(stopped.starts_with("0 of 1 rooms searched whole; Kitchen up to "), "{stopped}");
    let none = said(MOST_STEPS_OF_A_HOUSE, false);
    assert!(none.starts_with("0 of ") && none.contains("; not begun: "), "{none}");
    assert!(said(0, true).contains("; not begun: Kitchen"), "{}", said(0, true));
}
