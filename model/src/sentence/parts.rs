//! Which words of a sentence say which part of its rule, and the things that such a part names, to be changed.

use crate::id::Id;
use crate::kit::Device;
use crate::systems::{
    Comparison, Condition, Deed, Gesture, HouseMode, PointRef, Rule, RuleBody, Scene, Target, Trigger, Until,
    Value, Zone,
};

/// A part of a rule that is said in a run of words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Clause {
    /// What starts it.
    Trigger,
    /// One of its conditions, by place.
    Condition(usize),
    /// One of its actions, by place.
    Action(usize),
    /// One of the things it holds, by place.
    Setting(usize),
    /// For how long after.
    Linger,
    /// How it stands against other holds and the hand.
    Standing,
    /// The key that is wired.
    Key,
    /// What it is wired to.
    Target,
}

/// What some words of a sentence say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Part {
    /// The part of the rule.
    pub clause: Clause,
    /// Where the words name a thing that another could stand for: its place in [`things_of`] that part.
    pub thing: Option<usize>,
}

/// A thing that a rule names, with what depends on which it is.
#[derive(Debug, PartialEq)]
pub enum Thing<'a> {
    /// Where something happens.
    Event(&'a mut PointRef, &'a mut Gesture),
    /// What is compared.
    Compared(&'a mut PointRef, &'a mut Comparison, &'a mut Value),
    /// A zone of which any or every point is on.
    Zone(&'a mut Id<Zone>),
    /// A mode that is asked for or entered.
    Mode(&'a mut HouseMode),
    /// What an action works on.
    Worked(&'a mut Option<Target>, &'a mut Deed),
    /// What is held.
    Held(&'a mut Target, &'a mut Value),
    /// The scene that is run.
    Scene(&'a mut Id<Scene>),
    /// The rule whose waiting actions are dropped.
    Rule(&'a mut Id<Rule>),
    /// The camera whose picture goes with a message.
    Camera(&'a mut Id<Device>),
    /// The key that is wired.
    Key(&'a mut PointRef),
    /// What a key is wired to.
    WiredTo(&'a mut Target),
}

/// The things that a part of a rule names, in the order in which its words do.
pub fn things_of(body: &mut RuleBody, clause: Clause) -> Vec<Thing<'_>> {
    let mut found = Vec::new();
    match (body, clause) {
        (RuleBody::When { trigger, .. }, Clause::Trigger) => match trigger {
            Trigger::Event { point, gesture } => found.push(Thing::Event(point, gesture)),
            Trigger::Becomes { point, comparison, value } => {
                found.push(Thing::Compared(point, comparison, value));
            }
            Trigger::ModeEntered(mode) => found.push(Thing::Mode(mode)),
            Trigger::Stays { condition, .. } => in_condition(condition, &mut found),
            Trigger::Time(_) | Trigger::Sun { .. } => {}
        },
        (RuleBody::When { conditions, .. } | RuleBody::While { conditions, .. }, Clause::Condition(at)) => {
            conditions.get_mut(at).into_iter().for_each(|condition| in_condition(condition, &mut found));
        }
        (RuleBody::When { actions, .. }, Clause::Action(at)) => {
            if let Some(action) = actions.get_mut(at) {
                in_deed(&mut action.target, &mut action.deed, &mut found);
                match &mut action.by_hand {
                    Some(Until::Holds { condition, .. }) => in_condition(condition, &mut found),
                    Some(Until::Event { point, gesture }) => found.push(Thing::Event(point, gesture)),
                    _ => {}
                }
            }
        }
        (RuleBody::While { settings, .. }, Clause::Setting(at)) => {
            found.extend(
                settings.get_mut(at).map(|setting| Thing::Held(&mut setting.target, &mut setting.value)),
            );
        }
        (RuleBody::Wired { key, .. }, Clause::Key) => found.push(Thing::Key(key)),
        (RuleBody::Wired { target, .. }, Clause::Target) => found.push(Thing::WiredTo(target)),
        _ => {}
    }
    found
}

fn in_condition<'a>(condition: &'a mut Condition, found: &mut Vec<Thing<'a>>) {
    match condition {
        Condition::Point { point, comparison, value } => {
            found.push(Thing::Compared(point, comparison, value));
        }
        Condition::AnyOf(zone) | Condition::AllOf(zone) => found.push(Thing::Zone(zone)),
        Condition::Mode(mode) => found.push(Thing::Mode(mode)),
        Condition::Not(inner) => in_condition(inner, found),
        Condition::OneOf(inner) => inner.iter_mut().for_each(|condition| in_condition(condition, found)),
        _ => {}
    }
}

fn in_deed<'a>(target: &'a mut Option<Target>, deed: &'a mut Deed, found: &mut Vec<Thing<'a>>) {
    match deed {
        Deed::RunScene(scene) => found.push(Thing::Scene(scene)),
        Deed::Notify { picture, .. } => found.extend(picture.as_mut().map(Thing::Camera)),
        Deed::Cancel(rule) => found.push(Thing::Rule(rule)),
        Deed::EnterMode(mode) => found.push(Thing::Mode(mode)),
        Deed::ReleaseHand if target.is_none() => {}
        Deed::Set(_) | Deed::Toggle | Deed::Step(_) | Deed::Cycle(_) | Deed::ReleaseHand => {
            found.push(Thing::Worked(target, deed));
        }
    }
}
