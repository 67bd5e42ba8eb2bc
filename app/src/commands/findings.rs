//! `pattress findings`: what should be known before a plan is issued.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use pattress_model::checks::{self, Finding, Severity};
use pattress_model::project::Project;
use serde_json::{Value, json};

use super::{DONE, NOT_DONE, Stop};

/// Arguments of `findings`.
#[derive(Clone, Debug, Args)]
pub struct FindingsArguments {
    /// The plan: NAME.pattress, or a folder with the same content
    pub plan: PathBuf,
    /// Print JSON
    #[arg(long)]
    pub json: bool,
}

/// Prints the findings, serious first, then a line that counts them. Returns 1 where some are serious.
///
/// # Errors
/// A plan that cannot be read, or an output that is shut.
pub fn findings(arguments: &FindingsArguments, out: &mut dyn Write) -> Result<u8, Stop> {
    let plan = crate::files::read(&arguments.plan).map_err(Stop::unreadable)?;
    let found = checks::findings(&plan.project);
    if arguments.json {
        writeln!(out, "{:#}", findings_json(&plan.project, &found))?;
    } else {
        for finding in &found {
            writeln!(out, "{}", line(finding))?;
        }
        writeln!(out, "{}", count_line(&found))?;
    }
    let serious = found.iter().any(|finding| finding.severity == Severity::Serious);
    Ok(if serious { NOT_DONE } else { DONE })
}

/// `serious  height-missing: PIR-03 … [source]`.
fn line(finding: &Finding) -> String {
    format!("{:<8} {}: {} [{}]", finding.severity.name(), finding.check, finding.sentence, finding.source)
}

fn count(found: &[Finding], severity: Severity) -> usize {
    found.iter().filter(|finding| finding.severity == severity).count()
}

fn count_line(found: &[Finding]) -> String {
    format!(
        "{} serious, {} to settle before first fix, {} to note",
        count(found, Severity::Serious),
        count(found, Severity::Warning),
        count(found, Severity::Note)
    )
}

/// The findings as JSON: counts, then each with its place in plan millimetres.
pub fn findings_json(project: &Project, found: &[Finding]) -> Value {
    let each: Vec<Value> = found
        .iter()
        .map(|finding| {
            let level = finding.level.and_then(|level| project.levels.get(level));
            json!({
                "severity": finding.severity.name(),
                "check": finding.check,
                "subject": { "sort": finding.subject.sort(), "id": finding.subject.number() },
                "level": level.map(|level| level.name.as_str()),
                "at_mm": finding.at.map(|at| [super::figures::rounded(at.x, 1), super::figures::rounded(at.y, 1)]),
                "sentence": finding.sentence,
                "source": finding.source,
                "fix": finding.fix.as_ref().map(|fix| fix.label.as_str()),
            })
        })
        .collect();
    json!({
        "plan": project.site.project_name,
        "serious": count(found, Severity::Serious),
        "warnings": count(found, Severity::Warning),
        "notes": count(found, Severity::Note),
        "findings": each,
    })
}
