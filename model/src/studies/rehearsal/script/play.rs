//! Plays the steps of a script, and says of each expectation whether it was met, and when.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::step::{Deed, Expected, ScriptStep, Step};
use crate::calendar::{Local, LocalClock, UtcTime};
use crate::project::Project;
use crate::studies::rehearsal::clock::whole_ms;
use crate::studies::rehearsal::{Has, Incoming, PointNumber, Refused, Rehearsal, RuleBook, Setup, Sky, What};
use crate::systems::{Deed as RuleDeed, HouseMode, PointRef, RuleBody, Value};
use crate::units::Seconds;

/// What somebody's walk makes a sensor report, counted from the first step.
#[derive(Clone, Debug, PartialEq)]
pub struct Footstep {
    /// So long after the first step.
    pub after: Seconds,
    /// The point of the sensor.
    pub point: PointRef,
    /// Whether it sees them now, or no more.
    pub seen: bool,
}

/// What each walk of the plan, by name, makes sensors report; worked out from what they cover.
pub type Walks = BTreeMap<String, Vec<Footstep>>;

/// What a script is played in.
#[derive(Clone)]
pub struct World {
    /// The clock on the walls.
    pub clock: LocalClock,
    /// The sun over the site.
    pub sky: Arc<dyn Sky>,
    /// What walks make sensors report.
    pub walks: Walks,
}

/// How a step came out.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It was done.
    Done,
    /// What it expects was so, first at this moment.
    Met(UtcTime),
    /// What it expects was not so: what was there instead.
    Failed(String),
    /// It could not be done.
    Refused(String),
}

impl Outcome {
    /// Whether the script may be called passed with it.
    pub const fn is_good(&self) -> bool {
        matches!(self, Self::Done | Self::Met(_))
    }
}

/// A step with how it came out.
#[derive(Clone, Debug, PartialEq)]
pub struct StepPlayed {
    /// Its line, from 1.
    pub line: usize,
    /// The moment at which it was asked or done.
    pub at: UtcTime,
    /// How it came out.
    pub outcome: Outcome,
}

/// A script played to its end.
#[derive(Clone)]
pub struct Played {
    /// Every step.
    pub steps: Vec<StepPlayed>,
    /// The run as it stands at the end, with its journal.
    pub run: Rehearsal,
}

impl Played {
    /// Whether every expectation was met and every step could be done.
    pub fn passed(&self) -> bool {
        self.steps.iter().all(|step| step.outcome.is_good())
    }
}

/// Plays a script from its start. A step that cannot be done is marked so and the rest goes on.
///
/// # Errors
/// [`Refused`], where the run cannot start: a value that its point cannot have.
pub fn play(
    project: &Project,
    book: &Arc<RuleBook>,
    steps: &[ScriptStep],
    world: &World,
) -> Result<Played, Refused> {
    let setup = set_up(book, steps, world);
    let run = Rehearsal::start(Arc::clone(book), &setup)?;
    let mut player = Player { project, world, now: setup.start, coming: Vec::new(), run, played: Vec::new() };
    for step in steps {
        let at = player.now;
        let outcome = match &step.step {
            Step::Do(Deed::Start(_) | Deed::Given(..)) => Outcome::Done,
            Step::Do(deed) => player.done(deed),
            Step::Within(expected, within) => player.within(expected, *within),
            Step::Stays(expected, lasting) => player.stays(expected, *lasting),
        };
        player.played.push(StepPlayed { line: step.line, at, outcome });
    }
    player.pass_to(player.now);
    let last = player.coming.last().map_or(player.now, |(at, _)| *at);
    player.pass_to(last);
    Ok(Played { steps: player.played, run: player.run })
}

/// Where and with what the run of a script starts.
pub fn set_up(book: &Arc<RuleBook>, steps: &[ScriptStep], world: &World) -> Setup {
    let start = steps.iter().find_map(|step| match step.step {
        Step::Do(Deed::Start(local)) => Some(world.clock.when(local).earliest()),
        _ => None,
    });
    let mut setup = Setup::at(start.unwrap_or(UtcTime::from_ms(0)), world.clock, Arc::clone(&world.sky));
    for step in steps {
        if let Step::Do(Deed::Given(point, value)) = &step.step
            && let Some(number) = book.number(point)
        {
            setup.values.push((number, *value));
        }
    }
    setup
}

