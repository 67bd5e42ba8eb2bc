//! Studies off the window's thread, on snapshots that cost a few pointers.
//!
//! The newest snapshot wins: what was asked for before is dropped. A result carries the generation of the
//! project it was computed for; the window shows it as fresh only while that is the newest.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pattress_model::building::Whereabouts;
use pattress_model::building::outline::{RoomOutline, room_outlines};
use pattress_model::checks::{Finding, with_faults};
use pattress_model::drawing::labels::spot_name_items;
use pattress_model::drawing::plan::{room_items, spot_marks, zone_items};
use pattress_model::drawing::sheets::{Discipline, SheetOptions, level_sheet};
use pattress_model::drawing::{Item, Layer, Sheet};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::{DoorsAs, Level, Room};
use pattress_model::project::Project;
use pattress_model::schedules::batteries::{BatteryLife, battery_lives};
use pattress_model::studies::coverage::rooms::lighters::lighters;
use pattress_model::studies::coverage::rooms::of_room;
use pattress_model::studies::coverage::{
    self, CameraCoverage, RoomCoverage, Scenes, Section, SensorCoverage,
};
use pattress_model::studies::rehearsal::proof;

use super::canvas::chunks::Squares;
use super::canvas::drawn::layers_of;
use super::session::Session;
use crate::rehearsing::proof_options;

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
    pub coverage: Arc<BTreeMap<Id<Device>, SensorCoverage>>,
    /// Sections through the level's sensors.
    pub sections: BTreeMap<Id<Device>, Section>,
    /// What the level's rooms answer.
    pub rooms: BTreeMap<Id<Room>, RoomCoverage>,
    /// How long batteries of the house last; the scripts are played for it, which takes its time and comes later.
    pub batteries: BTreeMap<Id<Device>, BatteryLife>,
    /// What the level's cameras show.
    pub cameras: Arc<Vec<CameraCoverage>>,
    /// Findings of the whole house; once the rules were tried in every order, with what that showed.
    pub findings: Vec<Finding>,
    /// How far trying the rules went; `None` while it is under way.
    pub tried: Option<Tried>,
}

/// How far trying the rules of a house in every order went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tried {
    /// All of it in a sentence.
    pub how_far: String,
    /// Room by room.
    pub rooms: Vec<String>,
}

/// The sheet that the plan on the board lies on, as it was composed: its frame, tags and dimensions,
/// with the names of rooms and the areas of zones, which take as long to place.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Counts composed sheets, to tell one from another.
    pub number: u64,
    /// The level it shows.
    pub level: Id<Level>,
    /// The project it was composed from.
    pub project: Project,
    /// How the sheet lies, without its items.
    pub sheet: Sheet,
    /// Its frame, tags, dimensions, rooms and zones, cut for the board, which makes the rest itself.
    pub layers: BTreeMap<Layer, Squares>,
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
    /// What the sheet is about.
    pub discipline: Discipline,
}

impl Wanted {
    fn key(&self) -> (u64, Id<Level>, DoorsAs, Discipline) {
        (self.generation, self.level, self.doors, self.discipline)
    }
}

/// What the worker brings; the sheet takes longer and comes second.
enum Answer {
    Figures(Figures),
    Laid(Laid),
    /// How long batteries last, in the house of that generation.
    Batteries(u64, BTreeMap<Id<Device>, BatteryLife>),
    /// The generation that was tried, its findings, and how far it went.
    Tried(u64, Vec<Finding>, Tried),
}

/// What tests let a search take, where it runs in the frame that asks.
const STEPS_IN_PLACE: usize = 400;

/// Tries the rules in every order, as far as so many steps reach; `None` where `go_on` says no meanwhile.
fn try_rules(
    wanted: &Wanted,
    findings: Vec<Finding>,
    most_steps: usize,
    mut go_on: impl FnMut() -> bool,
) -> Option<(Vec<Finding>, Tried)> {
    let project = &wanted.project;
    let options = proof_options(project);
    let proof = proof::prove_house(project, &options, most_steps, &mut go_on);
    if !go_on() {
        return None;
    }
    let rooms = proof.rooms.iter().map(|room| proof::reach_sentence(project, room, options.clock)).collect();
    let tried = Tried { how_far: proof::how_far(project, &proof), rooms };
    Some((with_faults(project, findings, &proof, &options), tried))
}

