//! A crew: jobs shared among worker threads, their results in the order of the jobs.
//!
//! However many hands there are and whoever is done first, the answer is the same. The one who asked hears of
//! every job that is done, on the thread that asked, and may call the rest off.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

/// More hands than this gain nothing: a sheet set has some ten sheets, and each takes memory while it is drawn.
const MOST_HANDS: usize = 8;

/// Does jobs 0 to `jobs`, each once, and returns their results in that order. `done` hears the number of each
/// job as it is finished; if it answers `false`, no further job is begun and the answer is `None`.
pub fn do_all<T: Send>(
    jobs: usize,
    job: impl Fn(usize) -> T + Sync,
    done: &mut dyn FnMut(usize) -> bool,
) -> Option<Vec<T>> {
    let hands = std::thread::available_parallelism().map_or(1, NonZero::get).min(MOST_HANDS).min(jobs);
    let next = AtomicUsize::new(0);
    let mut results: Vec<Option<T>> = (0..jobs).map(|_| None).collect();
    let go_on = std::thread::scope(|scope| {
        let (finished, inbox) = mpsc::channel();
        for _ in 0..hands {
            let (finished, next, job) = (finished.clone(), &next, &job);
            scope.spawn(move || {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= jobs || finished.send((number, job(number))).is_err() {
                        break;
                    }
                }
            });
        }
        drop(finished);
        for (number, result) in inbox {
            results[number] = Some(result);
            if !done(number) {
                next.store(jobs, Ordering::Relaxed);
                return false;
            }
        }
        true
    });
    if go_on { results.into_iter().collect() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_the_order_of_the_jobs() {
        let mut heard = Vec::new();
        let squares = do_all(40, |number| number * number, &mut |number| {
            heard.push(number);
            true
        });
        assert_eq!(squares, Some((0..40).map(|number| number * number).collect()));
        heard.sort_unstable();
        assert_eq!(heard, (0..40).collect::<Vec<_>>());
        assert_eq!(do_all(0, |number| number, &mut |_| true), Some(Vec::new()));
    }

    #[test]
    fn jobs_that_are_called_off_are_not_begun() {
        let begun = AtomicUsize::new(0);
        let job = |_| {
            begun.fetch_add(1, Ordering::Relaxed);
            std::thread::sleep(std::time::Duration::from_millis(2));
        };
        assert_eq!(do_all(1000, job, &mut |_| false), None);
        assert!(begun.into_inner() < 1000);
    }
}
