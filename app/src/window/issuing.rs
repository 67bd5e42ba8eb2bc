//! An issue being written, off the window's thread: it shows how far it is and can be stopped.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Mutex, PoisonError};

use pattress_model::drawing::sheets::SheetOptions;
use pattress_model::project::Project;
use pattress_model::store::Media;

use crate::commands::issue::issued_files;

/// How far an issue has come.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Files done.
    pub done: usize,
    /// Files in all.
    pub of: usize,
    /// What is being made.
    pub what: String,
}

/// An issue being written.
pub struct Issuing {
    progress: Arc<Mutex<Progress>>,
    stopped: Arc<AtomicBool>,
    outcome: Receiver<Result<String, String>>,
}

impl Issuing {
    /// Starts to write an issue into a folder; `wake` is called whenever there is something to show.
    pub fn start(project: Project, media: Media, folder: PathBuf, wake: impl Fn() + Send + 'static) -> Self {
        let progress = Arc::new(Mutex::new(Progress::default()));
        let stopped = Arc::new(AtomicBool::new(false));
        let (send, outcome) = channel();
        let (shown, asked_to_stop, answer) = (Arc::clone(&progress), Arc::clone(&stopped), send.clone());
        let spawned = std::thread::Builder::new().name("issue".to_owned()).spawn(move || {
            let written = write(&project, &media, &folder, &mut |done, of, what| {
                let now = Progress { done, of, what: what.to_owned() };
                *shown.lock().unwrap_or_else(PoisonError::into_inner) = now;
                wake();
                !asked_to_stop.load(Ordering::Relaxed)
            });
            let _ = answer.send(written);
            wake();
        });
        if let Err(error) = spawned {
            let _ = send.send(Err(format!("the issue could not be started: {error}; try again")));
        }
        Self { progress, stopped, outcome }
    }

    /// How far it is.
    pub fn progress(&self) -> Progress {
        self.progress.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Asks it to stop; what was written so far stays.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// How it ended, once it has.
    pub fn outcome(&self) -> Option<Result<String, String>> {
        self.outcome.try_recv().ok()
    }
}

fn write(
    project: &Project,
    media: &Media,
    folder: &std::path::Path,
    watch: &mut dyn FnMut(usize, usize, &str) -> bool,
) -> Result<String, String> {
    let options = SheetOptions::of_site(project);
    let issued = issued_files(project, media, &options, watch).map_err(|stop| stop.sentence)?;
    let Some(issued) = issued else { return Ok("The issue was stopped; nothing was written".to_owned()) };
    let count = issued.len();
    for file in issued {
        crate::files::write_bytes(&folder.join(&file.path), &file.bytes)
            .map_err(|error| error.to_string())?;
    }
    Ok(format!("Issued {count} files to {}", folder.display()))
}
