//! The engine held against the reference: every change of every point at every time must agree.

use std::sync::Arc;

use pattress_model::calendar::UtcTime;
use pattress_model::studies::rehearsal::{self, Has, Rehearsal, RuleBook, Sky};
use pattress_model::sun::SunPosition;
use pattress_model::systems::{Deed, RuleBody};

use super::random_house::RandomHouse;
use super::random_traces::Trace;
use super::sun::{Sun, sun_over};
use super::values::Held;
use super::{Incoming, Record, Reference, Setup, What};
use pattress_model::project::Project;
use pattress_model::units::{Angle, Seconds};

/// How long a run goes on after the last thing that came in.
const AFTERWARDS_MS: i64 = 2 * 3_600_000;

/// The reference's sun, for the engine.
struct SameSky(f64, f64);

impl Sky for SameSky {
    fn sun_at(&self, at: UtcTime) -> SunPosition {
        let Sun { height, bearing } = sun_over(self.0, self.1, at.ms.div_euclid(60_000));
        SunPosition { elevation: Angle::degrees(height), azimuth: Angle::degrees(bearing) }
    }
}

/// Plays a trace in both.
///
/// # Errors
/// The first thing in which they differ, with the house and the trace in words.
pub fn compare(house: &RandomHouse, trace: &Trace) -> Result<(), String> {
    let project = house.project();
    let sky = |minute| house.sun(minute);
    let setup = Setup {
        starts: trace.starts,
        clock: project.site.clock,
        sky: &sky,
        travel_ms: 25_000,
        values: Vec::new(),
    };
    let mut both =
        Both { reference: Reference::new(&project, setup), engine: engine(&project, house, trace) };
    play(&mut both, &project, trace)
        .map_err(|difference| format!("{}\n{}\n{difference}", house.in_words(), trace.in_words()))
}

fn engine(project: &Project, house: &RandomHouse, trace: &Trace) -> Rehearsal {
    let sky = Arc::new(SameSky(house.place.0, house.place.1));
    let mut setup = rehearsal::Setup::at(UtcTime::from_ms(trace.starts), project.site.clock, sky);
    setup.full_travel = Seconds(25.0);
    Rehearsal::start(Arc::new(RuleBook::of(project)), &setup).expect("a setup that fits")
}

struct Both<'a> {
    reference: Reference<'a>,
    engine: Rehearsal,
}

fn play(both: &mut Both<'_>, project: &Project, trace: &Trace) -> Result<(), String> {
    let mut at = trace.starts;
    for (step, (gap, incoming)) in trace.steps.iter().enumerate() {
        // On the way there, too: what is drawn changes without anything happening.
        for part in [gap / 3, gap / 2] {
            both.run_until(at + part);
            both.agree(project).map_err(|difference| format!("Before step {step}: {difference}"))?;
        }
        if both.reference.is_full() {
            return Ok(());
        }
        at += gap;
        both.comes_in(at, incoming);
        both.agree(project).map_err(|difference| format!("After step {step}: {difference}"))?;
    }
    for part in [1000, 10_000, 60_000, AFTERWARDS_MS] {
        both.run_until(at + part);
        both.agree(project).map_err(|difference| format!("Afterwards: {difference}"))?;
    }
    Ok(())
}

