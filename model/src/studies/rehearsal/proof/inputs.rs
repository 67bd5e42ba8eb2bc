//! What may happen in a room: every gesture, value, mode and time that its rules speak of.

use std::collections::{BTreeMap, BTreeSet};

use super::super::book::{Atom, PointNumber, RuleBook};
use super::super::value::Has;
use super::room::Subject;
use crate::kit::PointType;
use crate::systems::{Comparison, Condition, Gesture, HouseMode, RuleBody, Trigger, Until, Value};

/// Events that take a person who means them, by the name of their point; others are told by sensors.
const MEANT: [&str; 11] = [
    "pressed",
    "touched",
    "ring",
    "answer",
    "release",
    "set",
    "unset",
    "right code",
    "wrong code",
    "known tag",
    "unknown tag",
];

/// Something that may happen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Happening {
    Gesture(PointNumber, Gesture),
    Value(PointNumber, Value),
    Mode(HouseMode),
    /// A time comes that starters wait for, by its place among the times of the standing clock.
    Time(usize),
    Wait,
}

/// A point that people or weather give values.
pub(super) struct Input {
    pub(super) point: PointNumber,
    /// One value of every sort that the rules tell apart, that of the start first.
    pub(super) values: Vec<(Value, Has)>,
    /// Whether somebody's hand is needed: it is a point that a device does.
    pub(super) by_hand: bool,
}

/// Everything that may happen.
pub(super) struct Inputs {
    pub(super) inputs: Vec<Input>,
    pub(super) gestures: BTreeSet<(PointNumber, Gesture)>,
    pub(super) modes: BTreeSet<HouseMode>,
    /// Event points at which nothing happens but by somebody who means it.
    meant: BTreeSet<PointNumber>,
}

impl Inputs {
    pub(super) fn of(subject: &Subject) -> Self {
        let book = &subject.book;
        let compared = compared(subject);
        let worked = worked(book);
        let mut inputs = Vec::new();
        for (point, comparisons) in &compared {
            let Some(nature) = book.nature(*point) else { continue };
            if nature.point_type == PointType::Event || (nature.does && worked.contains(point)) {
                continue;
            }
            let values = told_apart(book, *point, comparisons);
            if values.len() > 1 {
                inputs.push(Input { point: *point, values, by_hand: nature.does });
            }
        }
        let (gestures, modes) = heard(subject);
        let is_meant =
            |point: &PointNumber| book.name(*point).is_some_and(|name| MEANT.contains(&name.point.as_str()));
        let meant = gestures.iter().map(|(point, _)| *point).filter(is_meant).collect();
        Self { inputs, gestures, modes, meant }
    }

    /// Everything that may happen at whatever time, in a fixed order; the wait last.
    pub(super) fn happenings(&self, times: usize) -> Vec<Happening> {
        let values = self
            .inputs
            .iter()
            .flat_map(|input| input.values.iter().map(|(value, _)| Happening::Value(input.point, *value)));
        let mut all: Vec<Happening> = values.collect();
        all.extend(self.gestures.iter().map(|(point, gesture)| Happening::Gesture(*point, *gesture)));
        all.extend(self.modes.iter().map(|mode| Happening::Mode(*mode)));
        all.extend((0..times).map(Happening::Time));
        all.push(Happening::Wait);
        all
    }

    /// Whether it takes a person's hand: a key, a screen, a device worked at itself.
    pub(super) fn is_by_hand(&self, happening: Happening) -> bool {
        match happening {
            Happening::Gesture(point, gesture) => gesture != Gesture::Happens || self.meant.contains(&point),
            Happening::Mode(_) => true,
            Happening::Value(point, _) => {
                self.inputs.iter().any(|input| input.point == point && input.by_hand)
            }
            Happening::Time(_) | Happening::Wait => false,
        }
    }
}

