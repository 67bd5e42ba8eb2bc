//! A house for tests of rules: devices by name, rules in few words, and a run that is read by name.

use std::sync::Arc;

use kurbo::Point;

use super::super::{EvenSky, Has, Incoming, PointNumber, Rehearsal, RuleBook, Setup, What, whole_ms};
use crate::calendar::{Date, Local, LocalClock, SummerTime, UtcTime};
use crate::id::Id;
use crate::kit::{Device, Family, Mount, MountKind, PointRole, PointSpec, PointType};
use crate::small_house::{SmallHouse, bare_house, plain_kind};
use crate::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Trigger, Until,
    Value, Zone, ZonePurpose,
};
use crate::units::{Seconds, TimeOfDay};

/// A point as tests write it: the name of the device, then that of the point.
pub(super) type At = (&'static str, &'static str);

pub(super) struct House {
    pub(super) built: SmallHouse,
    devices: Vec<(&'static str, Id<Device>)>,
}

impl House {
    pub(super) fn new() -> Self {
        Self { built: bare_house(), devices: Vec::new() }
    }

    /// Places a device with points such as `event key 1`, `state motion`, `does number level`.
    pub(super) fn device(&mut self, name: &'static str, points: &[&str]) -> Id<Device> {
        let mut kind = plain_kind(name, Family::Modules, "DEV", MountKind::Ceiling, &[]);
        kind.points = points.iter().map(|words| spec(words)).collect();
        let kind = self.built.put(kind);
        let device = self.built.place(kind, Mount::Ceiling { at: Point::new(1000.0, 1000.0) }, None);
        self.devices.push((name, device));
        device
    }

    pub(super) fn device_named(&self, name: &str) -> Id<Device> {
        self.devices.iter().find(|(known, _)| *known == name).unwrap_or_else(|| panic!("no {name}")).1
    }

    pub(super) fn point(&self, at: At) -> PointRef {
        PointRef::new(self.device_named(at.0), at.1)
    }

    pub(super) fn target(&self, at: At) -> Target {
        Target::Point(self.point(at))
    }

    pub(super) fn zone(&mut self, name: &str, points: &[At]) -> Id<Zone> {
        let points = points.iter().map(|at| self.point(*at)).collect();
        self.built.put(Zone { name: name.to_owned(), purpose: ZonePurpose::Lighting, points })
    }

    pub(super) fn rule(&mut self, name: &str, body: RuleBody) -> Id<Rule> {
        let comment = String::new();
        self.built.put(Rule { name: name.to_owned(), room: None, enabled: true, comment, body })
    }

    pub(super) fn key(&self, at: At, gesture: Gesture) -> Trigger {
        Trigger::Event { point: self.point(at), gesture }
    }

    pub(super) fn becomes(&self, at: At, value: Value) -> Trigger {
        Trigger::Becomes { point: self.point(at), comparison: Comparison::Is, value }
    }

    pub(super) fn is(&self, at: At, value: Value) -> Condition {
        Condition::Point { point: self.point(at), comparison: Comparison::Is, value }
    }

    pub(super) fn set(&self, at: At, value: Value) -> Action {
        Action::new(Some(self.target(at)), Deed::Set(value))
    }

    pub(super) fn holding(&self, at: At, value: Value, fade: f64) -> Setting {
        Setting { target: self.target(at), value, fade: Seconds(fade) }
    }

    /// Starts a run on a local date and time, all off.
    pub(super) fn run(&self, date: Date, typed: &str) -> Run {
        self.run_with(date, typed, |_, _| {})
    }

    pub(super) fn run_with(
        &self,
        date: Date,
        typed: &str,
        change: impl FnOnce(&RuleBook, &mut Setup),
    ) -> Run {
        let clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };
        let book = Arc::new(RuleBook::of(&self.built.project));
        let mut setup =
            Setup::at(clock.when(Local::at(date, time(typed))).earliest(), clock, Arc::new(EvenSky));
        change(&book, &mut setup);
        let run = Rehearsal::start(book, &setup).unwrap();
        let devices = self.devices.clone();
        Run { start: setup.start, run, devices }
    }
}

