//! What a house of the trade must do: each fact is common practice, with no published source.

use super::house::{House, after, by_hand, date, hold_while, when, when_if};
use crate::calendar::Date;
use crate::studies::rehearsal::{Has, Incoming, Showing, What};
use crate::systems::Value::{Colour, Number, Off, On};
use crate::systems::{Action, Condition, Deed, Gesture, HouseMode, Mode, RuleBody, Scene, Target, Until};
use crate::units::Seconds;

fn evening() -> Date {
    date(2026, 11, 25)
}

const WHITE: [u8; 3] = [255, 255, 255];
const RED: [u8; 3] = [200, 20, 20];
const BLUE: [u8; 3] = [20, 20, 200];

#[test]
fn a_room_lit_by_motion_stays_lit_while_it_goes_on_and_goes_dark_a_set_time_after_the_last() {
    let mut house = House::new();
    house.device("eye", &["state motion"]);
    house.device("lamp", &["does number level"]);
    let lit = vec![house.holding(("lamp", "level"), Number(70.0), 0.0)];
    let motion = vec![house.is(("eye", "motion"), On)];
    let rule = house.rule("Room by motion", hold_while(motion, 300.0, lit, 1));
    let mut run = house.run(evening(), "20:00");
    let lamp = ("lamp", "level");
    // Motion comes and goes; each time that it goes, the five minutes start anew.
    for (start, end) in [(10.0, 20.0), (200.0, 230.0), (500.0, 520.0)] {
        assert_eq!(run.figure(start - 0.001, lamp) > 0.0, start > 10.0);
        run.report(start, ("eye", "motion"), On);
        assert_eq!(run.figure(start, lamp), 70.0);
        run.report(end, ("eye", "motion"), Off);
    }
    assert_eq!(run.figure(819.999, lamp), 70.0);
    assert_eq!(run.figure(820.0, lamp), 0.0);
    let chain = run.chain_of(lamp);
    assert_eq!(chain[1..], [What::HoldEnded(rule), What::LingerOver(rule)]);
    assert_eq!(run.count(|what| matches!(what, What::Changed { .. })), 2);
}

#[test]
fn a_key_means_on_and_two_colours_on_one_two_and_three_presses_and_each_use_is_one_gesture() {
    let mut house = House::new();
    house.device("plate", &["event key 1"]);
    house.device("strip", &["does number level", "does colour colour"]);
    let key = ("plate", "key 1");
    let once = house.key(key, Gesture::Press);
    let toggle = Action::new(Some(house.target(("strip", "level"))), Deed::Toggle);
    house.rule("On", when(once, vec![toggle]));
    for (gesture, colour) in [(Gesture::PressTwice, RED), (Gesture::PressThrice, BLUE)] {
        let trigger = house.key(key, gesture);
        let actions = vec![house.set(("strip", "level"), On), house.set(("strip", "colour"), Colour(colour))];
        house.rule("Colour", when(trigger, actions));
    }
    let mut run = house.run(evening(), "20:00");
    run.press(1.0, key, Gesture::PressTwice);
    assert_eq!(run.shown(1.0, ("strip", "colour")), Has::Colour(RED));
    assert_eq!(run.figure(1.0, ("strip", "level")), 100.0);
    run.press(2.0, key, Gesture::PressThrice);
    assert_eq!(run.shown(2.0, ("strip", "colour")), Has::Colour(BLUE));
    assert_eq!(run.figure(2.0, ("strip", "level")), 100.0);
    run.press(3.0, key, Gesture::Press);
    assert_eq!(run.figure(3.0, ("strip", "level")), 0.0);
    run.press(4.0, key, Gesture::Hold);
    assert_eq!(run.figure(4.0, ("strip", "level")), 0.0);
}

