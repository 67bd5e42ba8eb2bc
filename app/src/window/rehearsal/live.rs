//! What the window holds of a rehearsal.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use pattress_model::building::Whereabouts;
use pattress_model::building::told_open::{ToldOpen, told_open};
use pattress_model::calendar::{LocalClock, UtcTime};
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::plan::RoomUse;
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::{
    Entry, Has, Incoming, PointNumber, Recording, Rehearsal, RuleBook, What,
};
use pattress_model::systems::{PointRef, Value};

use super::pace::{Beat, Pace};
use super::person::Person;
use super::sensors::Sensors;
use super::showing::Showing;
use crate::window::session::Session;
use crate::window::tool_choice::ToolChoice;

/// A jump of the clock that is under way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Running {
    /// From here.
    pub from: UtcTime,
    /// To here.
    pub to: UtcTime,
}

/// Why the clock was stopped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paused {
    /// The entry at which it was.
    pub entry: usize,
    /// What happened, in a sentence.
    pub sentence: String,
}

/// What was on the board before, to come back to.
#[derive(Clone, Debug)]
pub struct Marks {
    /// The layers that showed.
    pub layers: BTreeSet<pattress_model::drawing::Layer>,
    /// What was selected.
    pub selection: BTreeSet<Subject>,
    /// The tool in hand.
    pub choice: ToolChoice,
}

/// A rehearsal on the plan.
pub struct LivePlan {
    pub(in crate::window) reel: Recording,
    pub(in crate::window) pace: Pace,
    pub(in crate::window) plays: bool,
    pub(in crate::window) beat: Beat,
    /// The wall's clock at the last frame, seconds.
    pub(in crate::window) last_frame: Option<f64>,
    pub(in crate::window) running: Option<Running>,
    pub(in crate::window) pauses: bool,
    pub(in crate::window) paused: Option<Paused>,
    /// The thing whose card is open.
    pub(in crate::window) card: Option<Subject>,
    /// The entry of the timeline that is looked at.
    pub(in crate::window) chosen: Option<usize>,
    pub(in crate::window) person: Option<Person>,
    pub(in crate::window) sensors: Sensors,
    pub(in crate::window) showing: Option<Showing>,
    /// A walk that begins once it is known what sensors cover.
    pub(in crate::window) to_walk: Option<Id<pattress_model::plan::Walk>>,
    pub(in crate::window) before: Marks,
    /// Points that sense light out of doors.
    pub(in crate::window) outdoor_light: Vec<PointNumber>,
    project: Project,
    generation: u64,
    contacts: BTreeMap<Id<Device>, ToldOpen>,
    alarms: BTreeSet<PointNumber>,
}

impl LivePlan {
    /// A rehearsal of the plan as it is.
    pub fn new(session: &Session, reel: Recording, before: Marks) -> Self {
        let reel_book = Arc::clone(reel.run().book());
        Self {
            reel,
            pace: Pace::default(),
            plays: true,
            beat: Beat::default(),
            last_frame: None,
            running: None,
            pauses: true,
            paused: None,
            card: None,
            chosen: None,
            person: None,
            sensors: Sensors::NotAsked,
            showing: None,
            to_walk: None,
            before,
            outdoor_light: outdoor_light(session.project(), &reel_book),
            contacts: told_open(session.project()),
            alarms: alarms(session.project(), &reel_book),
            project: session.project().clone(),
            generation: session.generation(),
        }
    }

    /// The plan as it is played.
    pub const fn plan(&self) -> &Project {
        &self.project
    }

    /// Whether anything of the house senses light out of doors.
    pub fn senses_daylight(&self) -> bool {
        !self.outdoor_light.is_empty()
    }

    /// What falls on it, lux; `None` where nothing senses it.
    pub fn daylight(&self) -> Option<Has> {
        self.outdoor_light.first().map(|point| self.run().seen(*point))
    }

    /// The house as it stands.
    pub const fn run(&self) -> &Rehearsal {
        self.reel.run()
    }

    /// What has happened, and what of it lies ahead.
    pub const fn reel(&self) -> &Recording {
        &self.reel
    }

    /// The rules as they are played.
    pub fn book(&self) -> &Arc<RuleBook> {
        self.reel.run().book()
    }

    /// The moment it has come to.
    pub const fn now(&self) -> UtcTime {
        self.reel.run().now()
    }

    /// The clock on the walls.
    pub const fn clock(&self) -> LocalClock {
        self.reel.run().clock()
    }

    /// How fast the clock goes.
    pub const fn pace(&self) -> Pace {
        self.pace
    }

    /// Whether the clock goes.
    pub const fn plays(&self) -> bool {
        self.plays
    }

    /// A jump of the clock that is under way.
    pub const fn running(&self) -> Option<Running> {
        self.running
    }

