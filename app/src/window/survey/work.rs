//! Work on a drawing off the window's thread: it shows how far it is, can be stopped, and brings one answer.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

pub use crate::survey::KeepGoing;

/// Something being done.
pub struct Work<T> {
    what: String,
    /// What it is at, from which share on.
    steps: Vec<(f32, String)>,
    /// A thousandth at a time.
    done: Arc<AtomicU32>,
    stopped: Arc<AtomicBool>,
    answer: Receiver<T>,
}

/// Where work is done.
#[derive(Clone, Debug)]
pub enum Hands {
    /// On a thread of its own; the window is woken when there is something to show.
    Apart(egui::Context),
    /// At once, where it is asked for, so that tests see the answer in the next frame.
    InPlace,
}

impl<T: Send + 'static> Work<T> {
    /// Begins; `what` says it in a few words (`Reading plan.pdf`). Where no thread can be had it is done at once:
    /// slower, but done.
    pub fn begin(what: String, hands: &Hands, job: impl FnOnce(KeepGoing<'_>) -> T + Send + 'static) -> Self {
        let done = Arc::new(AtomicU32::new(0));
        let stopped = Arc::new(AtomicBool::new(false));
        let (send, answer) = channel();
        let (shown, asked_to_stop) = (Arc::clone(&done), Arc::clone(&stopped));
        let run = move |waker: Option<egui::Context>| {
            let told = waker.clone();
            let found = job(&move |share| {
                shown.store((share.clamp(0.0, 1.0) * 1000.0) as u32, Ordering::Relaxed);
                if let Some(waker) = &told {
                    waker.request_repaint();
                }
                !asked_to_stop.load(Ordering::Relaxed)
            });
            let _ = send.send(found);
            if let Some(waker) = waker {
                waker.request_repaint();
            }
        };
        match hands {
            Hands::InPlace => run(None),
            Hands::Apart(ctx) => {
                let waker = ctx.clone();
                let named = std::thread::Builder::new().name("drawing".to_owned());
                // A thread that cannot be had drops the job and its sender: the answer is then `Lost`.
                drop(named.spawn(move || run(Some(waker))));
            }
        }
        Self { what, steps: Vec::new(), done, stopped, answer }
    }

    /// The same with names for what it is at, each from some share on.
    pub fn in_steps(mut self, steps: &[(f32, &str)]) -> Self {
        self.steps = steps.iter().map(|(from, step)| (*from, format!("{}: {step}", self.what))).collect();
        self
    }

    /// What is being done, in a few words, and what it is at.
    pub fn what(&self) -> &str {
        let share = self.share();
        let step = self.steps.iter().rev().find(|(from, _)| *from <= share);
        step.map_or(self.what.as_str(), |(_, step)| step.as_str())
    }

    /// How much is done, 0 to 1; 0 as long as nothing can be told.
    pub fn share(&self) -> f32 {
        self.done.load(Ordering::Relaxed) as f32 / 1000.0
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// The answer, once there is one; `Err` where the work came to nothing.
    pub fn answer(&self) -> Option<Result<T, Lost>> {
        match self.answer.try_recv() {
            Ok(answer) => Some(Ok(answer)),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err(Lost)),
        }
    }
}

impl<T> Drop for Work<T> {
    fn drop(&mut self) {
        self.stopped.store(true, Ordering::Relaxed);
    }
}

/// Work that ended without an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the drawing could not be worked on: save it anew from where it came and bring it in again")]
pub struct Lost;

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    fn wait<T: Send + 'static>(work: &Work<T>) -> Result<T, Lost> {
        let begun = Instant::now();
        loop {
            if let Some(answer) = work.answer() {
                return answer;
            }
            assert!(begun.elapsed() < Duration::from_secs(10), "no answer");
            std::thread::sleep(Duration::from_millis(1));
        }
    }

    #[test]
    fn work_answers_in_place_and_apart() {
        let in_place = Work::begin("Adding".to_owned(), &Hands::InPlace, |_| 2 + 2);
        assert_eq!(in_place.answer(), Some(Ok(4)));
        let apart = Work::begin("Adding".to_owned(), &Hands::Apart(egui::Context::default()), |keep_going| {
            assert!(keep_going(0.5));
            5
        });
        assert_eq!(wait(&apart), Ok(5));
        assert!((apart.share() - 0.5).abs() < 1e-6);
    }

    #[test]
    fn work_says_what_it_is_at() {
        let steps = &[(0.0, "opening it"), (0.5, "drawing it")];
        for (share, words) in [(0.0, "Reading a.pdf: opening it"), (0.6, "Reading a.pdf: drawing it")] {
            let work =
                Work::begin("Reading a.pdf".to_owned(), &Hands::InPlace, move |keep_going| keep_going(share));
            assert_eq!(work.what(), "Reading a.pdf");
            assert_eq!(work.in_steps(steps).what(), words);
        }
    }

    #[test]
    fn work_hears_that_it_is_to_stop_and_a_failure_is_an_answer() {
        let work =
            Work::begin("Counting".to_owned(), &Hands::Apart(egui::Context::default()), |keep_going| {
                while keep_going(0.0) {
                    std::thread::sleep(Duration::from_millis(1));
                }
                "stopped"
            });
        work.stop();
        assert_eq!(wait(&work), Ok("stopped"));
        let failing: Work<u8> =
            Work::begin("Failing".to_owned(), &Hands::Apart(egui::Context::default()), |_| {
                std::panic::resume_unwind(Box::new("gave up"))
            });
        assert_eq!(wait(&failing), Err(Lost));
    }
}
