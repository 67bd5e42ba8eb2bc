//! A script that is shown on the plan: its lines, and how each came out.

use pattress_model::calendar::UtcTime;
use pattress_model::studies::rehearsal::script::{Outcome, StepPlayed};
use pattress_model::systems::Script;

/// A script that is shown.
#[derive(Clone, Debug)]
pub struct Showing {
    /// Its name and lines.
    pub script: Script,
    /// How its steps came out; empty while it waits for what sensors cover.
    pub steps: Vec<StepPlayed>,
    /// When it is over.
    pub ends: UtcTime,
}

impl Showing {
    /// Whether every expectation was met; `None` while that is not known.
    pub fn passed(&self) -> Option<bool> {
        (!self.steps.is_empty()).then(|| self.steps.iter().all(|step| step.outcome.is_good()))
    }

    /// How a line came out, counted from 1; `None` for a remark.
    pub fn outcome(&self, line: usize) -> Option<&StepPlayed> {
        self.steps.iter().find(|step| step.line == line)
    }

    /// The line that the clock has come to.
    pub fn line_at(&self, now: UtcTime) -> Option<usize> {
        self.steps.iter().rev().find(|step| step.at <= now).map(|step| step.line)
    }

    /// How many of its steps failed or could not be done.
    pub fn failed(&self) -> usize {
        self.steps.iter().filter(|step| !step.outcome.is_good()).count()
    }

    /// What is said of a step beside its line.
    pub fn said(outcome: &Outcome) -> &str {
        match outcome {
            Outcome::Done | Outcome::Met(_) => "",
            Outcome::Failed(said) | Outcome::Refused(said) => said,
        }
    }
}
