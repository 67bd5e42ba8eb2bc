//! `pattress rehearse`: plays a script of a plan and says of every expectation whether it was met.

use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;
use pattress_model::calendar::{LocalClock, UtcTime};
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::RuleBook;
use pattress_model::studies::rehearsal::script::{Outcome, Played, StepPlayed, play, read_script};
use pattress_model::systems::Script;
use serde_json::{Value, json};

use super::{DONE, NOT_DONE, Stop};
use crate::rehearsing::world_of;

/// Arguments of `rehearse`.
#[derive(Clone, Debug, Args)]
pub struct RehearseArguments {
    /// The plan: NAME.pattress, or a folder with the same content
    pub plan: PathBuf,
    /// The script to play
    #[arg(long, value_name = "NAME", conflicts_with = "list", required_unless_present = "list")]
    pub script: Option<String>,
    /// Print the names of the plan's scripts, one a line
    #[arg(long)]
    pub list: bool,
    /// Print JSON
    #[arg(long)]
    pub json: bool,
}

/// Lists the scripts, or plays one. Returns 1 where an expectation fails or a step cannot be done.
///
/// # Errors
/// A plan that cannot be read, a script that is not there or cannot be read, or an output that is shut.
pub fn rehearse(arguments: &RehearseArguments, out: &mut dyn Write) -> Result<u8, Stop> {
    let plan = crate::files::read(&arguments.plan).map_err(Stop::unreadable)?;
    let project = &plan.project;
    let Some(name) = &arguments.script else {
        return list(project, arguments.json, out);
    };
    let script = found(project, name)?;
    let steps = read_script(project, &script.lines).map_err(|errors| {
        let more = match errors.len() {
            0 | 1 => String::new(),
            count => format!(" ({} more lines cannot be read)", count - 1),
        };
        let first = errors.first().map(ToString::to_string).unwrap_or_default();
        Stop::unreadable(format!("the script “{name}” cannot be read: {first}{more}"))
    })?;
    let book = Arc::new(RuleBook::of(project));
    let played = play(project, &book, &steps, &world_of(project))
        .map_err(|refused| Stop::unreadable(format!("the script “{name}” cannot start: {refused}")))?;
    if arguments.json {
        writeln!(out, "{:#}", played_json(project, script, &played))?;
    } else {
        for step in &played.steps {
            writeln!(out, "{}", line(script, step, project.site.clock))?;
        }
        let failed = played.steps.iter().filter(|step| !step.outcome.is_good()).count();
        let verdict = if failed == 0 { "passed".to_owned() } else { format!("{failed} failed") };
        writeln!(out, "{}: {} steps, {verdict}", script.name, played.steps.len())?;
    }
    Ok(if played.passed() { DONE } else { NOT_DONE })
}

fn list(project: &Project, as_json: bool, out: &mut dyn Write) -> Result<u8, Stop> {
    let names: Vec<&str> = project.scripts.iter().map(|(_, script)| script.name.as_str()).collect();
    if as_json {
        writeln!(out, "{:#}", json!({ "scripts": names }))?;
    } else {
        for name in names {
            writeln!(out, "{name}")?;
        }
    }
    Ok(DONE)
}

fn found<'a>(project: &'a Project, name: &str) -> Result<&'a Script, Stop> {
    let script = project.scripts.iter().find(|(_, script)| script.name == name);
    script.map(|(_, script)| script).ok_or_else(|| {
        let names: Vec<String> =
            project.scripts.iter().map(|(_, script)| format!("“{}”", script.name)).collect();
        let there = if names.is_empty() {
            "the plan has none".to_owned()
        } else {
            format!("the plan has {}", names.join(", "))
        };
        Stop::unreadable(format!("there is no script “{name}”: {there}"))
    })
}

/// Local date and time to the second.
fn shown(clock: LocalClock, at: UtcTime) -> String {
    clock.shows(at).map_or_else(String::new, |local| {
        let seconds = local.since_midnight_ms / 1000 % 60;
        format!("{local}:{seconds:02}")
    })
}

/// `ok      2026-01-15 20:10:00  press PL-04 key 3`.
fn line(script: &Script, step: &StepPlayed, clock: LocalClock) -> String {
    let text = script.lines.get(step.line - 1).map_or("", String::as_str);
    let (mark, said) = match &step.outcome {
        Outcome::Done => ("done", String::new()),
        Outcome::Met(at) => ("met", format!("  (at {})", shown(clock, *at))),
        Outcome::Failed(said) => ("FAILED", format!("  ({said})")),
        Outcome::Refused(said) => ("REFUSED", format!("  ({said})")),
    };
    format!("{mark:<8}{}  {text}{said}", shown(clock, step.at))
}

/// A script played, as JSON.
pub fn played_json(project: &Project, script: &Script, played: &Played) -> Value {
    let clock = project.site.clock;
    let steps: Vec<Value> = played
        .steps
        .iter()
        .map(|step| {
            let (outcome, met_at, said) = match &step.outcome {
                Outcome::Done => ("done", None, None),
                Outcome::Met(at) => ("met", Some(shown(clock, *at)), None),
                Outcome::Failed(said) => ("failed", None, Some(said)),
                Outcome::Refused(said) => ("refused", None, Some(said)),
            };
            json!({
                "line": step.line,
                "text": script.lines.get(step.line - 1),
                "at": shown(clock, step.at),
                "outcome": outcome,
                "met_at": met_at,
                "said": said,
            })
        })
        .collect();
    json!({ "script": script.name, "passed": played.passed(), "steps": steps })
}
