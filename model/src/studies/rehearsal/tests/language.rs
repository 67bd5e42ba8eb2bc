//! The order within a moment, layers and ways, restarts, loops: the page, sentence by sentence.

use super::house::{House, after, by_hand, date, hold_while, when, when_if};
use crate::studies::rehearsal::{Has, Incoming, Refused, Showing, What};
use crate::systems::Value::{Number, Off, On};
use crate::systems::{Action, Condition, Deed, Gesture, HouseMode, Mode, Target, Trigger, Until};
use crate::units::{Seconds, TimeOfDay};

const KEY: (&str, &str) = ("plate", "key 1");
const LAMP: (&str, &str) = ("lamp", "level");

fn house() -> House {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2", "event key 3"]);
    house.device("eye", &["state motion"]);
    house.device("lamp", &["does number level"]);
    house.device("second", &["does number level"]);
    house
}

#[test]
fn two_rules_at_one_key_judge_before_either_acts() {
    let mut house = house();
    let pressed = house.key(KEY, Gesture::Press);
    let (on, off) = (house.set(LAMP, On), house.set(LAMP, Off));
    house.rule("On if off", when_if(pressed.clone(), vec![house.is(LAMP, Off)], vec![on]));
    house.rule("Off if on", when_if(pressed, vec![house.is(LAMP, On)], vec![off]));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    for (at, lit) in [(1.0, true), (2.0, false), (3.0, true)] {
        run.press(at, KEY, Gesture::Press);
        assert_eq!(run.is_on(at, LAMP), lit);
    }
}

#[test]
fn what_a_rule_changes_starts_others_in_the_next_round_of_the_same_moment() {
    let mut house = house();
    let pressed = house.key(KEY, Gesture::Press);
    let lit = house.becomes(LAMP, On);
    // The second rule comes first by id, and still follows.
    let follow = house.set(("second", "level"), Number(30.0));
    let second = house.rule("Follow", when(lit, vec![follow]));
    let first = house.rule("Key", when(pressed, vec![house.set(LAMP, On)]));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.press(1.0, KEY, Gesture::Press);
    assert_eq!(run.figure(1.0, ("second", "level")), 30.0);
    let chain = run.chain_of(("second", "level"));
    assert!(matches!(
        chain[..],
        [What::Changed { .. }, What::Started(by), What::Changed { .. }, What::Started(from), What::CameIn(_)]
            if by == second && from == first
    ));
}

#[test]
fn rules_that_go_round_in_a_circle_are_stopped_with_their_chain() {
    let mut house = house();
    for (from, to) in [(On, Off), (Off, On)] {
        let trigger = house.becomes(LAMP, from);
        house.rule("Circle", when(trigger, vec![house.set(LAMP, to)]));
    }
    let pressed = house.key(KEY, Gesture::Press);
    let toggle = Action::new(Some(house.target(LAMP)), Deed::Toggle);
    house.rule("Key", when(pressed, vec![toggle]));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.press(1.0, KEY, Gesture::Press);
    let journal = run.run.journal();
    let stopped = journal.entries().iter().position(|entry| entry.what == What::LoopStopped).unwrap();
    let chain = journal.chain(journal.number_at(stopped).unwrap());
    assert!(chain.len() > 30, "{}", chain.len());
    // The house goes on working afterwards.
    run.press(2.0, KEY, Gesture::Press);
    assert_eq!(run.count(|what| *what == What::LoopStopped), 2);
}

/// A hold that puts its own condition out goes round for ever; a restart works that off once, not twice.
#[test]
fn a_restart_is_one_moment_with_one_run_of_rounds() {
    let mut house = house();
    let dark = vec![house.is(LAMP, Off)];
    house.rule("Never dark", hold_while(dark, 0.0, vec![house.holding(LAMP, On, 0.0)], 0));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.comes(1.0, Incoming::HubRestarts);
    assert_eq!(run.count(|what| *what == What::LoopStopped), 2);
}

#[test]
fn the_higher_rank_shows_and_of_equal_ranks_the_later() {
    for (ranks, expected) in [((1, 2), 20.0), ((2, 1), 10.0), ((1, 1), 20.0)] {
        let mut house = house();
        house.device("a", &["state open"]);
        house.device("b", &["state open"]);
        let ten = vec![house.holding(LAMP, Number(10.0), 0.0)];
        let twenty = vec![house.holding(LAMP, Number(20.0), 0.0)];
        house.rule("A", hold_while(vec![house.is(("a", "open"), On)], 0.0, ten, ranks.0));
        house.rule("B", hold_while(vec![house.is(("b", "open"), On)], 0.0, twenty, ranks.1));
        let mut run = house.run(date(2026, 6, 10), "12:00");
        run.report(1.0, ("a", "open"), On);
        run.report(2.0, ("b", "open"), On);
        assert_eq!(run.figure(2.0, LAMP), expected, "{ranks:?}");
        run.report(3.0, ("a", "open"), Off);
        run.report(4.0, ("a", "open"), On);
        let again = if ranks.0 == ranks.1 { 10.0 } else { expected };
        assert_eq!(run.figure(4.0, LAMP), again, "{ranks:?}: the one that began later");
        run.report(5.0, ("a", "open"), Off);
        run.report(6.0, ("b", "open"), Off);
        assert_eq!(run.figure(6.0, LAMP), 0.0);
    }
}