impl Both<'_> {
    fn run_until(&mut self, at: i64) {
        self.reference.run_until(at);
        self.engine.run_until(UtcTime::from_ms(self.reference.now()));
    }

    fn comes_in(&mut self, at: i64, incoming: &Incoming) {
        self.run_until(at);
        if self.reference.is_full() {
            return;
        }
        let number = |name| self.engine.book().number(name).expect("a point of the house");
        let same = match incoming {
            Incoming::Gesture(name, gesture) => {
                rehearsal::Incoming::Gesture { point: number(name), gesture: *gesture }
            }
            Incoming::Report(name, value) | Incoming::Given(name, value) => {
                rehearsal::Incoming::Value { point: number(name), value: *value }
            }
            Incoming::Mode(mode) => rehearsal::Incoming::Mode(*mode),
            Incoming::HubStops => rehearsal::Incoming::HubStops,
            Incoming::HubStarts => rehearsal::Incoming::HubStarts,
            Incoming::HubRestarts => rehearsal::Incoming::HubRestarts,
        };
        // A value that the point can make nothing of is refused: nothing has come in.
        if self.engine.come_in(UtcTime::from_ms(at), same).is_ok() {
            self.reference.comes_in(at, incoming);
        }
    }

    fn agree(&self, project: &Project) -> Result<(), String> {
        let (ours, theirs) = (self.recorded(), self.journalled(project));
        if let Some(at) = (0..ours.len().max(theirs.len())).find(|at| ours.get(*at) != theirs.get(*at)) {
            let from = at.saturating_sub(4);
            let lines = |all: &[Record]| -> String {
                all.iter().skip(from).take(8).map(|record| format!("    {record:?}\n")).collect()
            };
            return Err(format!(
                "they part at {}.\n  reference:\n{}  engine:\n{}",
                at,
                lines(&ours),
                lines(&theirs)
            ));
        }
        for name in self.reference.points() {
            let number = self.engine.book().number(name).expect("a point of the house");
            let seen = (self.reference.seen(name), held(self.engine.seen(number)));
            let drawn = (self.reference.drawn(name), held(self.engine.shown(number)));
            if seen.0 != seen.1 || !near(drawn.0, drawn.1) {
                return Err(format!(
                    "{name:?} at {}: seen {seen:?}, drawn {drawn:?} (reference, engine)",
                    self.engine.now().ms
                ));
            }
        }
        if self.reference.mode() != self.engine.mode() {
            return Err(format!("mode {:?} and {:?}", self.reference.mode(), self.engine.mode()));
        }
        Ok(())
    }

    fn recorded(&self) -> Vec<Record> {
        let is_told = |record: &&Record| !matches!(record.what, What::Way(..));
        in_order(self.reference.records().iter().filter(is_told).cloned().collect())
    }

    /// What the engine's journal says of the same things.
    fn journalled(&self, project: &Project) -> Vec<Record> {
        use rehearsal::What as Theirs;
        let name = |point| self.engine.book().name(point).expect("a point of the house").clone();
        let mut found = Vec::new();
        for entry in self.engine.journal().entries() {
            let mut say = |what| found.push(Record { at: entry.at.ms, round: u32::from(entry.round), what });
            match entry.what {
                // What is reported changes what is seen and is told as what came in.
                Theirs::Changed { point, to, .. } => say(What::Seen(name(point), held(to).expect("a value"))),
                Theirs::Happened(point) => say(What::Happened(name(point))),
                Theirs::ModeBecame(mode) => say(What::Mode(mode)),
                Theirs::LoopStopped => say(What::Loop),
                Theirs::Sent { rule, action } => {
                    let rule = project.rules.get(rule).expect("a rule of the house");
                    let RuleBody::When { actions, .. } = &rule.body else { continue };
                    if let Deed::Notify { text, picture } = &actions[action as usize].deed {
                        say(What::Message(text.clone(), *picture));
                    }
                }
                _ => {}
            }
        }
        in_order(found)
    }
}

/// Within one round nobody can tell what came first, messages and events apart.
fn in_order(mut records: Vec<Record>) -> Vec<Record> {
    records.retain(|record| !matches!(&record.what, What::Seen(name, _) if is_reported(&name.point)));
    let sort = |record: &Record| match &record.what {
        What::Message(..) => 0,
        What::Happened(_) => 1,
        What::Seen(..) => 2,
        What::Mode(_) => 3,
        What::Way(..) | What::Loop => 4,
    };
    let name = |record: &Record| match &record.what {
        What::Seen(name, _) => Some(name.clone()),
        _ => None,
    };
    // Instants of one millisecond follow each other: the round starts again at 0 or stays.
    let mut parts: Vec<Vec<Record>> = Vec::new();
    for record in records {
        match parts.last_mut() {
            Some(part)
                if part.last().is_some_and(|last| (last.at, last.round) == (record.at, record.round)) =>
            {
                part.push(record);
            }
            _ => parts.push(vec![record]),
        }
    }
    for part in &mut parts {
        part.sort_by_key(|record| (sort(record), name(record)));
    }
    parts.concat()
}

/// Points that report: the engine tells of them as of what came in.
fn is_reported(name: &str) -> bool {
    ["motion", "open", "lux", "temperature"].contains(&name)
}

fn held(has: Has) -> Option<Held> {
    match has {
        Has::Nothing => None,
        Has::State(on) => Some(Held::State(on)),
        Has::Number(figure) => Some(Held::Number(figure)),
        Has::Colour(colour) => Some(Held::Colour(colour)),
    }
}

fn near(a: Option<Held>, b: Option<Held>) -> bool {
    match (a, b) {
        (Some(Held::Number(a)), Some(Held::Number(b))) => (a - b).abs() < 1e-9,
        _ => a == b,
    }
}
