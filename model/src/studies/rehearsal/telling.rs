//! What happened, told in plain words: each entry of a recording as a sentence whose phrases point at the plan, and
//! what it happened because of.

use super::book::PointNumber;
use super::journal::{Entry, Incoming, What};
use super::recording::Recording;
use crate::calendar::{LocalClock, UtcTime};
use crate::edit::Subject;
use crate::id::Id;
use crate::project::Project;
use crate::sentence::{Phrase, becomes_phrases, gesture_phrases, mode_words, rule_deed_phrases};
use crate::systems::{HouseMode, PointRef, Rule, RuleBody, Value};

/// How much an entry weighs in a list of what happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// It came from outside, or from the clock: others follow from it.
    Cause,
    /// Somebody in the house notices it.
    Change,
    /// It is how the rules got from one to the other.
    Between,
}

/// How much an entry weighs.
pub const fn weight(entry: &Entry) -> Weight {
    match entry.what {
        What::CameIn(_) | What::Clock | What::HubStarted => Weight::Cause,
        What::Changed { .. }
        | What::Happened(_)
        | What::ModeBecame(_)
        | What::Sent { .. }
        | What::LoopStopped => Weight::Change,
        _ => Weight::Between,
    }
}

/// Whether an entry only says again what the one before it said: a report, and the report having changed.
pub fn says_again(recording: &Recording, entry: usize) -> bool {
    let told = recording.told();
    let Some((before, this)) = entry.checked_sub(1).and_then(|at| told.get(at)).zip(told.get(entry)) else {
        return false;
    };
    match (before.what, this.what) {
        (What::CameIn(Incoming::Value { point, .. }), What::Changed { point: changed, .. }) => {
            point == changed
        }
        (What::CameIn(Incoming::Mode(mode)), What::ModeBecame(became)) => mode == became,
        _ => false,
    }
}

/// Whether an entry says of another device what an earlier one of the same moment says, by the same rule.
pub fn says_the_same(recording: &Recording, earlier: usize, entry: usize) -> bool {
    let told = recording.told();
    let Some((first, this)) = told.get(earlier).zip(told.get(entry)) else { return false };
    let (What::Changed { point: a, to: was, .. }, What::Changed { point: b, to, .. }) =
        (first.what, this.what)
    else {
        return false;
    };
    let name = |point| recording.run().book().name(point).map(|name: &PointRef| name.point.as_str());
    first.at == this.at
        && was == to
        && name(a) == name(b)
        && by_rule(recording, earlier) == by_rule(recording, entry)
}

/// An entry in plain words.
pub fn in_words(project: &Project, recording: &Recording, entry: usize) -> String {
    phrases(project, recording, entry).into_iter().map(|phrase| phrase.words).collect()
}

/// An entry in plain words, with what they speak of.
pub fn phrases(project: &Project, recording: &Recording, entry: usize) -> Vec<Phrase> {
    let Some(found) = recording.told().get(entry) else { return Vec::new() };
    let teller = Teller { project, recording, clock: recording.run().clock() };
    teller.tell(found.what, entry)
}

/// The thing that an entry speaks of first.
pub fn subject(project: &Project, recording: &Recording, entry: usize) -> Option<Subject> {
    phrases(project, recording, entry).into_iter().find_map(|phrase| phrase.subject)
}

/// The rule by which something happened: the nearest in its chain.
pub fn by_rule(recording: &Recording, entry: usize) -> Option<Id<Rule>> {
    recording.chain(entry).into_iter().find_map(|index| match recording.told().get(index)?.what {
        What::Started(rule)
        | What::Waited { rule, .. }
        | What::HoldBegan(rule)
        | What::HoldEnded(rule)
        | What::LingerOver(rule)
        | What::Lasted(rule)
        | What::Sent { rule, .. } => Some(rule),
        _ => None,
    })
}

/// A moment on the clock of the house, to the second.
pub fn clock_words(clock: LocalClock, at: UtcTime) -> String {
    clock.shows(at).map_or_else(String::new, |local| {
        let seconds = local.since_midnight_ms / 1000;
        format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
    })
}

struct Teller<'a> {
    project: &'a Project,
    recording: &'a Recording,
    clock: LocalClock,
}

fn plain(words: impl Into<String>) -> Phrase {
    Phrase { words: words.into(), subject: None, part: None }
}

const fn naming(words: String, subject: Option<Subject>) -> Phrase {
    Phrase { words, subject, part: None }
}

