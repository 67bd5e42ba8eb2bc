//! A finding: something the integrator should know, with its place, reason and source.

use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::plan::Level;
use crate::systems::Script;

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Good to know.
    Note,
    /// To be settled before first fix.
    Warning,
    /// The plan can't be issued as complete, or someone could be hurt.
    Serious,
}

impl Severity {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Serious => "serious",
        }
    }
}

/// Something the integrator should know.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How much it matters.
    pub severity: Severity,
    /// Name of the check, stable across releases (`height-missing`).
    pub check: &'static str,
    /// What it is about.
    pub subject: Subject,
    /// The level it is on, where it is on one.
    pub level: Option<Id<Level>>,
    /// Where on that level, mm.
    pub at: Option<kurbo::Point>,
    /// One sentence: what, where, and what to do.
    pub sentence: String,
    /// Where the demand comes from, or “common practice, no published source”.
    pub source: &'static str,
    /// A change that would settle it, labelled with what it does, where the plan itself tells of one.
    pub fix: Option<Change>,
    /// A script that shows it when it is played, where there is one.
    pub script: Option<Script>,
}

impl Finding {
    /// The finding with a change that would settle it; one that cannot be made is left out.
    pub fn with_fix(self, fix: Result<Change, String>) -> Self {
        Self { fix: fix.ok(), ..self }
    }

    /// The finding with a script that shows it.
    pub fn shown_by(self, script: Option<Script>) -> Self {
        Self { script, ..self }
    }
}