/// Every point that conditions and triggers compare, with what it is compared with.
fn compared(subject: &Subject) -> BTreeMap<PointNumber, Vec<(Comparison, Value)>> {
    let mut found: BTreeMap<PointNumber, Vec<(Comparison, Value)>> = BTreeMap::new();
    let mut note = |point, comparison, value| found.entry(point).or_default().push((comparison, value));
    for atom in &subject.book.atoms {
        match atom {
            Atom::Point { point, comparison, value } => note(*point, *comparison, *value),
            Atom::AnyOf(points) | Atom::AllOf(points) => {
                points.iter().for_each(|point| note(*point, Comparison::Is, Value::On));
            }
            Atom::Mode(_) | Atom::Clock(_) => {}
        }
    }
    for (_, rule) in subject.project.rules.iter() {
        if let RuleBody::When { trigger: Trigger::Becomes { point, comparison, value }, .. } = &rule.body
            && let Some(point) = subject.book.number(point)
        {
            note(point, *comparison, *value);
        }
    }
    found
}

/// Points that some rule works.
fn worked(book: &RuleBook) -> BTreeSet<PointNumber> {
    let mut found: BTreeSet<PointNumber> = book.holds.iter().flat_map(|hold| hold.points.clone()).collect();
    for starter in &book.starters {
        found.extend(starter.wired_to.iter().flatten());
        for act in &starter.acts {
            found.extend(act.doing.points());
        }
    }
    found
}

/// One value of every sort that the comparisons tell apart, that of the start first.
fn told_apart(book: &RuleBook, point: PointNumber, compared: &[(Comparison, Value)]) -> Vec<(Value, Has)> {
    let Some(nature) = book.nature(point) else { return Vec::new() };
    let mut tried = vec![Value::Off, Value::On];
    let mut figures: Vec<f64> = Vec::new();
    for (_, value) in compared {
        match value {
            Value::Number(figure) => figures.push(*figure),
            other => tried.push(*other),
        }
    }
    figures.sort_by(f64::total_cmp);
    let beside = figures.first().map(|low| low - 1.0).into_iter();
    let between = figures.windows(2).map(|pair| f64::midpoint(pair[0], pair[1]));
    let above = figures.last().map(|high| high + 1.0);
    let more: Vec<f64> = beside.chain(figures.iter().copied()).chain(between).chain(above).collect();
    tried.extend(more.into_iter().map(Value::Number));
    let mut found: Vec<(Value, Has)> = Vec::new();
    let mut known: Vec<Vec<bool>> = Vec::new();
    for value in tried {
        let Some(has) = nature.given(value) else { continue };
        let told: Vec<bool> =
            compared.iter().map(|(comparison, with)| has.compares(*comparison, *with)).collect();
        if !known.contains(&told) {
            known.push(told);
            found.push((value, has));
        }
    }
    found
}

/// Every gesture and mode that rules listen to.
fn heard(subject: &Subject) -> (BTreeSet<(PointNumber, Gesture)>, BTreeSet<HouseMode>) {
    let book = &subject.book;
    let (mut gestures, mut modes) = (BTreeSet::new(), BTreeSet::new());
    for (_, rule) in subject.project.rules.iter() {
        match &rule.body {
            RuleBody::When { trigger, actions, .. } => {
                match trigger {
                    Trigger::Event { point, gesture } => {
                        gestures.extend(book.number(point).map(|point| (point, *gesture)));
                    }
                    Trigger::ModeEntered(mode) => drop(modes.insert(*mode)),
                    _ => {}
                }
                for action in actions {
                    if let Some(Until::Event { point, gesture }) = &action.by_hand {
                        gestures.extend(book.number(point).map(|point| (point, *gesture)));
                    }
                }
            }
            RuleBody::Wired { key, .. } => {
                gestures.extend(book.number(key).map(|key| (key, Gesture::Press)));
            }
            RuleBody::While { .. } => {}
        }
        for condition in rule.conditions() {
            if let Condition::Mode(mode) = condition {
                modes.insert(*mode);
            }
        }
    }
    if !modes.is_empty() {
        // Out of a mode one must be able to come again.
        modes.insert(HouseMode::AtHome);
    }
    (gestures, modes)
}
