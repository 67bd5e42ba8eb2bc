//! A rule as one plain English sentence.
//!
//! The sentence comes in phrases, so that the side list can point from the words to what they speak of, and the
//! editor from the words to the part of the rule that they say. It loses nothing: [`read`] makes the same rule of
//! it again, so that a rule may be typed as well as picked.

mod conditions;
mod deeds;
mod happenings;
pub mod keys;
mod legend;
mod names;
mod parts;
pub mod read;
mod words;

use crate::edit::Subject;
use crate::id::Id;
use crate::project::Project;
use crate::systems::{Action, Condition, PointRef, Rule, RuleBody, Scene, Setting, Target, Zone};
use crate::units::Seconds;

pub use happenings::{becomes_phrases, colour_word, gesture_phrases, shown_words};
pub use names::{device_words, mode_words};
pub use parts::{Clause, Part, Thing, things_of};

/// A run of words, and the thing on the plan they speak of, if any.
#[derive(Clone, Debug, PartialEq)]
pub struct Phrase {
    /// The words, with their own spaces and commas.
    pub words: String,
    /// What they speak of.
    pub subject: Option<Subject>,
    /// The part of the rule that they say; `None` for words that stand in every rule.
    pub part: Option<Part>,
}

/// The rank of a hold that goes without saying.
pub const USUAL_RANK: u8 = 1;

/// The sentence of a rule.
///
/// A reference to something that is gone reads `(missing)`; a project never holds one, a plan being read may.
pub fn sentence(project: &Project, rule: &Rule) -> Vec<Phrase> {
    let mut speaker = Speaker::new(project);
    match &rule.body {
        RuleBody::When { trigger, conditions, actions } => {
            speaker.say("When ");
            speaker.within(Clause::Trigger, |speaker| speaker.trigger(trigger));
            if !conditions.is_empty() {
                speaker.say(", if ");
                speaker.conditions(conditions);
            }
            speaker.say(": ");
            speaker.list(actions, "; ", "; then ", |speaker, at, action| {
                speaker.within(Clause::Action(at), |speaker| speaker.action(action));
            });
            if actions.is_empty() {
                speaker.say("nothing yet");
            }
        }
        RuleBody::While { conditions, linger, settings, rank, yields_to_hand } => {
            speaker.say("While ");
            if conditions.is_empty() {
                speaker.say("always");
            }
            speaker.conditions(conditions);
            if linger.0 > 0.0 {
                speaker.say(", ");
                let words = format!("and for {linger} after that");
                speaker.within(Clause::Linger, |speaker| speaker.say(&words));
            }
            speaker.say(": ");
            speaker.settings(settings, words::holding);
            if settings.is_empty() {
                speaker.say("nothing yet");
            }
            speaker.within(Clause::Standing, |speaker| speaker.standing(*rank, *yields_to_hand));
        }
        RuleBody::Wired { key, target } => {
            speaker.within(Clause::Key, |speaker| speaker.point(key));
            speaker.say(" is wired to ");
            speaker.within(Clause::Target, |speaker| {
                speaker.about(target, |_| (String::new(), String::new()));
            });
            speaker.say(": one press turns it on or off, with the hub or without");
        }
    }
    if !speaker.phrases.last().is_some_and(|last| last.words.ends_with(".”")) {
        speaker.say(".");
    }
    speaker.phrases
}

/// The sentence as plain text.
pub fn sentence_text(project: &Project, rule: &Rule) -> String {
    sentence(project, rule).into_iter().map(|phrase| phrase.words).collect()
}

/// One action of a *when* rule, without the time that it waits.
pub fn rule_deed_phrases(project: &Project, action: &Action) -> Vec<Phrase> {
    let mut speaker = Speaker::new(project);
    speaker.action(&Action { after: Seconds::ZERO, ..action.clone() });
    speaker.phrases
}

/// A scene as one sentence: what it sets, in its order.
pub fn scene_sentence(project: &Project, scene: &Scene) -> Vec<Phrase> {
    let mut speaker = Speaker::new(project);
    speaker.say(&format!("The scene {}: ", names::quoted(&scene.name)));
    speaker.settings(&scene.settings, words::giving);
    speaker.say(if scene.settings.is_empty() { "nothing yet." } else { "." });
    speaker.phrases
}

