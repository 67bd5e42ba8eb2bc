//! States that were found and the steps between them.

use std::collections::BTreeMap;

/// Where no step leads: it was not tried, or does not apply.
const NOWHERE: u32 = u32::MAX;

/// A state that was found.
pub(super) struct Node {
    /// From which state, by which happening it was found first.
    pub(super) from: Option<(u32, u32)>,
    pub(super) depth: u32,
    /// Which lamps are lit, one bit each.
    pub(super) lit: u64,
    /// Whether all sensors are as at the start and no timer runs.
    pub(super) is_idle: bool,
}

/// The states found so far.
pub(super) struct Graph {
    pub(super) nodes: Vec<Node>,
    numbers: BTreeMap<Box<[u64]>, u32>,
    /// For each state that was tried, where each happening led.
    steps: Vec<u32>,
    happenings: usize,
}

impl Graph {
    pub(super) const fn new(happenings: usize) -> Self {
        Self { nodes: Vec::new(), numbers: BTreeMap::new(), steps: Vec::new(), happenings }
    }

    /// The number of the state with a key, and whether it is new.
    pub(super) fn enter(&mut self, key: Box<[u64]>, node: impl FnOnce() -> Node) -> (u32, bool) {
        if let Some(number) = self.numbers.get(&key) {
            return (*number, false);
        }
        let number = self.nodes.len() as u32;
        self.numbers.insert(key, number);
        self.nodes.push(node());
        (number, true)
    }

    /// Notes that a state is being tried; states are tried in the order of their numbers.
    pub(super) fn try_next(&mut self) {
        self.steps.extend(std::iter::repeat_n(NOWHERE, self.happenings));
    }

    pub(super) fn lead(&mut self, from: u32, happening: usize, to: u32) {
        if let Some(step) = self.steps.get_mut(from as usize * self.happenings + happening) {
            *step = to;
        }
    }

    /// Where the happenings of a state lead, by their number.
    pub(super) fn steps_of(&self, node: u32) -> impl Iterator<Item = (u32, u32)> {
        let from = node as usize * self.happenings;
        let steps = self.steps.get(from..from + self.happenings).unwrap_or(&[]);
        steps
            .iter()
            .enumerate()
            .filter(|(_, to)| **to != NOWHERE)
            .map(|(happening, to)| (happening as u32, *to))
    }

    /// The happenings that lead to a state, from the start.
    pub(super) fn script_to(&self, node: u32) -> Vec<u32> {
        let mut script = Vec::new();
        let mut at = self.nodes.get(node as usize);
        while let Some((from, happening)) = at.and_then(|node| node.from) {
            script.push(happening);
            at = self.nodes.get(from as usize);
        }
        script.reverse();
        script
    }

    /// For each state, those from which a step leads to it.
    pub(super) fn steps_before(&self) -> Vec<Vec<u32>> {
        let mut before: Vec<Vec<u32>> = vec![Vec::new(); self.nodes.len()];
        for from in 0..self.nodes.len() as u32 {
            for (_, to) in self.steps_of(from) {
                if let Some(before) = before.get_mut(to as usize) {
                    before.push(from);
                }
            }
        }
        before
    }

    /// States from which one of the wanted states can be reached, those included.
    pub(super) fn leading_to(&self, before: &[Vec<u32>], wanted: impl Fn(&Node) -> bool) -> Vec<bool> {
        let mut leads: Vec<bool> = self.nodes.iter().map(&wanted).collect();
        let mut to_do: Vec<u32> = (0..leads.len() as u32).filter(|node| leads[*node as usize]).collect();
        while let Some(node) = to_do.pop() {
            for from in &before[node as usize] {
                if !std::mem::replace(&mut leads[*from as usize], true) {
                    to_do.push(*from);
                }
            }
        }
        leads
    }

    /// States reached from the start by some of the happenings alone, those of the shortest scripts first.
    pub(super) fn reached_by(&self, allowed: impl Fn(u32) -> bool) -> Reached {
        let mut from: Vec<Option<(u32, u32)>> = vec![None; self.nodes.len()];
        let mut known = vec![false; self.nodes.len()];
        let mut order = Vec::new();
        if let Some(known) = known.first_mut() {
            *known = true;
            order.push(0_u32);
        }
        let mut next = 0;
        while let Some(node) = order.get(next).copied() {
            next += 1;
            for (happening, to) in self.steps_of(node).filter(|(happening, _)| allowed(*happening)) {
                if !std::mem::replace(&mut known[to as usize], true) {
                    from[to as usize] = Some((node, happening));
                    order.push(to);
                }
            }
        }
        Reached { order, from }
    }
}

/// States reached by some of the happenings alone.
pub(super) struct Reached {
    /// Their numbers, those of the shortest scripts first.
    pub(super) order: Vec<u32>,
    from: Vec<Option<(u32, u32)>>,
}

impl Reached {
    /// The happenings that lead to one of them.
    pub(super) fn script(&self, node: u32) -> Vec<u32> {
        let mut script = Vec::new();
        let mut at = node;
        while let Some((before, happening)) = self.from.get(at as usize).copied().flatten() {
            script.push(happening);
            at = before;
        }
        script.reverse();
        script
    }
}