struct Player<'a> {
    project: &'a Project,
    world: &'a World,
    /// The moment that the steps have come to; the run may still lie before it.
    now: UtcTime,
    /// What walks under way will bring, the first first.
    coming: Vec<(UtcTime, Incoming)>,
    run: Rehearsal,
    played: Vec<StepPlayed>,
}

impl Player<'_> {
    /// Carries the run to a moment, with all that walks bring until then.
    fn pass_to(&mut self, at: UtcTime) {
        let due = self.coming.partition_point(|(when, _)| *when <= at);
        for (when, what) in self.coming.drain(..due) {
            let _ = self.run.come_in(when, what);
        }
        self.run.run_until(at);
    }

    fn done(&mut self, deed: &Deed) -> Outcome {
        let point = |point: &PointRef| self.run.book().number(point);
        let incoming = match deed {
            Deed::Start(_) | Deed::Given(..) => return Outcome::Done,
            Deed::At(time) => {
                self.now = self.next(*time);
                self.pass_to(self.now);
                return Outcome::Done;
            }
            Deed::After(time) => {
                self.now = self.now.after_ms(whole_ms(*time));
                self.pass_to(self.now);
                return Outcome::Done;
            }
            Deed::Walk(name) => return self.walk(name),
            Deed::Gesture(at, gesture) => {
                point(at).map(|point| Incoming::Gesture { point, gesture: *gesture })
            }
            Deed::Value(at, value) => point(at).map(|point| Incoming::Value { point, value: *value }),
            Deed::Mode(mode) => Some(Incoming::Mode(*mode)),
            Deed::HubStops => Some(Incoming::HubStops),
            Deed::HubStarts => Some(Incoming::HubStarts),
            Deed::HubRestarts => Some(Incoming::HubRestarts),
        };
        let came = incoming.ok_or(Refused::Unknown).and_then(|what| {
            self.pass_to(self.now);
            self.run.come_in(self.now, what)
        });
        came.map_or_else(|refused| Outcome::Refused(refused.to_string()), |()| Outcome::Done)
    }

    /// The next moment after now at which the clock shows a time of day.
    fn next(&self, time: crate::units::TimeOfDay) -> UtcTime {
        let Some(today) = self.world.clock.shows(self.now).map(|local| local.date) else { return self.now };
        (0..=2)
            .filter_map(|days| today.plus_days(days))
            .map(|date| self.world.clock.when(Local::at(date, time)).earliest())
            .find(|at| *at > self.now)
            .unwrap_or(self.now)
    }

    fn walk(&mut self, name: &str) -> Outcome {
        let Some(footsteps) = self.world.walks.get(name) else {
            return Outcome::Refused(format!("no walk of the plan is called “{name}”"));
        };
        for step in footsteps {
            if let Some(point) = self.run.book().number(&step.point) {
                let value = if step.seen { Value::On } else { Value::Off };
                let at = self.now.after_ms(whole_ms(step.after));
                self.coming.push((at, Incoming::Value { point, value }));
            }
        }
        self.coming.sort_by_key(|(at, _)| *at);
        self.pass_to(self.now);
        Outcome::Done
    }

    /// Runs ahead to a moment, asking at every moment at which something may have changed; then goes back.
    fn ahead(&mut self, until: UtcTime, mut asks: impl FnMut(&Rehearsal) -> bool) -> Option<UtcTime> {
        self.pass_to(self.now);
        let snapshot = self.run.snapshot();
        let coming = self.coming.clone();
        let mut found = None;
        loop {
            if asks(&self.run) {
                found = Some(self.run.now());
                break;
            }
            let next = self.next_change(until);
            match next {
                Some(at) if at <= until => self.pass_to(at),
                _ => break,
            }
        }
        self.run.go_back(&snapshot);
        self.coming = coming;
        found
    }

    /// The next moment at which something may change: what is due, what a walk brings, or a point arriving.
    fn next_change(&mut self, until: UtcTime) -> Option<UtcTime> {
        let now = self.run.now();
        let due = self.run.next_due(until).filter(|at| *at > now);
        let comes = self.coming.first().map(|(at, _)| *at);
        let points: Vec<PointNumber> = self.run.book().points().map(|(number, _)| number).collect();
        let arrives = points.into_iter().filter_map(|point| self.run.arrives(point)).min();
        let next = [due, comes, arrives].into_iter().flatten().filter(|at| *at > now).min();
        // Between two changes a fade or a blind is on its way: it is looked at every second, and at the end.
        let under_way = arrives.is_some().then(|| now.after_ms(1000));
        [next, under_way, (now < until).then_some(until)].into_iter().flatten().min()
    }

    fn within(&mut self, expected: &Expected, within: Seconds) -> Outcome {
        let until = self.now.after_ms(whole_ms(within));
        let project = self.project;
        let seen_from = self.run.journal().entries().len();
        let mut last = String::new();
        let found = self.ahead(until, |run| {
            let (met, said) = judged(project, run, expected, seen_from);
            last = said;
            met
        });
        found.map_or_else(|| Outcome::Failed(last.clone()), Outcome::Met)
    }

    fn stays(&mut self, expected: &Expected, lasting: Seconds) -> Outcome {
        let until = self.now.after_ms(whole_ms(lasting));
        let (project, clock) = (self.project, self.world.clock);
        let mut last = String::new();
        let broken = self.ahead(until, |run| {
            let (met, said) = judged(project, run, expected, 0);
            last = said;
            !met
        });
        match broken {
            None => Outcome::Met(until),
            Some(at) => {
                let when =
                    clock.shows(at).map_or(String::new(), |local| format!(" at {}", local.time_of_day()));
                Outcome::Failed(format!("{last}{when}"))
            }
        }
    }
}

