//! The rooms of a house, one after the other, within a budget for all of them.

use std::collections::BTreeMap;

use super::room::Subject;
use super::{Budget, Fault, Options, RoomProof, Wrong, search};
use crate::building::Whereabouts;
use crate::id::Id;
use crate::plan::Room;
use crate::project::Project;
use crate::systems::Rule;

/// Steps of the engine that a whole house may take by default: a few seconds.
pub const MOST_STEPS_OF_A_HOUSE: usize = 400_000;

/// What the search of a house found, and how far it went.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HouseProof {
    /// The rooms that were searched, whole or in part.
    pub rooms: Vec<RoomProof>,
    /// Rooms with rules in which nothing was tried.
    pub not_begun: Vec<Id<Room>>,
    /// What is wrong, each once, with the shortest of the scripts that the rooms show it by.
    pub faults: Vec<Fault>,
}

impl RoomProof {
    /// Whether every script that there is was tried.
    pub fn is_whole(&self) -> bool {
        self.clocks_left_out == 0 && !self.reaches.is_empty() && self.reaches.iter().all(|reach| reach.whole)
    }

    /// Every script of up to so many steps was tried, whichever way the clock stood.
    pub fn depth(&self) -> usize {
        let stopped = self.reaches.iter().filter(|reach| !reach.whole);
        stopped.map(|reach| reach.depth).min().unwrap_or_default()
    }

    fn steps(&self) -> usize {
        self.reaches.iter().map(|reach| reach.steps).sum()
    }
}

/// Tries the rooms of a house in which rules work, those with few rules first, until so many steps are spent or
/// `go_on`, asked before each room, says no. What one room leaves of its share the others have.
pub fn prove_house(
    project: &Project,
    options: &Options,
    most_steps: usize,
    mut go_on: impl FnMut() -> bool,
) -> HouseProof {
    let whereabouts = Whereabouts::of(project);
    let mut subjects: Vec<Subject> = Vec::new();
    let mut found = HouseProof::default();
    for room in project.rooms.ids() {
        if !go_on() {
            found.not_begun.push(room);
            continue;
        }
        let subject = Subject::in_house(project, &whereabouts, room);
        if !subject.rules.is_empty() {
            subjects.push(subject);
        }
    }
    subjects.sort_by_key(|subject| (subject.rules.len(), subject.room));
    let count = subjects.len();
    let mut left = most_steps;
    let mut faults: BTreeMap<(Wrong, Vec<Id<Rule>>), Fault> = BTreeMap::new();
    for (place, subject) in subjects.iter().enumerate() {
        let share = left / (count - place);
        if share == 0 || !go_on() {
            found.not_begun.push(subject.room);
            continue;
        }
        let budget = Budget { most_steps: share.min(options.budget.most_steps), ..options.budget };
        let proof = search::prove(subject, &Options { budget, ..options.clone() });
        left = left.saturating_sub(proof.steps());
        for fault in &proof.faults {
            let name = (fault.wrong.clone(), fault.rules.clone());
            if faults.get(&name).is_none_or(|known| fault.script.len() < known.script.len()) {
                faults.insert(name, fault.clone());
            }
        }
        found.rooms.push(proof);
    }
    found.faults = faults.into_values().collect();
    found
}