#[test]
fn a_key_is_wired_to_a_lamp_and_works_without_the_hub_or_carries_commands_and_does_not() {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2"]);
    house.device("lamp", &["does state on"]);
    house.device("other", &["does state on"]);
    let wired =
        RuleBody::Wired { key: house.point(("plate", "key 1")), target: house.target(("lamp", "on")) };
    house.rule("Wired", wired);
    let pressed = house.key(("plate", "key 2"), Gesture::Press);
    let toggle = Action::new(Some(house.target(("other", "on"))), Deed::Toggle);
    house.rule("By command", when(pressed, vec![toggle]));
    let mut run = house.run(evening(), "20:00");
    let both = |run: &mut super::house::Run, at: f64| {
        (run.is_on(at, ("lamp", "on")), run.is_on(at, ("other", "on")))
    };
    run.press(1.0, ("plate", "key 1"), Gesture::Press);
    run.press(1.0, ("plate", "key 2"), Gesture::Press);
    assert_eq!(both(&mut run, 1.0), (true, true));
    run.comes(2.0, Incoming::HubStops);
    assert_eq!(both(&mut run, 2.0), (true, true));
    run.press(3.0, ("plate", "key 1"), Gesture::Press);
    run.press(3.0, ("plate", "key 2"), Gesture::Press);
    assert_eq!(both(&mut run, 3.0), (false, true));
    run.comes(4.0, Incoming::HubStarts);
    run.press(5.0, ("plate", "key 2"), Gesture::Press);
    assert_eq!(both(&mut run, 5.0), (false, false));
}

#[test]
fn a_light_under_joinery_is_white_while_the_drawer_is_open_and_goes_back_to_the_colour_chosen_meanwhile() {
    let mut house = House::new();
    house.device("plate", &["event key 1"]);
    house.device("drawer", &["state open"]);
    house.device("strip", &["does number level", "does colour colour"]);
    let (level, colour) = (("strip", "level"), ("strip", "colour"));
    let pressed = house.key(("plate", "key 1"), Gesture::Press);
    let cycle = Deed::Cycle(vec![Colour(RED), Colour(BLUE)]);
    let next = Action::new(Some(house.target(colour)), cycle);
    house.rule("Next colour", when(pressed, vec![next, house.set(level, Number(40.0))]));
    let white = vec![house.holding(level, Number(100.0), 0.0), house.holding(colour, Colour(WHITE), 0.0)];
    let rule = house.rule("Drawer", hold_while(vec![house.is(("drawer", "open"), On)], 0.0, white, 5));
    let mut run = house.run(evening(), "20:00");
    run.press(1.0, ("plate", "key 1"), Gesture::Press);
    assert_eq!((run.shown(1.0, colour), run.figure(1.0, level)), (Has::Colour(RED), 40.0));
    run.report(2.0, ("drawer", "open"), On);
    assert_eq!((run.shown(2.0, colour), run.figure(2.0, level)), (Has::Colour(WHITE), 100.0));
    assert_eq!(run.run.showing(run.number(colour)), Showing::Held(rule));
    // Another colour is chosen while the drawer is open: nobody sees it yet.
    run.press(3.0, ("plate", "key 1"), Gesture::Press);
    assert_eq!(run.shown(3.0, colour), Has::Colour(WHITE));
    assert_eq!(run.run.base(run.number(colour)), Has::Colour(BLUE));
    run.report(4.0, ("drawer", "open"), Off);
    assert_eq!((run.shown(4.0, colour), run.figure(4.0, level)), (Has::Colour(BLUE), 40.0));
    // A drawer opened in a dark room leaves it dark again.
    let mut run = house.run(evening(), "20:00");
    run.report(1.0, ("drawer", "open"), On);
    assert!(run.is_on(1.0, level));
    run.report(2.0, ("drawer", "open"), Off);
    assert_eq!((run.shown(2.0, colour), run.figure(2.0, level)), (Has::Colour([0; 3]), 0.0));
}

