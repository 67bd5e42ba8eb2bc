//! Tries the readers of drawings on small drawings that were spoilt at random: `cargo run --release -p
//! pattress-tests --bin fuzz-readers -- --seconds 60`.
//!
//! Each reader gets a quarter of the time. What must not happen: a fault in our own code, an answer that takes
//! longer than five seconds, the end of this program. A fault within a library is caught and becomes a sentence;
//! it is counted. The bytes in hand lie in `target/fuzz-readers` before they are read, and stay there where
//! something went wrong. `--seed` takes the number that an earlier run printed.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Seek, Write};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use pattress::survey::{self, Asked, ReadError};
use pattress_model::survey::ifc;
use pattress_tests::drawings;
use pattress_tests::spoil::{Dice, spoilt};

/// An answer may take so long.
const LONGEST: Duration = Duration::from_secs(5);

/// Where bytes lie that are being tried, or went wrong.
const FOLDER: &str = "target/fuzz-readers";

/// Where faults happened since someone looked: the file of each.
static FAULTS: Mutex<Vec<String>> = Mutex::new(Vec::new());

/// A reader, what it is called, and sound drawings of its sort.
struct Target {
    name: &'static str,
    seeds: Vec<Vec<u8>>,
    read: fn(Vec<u8>) -> Ending,
}

/// How reading ended.
enum Ending {
    Read,
    Refused,
    TookTooLong,
}

fn through_survey(bytes: Vec<u8>) -> Ending {
    match survey::read_by(None, "spoilt", bytes, &Asked::default(), &|_| true) {
        Ok(_) => Ending::Read,
        Err(ReadError::Refused { what, .. }) if what.contains("takes longer than") => Ending::TookTooLong,
        Err(_) => Ending::Refused,
    }
}

fn through_model(bytes: Vec<u8>) -> Ending {
    match std::panic::catch_unwind(|| ifc::read_ifc(&bytes, &|_| true).map(drop)) {
        Ok(Ok(())) => Ending::Read,
        _ => Ending::Refused,
    }
}

fn targets() -> Vec<Target> {
    vec![
        Target { name: "picture", seeds: drawings::frame_as_pictures(), read: through_survey },
        Target { name: "pdf", seeds: vec![drawings::room_as_pdf()], read: through_survey },
        Target { name: "svg", seeds: vec![drawings::room_as_svg()], read: through_survey },
        Target { name: "ifc", seeds: vec![drawings::room_as_ifc()], read: through_model },
    ]
}

/// A number that follows a name on the command line.
fn argument(name: &str) -> Option<u64> {
    let arguments: Vec<String> = std::env::args().collect();
    let at = arguments.iter().position(|argument| argument == name)?;
    arguments.get(at + 1)?.parse().ok()
}

/// Lays bytes where they outlive this program, in a file that stays open: it need not outlive the machine, and
/// closing it each time would wait for the disk.
fn lay(file: &mut File, bytes: &[u8]) {
    let laid =
        file.rewind().and_then(|()| file.write_all(bytes)).and_then(|()| file.set_len(bytes.len() as u64));
    laid.expect("target can be written");
}

fn begin(name: &str) -> (PathBuf, File) {
    let path = PathBuf::from(FOLDER).join(name);
    let file = File::create(&path).expect("target can be written");
    (path, file)
}

/// Tries one reader; how many of its inputs went wrong.
fn attempt(target: &Target, time: Duration, dice: &mut Dice) -> usize {
    let begun = Instant::now();
    let (in_hand, mut file) = begin(target.name);
    let mut caught_at = BTreeSet::new();
    let (mut tried, mut read, mut caught, mut late, mut wrong) = (0_u64, 0_u64, 0_u64, 0_u64, 0);
    let mut slowest = Duration::ZERO;
    while begun.elapsed() < time {
        let bytes = spoilt(&target.seeds, dice);
        lay(&mut file, &bytes);
        let this = Instant::now();
        let ending = (target.read)(bytes.clone());
        let taken = this.elapsed();
        slowest = slowest.max(taken);
        tried += 1;
        match ending {
            Ending::Read => read += 1,
            Ending::Refused => {}
            Ending::TookTooLong => late += 1,
        }
        let faults = std::mem::take(&mut *FAULTS.lock().expect("no fault while noting one"));
        let (ours, of_libraries): (Vec<String>, Vec<String>) =
            faults.into_iter().partition(|place| is_ours(place));
        caught += of_libraries.len() as u64;
        caught_at.extend(of_libraries);
        if !ours.is_empty() || taken > LONGEST {
            wrong += 1;
            let (kept, mut evidence) = begin(&format!("{}-{tried}", target.name));
            lay(&mut evidence, &bytes);
            println!("{}: {ours:?} after {taken:?}: see {}", target.name, kept.display());
        }
    }
    // It came through: what was in hand last is no evidence of anything.
    let _ = std::fs::remove_file(in_hand);
    println!(
        "{:<8} {tried:>8} tried, {read:>7} read, {caught} faults of libraries caught, {late} ended for their time, \
         slowest {:.2} s, {wrong} wrong",
        target.name,
        slowest.as_secs_f64()
    );
    caught_at.iter().for_each(|place| println!("         caught: {place}"));
    wrong
}

/// Whether a fault lies in the code of this repository: libraries are named by the folder they were fetched to.
fn is_ours(place: &str) -> bool {
    ["model/src", "app/src", "tests/src"].iter().any(|folder| place.replace('\\', "/").starts_with(folder))
}

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|fault| {
        let place =
            fault.location().map_or_else(String::new, |place| format!("{}:{}", place.file(), place.line()));
        if let Ok(mut faults) = FAULTS.lock() {
            faults.push(place);
        }
    }));
    let seconds = argument("--seconds").unwrap_or(60);
    let seed = argument("--seed").unwrap_or_else(|| {
        let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
        since.map_or(1, |since| since.as_nanos() as u64)
    });
    std::fs::create_dir_all(FOLDER).expect("target can be written");
    println!("seed {seed}, {seconds} s in all");
    let mut dice = Dice::new(seed);
    let targets = targets();
    let each = Duration::from_secs(seconds) / targets.len() as u32;
    let wrong: usize = targets.iter().map(|target| attempt(target, each, &mut dice)).sum();
    if wrong == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