    /// Whether alarms and messages stop the clock.
    pub const fn pauses(&self) -> bool {
        self.pauses
    }

    /// Why the clock was stopped.
    pub const fn paused(&self) -> Option<&Paused> {
        self.paused.as_ref()
    }

    /// The thing whose card is open.
    pub const fn card(&self) -> Option<Subject> {
        self.card
    }

    /// The entry of the timeline that is looked at.
    pub const fn chosen(&self) -> Option<usize> {
        self.chosen
    }

    /// Somebody in the house.
    pub const fn person(&self) -> Option<&Person> {
        self.person.as_ref()
    }

    /// What the sensors cover.
    pub const fn sensors(&self) -> &Sensors {
        &self.sensors
    }

    /// A script that is shown.
    pub const fn showing(&self) -> Option<&Showing> {
        self.showing.as_ref()
    }

    /// The value of a point now, on its way.
    pub fn shown(&self, point: &PointRef) -> Has {
        self.book().number(point).map_or(Has::Nothing, |number| self.run().shown(number))
    }

    /// Contacts that tell whether a thing is open.
    pub fn contacts_of(&self, told: ToldOpen) -> impl Iterator<Item = Id<Device>> + '_ {
        self.contacts.iter().filter(move |(_, of)| **of == told).map(|(id, _)| *id)
    }

    /// Every contact with what it tells of.
    pub fn contacts(&self) -> &BTreeMap<Id<Device>, ToldOpen> {
        &self.contacts
    }

    /// Whether something still moves: a fade, a blind, somebody on a walk.
    pub fn moves(&self) -> bool {
        self.reel.under_way().next().is_some()
            || matches!(&self.person, Some(Person::Walking(walking)) if walking.goes_on(self.now()))
    }

    /// The points at which the clock stops when they call for help; `None` where it is not to.
    pub fn stopping(&self) -> Option<&BTreeSet<PointNumber>> {
        self.pauses.then_some(&self.alarms)
    }

    /// Whether what is played is still what the plan says, after a change of it that `session` has.
    pub fn holds_for(&mut self, session: &Session) -> bool {
        if self.generation == session.generation() {
            return true;
        }
        let (was, is) = (&self.project, session.project());
        let same = was.devices.is_same(&is.devices)
            && was.kinds.is_same(&is.kinds)
            && was.zones.is_same(&is.zones)
            && was.scenes.is_same(&is.scenes)
            && was.modes.is_same(&is.modes)
            && was.rules.is_same(&is.rules)
            && was.walls.is_same(&is.walls)
            && was.openings.is_same(&is.openings)
            && was.joinery.is_same(&is.joinery)
            && was.levels.is_same(&is.levels)
            && was.walks.is_same(&is.walks)
            && was.site == is.site;
        if same {
            self.project = is.clone();
            self.generation = session.generation();
        }
        same
    }
}

/// Whether the clock stops at an entry: always where rules went round in a circle; at alarms and messages if it is
/// asked to.
pub fn stops_at(alarms: Option<&BTreeSet<PointNumber>>, entry: &Entry) -> bool {
    let Some(alarms) = alarms else { return entry.what == What::LoopStopped };
    match entry.what {
        What::LoopStopped | What::Sent { .. } => true,
        What::Changed { point, to, .. } => to.is_on() && alarms.contains(&point),
        What::CameIn(Incoming::Value { point, value }) => value == Value::On && alarms.contains(&point),
        _ => false,
    }
}

/// Points that call for help when they are on. A movement detector's alarm is no more than that it saw somebody.
fn alarms(project: &Project, book: &RuleBook) -> BTreeSet<PointNumber> {
    let calls = |point: &PointRef| match point.point.as_str() {
        "siren" | "strobe" | "leak" => true,
        "alarm" => {
            let kind = project.devices.get(point.device).and_then(|device| project.kinds.get(device.kind));
            kind.is_some_and(|kind| kind.detection.as_ref().is_none_or(|detection| !detection.sense.looks()))
        }
        _ => false,
    };
    book.points().filter(|(_, name)| calls(name)).map(|(number, _)| number).collect()
}

/// What senses light out of doors: points called `light` of devices that stand in no room.
fn outdoor_light(project: &Project, book: &RuleBook) -> Vec<PointNumber> {
    let whereabouts = Whereabouts::of(project);
    let outdoors = |id: Id<Device>| {
        let device = project.devices.get(id);
        let room = device.and_then(|device| whereabouts.room_of(project, device));
        let room = room.and_then(|room| project.rooms.get(room));
        device.is_some() && room.is_none_or(|room| room.room_use == RoomUse::Outside)
    };
    let light = |(number, name): (PointNumber, &PointRef)| {
        (name.point == "light" && outdoors(name.device)).then_some(number)
    };
    book.points().filter_map(light).collect()
}