/// Whether something is so at the moment that the run has come to, and what is there.
fn judged(project: &Project, run: &Rehearsal, expected: &Expected, seen_from: usize) -> (bool, String) {
    match expected {
        Expected::Point { point, comparison, value } => {
            let has = run.book().number(point).map_or(Has::Nothing, |point| run.shown(point));
            (has.compares(*comparison, *value), format!("it is {}", in_words(has)))
        }
        Expected::Mode(mode) => {
            (run.mode() == *mode, format!("the mode is {}", mode_name(project, run.mode())))
        }
        Expected::Message(words) => {
            // What was sent at the moment of the last step belongs to it too.
            let now = run.journal().entries().get(seen_from.saturating_sub(1)).map(|entry| entry.at);
            let sent = run.journal().entries().iter().enumerate().any(|(index, entry)| {
                (index >= seen_from || Some(entry.at) == now)
                    && message(project, entry.what).is_some_and(|text| text.contains(words.as_str()))
            });
            (sent, "no such message is sent".to_owned())
        }
    }
}

/// The words of a message that was sent.
fn message(project: &Project, what: What) -> Option<&str> {
    let What::Sent { rule, action } = what else { return None };
    let RuleBody::When { actions, .. } = &project.rules.get(rule)?.body else { return None };
    match &actions.get(action as usize)?.deed {
        RuleDeed::Notify { text, .. } => Some(text),
        _ => None,
    }
}

fn mode_name(project: &Project, mode: HouseMode) -> &str {
    match mode {
        HouseMode::AtHome => "at home",
        HouseMode::Named(id) => project.modes.get(id).map_or("gone", |mode| mode.name.as_str()),
    }
}

/// A value as a script writes it.
fn in_words(has: Has) -> String {
    match has {
        Has::Nothing => "nothing".to_owned(),
        Has::State(on) => if on { "on" } else { "off" }.to_owned(),
        Has::Number(figure) => format!("{}", (figure * 10.0).round() / 10.0),
        Has::Colour([red, green, blue]) => format!("#{red:02x}{green:02x}{blue:02x}"),
    }
}
