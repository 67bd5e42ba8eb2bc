//! Studies off the window's thread, on snapshots that cost a few pointers.
//!
//! The newest snapshot wins: what was asked for before is dropped. A result carries the generation of the
//! project it was computed for; the window shows it as fresh only while that is the newest.

use std::collections::BTreeMap;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pattress_model::checks::Finding;
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::outline::{RoomOutline, room_outlines};
use pattress_model::plan::{DoorsAs, Level, Room};
use pattress_model::project::Project;
use pattress_model::studies::coverage::{self, Scenes, SensorCoverage};

/// What the window knows of a project beyond its decisions.
#[derive(Clone, Debug, Default)]
pub struct Figures {
    /// The generation they were computed for; `None` before the first.
    pub generation: Option<u64>,
    /// The level they are of.
    pub level: Option<Id<Level>>,
    /// Outlines of the level's rooms.
    pub outlines: BTreeMap<Id<Room>, RoomOutline>,
    /// Coverage of the level's sensors.
    pub coverage: BTreeMap<Id<Device>, SensorCoverage>,
    /// Findings of the whole house.
    pub findings: Vec<Finding>,
}

/// What is asked for.
#[derive(Clone)]
pub struct Wanted {
    /// The project as it is.
    pub project: Project,
    /// Its generation.
    pub generation: u64,
    /// The level on the board.
    pub level: Id<Level>,
    /// How doors are taken.
    pub doors: DoorsAs,
}

/// Computes everything that is wanted.
pub fn compute(wanted: &Wanted) -> Figures {
    let Wanted { project, generation, level, doors } = wanted;
    let outlines = room_outlines(project, *level);
    let mut scenes = Scenes::of_level(project, *level, *doors);
    let coverage = project
        .devices_on(*level)
        .filter_map(|(id, device, _)| {
            coverage::sensor(project, &mut scenes, &outlines, id, device).map(|found| (id, found))
        })
        .collect();
    Figures {
        generation: Some(*generation),
        level: Some(*level),
        outlines,
        coverage,
        findings: pattress_model::checks::findings(project),
    }
}

/// The worker and what it last brought.
pub struct Jobs {
    ask: Option<Sender<Wanted>>,
    answers: Receiver<Figures>,
    asked: Option<(u64, Id<Level>, DoorsAs)>,
    figures: Figures,
}

impl Jobs {
    /// Starts the worker; `wake` is called from it whenever an answer is ready.
    pub fn start(wake: impl Fn() + Send + 'static) -> Self {
        let (ask, questions) = channel::<Wanted>();
        let (answer, answers) = channel();
        let worker = thread::Builder::new().name("studies".to_owned()).spawn(move || {
            while let Ok(mut wanted) = questions.recv() {
                while let Ok(newer) = questions.try_recv() {
                    wanted = newer;
                }
                if answer.send(compute(&wanted)).is_err() {
                    return;
                }
                wake();
            }
        });
        // Without a thread the studies run where they are asked for: slower, but true.
        Self { ask: worker.is_ok().then_some(ask), answers, asked: None, figures: Figures::default() }
    }

    /// Computes in place, so that tests see an answer in the frame that asks.
    pub fn in_place() -> Self {
        Self { ask: None, answers: channel().1, asked: None, figures: Figures::default() }
    }

    /// Asks for figures of the project as it is, if they have not been asked for, and takes in what is ready.
    /// Returns whether the figures changed.
    pub fn keep_up(&mut self, project: &Project, generation: u64, level: Id<Level>, doors: DoorsAs) -> bool {
        let mut changed = false;
        if self.asked != Some((generation, level, doors)) {
            self.asked = Some((generation, level, doors));
            let wanted = Wanted { project: project.clone(), generation, level, doors };
            match &self.ask {
                Some(ask) if ask.send(wanted.clone()).is_ok() => {}
                _ => {
                    self.figures = compute(&wanted);
                    changed = true;
                }
            }
        }
        while let Ok(figures) = self.answers.try_recv() {
            if figures.level == Some(level) {
                self.figures = figures;
                changed = true;
            }
        }
        changed
    }

    /// What was brought last.
    pub fn figures(&self) -> &Figures {
        &self.figures
    }

    /// Whether the figures are of the project as it is.
    pub fn is_fresh(&self, generation: u64) -> bool {
        self.figures.generation == Some(generation)
    }
}
