//! Pages of strangers are read apart: by this same program run as a child, with little memory and little time.
//!
//! A drawing can ask its reader for more memory than the machine has, or for hours. In a child that costs
//! nothing: it limits its own memory, it is ended when its time is up or nobody waits any longer, and what it
//! leaves is an answer or none. Where there is no such program, as in tests, a thread serves, which is as safe
//! against faults but not against greed.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use super::errand::Errand;
use super::parcel::{Answer, pack_answer, pack_errand, unpack_answer, unpack_errand};
use super::{Asked, Fault, KeepGoing, PagePicture, Sort, open_and_paint, open_and_read, sort_of};

/// The command of this program that reads apart.
pub const COMMAND: &str = "read-apart";

/// How often someone is asked whether to go on.
const ASK_EACH: Duration = Duration::from_millis(20);

/// Memory of the child, bytes.
const MOST_MEMORY: u64 = 1_500_000_000;

/// Stack of whoever reads: drawings nest, and the libraries follow them down.
const STACK: usize = 64 << 20;

/// This program, where it is the one that can read apart.
pub(super) fn own_program() -> Option<PathBuf> {
    std::env::current_exe().ok().filter(|program| program.file_stem().is_some_and(|stem| stem == "pattress"))
}

/// Sends someone on an errand: the program, or a thread where there is none.
pub(super) fn send(
    program: Option<&Path>,
    errand: &Errand,
    bytes: &[u8],
    asked: &Asked,
    keep_going: KeepGoing<'_>,
) -> Answer {
    let outcome = match program {
        Some(program) => by_program(program, errand, bytes, asked, keep_going),
        None => by_thread(errand, bytes, asked, keep_going),
    };
    outcome.unwrap_or_else(Answer::Fault)
}

/// Does an errand here and now.
fn run(errand: &Errand, bytes: &[u8], asked: &Asked) -> Answer {
    let sort = sort_of(bytes).unwrap_or(Sort::Pdf);
    let done = match errand {
        Errand::Read => open_and_read(sort, bytes, asked).map(Answer::Page),
        Errand::Paint { px_per_mm } => open_and_paint(sort, bytes, asked, *px_per_mm)
            .map(|(width, height, rgba)| Answer::Painted(PagePicture { width, height, rgba })),
    };
    done.unwrap_or_else(Answer::Fault)
}

fn broken() -> Fault {
    Fault::because("its content is broken in a way that stops its reader, so save it anew as PDF")
}

fn by_thread(
    errand: &Errand,
    bytes: &[u8],
    asked: &Asked,
    keep_going: KeepGoing<'_>,
) -> Result<Answer, Fault> {
    let (send, receive) = channel();
    let (errand_of_thread, bytes, asked) = (errand.clone(), bytes.to_vec(), asked.clone());
    std::thread::Builder::new()
        .name("survey".to_owned())
        .stack_size(STACK)
        .spawn(move || {
            // Whoever waited may be gone: then nobody misses the answer.
            let _ = send.send(run(&errand_of_thread, &bytes, &asked));
        })
        .map_err(|error| not_started(&error))?;
    wait(errand, keep_going, |time| receive.recv_timeout(time)).unwrap_or_else(|| Err(broken()))
}

/// Waits for what comes, as long as the errand may take and someone cares. `None` where nothing will come.
fn wait<T>(
    errand: &Errand,
    keep_going: KeepGoing<'_>,
    receive: impl Fn(Duration) -> Result<T, RecvTimeoutError>,
) -> Option<Result<T, Fault>> {
    let begun = Instant::now();
    loop {
        match receive(ASK_EACH) {
            Ok(answer) => return Some(Ok(answer)),
            Err(RecvTimeoutError::Disconnected) => return None,
            Err(RecvTimeoutError::Timeout) => {}
        }
        let taken = begun.elapsed();
        if taken > errand.time() {
            return Some(Err(errand.took_too_long()));
        }
        // How much is done can't be told from outside: the share of its time serves.
        if !keep_going(taken.as_secs_f32() / errand.time().as_secs_f32()) {
            return Some(Err(Fault::Stopped));
        }
    }
}

fn not_started(error: &std::io::Error) -> Fault {
    Fault::Because(format!("its reader can't be started ({error}), so close other programs and try again"))
}