#[test]
fn a_film_key_closes_the_blinds_and_the_roof_light_and_dims_a_strip_and_the_same_key_leaves_the_room_dark() {
    let mut house = House::new();
    house.device("plate", &["event key 3"]);
    for blind in ["west blind", "roof blind"] {
        house.device(blind, &["does number position"]);
    }
    house.device("strip", &["does number level"]);
    house.device("ceiling", &["does number level"]);
    let film = house.built.put(Mode { name: "Film".to_owned() });
    let blinds = house.zone("Blinds", &[("west blind", "position"), ("roof blind", "position")]);
    let settings = vec![
        crate::systems::Setting { target: Target::Zone(blinds), value: Number(0.0), fade: Seconds::ZERO },
        house.holding(("strip", "level"), Number(20.0), 3.0),
        house.holding(("ceiling", "level"), Number(0.0), 3.0),
    ];
    let scene = house.built.put(Scene { name: "Film".to_owned(), room: None, settings });
    let pressed = house.key(("plate", "key 3"), Gesture::Press);
    let is_film = Condition::Mode(HouseMode::Named(film));
    let start = vec![
        Action::new(None, Deed::RunScene(scene)),
        Action::new(None, Deed::EnterMode(HouseMode::Named(film))),
    ];
    let not_yet = vec![Condition::Not(Box::new(is_film.clone()))];
    house.rule("Film", when_if(pressed.clone(), not_yet, start));
    let dark = vec![
        house.set(("strip", "level"), Off),
        house.set(("ceiling", "level"), Off),
        Action::new(None, Deed::EnterMode(HouseMode::AtHome)),
    ];
    house.rule("Film ends", when_if(pressed, vec![is_film], dark));
    let mut run = house.run_with(evening(), "20:10", |book, setup| {
        let open = book.points().filter(|(_, name)| name.point == "position").map(|(point, _)| (point, On));
        setup.values = open.collect();
        let ceiling = book.points().find(|(_, name)| name.point == "level").unwrap().0;
        setup.values.push((ceiling, Number(80.0)));
    });
    let key = ("plate", "key 3");
    run.press(0.0, key, Gesture::Press);
    assert_eq!(run.figure(10.0, ("west blind", "position")), 60.0);
    for blind in ["west blind", "roof blind"] {
        assert_eq!(run.figure(30.0, (blind, "position")), 0.0, "within 30 s the blinds are shut");
    }
    assert_eq!(run.figure(30.0, ("strip", "level")), 20.0);
    assert_eq!(run.figure(30.0, ("ceiling", "level")), 0.0);
    // The press that ended the film starts it no second time: rules judge before anything is done.
    run.press(7200.0, key, Gesture::Press);
    assert_eq!(run.run.mode(), HouseMode::AtHome);
    for hours in [2.01, 8.0, 12.0] {
        assert!(
            !run.is_on(hours * 3600.0, ("strip", "level"))
                && !run.is_on(hours * 3600.0, ("ceiling", "level"))
        );
    }
    run.press(50_000.0, key, Gesture::Press);
    assert_eq!(run.figure(50_003.0, ("strip", "level")), 20.0);
}

#[test]
fn one_keypad_sets_the_whole_house_and_another_the_night_set_so_that_nobody_chooses() {
    let mut house = House::new();
    for keypad in ["hall keypad", "bedside keypad"] {
        house.device(keypad, &["event set", "event unset"]);
    }
    house.device("landing", &["does state armed"]);
    house.device("garden door", &["does state armed"]);
    let whole = house.zone("Full set", &[("landing", "armed"), ("garden door", "armed")]);
    let night = house.zone("Night set", &[("garden door", "armed")]);
    for (keypad, zone) in [("hall keypad", whole), ("bedside keypad", night)] {
        for (event, value) in [("set", On), ("unset", Off)] {
            let trigger = house.key((keypad, event), Gesture::Happens);
            let action = Action::new(Some(Target::Zone(zone)), Deed::Set(value));
            house.rule(event, when(trigger, vec![action]));
        }
    }
    let mut run = house.run(evening(), "22:00");
    let mut sets = |at: f64, event: (&'static str, &'static str), expected: (bool, bool)| {
        run.press(at, event, Gesture::Happens);
        assert_eq!((run.is_on(at, ("landing", "armed")), run.is_on(at, ("garden door", "armed"))), expected);
    };
    sets(1.0, ("bedside keypad", "set"), (false, true));
    sets(2.0, ("bedside keypad", "unset"), (false, false));
    sets(3.0, ("hall keypad", "set"), (true, true));
    sets(4.0, ("hall keypad", "unset"), (false, false));
}

