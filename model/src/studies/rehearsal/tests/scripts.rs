//! Scripts: read word by word, played on the clock.

use std::sync::Arc;

use super::super::script::{Footstep, Outcome, Played, World, play, read_script};
use super::super::{EvenSky, RuleBook};
use super::house::{House, after, hold_while, when};
use crate::calendar::{LocalClock, SummerTime};
use crate::systems::Value::{Number, On};
use crate::systems::{Action, Deed, Gesture, Mode};
use crate::units::Seconds;

/// Lamp, blind, eye and plate: `DEV-01` to `DEV-04`.
fn house() -> House {
    let mut house = House::new();
    house.device("lamp", &["does number level"]);
    house.device("blind", &["does number position"]);
    house.device("eye", &["state motion"]);
    house.device("plate", &["event key 1"]);
    let lit = vec![house.holding(("lamp", "level"), Number(70.0), 2.0)];
    let motion = vec![house.is(("eye", "motion"), On)];
    house.rule("Room by motion", hold_while(motion, 60.0, lit, 1));
    let twice = house.key(("plate", "key 1"), Gesture::PressTwice);
    let shut = house.set(("blind", "position"), Number(0.0));
    let tell = after(5.0, Action::new(None, Deed::notify("The blind is shut.")));
    house.rule("Film", when(twice, vec![shut, tell]));
    house.built.put(Mode { name: "Night".to_owned() });
    house
}

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

fn played_with(text: &str, walks: Vec<(&str, Vec<Footstep>)>) -> Played {
    let house = house();
    let project = &house.built.project;
    let steps = read_script(project, &lines(text)).unwrap();
    let world = World {
        clock: LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European },
        sky: Arc::new(EvenSky),
        walks: walks.into_iter().map(|(name, steps)| (name.to_owned(), steps)).collect(),
    };
    play(project, &Arc::new(RuleBook::of(project)), &steps, &world).unwrap()
}

fn good(played: &Played) -> Vec<bool> {
    played.steps.iter().map(|step| step.outcome.is_good()).collect()
}

#[test]
fn what_is_expected_is_looked_for_from_the_step_before_and_lets_no_time_pass() {
    let played = played_with(
        "start 2026-01-15 20:00\n\
         given DEV-02 position 100\n\
         at 20:10\n\
         # Two presses, and all that follows from them.\n\
         press DEV-04 key 1 twice\n\
         expect DEV-02 position is 100\n\
         expect DEV-02 position is 0 within 25 s\n\
         expect DEV-02 position is 0 within 24 s\n\
         expect DEV-02 position is below 51 within 13 s\n\
         expect message “blind is shut” within 5 s\n\
         expect message “blind is shut” within 4 s\n\
         expect mode is at home",
        Vec::new(),
    );
    assert_eq!(good(&played), [true, true, true, true, true, true, false, true, true, false, true]);
    let starts = played.steps[0].at;
    assert_eq!(played.steps[5].outcome, Outcome::Met(starts.after_ms((600 + 25) * 1000)));
    assert!(!played.passed());
}

#[test]
fn what_must_stay_is_watched_to_the_end() {
    let played = played_with(
        "start 2026-01-15 20:00\n\
         report DEV-03 motion on\n\
         after 10 s\n\
         report DEV-03 motion off\n\
         expect DEV-01 level stays 70 for 59 s\n\
         expect DEV-01 level stays 70 for 63 s\n\
         expect DEV-01 level is 0 within 62 s",
        Vec::new(),
    );
    assert_eq!(good(&played)[4..], [true, false, true]);
    let Outcome::Failed(said) = &played.steps[5].outcome else { panic!("it did not fail") };
    assert!(said.starts_with("it is ") && said.ends_with("at 20:01"), "{said}");
}

#[test]
fn somebody_who_walks_is_seen_on_the_way() {
    let house = house();
    let seen = |after: f64, seen: bool| Footstep {
        after: Seconds(after),
        point: house.point(("eye", "motion")),
        seen,
    };
    let mut project = house.built.project.clone();
    let level = project.levels.ids().next().unwrap();
    let points = [0.0, 5000.0].map(|x| crate::plan::WalkPoint { level, at: kurbo::Point::new(x, 0.0) });
    let walk = crate::plan::Walk {
        name: "to the door".to_owned(),
        purpose: crate::plan::WalkPurpose::Daily,
        points: points.to_vec(),
    };
    let id = project.fresh_ids().issue();
    let _ = project.perform(crate::project::Op::put(id, walk));
    let text = "start 2026-01-15 20:00\n\
                walk to the door\n\
                expect DEV-01 level is 0\n\
                expect DEV-01 level is 70 within 5 s\n\
                expect DEV-01 level is 70 within 4 s\n\
                after 2 min\n\
                expect DEV-01 level is 0";
    let steps = read_script(&project, &lines(text)).unwrap();
    let world = World {
        clock: LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::Never },
        sky: Arc::new(EvenSky),
        walks: [("to the door".to_owned(), vec![seen(3.0, true), seen(6.0, false)])].into(),
    };
    let played = play(&project, &Arc::new(RuleBook::of(&project)), &steps, &world).unwrap();
    assert_eq!(good(&played), [true, true, true, true, false, true, true]);
}

#[test]
fn a_line_that_cannot_be_read_names_the_word_and_what_may_have_been_meant() {
    let house = house();
    for (line, word, said) in [
        ("prss DEV-04 key 1", "prss", "did you mean “press”"),
        ("press DEV-4 key 1", "DEV-4", "did you mean DEV-04"),
        ("press DEV-04 kee 1", "kee", "did you mean “key 1”"),
        ("at 25:10", "25:10", "22:30"),
        ("after 5 minutes", "minutes", "type s, min or h"),
        ("report DEV-03 motion loud", "loud", "type on, off"),
        ("mode Nigth", "Nigth", "did you mean “Night”"),
        ("walk home", "home", "no walk of the plan"),
        ("expect DEV-01 level was 70", "was", "is, is not, is above or is below"),
        ("expect DEV-01 level is 70 soon", "soon", "end the line"),
        ("expect message blind", "blind", "quotation marks"),
        ("press", "", "the line ends too early"),
        ("hub sleeps", "sleeps", "restarts"),
    ] {
        let text = format!("start 2026-01-15 20:00\n\n{line}");
        let errors = read_script(&house.built.project, &lines(&text)).unwrap_err();
        assert_eq!(errors.len(), 1, "{line}: {errors:?}");
        assert_eq!((errors[0].line, errors[0].word.as_str()), (3, word), "{line}: {}", errors[0]);
        assert!(errors[0].sentence.contains(said), "{line}: {}", errors[0]);
    }
    let without_start = read_script(&house.built.project, &lines("at 20:10")).unwrap_err();
    assert!(without_start[0].sentence.contains("start 2026-01-15 20:00"), "{}", without_start[0]);
}