fn by_program(
    program: &Path,
    errand: &Errand,
    bytes: &[u8],
    asked: &Asked,
    keep_going: KeepGoing<'_>,
) -> Result<Answer, Fault> {
    let mut child = Command::new(program)
        .arg(COMMAND)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .map_err(|error| not_started(&error))?;
    let (to_child, from_child) = (child.stdin.take(), child.stdout.take());
    let head = pack_errand(errand, asked);
    let received = std::thread::scope(|scope| {
        let (send, receive) = channel();
        scope.spawn(move || {
            if let Some(mut to_child) = to_child {
                // A child that ended early reads no further; what it left tells why.
                let _ = to_child.write_all(&head).and_then(|()| to_child.write_all(bytes));
            }
        });
        scope.spawn(move || {
            let mut parcel = Vec::new();
            if let Some(mut from_child) = from_child {
                // What is cut short is no answer, which shows when it is unpacked.
                let _ = from_child.read_to_end(&mut parcel);
            }
            let _ = send.send(parcel);
        });
        let received = wait(errand, keep_going, |time| receive.recv_timeout(time));
        // Whether it is done or not wanted any more: it ends here, and with it the threads at its pipes. That it
        // has ended already is no fault.
        if !matches!(received, Some(Ok(_))) {
            let _ = child.kill();
        }
        received
    });
    let status = child.wait();
    let parcel = received.unwrap_or_else(|| Err(broken()))?;
    unpack_answer(&parcel)
        .ok_or_else(|| status.map_or_else(|_| broken(), |status| why_it_died(status, asked)))
}

/// A child that asks for more memory than it may have is ended by a signal; a fault within it gives a code.
fn why_it_died(status: ExitStatus, asked: &Asked) -> Fault {
    if status.code().is_some() {
        return broken();
    }
    Fault::Because(format!(
        "its page {} takes more memory than a drawing of a house should, so ask for it without what is not needed",
        asked.page
    ))
}

/// Serves one errand as the child: it comes in and its answer goes out.
///
/// # Errors
/// Whatever the pipes say.
pub fn serve(from_parent: &mut dyn Read, to_parent: &mut dyn Write) -> std::io::Result<()> {
    limit_own_memory();
    let mut parcel = Vec::new();
    from_parent.read_to_end(&mut parcel)?;
    let reader = std::thread::Builder::new().stack_size(STACK).spawn(move || {
        let answer = match unpack_errand(&parcel) {
            Some((errand, asked, bytes)) => run(&errand, bytes, &asked),
            None => Answer::Fault(Fault::because("it was asked for in a form of another program")),
        };
        pack_answer(&answer)
    })?;
    let answer = reader.join().unwrap_or_else(|_| pack_answer(&Answer::Fault(broken())));
    to_parent.write_all(&answer)?;
    to_parent.flush()
}

/// Takes from this process the right to more memory, and to leave a picture of it behind when it dies.
#[cfg(unix)]
fn limit_own_memory() {
    use rustix::process::{Resource, Rlimit, setrlimit};
    // Where the system refuses, the parent's clock still holds.
    let _ = setrlimit(Resource::As, Rlimit { current: Some(MOST_MEMORY), maximum: Some(MOST_MEMORY) });
    let _ = setrlimit(Resource::Core, Rlimit { current: Some(0), maximum: Some(0) });
}

/// No such right can be given away here: the parent's clock holds.
#[cfg(not(unix))]
fn limit_own_memory() {
    let _ = MOST_MEMORY;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_waits_can_stop_and_time_runs_out() {
        let errand = Errand::Read;
        let nothing = |_: Duration| -> Result<(), RecvTimeoutError> { Err(RecvTimeoutError::Timeout) };
        assert_eq!(wait(&errand, &|_| false, nothing), Some(Err(Fault::Stopped)));
        let found = wait(&errand, &|_| true, |time| {
            std::thread::sleep(time);
            nothing(time)
        });
        assert_eq!(found, Some(Err(errand.took_too_long())));
        assert_eq!(wait(&errand, &|_| true, |_| Err::<(), _>(RecvTimeoutError::Disconnected)), None);
    }

    #[test]
    fn a_program_that_answers_with_nothing_is_no_reader() {
        // Any program that is no reader will do; this test itself knows no such command.
        let program = std::env::current_exe().unwrap();
        let answer = send(Some(&program), &Errand::Read, b"%PDF-1.7", &Asked::default(), &|_| true);
        assert!(matches!(answer, Answer::Fault(Fault::Because(_))), "{answer:?}");
    }
}