#[test]
fn a_visitor_is_seen_before_ringing_and_ringing_takes_a_picture_and_notifies() {
    let mut house = House::new();
    let station = house.device("station", &["event ring", "state motion", "does state picture"]);
    house.device("chime", &["does event ring"]);
    house.device("screen", &["does state picture"]);
    let seen = vec![house.is(("station", "motion"), On)];
    let picture = vec![crate::systems::Setting {
        target: house.target(("screen", "picture")),
        value: On,
        fade: Seconds::ZERO,
    }];
    house.rule("Visitor", hold_while(seen, 30.0, picture, 1));
    let rung = house.key(("station", "ring"), Gesture::Happens);
    let notify = Deed::Notify { text: "Someone is at the door.".to_owned(), picture: Some(station) };
    let actions = vec![house.set(("chime", "ring"), On), Action::new(None, notify)];
    let bell = house.rule("Bell", when(rung, actions));
    let mut run = house.run(evening(), "18:00");
    run.report(1.0, ("station", "motion"), On);
    assert!(run.is_on(1.0, ("screen", "picture")), "seen before the ring");
    assert_eq!(run.count(|what| matches!(what, What::Sent { .. })), 0);
    run.press(5.0, ("station", "ring"), Gesture::Happens);
    let chime = run.number(("chime", "ring"));
    assert_eq!(run.count(|what| *what == What::Happened(chime)), 1);
    let sent: Vec<_> = run
        .run
        .journal()
        .entries()
        .iter()
        .filter_map(|entry| match entry.what {
            What::Sent { rule, action } => Some((rule, action, entry.at.ms - run.start.ms)),
            _ => None,
        })
        .collect();
    assert_eq!(sent, [(bell, 1, 5000)]);
    run.report(6.0, ("station", "motion"), Off);
    assert!(run.is_on(35.9, ("screen", "picture")));
    assert!(!run.is_on(36.0, ("screen", "picture")));
}

#[test]
fn night_motion_outside_lights_records_and_notifies_under_conditions_and_not_by_day_or_when_unset() {
    let mut house = House::new();
    house.device("garden eye", &["state alarm"]);
    house.device("camera", &["does state recording"]);
    house.device("flood", &["does state on"]);
    house.device("panel", &["does state armed"]);
    let out = vec![house.is(("garden eye", "alarm"), On), Condition::Dark];
    let lit = vec![house.holding(("flood", "on"), On, 0.0)];
    house.rule("Light outside", hold_while(out.clone(), 120.0, lit, 1));
    let armed = [out, vec![house.is(("panel", "armed"), On)]].concat();
    let record = vec![house.holding(("camera", "recording"), On, 0.0)];
    house.rule("Record", hold_while(armed, 60.0, record, 1));
    let trigger = house.becomes(("garden eye", "alarm"), On);
    let conditions = vec![Condition::Dark, house.is(("panel", "armed"), On)];
    let tell = Action::new(None, Deed::notify("Someone is in the garden."));
    house.rule("Tell", when_if(trigger, conditions, vec![tell]));
    let motion = |armed, typed| {
        let mut run = house.run(evening(), typed);
        run.report(1.0, ("panel", "armed"), armed);
        run.report(2.0, ("garden eye", "alarm"), On);
        run.report(12.0, ("garden eye", "alarm"), Off);
        let told = run.count(|what| matches!(what, What::Sent { .. }));
        let lit = (run.is_on(13.0, ("flood", "on")), run.is_on(13.0, ("camera", "recording")));
        assert!(!run.is_on(72.0, ("camera", "recording")) && !run.is_on(132.0, ("flood", "on")));
        (lit.0, lit.1, told)
    };
    assert_eq!(motion(On, "23:00"), (true, true, 1));
    assert_eq!(motion(Off, "23:00"), (true, false, 0));
    assert_eq!(motion(On, "12:00"), (false, false, 0));
}

