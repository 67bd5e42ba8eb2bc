//! Faults that a step shows at once, and those that only the whole of the states tells.

use std::collections::{BTreeMap, BTreeSet};

use super::super::book::{Act, Doing, PointNumber, RuleBook};
use super::super::journal::{Entry, What};
use super::super::round::MOST_ROUNDS;
use super::super::state::State;
use super::super::value::Has;
use super::Wrong;
use super::graph::Graph;
use super::room::Subject;
use crate::id::Id;
use crate::systems::{Condition, Deed, Rule, RuleBody, Trigger, Until};

/// A fault before its script is written down.
pub(super) type Found = (Wrong, Vec<Id<Rule>>);

/// A value that an action surely gives: the point, whether by hand, the value.
type Given = BTreeMap<(PointNumber, bool), Has>;

impl Doing {
    /// The points it works on.
    pub(in crate::studies::rehearsal) fn points(&self) -> Vec<PointNumber> {
        match self {
            Self::Set { points, .. } | Self::Toggle(points) => points.clone(),
            Self::Step { points, .. } | Self::Cycle { points, .. } => points.clone(),
            Self::Scene(settings) => settings.iter().flat_map(|setting| setting.points.clone()).collect(),
            Self::Release(points) => points.clone().unwrap_or_default(),
            Self::Notify | Self::Cancel(_) | Self::Enter(_) | Self::Nothing => Vec::new(),
        }
    }
}

/// What to look for, laid out once.
pub(super) struct Watcher {
    /// What each starter gives at once as it starts.
    at_once: Vec<Given>,
    /// What each of its actions gives.
    by_action: Vec<Vec<Given>>,
    /// Holds of equal rank with different values at a point.
    meeting: Vec<(usize, usize, PointNumber)>,
}

impl Watcher {
    pub(super) fn of(book: &RuleBook) -> Self {
        let by_action: Vec<Vec<Given>> = book
            .starters
            .iter()
            .map(|starter| starter.acts.iter().map(|act| given(book, act)).collect())
            .collect();
        let at_once = book.starters.iter().zip(&by_action).map(|(starter, given)| {
            let now = starter.acts.iter().zip(given).filter(|(act, _)| act.after_ms == 0);
            now.flat_map(|(_, given)| given.clone()).collect()
        });
        let mut meeting = Vec::new();
        for (point, held) in book.holds_at.iter().enumerate() {
            for (place, a) in held.iter().enumerate() {
                for b in held.iter().skip(place + 1) {
                    if a.rank == b.rank && a.value != b.value {
                        meeting.push((a.hold as usize, b.hold as usize, PointNumber(point as u32)));
                    }
                }
            }
        }
        Self { at_once: at_once.collect(), by_action, meeting }
    }

    /// What a step shows: what was written of it, and where it led.
    pub(super) fn look(&self, book: &RuleBook, entries: &[Entry], state: &State) -> Vec<Found> {
        let mut found = Vec::new();
        if entries.iter().any(|entry| entry.what == What::LoopStopped) {
            found.push((Wrong::Loop, rules_of_loop(entries)));
        }
        self.disagreements(book, entries, &mut found);
        for (a, b, point) in &self.meeting {
            let is_on = |hold: usize| state.holds.get(hold).is_some_and(|hold| hold.holding);
            if is_on(*a)
                && is_on(*b)
                && let (Some(a), Some(b), Some(name)) =
                    (book.holds.get(*a), book.holds.get(*b), book.name(*point))
            {
                found.push((Wrong::HoldsMeet(name.clone()), vec![a.rule, b.rule]));
            }
        }
        found
    }

    fn disagreements(&self, book: &RuleBook, entries: &[Entry], found: &mut Vec<Found>) {
        let nothing = Given::new();
        let gives: Vec<(u8, Id<Rule>, &Given)> = entries
            .iter()
            .filter_map(|entry| {
                let number = |rule| book.starter_of.get(rule).map(|number| *number as usize);
                match &entry.what {
                    What::Started(rule) => {
                        Some((entry.round, *rule, self.at_once.get(number(rule)?).unwrap_or(&nothing)))
                    }
                    What::Waited { rule, action } => {
                        let given = self.by_action.get(number(rule)?)?.get(*action as usize)?;
                        Some((entry.round, *rule, given))
                    }
                    _ => None,
                }
            })
            .collect();
        for (place, (round, rule, given)) in gives.iter().enumerate() {
            let others = gives.iter().skip(place + 1);
            for (_, other, theirs) in others.filter(|(at, other, _)| at == round && other != rule) {
                let differs = given.iter().find(|(at, value)| theirs.get(at).is_some_and(|v| v != *value));
                if let Some(name) = differs.and_then(|((point, _), _)| book.name(*point)) {
                    let mut rules = vec![*rule, *other];
                    rules.sort_unstable();
                    found.push((Wrong::Disagree(name.clone()), rules));
                }
            }
        }
    }
}

/// What an action surely gives, whatever there was before.
fn given(book: &RuleBook, act: &Act) -> Given {
    let settings: Vec<(&[PointNumber], _)> = match &act.doing {
        Doing::Set { points, value } => vec![(points.as_slice(), *value)],
        Doing::Scene(settings) => {
            settings.iter().map(|setting| (setting.points.as_slice(), setting.value)).collect()
        }
        _ => Vec::new(),
    };
    let mut found = Given::new();
    for (points, value) in settings {
        for point in points {
            if let Some(has) = book.nature(*point).and_then(|nature| nature.given(value)) {
                found.insert((*point, act.by_hand.is_some()), has);
            }
        }
    }
    found
}