impl Teller<'_> {
    fn tell(&self, what: What, entry: usize) -> Vec<Phrase> {
        match what {
            What::CameIn(incoming) => self.came_in(incoming),
            What::Clock => vec![plain("The clock comes to what a rule waits for")],
            What::HubStarted if entry == 0 => vec![plain("The rehearsal begins")],
            What::HubStarted => vec![plain("The hub starts and judges everything anew")],
            What::Waited { rule, action } => {
                let mut phrases = vec![plain("What ")];
                phrases.push(self.rule(rule));
                phrases.push(plain(" had waited to do is done: "));
                phrases.extend(self.action(rule, action));
                phrases
            }
            What::Lasted(rule) => self.about("What ", rule, " waits for has lasted long enough"),
            What::LingerOver(rule) => self.about("The time after ", rule, " is over"),
            What::HandOver(point) => self.at(point, "What was done by hand at ", " ends"),
            What::Started(rule) => self.about("The rule ", rule, " starts"),
            What::Waits { rule, action, until } => {
                let when = clock_words(self.clock, until);
                let mut phrases = vec![plain(format!("At {when} ")), self.rule(rule), plain(" will ")];
                phrases.extend(self.action(rule, action));
                phrases
            }
            What::Dropped(rule) => self.about("What ", rule, " still waited to do is dropped"),
            What::HoldBegan(rule) => self.about("", rule, " begins to hold"),
            What::Lingers { rule, until } => {
                let when = clock_words(self.clock, until);
                self.about("", rule, &format!(" holds on until {when}"))
            }
            What::HoldKept(rule) => self.about("", rule, " goes on holding"),
            What::HoldEnded(rule) => self.about("", rule, " holds no more"),
            What::GivenBeneath { point, value } => match (self.name(point), value.value()) {
                (Some(name), Some(value)) => {
                    let mut phrases = becomes_phrases(self.project, name, value);
                    phrases.push(plain(" beneath what is held, unseen for now"));
                    phrases
                }
                _ => Vec::new(),
            },
            What::Changed { point, to, .. } => match (self.name(point), to.value()) {
                (Some(name), Some(value)) => becomes_phrases(self.project, name, value),
                _ => Vec::new(),
            },
            What::Happened(point) => self.name(point).map_or_else(Vec::new, |name| {
                gesture_phrases(self.project, name, crate::systems::Gesture::Happens)
            }),
            What::ModeBecame(mode) => vec![plain("The house mode becomes "), self.mode(mode)],
            What::Sent { rule, action } => {
                let mut phrases = vec![plain("The message is sent: ")];
                phrases.extend(self.message(rule, action));
                phrases
            }
            What::LoopStopped => {
                vec![plain("Rules set each other off in a circle and were stopped: see what led here")]
            }
        }
    }

    fn came_in(&self, incoming: Incoming) -> Vec<Phrase> {
        match incoming {
            Incoming::Gesture { point, gesture } => {
                self.name(point).map_or_else(Vec::new, |name| gesture_phrases(self.project, name, gesture))
            }
            Incoming::Value { point, value } => {
                let Some(name) = self.name(point) else { return Vec::new() };
                let shown = self.recording.run().book().does(point);
                let mut phrases = becomes_phrases(self.project, name, self.as_taken(point, value));
                if shown {
                    phrases.push(plain(", set at the device"));
                }
                phrases
            }
            Incoming::Mode(mode) => vec![plain("Somebody sets the house mode to "), self.mode(mode)],
            Incoming::HubStops => vec![plain("The hub stops")],
            Incoming::HubStarts => vec![plain("The hub is started")],
            Incoming::HubRestarts => vec![plain("The hub restarts")],
        }
    }

    /// A value as the point takes it: `on` said of a level is 100 %.
    fn as_taken(&self, point: PointNumber, value: Value) -> Value {
        let first = self.recording.run().seen(point);
        first.taking(value).and_then(|has| has.value()).unwrap_or(value)
    }

    fn name(&self, point: PointNumber) -> Option<&PointRef> {
        self.recording.run().book().name(point)
    }

    fn at(&self, point: PointNumber, before: &str, after: &str) -> Vec<Phrase> {
        let Some(name) = self.name(point) else { return Vec::new() };
        let words = crate::sentence::device_words(self.project, name.device);
        let device = naming(words, Some(Subject::Device(name.device)));
        vec![plain(before), device, plain(after)]
    }

    fn rule(&self, rule: Id<Rule>) -> Phrase {
        let name = self.project.rules.get(rule).map_or("(missing)", |found| found.name.as_str());
        naming(format!("“{name}”"), Some(Subject::Rule(rule)))
    }

    fn about(&self, before: &str, rule: Id<Rule>, after: &str) -> Vec<Phrase> {
        let mut phrases = vec![self.rule(rule), plain(after)];
        if !before.is_empty() {
            phrases.insert(0, plain(before));
        }
        phrases
    }

    fn mode(&self, mode: HouseMode) -> Phrase {
        let subject = match mode {
            HouseMode::AtHome => None,
            HouseMode::Named(id) => Some(Subject::Mode(id)),
        };
        naming(format!("“{}”", mode_words(self.project, mode)), subject)
    }

    fn action(&self, rule: Id<Rule>, action: u32) -> Vec<Phrase> {
        match self.project.rules.get(rule).map(|rule| &rule.body) {
            Some(RuleBody::When { actions, .. }) => actions
                .get(action as usize)
                .map_or_else(Vec::new, |action| rule_deed_phrases(self.project, action)),
            _ => Vec::new(),
        }
    }

    fn message(&self, rule: Id<Rule>, action: u32) -> Vec<Phrase> {
        let Some(found) = self.project.rules.get(rule) else { return Vec::new() };
        let RuleBody::When { actions, .. } = &found.body else { return Vec::new() };
        match actions.get(action as usize).map(|action| &action.deed) {
            Some(crate::systems::Deed::Notify { text, picture }) => {
                let mut phrases = vec![plain(format!("“{text}”"))];
                if let Some(camera) = picture {
                    phrases.push(plain(", with a picture from "));
                    let words = crate::sentence::device_words(self.project, *camera);
                    phrases.push(naming(words, Some(Subject::Device(*camera))));
                }
                phrases
            }
            _ => Vec::new(),
        }
    }
}

/// What waits to be done, the first due first: when, by which rule, and what.
pub fn waiting_phrases(project: &Project, recording: &Recording) -> Vec<(UtcTime, Id<Rule>, Vec<Phrase>)> {
    let teller = Teller { project, recording, clock: recording.run().clock() };
    let waiting = recording.run().waiting();
    waiting.into_iter().map(|(at, rule, action)| (at, rule, teller.action(rule, action))).collect()
}
