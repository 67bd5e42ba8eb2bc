//! The script of a fault as one that can be played in the whole house, if it shows the fault there too.
//!
//! The search lets the clock stand and takes the rules of one room by themselves. In the house the clock goes and other
//! rules work as well; so a script is played before it is offered, and left out where the fault does not come.

use std::sync::Arc;

use super::super::book::{PointNumber, RuleBook};
use super::super::journal::Entry;
use super::super::script::words::{gesture_line, mode_line};
use super::super::script::{Walks, World, play, point_words, read_script, value_words};
use super::faults::Watcher;
use super::{Fault, Options, Step, Wrong};
use crate::calendar::UtcTime;
use crate::project::Project;
use crate::systems::{PointRef, Script};

/// The script that shows a fault in the whole house; `None` where it does not come there, or cannot be written.
pub fn script_of(
    project: &Project,
    book: &Arc<RuleBook>,
    fault: &Fault,
    options: &Options,
) -> Option<Script> {
    let mut lines = vec![format!("start {}", options.clock.shows(fault.start)?)];
    let mut now: i64 = 0;
    for timed in &fault.script {
        let passed = timed.after_ms - now;
        if passed > 0 {
            lines.push(format!("after {} s", passed as f64 / 1000.0));
        }
        now = timed.after_ms;
        lines.extend(line_of(project, &timed.step, options)?);
    }
    let script = Script { name: name_of(project, fault), lines };
    shows(project, book, fault, &script, options).then_some(script)
}

fn name_of(project: &Project, fault: &Fault) -> String {
    let point = |at: &PointRef| {
        let tag = project.devices.get(at.device).map_or_else(String::new, |device| device.tag.to_string());
        format!("{tag} {}", at.point)
    };
    match &fault.wrong {
        Wrong::Loop => "Rules in a circle".to_owned(),
        Wrong::Disagree(at) => format!("Rules that disagree about {}", point(at)),
        Wrong::HoldsMeet(at) => format!("Holds that meet at {}", point(at)),
        Wrong::NeverDark(at) => format!("{} is never dark again", point(at)),
        Wrong::LeftLit(at) => format!("{} is left lit", point(at)),
    }
}

/// The line of a step; `Some(None)` for one that needs none.
fn line_of(project: &Project, step: &Step, options: &Options) -> Option<Option<String>> {
    Some(Some(match step {
        Step::Gesture(at, gesture) => {
            let at = point_words(project, at)?;
            gesture_line(*gesture, &at)
        }
        Step::Value(at, value) => format!("report {} {}", point_words(project, at)?, value_words(*value)),
        Step::Mode(mode) => mode_line(project, *mode)?,
        Step::TimeComes { at, .. } => format!("at {}", options.clock.shows(*at)?.time_of_day()),
        Step::Wait => return Some(None),
    }))
}

/// Whether the fault comes where the script is played in the whole house.
fn shows(project: &Project, book: &Arc<RuleBook>, fault: &Fault, script: &Script, options: &Options) -> bool {
    let Ok(steps) = read_script(project, &script.lines) else { return false };
    let world = World { clock: options.clock, sky: Arc::clone(&options.sky), walks: Walks::new() };
    let Ok(played) = play(project, book, &steps, &world) else { return false };
    if !played.passed() {
        return false;
    }
    let run = &played.run;
    let watcher = Watcher::of(book);
    let is_lit = |at: &PointRef| book.number(at).is_some_and(|at: PointNumber| run.seen(at).is_on());
    match &fault.wrong {
        Wrong::NeverDark(at) | Wrong::LeftLit(at) => is_lit(at),
        wrong => by_moment(run.journal().entries()).into_iter().any(|entries| {
            let found = watcher.look(book, entries, &run.state);
            found.iter().any(|(other, rules)| {
                let same_rules = rules.iter().any(|rule| fault.rules.contains(rule));
                other == wrong && same_rules
            })
        }),
    }
}

/// The entries of each moment.
fn by_moment(entries: &[Entry]) -> Vec<&[Entry]> {
    let at = |entry: &Entry| -> UtcTime { entry.at };
    entries.chunk_by(|a, b| at(a) == at(b)).collect()
}