/// Computes the figures that are wanted.
pub fn compute(wanted: &Wanted) -> Figures {
    let Wanted { project, generation, level, doors, .. } = wanted;
    let outlines = room_outlines(project, *level);
    let mut scenes = Scenes::of_level(project, *level, *doors);
    let coverage: BTreeMap<Id<Device>, SensorCoverage> = project
        .devices_on(*level)
        .filter_map(|(id, device, _)| {
            coverage::sensor(project, &mut scenes, &outlines, id, device).map(|found| (id, found))
        })
        .collect();
    let rooms = rooms_of_level(project, *level, &coverage);
    let cameras = project
        .devices_on(*level)
        .filter_map(|of_kind| coverage::camera(project, &mut scenes, *doors, of_kind))
        .collect();
    Figures {
        generation: Some(*generation),
        level: Some(*level),
        outlines,
        coverage: Arc::new(coverage),
        sections: coverage::sections(project, *level, *doors),
        rooms,
        batteries: BTreeMap::new(),
        cameras: Arc::new(cameras),
        findings: pattress_model::checks::findings(project),
        tried: None,
    }
}

/// What the rooms of a level answer, from the sensors of that level.
fn rooms_of_level(
    project: &Project,
    level: Id<Level>,
    coverage: &BTreeMap<Id<Device>, SensorCoverage>,
) -> BTreeMap<Id<Room>, RoomCoverage> {
    let whereabouts = Whereabouts::of(project);
    let lighters = lighters(project, &whereabouts);
    let sensors: Vec<SensorCoverage> = coverage.values().cloned().collect();
    whereabouts
        .rooms_on(level)
        .map(|(room, outline)| {
            let lighting = lighters.get(&room).map_or(&[][..], Vec::as_slice);
            (room, of_room(project, &whereabouts, (room, level), outline, lighting, &sensors))
        })
        .collect()
}

/// Composes the sheet that is wanted.
fn compose(wanted: &Wanted, outlines: &BTreeMap<Id<Room>, RoomOutline>, number: u64) -> Laid {
    let Wanted { project, level, discipline, .. } = wanted;
    let mut sheet = level_sheet(project, *level, *discipline, &SheetOptions::of_site(project));
    sheet.plan.retain(|item| matches!(item.layer, Layer::Tags | Layer::Dimensions));
    let scale = f64::from(sheet.scale);
    let marks = spot_marks(project, *level, scale);
    let written: Vec<Item> = sheet.plan.iter().cloned().chain(marks.iter().cloned()).collect();
    sheet.plan.extend(room_items(project, *level, outlines, scale, &written));
    sheet.plan.extend(zone_items(project, *level, outlines, scale));
    let written: Vec<Item> = sheet.plan.iter().cloned().chain(marks).collect();
    sheet.plan.extend(spot_name_items(project, *level, &written, scale));
    let (sheet, layers) = layers_of(sheet);
    Laid { number, level: *level, project: project.clone(), sheet, layers }
}

/// The worker and what it last brought.
pub struct Jobs {
    ask: Option<Sender<Wanted>>,
    answers: Receiver<Answer>,
    asked: Option<(u64, Id<Level>, DoorsAs, Discipline)>,
    figures: Figures,
    laid: Option<Laid>,
    composed: u64,
}

