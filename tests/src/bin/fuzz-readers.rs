//! Tries the readers of drawings on small drawings that were spoilt at random: `cargo run --release -p
//! pattress-tests --bin fuzz-readers -- --seconds 60`.
//!
//! Each reader gets a quarter of the time. What must not happen: a fault in our own code, an answer that takes
//! longer than five seconds, the end of this program. A fault within a library is caught and becomes a sentence;
//! it is counted. The bytes in hand lie in `target/fuzz-readers` before they are read, and stay there where
//! something went wrong. `--seed` takes the number that an earlier run printed.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use pattress::files;
use pattress::survey::{self, Asked, ReadError};
use pattress_model::survey::ifc;
use pattress_tests::drawings;
use pattress_tests::spoil::{Dice, spoilt};

/// An answer may take so long.
const LONGEST: Duration = Duration::from_secs(5);

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

fn keep(file: &str, bytes: &[u8]) -> PathBuf {
    let path = PathBuf::from("target/fuzz-readers").join(file);
    files::write_bytes(&path, bytes).expect("target can be written");
    path
}

/// Tries one reader; how many of its inputs went wrong.
fn attempt(target: &Target, time: Duration, dice: &mut Dice) -> usize {
    let begun = Instant::now();
    let (mut tried, mut read, mut caught, mut late, mut wrong) = (0_u64, 0_u64, 0_u64, 0_u64, 0);
    let mut slowest = Duration::ZERO;
    while begun.elapsed() < time {
        let bytes = spoilt(&target.seeds, dice);
        keep(target.name, &bytes);
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
        let ours: Vec<&String> = faults.iter().filter(|place| is_ours(place)).collect();
        caught += (faults.len() - ours.len()) as u64;
        if !ours.is_empty() || taken > LONGEST {
            wrong += 1;
            let kept = keep(&format!("{}-{tried}", target.name), &bytes);
            println!("{}: {ours:?} after {taken:?}: see {}", target.name, kept.display());
        }
    }
    println!(
        "{:<8} {tried:>8} tried, {read:>7} read, {caught} faults of libraries caught, {late} ended for their time, \
         slowest {:.2} s, {wrong} wrong",
        target.name,
        slowest.as_secs_f64()
    );
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
    println!("seed {seed}, {seconds} s in all");
    let mut dice = Dice::new(seed);
    let targets = targets();
    let each = Duration::from_secs(seconds) / targets.len() as u32;
    let wrong: usize = targets.iter().map(|target| attempt(target, each, &mut dice)).sum();
    if wrong == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