/// A rehearsal that is told times in seconds from its start.
pub(super) struct Run {
    pub(super) start: UtcTime,
    pub(super) run: Rehearsal,
    devices: Vec<(&'static str, Id<Device>)>,
}

impl Run {
    pub(super) fn number(&self, at: At) -> PointNumber {
        let device = self.devices.iter().find(|(known, _)| *known == at.0).unwrap().1;
        self.run.book().number(&PointRef::new(device, at.1)).unwrap()
    }

    pub(super) fn moment(&self, seconds: f64) -> UtcTime {
        self.start.after_ms(whole_ms(Seconds(seconds)))
    }

    pub(super) fn press(&mut self, seconds: f64, at: At, gesture: Gesture) {
        let point = self.number(at);
        self.run.come_in(self.moment(seconds), Incoming::Gesture { point, gesture }).unwrap();
    }

    pub(super) fn report(&mut self, seconds: f64, at: At, value: Value) {
        let point = self.number(at);
        self.run.come_in(self.moment(seconds), Incoming::Value { point, value }).unwrap();
    }

    pub(super) fn comes(&mut self, seconds: f64, what: Incoming) {
        self.run.come_in(self.moment(seconds), what).unwrap();
    }

    /// The value of a point at a time, on its way.
    pub(super) fn shown(&mut self, seconds: f64, at: At) -> Has {
        self.run.run_until(self.moment(seconds));
        self.run.shown(self.number(at))
    }

    /// A figure that is shown at a time.
    pub(super) fn figure(&mut self, seconds: f64, at: At) -> f64 {
        match self.shown(seconds, at) {
            Has::Number(figure) => figure,
            other => panic!("{at:?} is {other:?}"),
        }
    }

    pub(super) fn is_on(&mut self, seconds: f64, at: At) -> bool {
        self.shown(seconds, at).is_on()
    }

    /// The words of the last change of a point, back to what it came from.
    pub(super) fn chain_of(&self, at: At) -> Vec<What> {
        let point = self.number(at);
        let journal = self.run.journal();
        let last = journal
            .entries()
            .iter()
            .rposition(|entry| matches!(entry.what, What::Changed { point: of, .. } if of == point))
            .unwrap_or_else(|| panic!("{at:?} never changed"));
        let chain = journal.chain(journal.number_at(last).unwrap());
        chain.into_iter().map(|number| journal.get(number).unwrap().what).collect()
    }

    /// How often something is written in the journal.
    pub(super) fn count(&self, wanted: impl Fn(&What) -> bool) -> usize {
        self.run.journal().entries().iter().filter(|entry| wanted(&entry.what)).count()
    }
}

pub(super) fn time(typed: &str) -> TimeOfDay {
    TimeOfDay::parse(typed).unwrap()
}

pub(super) fn date(year: i32, month: u8, day: u8) -> Date {
    Date::new(year, month, day).unwrap()
}

pub(super) fn when(trigger: Trigger, actions: Vec<Action>) -> RuleBody {
    RuleBody::When { trigger, conditions: Vec::new(), actions }
}

pub(super) fn when_if(trigger: Trigger, conditions: Vec<Condition>, actions: Vec<Action>) -> RuleBody {
    RuleBody::When { trigger, conditions, actions }
}

pub(super) fn hold_while(
    conditions: Vec<Condition>,
    linger: f64,
    settings: Vec<Setting>,
    rank: u8,
) -> RuleBody {
    RuleBody::While { conditions, linger: Seconds(linger), settings, rank, yields_to_hand: true }
}

pub(super) fn after(seconds: f64, action: Action) -> Action {
    Action { after: Seconds(seconds), ..action }
}

pub(super) fn by_hand(until: Until, action: Action) -> Action {
    Action { by_hand: Some(until), ..action }
}

fn spec(words: &str) -> PointSpec {
    let (role, rest) = match words.strip_prefix("does ") {
        Some(rest) => (PointRole::Does, rest),
        None => (PointRole::Reports, words),
    };
    let (sort, name) = rest.split_once(' ').unwrap();
    let point_type = PointType::ALL.into_iter().find(|each| each.name() == sort).unwrap();
    PointSpec { name: name.to_owned(), point_type, role }
}
