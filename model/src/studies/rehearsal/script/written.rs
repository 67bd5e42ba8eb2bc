//! What was done in a rehearsal, written down as a script: its steps, and what the house did then as what is expected
//! of it.
//!
//! Every thing that came in is a line, with the time that passed before it. What it changed of what the house does is
//! expected after it, with the time that it took to get there. The script is played once: what would not be met (a
//! blind that was called back before it arrived) is left out.

use std::sync::Arc;

use super::play::{Walks, World, play};
use super::read::read_script;
use super::words::{gesture_line, mode_line, point_words, value_words};
use crate::calendar::UtcTime;
use crate::project::Project;
use crate::studies::rehearsal::{Has, Incoming, PointNumber, Recording, What};
use crate::systems::HouseMode;

/// No more than so many points are expected after one step: the first that changed.
const MOST_EXPECTED: usize = 12;

/// The time a point is given to get where it goes beyond what its way takes, s: a fade or a travel is asked for to the
/// second.
const SPARE_S: i64 = 1;

/// The lines of a script that does what was done so far.
pub fn written(project: &Project, recording: &Recording) -> Vec<String> {
    let mut writer = Writer { project, recording, again: recording.clone() };
    let lines = writer.lines();
    let Ok(steps) = read_script(project, &lines) else { return lines };
    let setup = recording.setup();
    let world = World { clock: setup.clock, sky: Arc::clone(&setup.sky), walks: Walks::new() };
    let Ok(played) = play(project, recording.run().book(), &steps, &world) else { return lines };
    let fails = |line: usize| played.steps.iter().any(|step| step.line == line && !step.outcome.is_good());
    (1..).zip(lines).filter(|(line, _)| !fails(*line)).map(|(_, text)| text).collect()
}

struct Writer<'a> {
    project: &'a Project,
    recording: &'a Recording,
    /// The same, wound to each step in turn.
    again: Recording,
}

impl Writer<'_> {
    fn lines(&mut self) -> Vec<String> {
        let setup = self.recording.setup();
        let mut lines = Vec::new();
        lines.extend(setup.clock.shows(setup.start).map(|local| format!("start {local}")));
        for (point, value) in &setup.values {
            lines.extend(self.point(*point).map(|at| format!("given {at} {}", value_words(*value))));
        }
        let mut now = setup.start;
        for (index, (at, what)) in self.came_in() {
            if at > now {
                lines.push(passed(now, at));
                now = at;
            }
            let Some(step) = self.step(what) else { continue };
            lines.push(step);
            self.again.go_to(index);
            lines.extend(self.expected(index, at));
        }
        lines
    }

    /// What came in until now, each with its place among what is told.
    fn came_in(&self) -> Vec<(usize, (UtcTime, Incoming))> {
        let happened = self.recording.told().iter().take(self.recording.happened()).enumerate();
        let came = happened.filter_map(|(index, entry)| match entry.what {
            What::CameIn(what) => Some((index, (entry.at, what))),
            _ => None,
        });
        came.collect()
    }

    fn step(&self, what: Incoming) -> Option<String> {
        Some(match what {
            Incoming::Gesture { point, gesture } => {
                let at = self.point(point)?;
                gesture_line(gesture, &at)
            }
            Incoming::Value { point, value } => {
                let verb = if self.recording.run().book().does(point) { "give" } else { "report" };
                format!("{verb} {} {}", self.point(point)?, value_words(value))
            }
            Incoming::Mode(mode) => mode_line(self.project, mode)?,
            Incoming::HubStops => "hub stops".to_owned(),
            Incoming::HubStarts => "hub starts".to_owned(),
            Incoming::HubRestarts => "hub restarts".to_owned(),
        })
    }

    /// What the house did in the moment in which something came in: the last that each point went to.
    fn expected(&self, came_in: usize, at: UtcTime) -> Vec<String> {
        let told = self.recording.told();
        let book = self.recording.run().book();
        let mut goals: Vec<(PointNumber, Has)> = Vec::new();
        let mut lines = Vec::new();
        let of_this_moment = told
            .iter()
            .skip(came_in + 1)
            .take_while(|entry| entry.at == at && !matches!(entry.what, What::CameIn(_)));
        for entry in of_this_moment {
            match entry.what {
                What::Changed { point, to, .. } if book.does(point) => {
                    goals.retain(|(known, _)| *known != point);
                    goals.push((point, to));
                }
                What::ModeBecame(HouseMode::AtHome) => lines.push("expect mode is at home".to_owned()),
                What::ModeBecame(HouseMode::Named(mode)) => {
                    let name = self.project.modes.get(mode).map(|mode| &mode.name);
                    lines.extend(name.map(|name| format!("expect mode is {name}")));
                }
                _ => {}
            }
        }
        for (point, has) in goals.into_iter().take(MOST_EXPECTED) {
            let (Some(name), Some(value)) = (self.point(point), has.value()) else { continue };
            let takes = self.takes_s(point, at);
            let within = if takes == 0 { String::new() } else { format!(" within {} s", takes + SPARE_S) };
            lines.push(format!("expect {name} is {}{within}", value_words(value)));
        }
        lines
    }

    /// How long a point takes to get where it goes, in whole seconds, rounded up.
    fn takes_s(&self, point: PointNumber, at: UtcTime) -> i64 {
        let arrives = self.again.run().arrives(point).unwrap_or(at);
        (arrives.ms - at.ms + 999).div_euclid(1000)
    }

    fn point(&self, point: PointNumber) -> Option<String> {
        point_words(self.project, self.recording.run().book().name(point)?)
    }
}

/// Time passing: in minutes where they are whole, else in seconds.
fn passed(from: UtcTime, to: UtcTime) -> String {
    let ms = to.ms - from.ms;
    if ms % 60_000 == 0 {
        format!("after {} min", ms / 60_000)
    } else {
        format!("after {} s", ms as f64 / 1000.0)
    }
}
