//! Recordings: wound back and forth, told in words, written down as a script.

use std::sync::Arc;

use proptest::prelude::*;

use super::super::script::{Walks, World, play, read_script, written};
use super::super::telling;
use super::super::{Advanced, EvenSky, Has, Incoming, PointNumber, Recording, RuleBook, Setup, What};
use super::house::{At, House, after, hold_while, when};
use crate::calendar::{Date, Local, LocalClock, SummerTime, UtcTime};
use crate::systems::Value::{self, Number, Off, On};
use crate::systems::{Action, Deed, Gesture, PointRef};

/// Plate, lamp, eye, hall lamp and blind: `DEV-01` to `DEV-05`. The key lights the lamp over 4 s, sends a message and
/// shuts the blind a minute later; movement holds the hall lamp.
fn house() -> House {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2"]);
    house.device("lamp", &["does number level"]);
    house.device("eye", &["state motion"]);
    house.device("hall", &["does number level"]);
    house.device("blind", &["does number position"]);
    let pressed = house.key(("plate", "key 1"), Gesture::Press);
    let lit = Action { fade: crate::units::Seconds(4.0), ..house.set(("lamp", "level"), Number(40.0)) };
    let tell = Action::new(None, Deed::notify("Film begins."));
    let shut = after(60.0, house.set(("blind", "position"), Number(30.0)));
    house.rule("Film", when(pressed, vec![lit, tell, shut]));
    let motion = vec![house.is(("eye", "motion"), On)];
    let held = vec![house.holding(("hall", "level"), Number(70.0), 0.0)];
    house.rule("Hall by motion", hold_while(motion, 30.0, held, 1));
    // The blind goes half-way.
    let pressed = house.key(("plate", "key 2"), Gesture::Press);
    let on = house.set(("blind", "position"), Number(50.0));
    house.rule("Half", when(pressed, vec![on]));
    house
}

fn recording(house: &House) -> Recording {
    let clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };
    let start =
        clock.when(Local::at(Date::new(2026, 1, 15).unwrap(), super::house::time("20:00"))).earliest();
    let book = Arc::new(RuleBook::of(&house.built.project));
    Recording::start(book, Setup::at(start, clock, Arc::new(EvenSky))).unwrap()
}

fn number(recording: &Recording, house: &House, at: At) -> PointNumber {
    let point: PointRef = house.point(at);
    recording.run().book().number(&point).unwrap()
}

fn at(recording: &Recording, seconds: i64) -> UtcTime {
    recording.setup().start.after_ms(seconds * 1000)
}

fn pass(recording: &mut Recording, seconds: i64) {
    let until = at(recording, seconds);
    assert_eq!(recording.advance(until, usize::MAX, |_| false), Advanced::There);
}

fn press(recording: &mut Recording, house: &House, key: &'static str) {
    let point = number(recording, house, ("plate", key));
    recording.come_in(Incoming::Gesture { point, gesture: Gesture::Press }).unwrap();
}

fn sees(recording: &mut Recording, house: &House, value: Value) {
    let point = number(recording, house, ("eye", "motion"));
    recording.come_in(Incoming::Value { point, value }).unwrap();
}

fn shown(recording: &Recording, house: &House, at: At) -> Has {
    recording.run().shown(number(recording, house, at))
}

