//! Figures of a bench as lines of a table: what was asked, what was measured, and against what.
//!
//! Times are of the processor's work on the thread that asks, so that what else the machine does counts little.

#![allow(dead_code, reason = "each bench is a program of its own and uses a part of this")]

use std::time::Duration;

/// How long the processor has worked on this thread.
#[cfg(unix)]
pub fn worked() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
    Duration::new(time.tv_sec.unsigned_abs(), u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// How long this program has run: elsewhere a thread's own time cannot be asked for.
#[cfg(not(unix))]
pub fn worked() -> Duration {
    use std::sync::OnceLock;
    static STARTED: OnceLock<std::time::Instant> = OnceLock::new();
    STARTED.get_or_init(std::time::Instant::now).elapsed()
}

/// How long the processor has worked on this program, all its threads and the system on its behalf.
#[cfg(unix)]
pub fn worked_in_all() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::ProcessCPUTime);
    Duration::new(time.tv_sec.unsigned_abs(), u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// How long this program has run: elsewhere its processor time cannot be asked for.
#[cfg(not(unix))]
pub fn worked_in_all() -> Duration {
    worked()
}

/// Times of one thing done many times over.
pub struct Times(Vec<Duration>);

impl Times {
    /// Runs something so many times; counts the work of this thread.
    pub fn of<R>(count: usize, run: impl FnMut() -> R) -> Self {
        Self::by(worked, count, run)
    }

    /// Runs something so many times; counts the work of all threads.
    pub fn in_all<R>(count: usize, run: impl FnMut() -> R) -> Self {
        Self::by(worked_in_all, count, run)
    }

    fn by<R>(clock: fn() -> Duration, count: usize, mut run: impl FnMut() -> R) -> Self {
        let once = |_| {
            let started = clock();
            let result = run();
            let took = clock() - started;
            drop(std::hint::black_box(result));
            took
        };
        Self::sorted((0..count).map(once).collect())
    }

    /// Times taken elsewhere.
    pub fn sorted(mut times: Vec<Duration>) -> Self {
        times.sort_unstable();
        Self(times)
    }

    /// The one in the middle.
    pub fn median(&self) -> Duration {
        self.0.get(self.0.len() / 2).copied().unwrap_or_default()
    }

    /// The longest.
    pub fn worst(&self) -> Duration {
        self.0.last().copied().unwrap_or_default()
    }

    /// Prints a line: the figure asked for, the median and the worst, and the median of a reference in the same
    /// run as a multiple of ours.
    pub fn print(&self, what: &str, asked: Option<Duration>, reference: Option<&Times>) {
        let median = self.median();
        let asked_words = asked.map_or("-".to_owned(), ms);
        let verdict = match asked {
            Some(asked) if median > asked => "  TOO LONG",
            _ => "",
        };
        let ratio = reference.map_or(String::new(), |reference| {
            let ratio = reference.median().as_secs_f64() / median.as_secs_f64().max(1e-9);
            format!("   reference {:>9}, {ratio:.1} times ours", ms(reference.median()))
        });
        println!(
            "{what:<58} asked {asked_words:>8}   median {:>9}   worst {:>9}{ratio}{verdict}",
            ms(median),
            ms(self.worst())
        );
    }
}

fn ms(time: Duration) -> String {
    format!("{:.2} ms", time.as_secs_f64() * 1e3)
}