struct Speaker<'a> {
    project: &'a Project,
    phrases: Vec<Phrase>,
    /// The part of the rule that is being said.
    clause: Option<Clause>,
    /// How many things that part has named so far.
    things: usize,
    /// Whether what is said stands in a list of which one holds.
    in_one_of: bool,
}

impl<'a> Speaker<'a> {
    const fn new(project: &'a Project) -> Self {
        Self { project, phrases: Vec::new(), clause: None, things: 0, in_one_of: false }
    }

    /// Says a part of the rule.
    fn within(&mut self, clause: Clause, say: impl FnOnce(&mut Self)) {
        self.clause = Some(clause);
        self.things = 0;
        say(self);
        self.clause = None;
    }

    fn say(&mut self, words: &str) {
        if words.is_empty() {
            return;
        }
        let part = self.clause.map(|clause| Part { clause, thing: None });
        match self.phrases.last_mut() {
            Some(last) if last.subject.is_none() && last.part == part => last.words.push_str(words),
            _ => self.phrases.push(Phrase { words: words.to_owned(), subject: None, part }),
        }
    }

    /// Names a thing that another could stand for.
    fn name(&mut self, words: String, subject: Option<Subject>) {
        let part = self.clause.map(|clause| Part { clause, thing: Some(self.things) });
        self.things += 1;
        self.phrases.push(Phrase { words, subject, part });
    }

    fn list<T>(
        &mut self,
        things: &[T],
        between: &str,
        last: &str,
        mut each: impl FnMut(&mut Self, usize, &T),
    ) {
        for (index, thing) in things.iter().enumerate() {
            if index > 0 {
                self.say(if index + 1 == things.len() { last } else { between });
            }
            each(self, index, thing);
        }
    }

    fn conditions(&mut self, conditions: &[Condition]) {
        self.list(conditions, ", ", " and ", |speaker, at, condition| {
            speaker.within(Clause::Condition(at), |speaker| speaker.condition(condition));
        });
    }

    fn settings(&mut self, settings: &[Setting], words: fn(&str, crate::systems::Value) -> words::Around) {
        self.list(settings, ", ", " and ", |speaker, at, setting| {
            speaker.within(Clause::Setting(at), |speaker| {
                speaker.about(&setting.target, |point| words(point, setting.value));
                speaker.fade(setting.fade);
            });
        });
    }

    /// How a hold stands against others and against the hand.
    fn standing(&mut self, rank: u8, yields_to_hand: bool) {
        if !yields_to_hand {
            self.say(", whatever is done by hand");
        }
        if rank != USUAL_RANK {
            self.say(&format!(" (rank {rank})"));
        }
    }

    /// `Kitchen plate key 1`.
    fn point(&mut self, point: &PointRef) {
        let words = format!("{} {}", device_words(self.project, point.device), point.point);
        self.name(words, Some(Subject::Device(point.device)));
    }

    /// The device alone, where the words about it say which point is meant.
    fn device(&mut self, point: &PointRef) {
        self.name(device_words(self.project, point.device), Some(Subject::Device(point.device)));
    }

    fn zone(&mut self, zone: Id<Zone>) {
        self.name(names::zone_words(self.project, zone), Some(Subject::Zone(zone)));
    }

    /// Says something about a target, in words that depend on the name of its point.
    fn about(&mut self, target: &Target, words: impl Fn(&str) -> words::Around) {
        match target {
            Target::Point(point) => {
                let (before, after) = words(&point.point);
                self.say(&before);
                if names::device_says_it(self.project, point, words) {
                    self.device(point);
                } else {
                    self.point(point);
                }
                self.say(&after);
            }
            Target::Zone(zone) => {
                let (before, after) = words(&names::point_of_zone(self.project, *zone));
                self.say(&before);
                self.zone(*zone);
                if names::wants_lights(self.project, *zone) {
                    self.say(" lights");
                }
                self.say(&after);
            }
        }
    }
}