#[test]
fn a_fade_is_retargeted_from_the_value_as_it_is_and_a_hold_goes_as_it_came() {
    let mut house = house();
    let pressed = house.key(KEY, Gesture::Press);
    let slow = |house: &House, to, seconds| Action { fade: Seconds(seconds), ..house.set(LAMP, Number(to)) };
    house.rule("Up", when(pressed, vec![slow(&house, 100.0, 10.0)]));
    let twice = house.key(KEY, Gesture::PressTwice);
    house.rule("Down", when(twice, vec![slow(&house, 0.0, 4.0)]));
    let lit = vec![house.holding(LAMP, Number(60.0), 2.0)];
    house.rule("Hold", hold_while(vec![house.is(("eye", "motion"), On)], 0.0, lit, 1));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.press(0.0, KEY, Gesture::Press);
    assert_eq!(run.figure(5.0, LAMP), 50.0);
    run.press(5.0, KEY, Gesture::PressTwice);
    assert_eq!((run.figure(6.0, LAMP), run.figure(9.0, LAMP)), (37.5, 0.0));
    run.report(20.0, ("eye", "motion"), On);
    assert_eq!((run.figure(21.0, LAMP), run.figure(22.0, LAMP)), (30.0, 60.0));
    // The base goes on changing beneath, and is there as it is by then.
    run.press(23.0, KEY, Gesture::Press);
    assert_eq!(run.figure(23.0, LAMP), 60.0);
    run.report(24.0, ("eye", "motion"), Off);
    assert_eq!((run.figure(25.0, LAMP), run.figure(26.0, LAMP)), (80.0, 100.0));
}

#[test]
fn toggles_steps_and_cycles_read_what_they_give() {
    let mut house = house();
    let zone = house.zone("Both", &[LAMP, ("second", "level")]);
    let target = || Some(Target::Zone(zone));
    for (key, deed) in [
        ("key 1", Deed::Toggle),
        ("key 2", Deed::Step(30)),
        ("key 3", Deed::Cycle(vec![Number(20.0), Number(60.0), Off])),
    ] {
        let pressed = house.key(("plate", key), Gesture::Press);
        house.rule(key, when(pressed, vec![Action::new(target(), deed)]));
    }
    let mut run = house.run(date(2026, 6, 10), "12:00");
    let mut after_key = |at: f64, key: &'static str| {
        run.press(at, ("plate", key), Gesture::Press);
        (run.figure(at, LAMP), run.figure(at, ("second", "level")))
    };
    for (at, key, expected) in [
        (1.0, "key 2", 30.0),
        (2.0, "key 1", 0.0),
        (3.0, "key 1", 100.0),
        (4.0, "key 2", 100.0),
        (5.0, "key 3", 20.0),
        (6.0, "key 3", 60.0),
        (7.0, "key 3", 0.0),
        (8.0, "key 3", 20.0),
    ] {
        assert_eq!(after_key(at, key), (expected, expected), "{at}");
    }
    run.report(9.0, LAMP, Number(0.0));
    run.press(10.0, KEY, Gesture::Press);
    assert_eq!((run.figure(10.0, LAMP), run.figure(10.0, ("second", "level"))), (0.0, 0.0));
}

#[test]
fn what_stays_so_starts_once_and_a_break_counts_anew() {
    let mut house = house();
    let condition = house.is(("eye", "motion"), Off);
    let trigger = Trigger::Stays { condition, lasting: Seconds(60.0) };
    house.rule("Empty", when(trigger, vec![house.set(LAMP, Off)]));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.report(0.5, LAMP, On);
    run.report(30.0, ("eye", "motion"), On);
    run.report(40.0, ("eye", "motion"), Off);
    run.report(99.0, ("eye", "motion"), On);
    run.report(99.5, ("eye", "motion"), Off);
    assert!(run.is_on(159.499, LAMP));
    assert!(!run.is_on(159.5, LAMP));
    run.shown(10_000.0, LAMP);
    assert_eq!(run.count(|what| matches!(what, What::Started(_))), 1);
}

#[test]
fn modes_are_entered_once_and_a_second_entry_into_the_same_starts_nothing() {
    let mut house = house();
    let night = HouseMode::Named(house.built.put(Mode { name: "Night".to_owned() }));
    for (key, mode) in [("key 1", night), ("key 2", HouseMode::AtHome)] {
        let pressed = house.key(("plate", key), Gesture::Press);
        house.rule(key, when(pressed, vec![Action::new(None, Deed::EnterMode(mode))]));
    }
    let step = Action::new(Some(house.target(LAMP)), Deed::Step(10));
    house.rule("Entered", when(Trigger::ModeEntered(night), vec![step]));
    let lit = vec![house.holding(("second", "level"), Number(5.0), 0.0)];
    house.rule("At night", hold_while(vec![Condition::Mode(night)], 0.0, lit, 1));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.press(1.0, KEY, Gesture::Press);
    run.press(2.0, KEY, Gesture::Press);
    assert_eq!((run.figure(2.0, LAMP), run.figure(2.0, ("second", "level"))), (10.0, 5.0));
    run.press(3.0, ("plate", "key 2"), Gesture::Press);
    assert_eq!(run.figure(3.0, ("second", "level")), 0.0);
    run.comes(4.0, Incoming::Mode(night));
    assert_eq!((run.figure(4.0, LAMP), run.figure(4.0, ("second", "level"))), (20.0, 5.0));
}

