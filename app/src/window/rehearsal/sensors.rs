//! What the sensors of the house cover, worked out on a thread of its own while the rehearsal is under way.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use pattress_model::project::Project;
use pattress_model::studies::coverage::{Options, SensorCoverage, coverage};

/// What the sensors cover, once it is known.
pub enum Sensors {
    /// Nobody has asked.
    NotAsked,
    /// It is being worked out.
    Asked(Receiver<Vec<SensorCoverage>>),
    /// It is known.
    Known(Arc<Vec<SensorCoverage>>),
}

impl Sensors {
    /// Asks for it, where nobody has; without a thread it is worked out at once.
    pub fn ask(&mut self, project: &Project, in_place: bool, ctx: &egui::Context) {
        if !matches!(self, Self::NotAsked) {
            return;
        }
        let (answer, answers) = channel();
        let (of, wakes) = (project.clone(), ctx.clone());
        let work = move || {
            let _ = answer.send(coverage(&of, Options::default()).sensors);
            wakes.request_repaint();
        };
        if in_place {
            work();
        } else if thread::Builder::new().name("what sensors cover".to_owned()).spawn(work).is_err() {
            *self = Self::Known(Arc::new(coverage(project, Options::default()).sensors));
            return;
        }
        *self = Self::Asked(answers);
        self.keep_up();
    }

    /// Takes in what has become known.
    pub fn keep_up(&mut self) {
        if let Self::Asked(answers) = self {
            match answers.try_recv() {
                Ok(sensors) => *self = Self::Known(Arc::new(sensors)),
                Err(TryRecvError::Empty) => {}
                Err(TryRecvError::Disconnected) => *self = Self::Known(Arc::default()),
            }
        }
    }

    /// What they cover; `None` while that is not known.
    pub fn known(&self) -> Option<Arc<Vec<SensorCoverage>>> {
        match self {
            Self::Known(sensors) => Some(Arc::clone(sensors)),
            Self::NotAsked | Self::Asked(_) => None,
        }
    }
}
