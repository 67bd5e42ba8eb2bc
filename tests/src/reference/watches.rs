//! What lasts and ends: *while* rules, *stays* triggers, what is by hand (sections 6 and 7).

use std::collections::BTreeMap;

use pattress_model::id::Id;
use pattress_model::systems::{Rule, RuleBody, Trigger, Until};

use super::Reference;
use super::rounds::Has;
use super::state::{Hold, Layer, Which};
use super::values::milliseconds;

/// What a round judged before anything was done in it.
#[derive(Default)]
pub(super) struct Judged {
    /// *When* rules and wired keys that start.
    pub starts: Vec<Id<Rule>>,
    /// *Stays* triggers that were judged, and whether they hold.
    pub stays: BTreeMap<Id<Rule>, bool>,
    /// *While* rules that were judged, and whether they hold.
    pub whiles: BTreeMap<Id<Rule>, bool>,
    /// Conditions that end what is by hand at a point, and whether they hold.
    pub untils: BTreeMap<usize, bool>,
}

impl Reference<'_> {
    /// Judges everything that a round asks (section 4, step 2).
    pub(super) fn judge(&self, has: &Has) -> Judged {
        let mut judged = Judged::default();
        for (id, rule) in &self.house.rules {
            match &rule.body {
                RuleBody::When { trigger, conditions, .. } => {
                    if let Trigger::Stays { condition, .. } = trigger {
                        judged.stays.insert(*id, self.holds(condition));
                    }
                    let stays_over = has.due_stays.contains(id) && judged.stays.get(id) == Some(&true);
                    if (stays_over || self.triggers(*id, trigger, has)) && self.all_hold(conditions) {
                        judged.starts.push(*id);
                    }
                }
                RuleBody::Wired { key, .. } => {
                    let pressed = (self.house.number(key), pattress_model::systems::Gesture::Press);
                    if has.events.iter().any(|(point, gesture)| (Some(*point), *gesture) == pressed) {
                        judged.starts.push(*id);
                    }
                }
                RuleBody::While { conditions, .. } => {
                    judged.whiles.insert(*id, self.all_hold(conditions));
                }
            }
        }
        for (point, hand) in &self.state.hands {
            if let Until::Holds { condition, .. } = &hand.until {
                judged.untils.insert(*point, self.holds(condition));
            }
        }
        judged
    }

    /// Step 3c: *stays* begun or broken.
    pub(super) fn mind_stays(&mut self, judged: &Judged, has: &Has) {
        for (id, holds) in &judged.stays {
            let RuleBody::When { trigger: Trigger::Stays { lasting, .. }, .. } = &self.house.rules[id].body
            else {
                continue;
            };
            let lasting = milliseconds(*lasting).max(1);
            let at = self.state.at;
            let watch = self.state.stays.entry(*id).or_default();
            if has.due_stays.contains(id) || !holds {
                watch.due = None;
            } else if !watch.held {
                watch.due = Some(at + lasting);
            }
            watch.held = *holds;
        }
    }

    /// Step 3d: *while* rules begin, linger and end.
    pub(super) fn mind_whiles(&mut self, judged: &Judged, has: &Has) {
        let ids: Vec<Id<Rule>> = self.house.rules.keys().copied().collect();
        for id in ids {
            let RuleBody::While { linger, .. } = &self.house.rules[&id].body else { continue };
            let linger = milliseconds(*linger);
            let held = self.state.holding.contains(&id);
            match judged.whiles.get(&id) {
                Some(true) if !held => {
                    self.state.holding.insert(id);
                    // The page: holding again before the linger is over leaves the hold as it was. It is over in the
                    // round in which it falls due, judged with what that round judges.
                    if self.state.lingering.remove(&id).is_none() {
                        self.begin(id);
                    }
                }
                Some(false) if held => {
                    self.state.holding.remove(&id);
                    if linger > 0 {
                        self.state.lingering.insert(id, self.state.at + linger);
                    } else {
                        self.state.holds.remove(&id);
                    }
                }
                _ => {}
            }
            if has.due_lingers.contains(&id) && self.state.lingering.get(&id) == Some(&self.state.at) {
                self.state.lingering.remove(&id);
                self.state.holds.remove(&id);
            }
        }
    }

    fn begin(&mut self, id: Id<Rule>) {
        let RuleBody::While { settings, rank, yields_to_hand, .. } = self.house.rules[&id].body.clone()
        else {
            return;
        };
        let mut over = BTreeMap::new();
        for setting in &settings {
            for point in self.house.doing(&setting.target) {
                // An event is not held: it takes no value.
                if let Some(value) = self.house.points[point].takes(setting.value) {
                    over.insert(point, Layer { value, fade: milliseconds(setting.fade) });
                }
            }
        }
        self.state.given.extend(over.keys().map(|point| (*point, Which::Hold(id))));
        let begun = self.state.next_count();
        self.state.holds.insert(id, Hold { rank, yields_to_hand, begun, over });
    }

    /// Step 3e: ends of what is by hand, unless it was given anew in this round.
    pub(super) fn mind_hands(&mut self, judged: &Judged, has: &Has) {
        let at = self.state.at;
        let points: Vec<usize> = self.state.hands.keys().copied().collect();
        for point in points {
            if self.state.given.contains(&(point, Which::Hand)) {
                continue;
            }
            let Some(hand) = self.state.hands.get_mut(&point) else { continue };
            let ends = match &hand.until {
                Until::Released => false,
                Until::For(_) | Until::Time(_) => has.due_hands.contains(&point),
                Until::Event { point: key, gesture } => {
                    let key = self.house.number(key);
                    has.events.iter().any(|(point, happened)| Some(*point) == key && happened == gesture)
                }
                Until::Holds { lasting, .. } => match judged.untils.get(&point) {
                    Some(true) if has.due_hands.contains(&point) => true,
                    Some(true) if !hand.watch.held => {
                        hand.watch.held = true;
                        hand.watch.due = Some(at + milliseconds(*lasting).max(1));
                        false
                    }
                    Some(false) => {
                        hand.watch.held = false;
                        hand.watch.due = None;
                        false
                    }
                    _ => false,
                },
            };
            if ends {
                self.state.hands.remove(&point);
            }
        }
    }

    /// The end of a round: what was given by hand in it until a condition lasts is judged for the first time.
    pub(super) fn judge_new_hands(&mut self) {
        let new: Vec<usize> =
            self.state.given.iter().filter(|(_, which)| *which == Which::Hand).map(|(p, _)| *p).collect();
        for point in new {
            let Some(Until::Holds { condition, lasting }) =
                self.state.hands.get(&point).map(|hand| hand.until.clone())
            else {
                continue;
            };
            let held = self.holds(&condition);
            let due = held.then_some(self.state.at + milliseconds(lasting).max(1));
            if let Some(hand) = self.state.hands.get_mut(&point) {
                hand.watch = super::state::Watch { held, due };
            }
        }
    }
}