/// Someone turns a motion-lit room dark by hand: it stays dark until the room has been empty, then follows
/// motion again.
#[test]
fn what_is_done_by_hand_stands_over_motion_until_the_room_has_been_empty() {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2"]);
    house.device("eye", &["state motion"]);
    house.device("lamp", &["does number level"]);
    house.device("alarm", &["state alarm"]);
    let (lamp, motion) = (("lamp", "level"), ("eye", "motion"));
    let empty = Until::Holds { condition: house.is(motion, Off), lasting: Seconds(600.0) };
    let toggle = Action::new(Some(house.target(lamp)), Deed::Toggle);
    let pressed = house.key(("plate", "key 1"), Gesture::Press);
    house.rule("By hand", when(pressed, vec![by_hand(empty, toggle)]));
    let back = house.key(("plate", "key 2"), Gesture::Press);
    house.rule("Give back", when(back, vec![Action::new(Some(house.target(lamp)), Deed::ReleaseHand)]));
    let lit = vec![house.holding(lamp, Number(70.0), 0.0)];
    house.rule("Motion", hold_while(vec![house.is(motion, On)], 60.0, lit, 1));
    let bright = vec![house.holding(lamp, Number(100.0), 0.0)];
    let body = hold_while(vec![house.is(("alarm", "alarm"), On)], 0.0, bright, 9);
    let RuleBody::While { conditions, linger, settings, rank, .. } = body else { panic!() };
    house.rule("Alarm", RuleBody::While { conditions, linger, settings, rank, yields_to_hand: false });
    let mut run = house.run(evening(), "20:00");
    run.report(1.0, motion, On);
    assert_eq!(run.figure(1.0, lamp), 70.0);
    run.press(10.0, ("plate", "key 1"), Gesture::Press);
    assert_eq!(run.figure(10.0, lamp), 0.0);
    // A hold that does not yield stands over the hand.
    run.report(20.0, ("alarm", "alarm"), On);
    assert_eq!(run.figure(20.0, lamp), 100.0);
    run.report(30.0, ("alarm", "alarm"), Off);
    assert_eq!(run.figure(30.0, lamp), 0.0);
    run.report(40.0, motion, Off);
    run.report(500.0, motion, On);
    assert_eq!(run.figure(500.0, lamp), 0.0, "not empty for long enough");
    run.report(510.0, motion, Off);
    run.shown(1109.999, lamp);
    assert_eq!(run.run.showing(run.number(lamp)), Showing::Hand);
    run.shown(1110.0, lamp);
    assert_eq!(run.run.showing(run.number(lamp)), Showing::Base);
    run.report(1200.0, motion, On);
    assert_eq!(run.figure(1200.0, lamp), 70.0);
    run.press(1210.0, ("plate", "key 1"), Gesture::Press);
    run.press(1220.0, ("plate", "key 2"), Gesture::Press);
    assert_eq!(run.figure(1220.0, lamp), 70.0, "given back");
}

#[test]
fn an_alarm_keypad_needs_no_mode_and_leaving_puts_lights_out_after_a_while() {
    let mut house = House::new();
    house.device("keypad", &["event set", "event unset"]);
    house.device("hall", &["does number level"]);
    let set = house.key(("keypad", "set"), Gesture::Happens);
    let out = after(30.0, house.set(("hall", "level"), Off));
    let away = house.rule("Away", when(set, vec![house.set(("hall", "level"), On), out]));
    let unset = house.key(("keypad", "unset"), Gesture::Happens);
    let cancel = vec![Action::new(None, Deed::Cancel(away))];
    house.rule("Back", when(unset, cancel));
    let mut run = house.run(evening(), "08:00");
    run.press(0.0, ("keypad", "set"), Gesture::Happens);
    run.press(20.0, ("keypad", "set"), Gesture::Happens);
    assert!(run.is_on(49.999, ("hall", "level")), "set again: the thirty seconds count anew");
    assert!(!run.is_on(50.0, ("hall", "level")));
    run.press(100.0, ("keypad", "set"), Gesture::Happens);
    run.press(110.0, ("keypad", "unset"), Gesture::Happens);
    assert!(run.is_on(1000.0, ("hall", "level")), "coming back drops what waits");
    assert_eq!(run.run.waiting(), []);
}
