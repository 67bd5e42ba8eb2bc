//! The command line: the window, and the commands that work without one.
//!
//! Each command takes its arguments and two writers and returns its exit code, so that tests run it as the
//! shell does. Results go to standard output; what goes wrong goes to standard error in one line that says
//! what, where, and what to do. No command but the first needs a display.

mod crew;
pub mod figures;
pub mod findings;
pub mod issue;
pub mod rehearse;
pub mod survey;

use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

use clap::error::ErrorKind;
use clap::{Parser, Subcommand};

/// The job was done; of `findings`: none is serious.
pub const DONE: u8 = 0;

/// The job could not be finished; of `findings`: some are serious.
pub const NOT_DONE: u8 = 1;

/// The plan cannot be read, the command line is wrong, or the window cannot be opened.
pub const UNREADABLE: u8 = 2;

/// What stops a command: a sentence, and the exit code that goes with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The exit code.
    pub code: u8,
    /// What is wrong, where, and what to do; empty where nothing is.
    pub sentence: String,
}

impl Stop {
    /// The plan or the command line is at fault.
    pub fn unreadable(sentence: impl ToString) -> Self {
        Self { code: UNREADABLE, sentence: sentence.to_string() }
    }

    /// The job could not be finished.
    pub fn not_done(sentence: impl ToString) -> Self {
        Self { code: NOT_DONE, sentence: sentence.to_string() }
    }
}

impl From<std::io::Error> for Stop {
    fn from(reason: std::io::Error) -> Self {
        // A pipe that was shut: whoever reads has seen enough, and there is nothing to complain of.
        if reason.kind() == std::io::ErrorKind::BrokenPipe {
            return Self { code: DONE, sentence: String::new() };
        }
        Self::not_done(format!("the result cannot be written: {reason}"))
    }
}

/// The drawing board of the home-automation integrator.
#[derive(Debug, Parser)]
#[command(
    name = "pattress",
    version,
    args_conflicts_with_subcommands = true,
    after_help = "Exit codes:\n  \
        0  done; findings: none is serious; rehearse: every expectation is met\n  \
        1  the job could not be finished; findings: some are serious; rehearse: an expectation fails\n  \
        2  the plan cannot be read, the command line is wrong, or the window cannot be opened"
)]
struct CommandLine {
    /// The plan to open in the window: NAME.pattress, or a folder with the same content
    plan: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Write the sheet set and the schedules of a plan
    Issue(issue::IssueArguments),
    /// Print every computed figure of a plan, with units
    Figures(figures::FiguresArguments),
    /// Print what should be known before a plan is issued
    Findings(findings::FindingsArguments),
    /// Play a script of a plan: what is done, and what the house must then do
    Rehearse(rehearse::RehearseArguments),
    /// Bring in an architect's drawing: under a storey, to scale, straight, and traced if asked
    Survey(survey::SurveyArguments),
    /// Internal: read one page of a drawing from standard input for the window, with little memory
    #[command(name = crate::survey::apart::COMMAND)]
    ReadApart,
}

/// Runs a command line, the program's name first. Returns the exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let line = match CommandLine::try_parse_from(arguments) {
        Ok(line) => line,
        Err(answer) => return answer_of_parser(&answer, out, err),
    };
    let done = match line.command {
        None => crate::window::run(line.plan).map(|()| DONE).map_err(Stop::unreadable),
        Some(Command::Issue(arguments)) => issue::issue(&arguments, out),
        Some(Command::Figures(arguments)) => figures::figures(&arguments, out),
        Some(Command::Findings(arguments)) => findings::findings(&arguments, out),
        Some(Command::Rehearse(arguments)) => rehearse::rehearse(&arguments, out),
        Some(Command::Survey(arguments)) => survey::survey(&arguments, out),
        Some(Command::ReadApart) => {
            crate::survey::apart::serve(&mut std::io::stdin().lock(), out).map(|()| DONE).map_err(Stop::from)
        }
    };
    match done {
        Ok(code) => code,
        Err(stop) => {
            if !stop.sentence.is_empty() {
                complain(err, &stop.sentence);
            }
            stop.code
        }
    }
}

/// Help and version are answers, everything else is a mistake in the line.
fn answer_of_parser(answer: &clap::Error, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    match answer.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            // Where nobody can read the help, nobody can read a complaint about it either.
            let _ = write!(out, "{answer}");
            DONE
        }
        _ => {
            let whole = answer.to_string();
            let first: Vec<&str> = whole.lines().take_while(|line| !line.trim().is_empty()).collect();
            let sentence = first.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
            let sentence = sentence.trim_start_matches("error: ");
            complain(err, &format!("{sentence}; see pattress --help"));
            UNREADABLE
        }
    }
}

/// One line on standard error.
fn complain(err: &mut dyn Write, sentence: &str) {
    let line: Vec<&str> = sentence.split_whitespace().collect();
    // Standard error is the last resort: if it is shut, the exit code still tells.
    let _ = writeln!(err, "pattress: {}", line.join(" "));
}
