//! What holds of every run: the same in gives the same out, going back is as never having gone on, and it does
//! not matter how time is cut.

use proptest::prelude::*;

use super::house::{House, Run, after, by_hand, date, hold_while, time, when};
use crate::studies::rehearsal::{Entry, Has, Incoming};
use crate::systems::Value::{Number, Off, On};
use crate::systems::{Action, Condition, Deed, Gesture, SunEvent, Trigger, Until};
use crate::units::Seconds;

fn house() -> House {
    let mut house = House::new();
    house.device("plate", &["event key 1", "event key 2"]);
    house.device("eye", &["state motion"]);
    house.device("door", &["state open"]);
    house.device("lamp", &["does number level"]);
    house.device("blind", &["does number position"]);
    let pressed = house.key(("plate", "key 1"), Gesture::Press);
    let toggle = Action::new(Some(house.target(("lamp", "level"))), Deed::Toggle);
    let late = after(90.0, house.set(("blind", "position"), On));
    house.rule("Toggle", when(pressed, vec![toggle, late]));
    let pressed = house.key(("plate", "key 2"), Gesture::Press);
    let empty = Until::Holds { condition: house.is(("eye", "motion"), Off), lasting: Seconds(120.0) };
    let step = Action::new(Some(house.target(("lamp", "level"))), Deed::Step(15));
    house.rule("Hand", when(pressed, vec![by_hand(empty, step)]));
    let lit = vec![house.holding(("lamp", "level"), Number(70.0), 4.0)];
    let dark = vec![house.is(("eye", "motion"), On), Condition::Dark];
    house.rule("Motion", hold_while(dark, 60.0, lit, 1));
    let shut = vec![house.holding(("blind", "position"), Number(10.0), 0.0)];
    house.rule("Door", hold_while(vec![house.is(("door", "open"), On)], 30.0, shut, 2));
    let sunset = Trigger::Sun { event: SunEvent::Set, offset_minutes: 1 };
    house.rule("Dusk", when(sunset, vec![house.set(("blind", "position"), Off)]));
    house.rule("Six", when(Trigger::Time(time("18:02")), vec![house.set(("lamp", "level"), Off)]));
    house
}

/// What comes in, with the milliseconds since the thing before.
fn stroke() -> impl Strategy<Value = (u32, u8)> {
    (prop_oneof![Just(0u32), 1u32..5000, 5000u32..200_000], 0u8..9)
}

fn incoming(run: &Run, choice: u8) -> Incoming {
    let gesture = |point| Incoming::Gesture { point: run.number(point), gesture: Gesture::Press };
    let value = |point, value| Incoming::Value { point: run.number(point), value };
    match choice {
        0 | 1 => gesture(("plate", "key 1")),
        2 => gesture(("plate", "key 2")),
        3 => value(("eye", "motion"), On),
        4 => value(("eye", "motion"), Off),
        5 => value(("door", "open"), On),
        6 => value(("door", "open"), Off),
        7 => Incoming::HubRestarts,
        _ => value(("lamp", "level"), Number(33.0)),
    }
}

fn outcome(run: &Run) -> (Vec<Entry>, Has, Has) {
    let shown = |at| run.run.shown(run.number(at));
    (run.run.journal().entries().to_vec(), shown(("lamp", "level")), shown(("blind", "position")))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    #[test]
    fn runs_repeat_go_back_and_do_not_mind_how_time_is_cut(
        strokes in prop::collection::vec(stroke(), 1..40),
        back_at in 0usize..40,
    ) {
        let house = house();
        let start = || house.run(date(2026, 1, 10), "17:58");
        let mut straight = start();
        let mut cut = start();
        let mut returned = start();
        let mut at = straight.start;
        let mut kept = None;
        for (index, (wait, choice)) in strokes.iter().enumerate() {
            let before = at;
            at = at.after_ms(i64::from(*wait));
            straight.run.come_in(at, incoming(&straight, *choice)).unwrap();
            for part in 1..4 {
                cut.run.run_until(before.after_ms((at.ms - before.ms) * part / 4));
            }
            cut.run.come_in(at, incoming(&cut, *choice)).unwrap();
            if index == back_at % strokes.len() {
                kept = Some(returned.run.snapshot());
                // Something else happens, and is taken back.
                returned.run.come_in(at.after_ms(7), incoming(&returned, (*choice + 3) % 9)).unwrap();
                returned.run.run_until(at.after_ms(400_000));
                returned.run.go_back(kept.as_ref().unwrap());
            }
            returned.run.come_in(at, incoming(&returned, *choice)).unwrap();
        }
        prop_assert!(kept.is_some());
        for run in [&mut straight, &mut cut, &mut returned] {
            run.run.run_until(at.after_ms(600_000));
        }
        prop_assert_eq!(outcome(&straight), outcome(&cut));
        prop_assert_eq!(outcome(&straight), outcome(&returned));
        for pair in straight.run.journal().entries().windows(2) {
            prop_assert!(pair[0].at <= pair[1].at);
        }
    }
}