#[test]
fn a_recording_is_wound_back_and_plays_again_as_it_was() {
    let house = house();
    let mut reel = recording(&house);
    pass(&mut reel, 10);
    press(&mut reel, &house, "key 1");
    pass(&mut reel, 12);
    assert_eq!(shown(&reel, &house, ("lamp", "level")), Has::Number(20.0), "half-way through its fade");
    pass(&mut reel, 200);
    assert_eq!(shown(&reel, &house, ("blind", "position")), Has::Number(30.0));
    let told = reel.told().to_vec();
    assert!(reel.step_back(), "before the blind");
    assert_eq!(shown(&reel, &house, ("blind", "position")), Has::Number(0.0));
    assert_eq!(reel.run().now(), at(&reel, 70).after_ms(-1));
    assert!(reel.step_back(), "before the key");
    assert_eq!(shown(&reel, &house, ("lamp", "level")), Has::Number(0.0));
    assert!(!reel.step_back(), "the beginning");
    assert_eq!(reel.told(), told, "what is known stays known");
    assert!(matches!(reel.step_forward(at(&reel, 500), 1000), Advanced::Stopped(_)), "the key again");
    assert_eq!(reel.run().now(), at(&reel, 10));
    assert!(matches!(reel.step_forward(at(&reel, 500), 1000), Advanced::Stopped(_)), "the lamp arrives");
    assert_eq!(shown(&reel, &house, ("lamp", "level")), Has::Number(40.0));
    pass(&mut reel, 200);
    assert_eq!(shown(&reel, &house, ("blind", "position")), Has::Number(30.0));
    assert_eq!(reel.told(), told);
    // To a moment, and to an entry.
    reel.go_to_time(at(&reel, 13), usize::MAX);
    assert_eq!(shown(&reel, &house, ("lamp", "level")), Has::Number(30.0));
    let blind = told.iter().position(|entry| matches!(entry.what, What::Waited { .. })).unwrap();
    reel.go_to(blind);
    assert_eq!(reel.run().now(), at(&reel, 70));
    assert_eq!(reel.happened(), told.len());
}

#[test]
fn what_is_done_in_the_past_takes_the_place_of_what_came_after() {
    let house = house();
    let mut reel = recording(&house);
    pass(&mut reel, 10);
    press(&mut reel, &house, "key 1");
    pass(&mut reel, 100);
    reel.go_to_time(at(&reel, 5), usize::MAX);
    assert!(reel.lies_ahead());
    press(&mut reel, &house, "key 2");
    assert!(!reel.lies_ahead());
    assert_eq!(reel.came().len(), 1);
    pass(&mut reel, 200);
    assert_eq!(shown(&reel, &house, ("lamp", "level")), Has::Number(0.0), "key 1 was never pressed");
    assert_eq!(shown(&reel, &house, ("blind", "position")), Has::Number(50.0));
}

#[test]
fn it_stops_at_what_it_is_told_to_stop_at() {
    let house = house();
    let mut reel = recording(&house);
    press(&mut reel, &house, "key 1");
    let waited = |entry: &super::super::Entry| matches!(entry.what, What::Waited { .. });
    let Advanced::Stopped(entry) = reel.advance(at(&reel, 5000), usize::MAX, waited) else {
        panic!("ran on")
    };
    assert_eq!(reel.run().now(), at(&reel, 60));
    let words = telling::in_words(&house.built.project, &reel, entry);
    assert_eq!(words, "What “Film” had waited to do is done: set DEV-05 to 30 % open");
    assert_eq!(reel.advance(at(&reel, 70), 0, |_| false), Advanced::NotYet);
}

#[test]
fn every_change_is_told_with_its_chain() {
    let house = house();
    let project = &house.built.project;
    let mut reel = recording(&house);
    pass(&mut reel, 10);
    sees(&mut reel, &house, On);
    let told = |reel: &Recording| -> Vec<String> {
        (0..reel.told().len()).map(|entry| telling::in_words(project, reel, entry)).collect()
    };
    let change = reel
        .told()
        .iter()
        .position(
            |entry| matches!(entry.what, What::Changed { to: Has::Number(figure), .. } if figure == 70.0),
        )
        .unwrap();
    let chain: Vec<String> =
        reel.chain(change).into_iter().map(|entry| telling::in_words(project, &reel, entry)).collect();
    assert_eq!(chain.first().map(String::as_str), Some("DEV-04 goes to 70 %"));
    assert!(chain.contains(&"“Hall by motion” begins to hold".to_owned()), "{chain:?}");
    assert_eq!(chain.last().map(String::as_str), Some("DEV-03 senses movement"));
    assert_eq!(
        telling::by_rule(&reel, change).map(|rule| project.rules.get(rule).unwrap().name.as_str()),
        Some("Hall by motion")
    );
    press(&mut reel, &house, "key 1");
    let all = told(&reel);
    for words in ["DEV-01 key 1 is pressed", "The message is sent: “Film begins.”", "DEV-02 goes to 40 %"]
    {
        assert!(all.contains(&words.to_owned()), "{words} in {all:?}");
    }
    let waiting = telling::waiting_phrases(project, &reel);
    assert_eq!(waiting.len(), 1);
    assert_eq!(waiting[0].0, at(&reel, 70));
}

