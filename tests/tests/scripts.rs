//! Every script of the samples is played; what the house then does is what the family was shown.

use std::sync::Arc;

use pattress::commands::{DONE, NOT_DONE, UNREADABLE, run};
use pattress::rehearsing::world_of;
use pattress_model::studies::rehearsal::RuleBook;
use pattress_model::studies::rehearsal::script::{play, read_script};
use pattress_tests::samples;

#[test]
fn every_script_of_the_samples_passes() {
    let mut played_in_all = 0;
    for sample in samples::SAMPLES {
        let project = (sample.build)();
        let (book, world) = (Arc::new(RuleBook::of(&project)), world_of(&project));
        for (_, script) in project.scripts.iter() {
            let steps = read_script(&project, &script.lines)
                .unwrap_or_else(|errors| panic!("{}: {}", script.name, errors[0]));
            let played = play(&project, &book, &steps, &world).unwrap();
            for step in &played.steps {
                assert!(
                    step.outcome.is_good(),
                    "{}, line {}: {} {:?}",
                    script.name,
                    step.line,
                    script.lines[step.line - 1],
                    step.outcome
                );
            }
            played_in_all += 1;
        }
    }
    assert!(played_in_all >= 8, "{played_in_all} scripts");
}

fn command(arguments: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = ["pattress", "rehearse"].into_iter().chain(arguments.iter().copied()).map(Into::into);
    let code = run(line, &mut out, &mut err);
    (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn the_command_lists_plays_and_says_what_is_wrong() {
    let cottage = samples::folder().join("ferry-cottage");
    let cottage = cottage.to_str().unwrap();
    let (code, listed, _) = command(&[cottage, "--list"]);
    assert_eq!(code, DONE);
    assert!(listed.lines().any(|name| name == "Film"), "{listed}");
    let (code, said, _) = command(&[cottage, "--script", "Film"]);
    assert_eq!((code, said.lines().last()), (DONE, Some("Film: 8 steps, passed")));
    let (code, json, _) = command(&[cottage, "--script", "Film", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((code, &json["passed"]), (DONE, &serde_json::json!(true)));
    for (arguments, expected) in [
        (vec![cottage, "--script", "Filn"], "there is no script “Filn”: the plan has "),
        (vec![cottage], "--script"),
        (vec!["nowhere", "--list"], "nowhere"),
    ] {
        let (code, out, err) = command(&arguments);
        assert_eq!((code, out.as_str()), (UNREADABLE, ""), "{err}");
        assert!(err.starts_with("pattress: ") && err.contains(expected), "{err}");
        assert_eq!(err.lines().count(), 1, "{err}");
    }
    assert_ne!(DONE, NOT_DONE);
}

#[test]
fn an_expectation_that_fails_and_a_line_that_cannot_be_read_are_told_apart() {
    let folder = tempfile::tempdir().unwrap();
    let mut project = (samples::SAMPLES[0].build)();
    for (name, line) in
        [("Fails", "expect PEN-02 level is 99 within 5 s"), ("Broken", "expect PEN-02 levl is 99")]
    {
        let lines = ["start 2026-01-15 20:00", line].map(str::to_owned).to_vec();
        let script = pattress_model::systems::Script { name: name.to_owned(), lines };
        let change = pattress_model::edit::verbs::add_script(&project, script).unwrap();
        pattress_model::edit::History::default().apply(&mut project, change).unwrap();
    }
    let plan = folder.path().join("house");
    pattress::files::save(&plan, &project, &pattress_model::store::Media::default()).unwrap();
    let plan = plan.to_str().unwrap();
    let (code, said, _) = command(&[plan, "--script", "Fails"]);
    assert_eq!(code, NOT_DONE);
    assert!(said.contains("FAILED") && said.contains("it is 0") && said.ends_with("1 failed\n"), "{said}");
    let (code, _, err) = command(&[plan, "--script", "Broken"]);
    assert_eq!(code, UNREADABLE);
    assert!(err.contains("line 2, at “levl”") && err.contains("did you mean “level”"), "{err}");
}