#[test]
fn a_restart_keeps_base_and_mode_and_loses_what_waits_lingers_and_is_by_hand() {
    let mut house = house();
    house.device("third", &["does number level"]);
    house.device("door", &["state open"]);
    let pressed = house.key(KEY, Gesture::Press);
    let by_hand = by_hand(Until::Released, house.set(("second", "level"), Number(44.0)));
    let late = after(60.0, house.set(("third", "level"), On));
    house.rule("Key", when(pressed, vec![house.set(LAMP, Number(33.0)), by_hand, late]));
    let lit = vec![house.holding(("second", "level"), Number(80.0), 0.0)];
    house.rule("Motion", hold_while(vec![house.is(("eye", "motion"), On)], 300.0, lit, 1));
    let door = vec![house.holding(LAMP, Number(99.0), 0.0)];
    let door_rule = house.rule("Door", hold_while(vec![house.is(("door", "open"), On)], 0.0, door, 1));
    let mut run = house.run(date(2026, 6, 10), "12:00");
    run.report(0.0, ("eye", "motion"), On);
    run.report(1.0, ("eye", "motion"), Off);
    run.press(2.0, KEY, Gesture::Press);
    assert_eq!(run.figure(2.0, ("second", "level")), 44.0);
    run.comes(10.0, Incoming::HubStops);
    assert_eq!(run.figure(11.0, ("second", "level")), 44.0, "what shows stays");
    run.report(12.0, ("door", "open"), On);
    assert_eq!(run.figure(12.0, LAMP), 33.0, "nothing runs");
    run.comes(20.0, Incoming::HubStarts);
    assert_eq!(run.figure(20.0, ("second", "level")), 0.0, "neither hand nor lingering hold");
    assert_eq!(run.figure(20.0, LAMP), 99.0, "the door is found open");
    assert_eq!(run.run.showing(run.number(LAMP)), Showing::Held(door_rule));
    assert_eq!(run.run.base(run.number(LAMP)), Has::Number(33.0));
    assert_eq!(run.figure(500.0, ("third", "level")), 0.0, "what waited is lost");
}

#[test]
fn a_hand_ends_at_its_time_its_event_or_its_hour() {
    let until_of: [(Until, f64); 3] = [
        (Until::For(Seconds(90.0)), 91.0),
        (Until::Time(TimeOfDay { minutes: 12 * 60 + 10 }), 600.0),
        (Until::Event { point: house().point(("plate", "key 2")), gesture: Gesture::Hold }, 50.0),
    ];
    for (until, ends) in until_of {
        let mut house = house();
        let pressed = house.key(KEY, Gesture::Press);
        let on = by_hand(until.clone(), house.set(LAMP, On));
        house.rule("Hand", when(pressed, vec![on]));
        let mut run = house.run(date(2026, 6, 10), "12:00");
        run.press(1.0, KEY, Gesture::Press);
        run.press(49.0, ("plate", "key 2"), Gesture::Press);
        assert!(run.is_on(49.999, LAMP), "{until:?}");
        run.press(50.0, ("plate", "key 2"), Gesture::Hold);
        assert_eq!(run.is_on(ends - 0.001, LAMP), ends != 50.0, "{until:?}");
        assert!(!run.is_on(ends, LAMP), "{until:?}");
    }
}

#[test]
fn what_cannot_be_is_refused_and_nothing_has_happened() {
    let house = house();
    let mut run = house.run(date(2026, 6, 10), "12:00");
    let (lamp, key) = (run.number(LAMP), run.number(KEY));
    let value = |point, value| Incoming::Value { point, value };
    run.report(10.0, LAMP, On);
    let entries = run.run.journal().entries().len();
    for (at, what, refused) in [
        (9.0, value(lamp, Off), Refused::Past),
        (11.0, value(lamp, Number(f64::NAN)), Refused::WrongValue),
        (11.0, value(lamp, crate::systems::Value::Colour([1, 2, 3])), Refused::WrongValue),
        (11.0, value(key, On), Refused::WrongValue),
        (11.0, value(crate::studies::rehearsal::PointNumber(999), On), Refused::Unknown),
    ] {
        assert_eq!(run.run.come_in(run.moment(at), what), Err(refused));
    }
    assert_eq!(run.run.journal().entries().len(), entries);
    assert_eq!(run.figure(11.0, LAMP), 100.0);
}