#[test]
fn what_was_done_is_written_down_as_a_script_that_passes() {
    let house = house();
    let project = &house.built.project;
    let mut reel = recording(&house);
    pass(&mut reel, 600);
    press(&mut reel, &house, "key 1");
    pass(&mut reel, 602);
    sees(&mut reel, &house, On);
    pass(&mut reel, 650);
    sees(&mut reel, &house, Off);
    let lines = written(project, &reel);
    let expected = [
        "start 2026-01-15 20:00",
        "after 10 min",
        "press DEV-01 key 1",
        "expect DEV-02 level is 40 within 5 s",
        "after 2 s",
        "report DEV-03 motion on",
        "expect DEV-04 level is 70",
        "after 48 s",
        "report DEV-03 motion off",
    ];
    assert_eq!(lines, expected);
    let steps = read_script(project, &lines).unwrap();
    let world = World { clock: reel.setup().clock, sky: Arc::new(EvenSky), walks: Walks::new() };
    let played = play(project, reel.run().book(), &steps, &world).unwrap();
    assert!(played.passed(), "{:?}", played.steps);
    // Played, it can be put on the plan again.
    let again = Recording::of(Arc::clone(reel.run().book()), reel.setup().clone(), &played.run).unwrap();
    assert_eq!(again.run().now(), reel.setup().start);
    assert!(again.lies_ahead());
}

#[derive(Clone, Copy, Debug)]
enum Does {
    Pass(i64),
    Key(&'static str),
    Eye(bool),
    Back,
    Next,
    To(usize),
}

fn does() -> impl Strategy<Value = Does> {
    prop_oneof![
        (0..90i64).prop_map(Does::Pass),
        prop_oneof![Just("key 1"), Just("key 2")].prop_map(Does::Key),
        any::<bool>().prop_map(Does::Eye),
        Just(Does::Back),
        Just(Does::Next),
        (0..60usize).prop_map(Does::To),
    ]
}

proptest! {
    /// However it was wound about, what came in gives the same when it is played straight through.
    #[test]
    fn winding_changes_nothing_of_what_happens(all in prop::collection::vec(does(), 1..40)) {
        let house = house();
        let mut reel = recording(&house);
        for each in all {
            match each {
                Does::Pass(seconds) => {
                    let until = reel.run().now().after_ms(seconds * 1000);
                    reel.advance(until, usize::MAX, |_| false);
                }
                Does::Key(key) => press(&mut reel, &house, key),
                Does::Eye(seen) => sees(&mut reel, &house, if seen { On } else { Off }),
                Does::Back => { reel.step_back(); }
                Does::Next => { reel.step_forward(reel.run().now().after_ms(100_000), 1000); }
                Does::To(entry) => if entry < reel.told().len() { reel.go_to(entry) },
            }
            prop_assert!(reel.happened() <= reel.told().len());
            prop_assert_eq!(reel.run().journal().entries(), &reel.told()[..reel.happened()]);
        }
        let mut straight = recording(&house);
        for (at, what) in reel.came() {
            straight.advance(*at, usize::MAX, |_| false);
            straight.come_in(*what).unwrap();
        }
        straight.advance(reel.run().now(), usize::MAX, |_| false);
        prop_assert_eq!(straight.run().journal().entries(), reel.run().journal().entries());
        for (point, _) in reel.run().book().points() {
            prop_assert_eq!(straight.run().shown(point), reel.run().shown(point));
        }
    }
}