/// Rules that still went on in the later half of the rounds.
fn rules_of_loop(entries: &[Entry]) -> Vec<Id<Rule>> {
    let late = entries.iter().filter(|entry| entry.round > MOST_ROUNDS / 2);
    let rules: BTreeSet<Id<Rule>> = late
        .filter_map(|entry| match entry.what {
            What::Started(rule) | What::HoldBegan(rule) | What::HoldEnded(rule) => Some(rule),
            _ => None,
        })
        .collect();
    rules.into_iter().collect()
}

/// The rules that work a point.
pub(super) fn rules_at(book: &RuleBook, point: PointNumber) -> Vec<Id<Rule>> {
    let by_starter = book.starters.iter().filter(|starter| {
        let wired = starter.wired_to.iter().flatten().any(|wired| *wired == point);
        wired || starter.acts.iter().any(|act| act.doing.points().contains(&point))
    });
    let by_hold = book.holds.iter().filter(|hold| hold.points.contains(&point));
    let mut rules: Vec<Id<Rule>> =
        by_starter.map(|starter| starter.rule).chain(by_hold.map(|hold| hold.rule)).collect();
    rules.sort_unstable();
    rules
}

/// Lamps, by their bit, whose light the clock may change in a way that a search with a standing clock can't see.
pub(super) fn lit_by_clock(subject: &Subject) -> u64 {
    let book = &subject.book;
    let mut found = 0;
    for (id, rule) in subject.project.rules.iter().filter(|(_, rule)| speaks_of_clock(rule)) {
        let deeds = match &rule.body {
            RuleBody::When { actions, .. } => actions.as_slice(),
            _ => &[],
        };
        // Through a mode, or a point that rules listen to, it may reach any lamp.
        let reaches_far = deeds.iter().any(|action| matches!(action.deed, Deed::EnterMode(_)))
            || book.points().any(|(point, _)| {
                let is_heard = !book.atoms_of_point.get(point.index()).is_none_or(Vec::is_empty)
                    || !book.becomes_at.get(point.index()).is_none_or(Vec::is_empty);
                is_heard && rules_at(book, point).contains(&id)
            });
        for (bit, lamp) in subject.lamps.iter().enumerate().take(64) {
            if reaches_far || rules_at(book, *lamp).contains(&id) {
                found |= 1 << bit;
            }
        }
    }
    found
}

fn speaks_of_clock(rule: &Rule) -> bool {
    let by_condition = rule.conditions().into_iter().any(|condition| {
        !matches!(
            condition,
            Condition::Point { .. }
                | Condition::AnyOf(_)
                | Condition::AllOf(_)
                | Condition::Mode(_)
                | Condition::Not(_)
                | Condition::OneOf(_)
        )
    });
    let RuleBody::When { trigger, actions, .. } = &rule.body else { return by_condition };
    let by_trigger = matches!(trigger, Trigger::Time(_) | Trigger::Sun { .. });
    let by_end = actions.iter().any(|action| matches!(action.by_hand, Some(Until::Time(_))));
    by_condition || by_trigger || by_end
}

/// Lamps that sensors lit and that burn on at rest, by bit, each with its happenings. Lamps lit at the start and
/// those in `passed_over` are left out.
pub(super) fn left_lit(
    graph: &Graph,
    passed_over: u64,
    is_by_hand: impl Fn(u32) -> bool,
) -> Vec<(u32, Vec<u32>)> {
    let Some(start) = graph.nodes.first() else { return Vec::new() };
    let mut known = start.lit | passed_over;
    let mut found = Vec::new();
    let reached = graph.reached_by(|happening| !is_by_hand(happening));
    for node in &reached.order {
        let Some(at) = graph.nodes.get(*node as usize).filter(|node| node.is_idle) else { continue };
        let new = at.lit & !known;
        known |= new;
        found.extend((0..64).filter(|bit| new >> bit & 1 == 1).map(|bit| (bit, reached.script(*node))));
    }
    found
}

/// Lamps that can be lit and from there never be dark again, by bit, each with its happenings; sound only where
/// the graph is whole.
pub(super) fn never_dark(graph: &Graph, passed_over: u64) -> Vec<(u32, Vec<u32>)> {
    let Some(start) = graph.nodes.first() else { return Vec::new() };
    let ever_lit = graph.nodes.iter().fold(0, |lit, node| lit | node.lit);
    let before = graph.steps_before();
    let mut found = Vec::new();
    for bit in (0..64).filter(|bit| (ever_lit & !start.lit & !passed_over) >> bit & 1 == 1) {
        let is_lit = |lit: u64| lit >> bit & 1 == 1;
        let may_go_dark = graph.leading_to(&before, |node| !is_lit(node.lit));
        let stuck = (0..graph.nodes.len()).find(|node| is_lit(graph.nodes[*node].lit) && !may_go_dark[*node]);
        found.extend(stuck.map(|node| (bit, graph.script_to(node as u32))));
    }
    found
}