impl Jobs {
    /// Starts the worker; `wake` is called from it whenever an answer is ready.
    pub fn start(wake: impl Fn() + Send + 'static) -> Self {
        let (ask, questions) = channel::<Wanted>();
        let (answer, answers) = channel();
        let worker = thread::Builder::new().name("studies".to_owned()).spawn(move || {
            let mut number = 0;
            let mut next = questions.recv().ok();
            while let Some(mut wanted) = next.take() {
                while let Ok(newer) = questions.try_recv() {
                    wanted = newer;
                }
                let figures = compute(&wanted);
                let (outlines, findings) = (figures.outlines.clone(), figures.findings.clone());
                if answer.send(Answer::Figures(figures)).is_err() {
                    return;
                }
                wake();
                next = questions.try_recv().ok();
                if next.is_none() {
                    number += 1;
                    if answer.send(Answer::Laid(compose(&wanted, &outlines, number))).is_err() {
                        return;
                    }
                    wake();
                    next = questions.try_recv().ok();
                }
                if next.is_none() {
                    let lives = battery_lives(&wanted.project);
                    if answer.send(Answer::Batteries(wanted.generation, lives)).is_err() {
                        return;
                    }
                    wake();
                    next = questions.try_recv().ok();
                }
                if next.is_none() {
                    // Nothing waits on this; whatever is asked meanwhile ends it.
                    let tried = try_rules(&wanted, findings, proof::MOST_STEPS_OF_A_HOUSE, || {
                        next = next.take().or_else(|| questions.try_recv().ok());
                        next.is_none()
                    });
                    if let Some((findings, tried)) = tried {
                        if answer.send(Answer::Tried(wanted.generation, findings, tried)).is_err() {
                            return;
                        }
                        wake();
                    }
                }
                if next.is_none() {
                    next = questions.recv().ok();
                }
            }
        });
        // Without a thread the studies run where they are asked for: slower, but true.
        Self { ask: worker.is_ok().then_some(ask), answers, ..Self::in_place() }
    }

    /// Computes in place, so that tests see an answer in the frame that asks.
    pub fn in_place() -> Self {
        Self {
            ask: None,
            answers: channel().1,
            asked: None,
            figures: Figures::default(),
            laid: None,
            composed: 0,
        }
    }

    /// Asks for figures of the project as it is, if they have not been asked for, and takes in what is ready.
    pub fn keep_up(&mut self, session: &Session) {
        let wanted = Wanted {
            project: session.project().clone(),
            generation: session.generation(),
            level: session.level(),
            doors: session.doors(),
            discipline: session.stage().discipline(),
        };
        if self.asked != Some(wanted.key()) {
            self.asked = Some(wanted.key());
            match &self.ask {
                Some(ask) if ask.send(wanted.clone()).is_ok() => {}
                _ => {
                    self.composed += 1;
                    self.figures = compute(&wanted);
                    self.figures.batteries = battery_lives(&wanted.project);
                    let findings = std::mem::take(&mut self.figures.findings);
                    if let Some((findings, tried)) = try_rules(&wanted, findings, STEPS_IN_PLACE, || true) {
                        self.figures.findings = findings;
                        self.figures.tried = Some(tried);
                    }
                    self.laid = Some(compose(&wanted, &self.figures.outlines, self.composed));
                }
            }
        }
        while let Ok(answer) = self.answers.try_recv() {
            match answer {
                Answer::Figures(figures) if figures.level == Some(session.level()) => self.figures = figures,
                Answer::Batteries(generation, lives) if self.is_fresh(generation) => {
                    self.figures.batteries = lives;
                }
                Answer::Tried(generation, findings, tried) if self.is_fresh(generation) => {
                    self.figures.findings = findings;
                    self.figures.tried = Some(tried);
                }
                Answer::Laid(laid) if laid.level == session.level() => self.laid = Some(laid),
                _ => {}
            }
        }
    }

    /// Another plan lies on the board: what was computed is of no use.
    pub fn forget(&mut self) {
        self.asked = None;
        self.figures = Figures::default();
        self.laid = None;
    }

    /// What was brought last.
    pub fn figures(&self) -> &Figures {
        &self.figures
    }

    /// The sheet composed last.
    pub fn laid(&self) -> Option<&Laid> {
        self.laid.as_ref()
    }

    /// Whether the figures are of the project as it is.
    pub fn is_fresh(&self, generation: u64) -> bool {
        self.figures.generation == Some(generation)
    }
}
