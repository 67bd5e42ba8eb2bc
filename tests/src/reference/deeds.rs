//! What actions do (sections 5 and 8).

use pattress_model::id::Id;
use pattress_model::kit::PointType;
use pattress_model::systems::{Action, Deed, Rule, RuleBody, Target, Until, Value};

use super::state::{Hand, Layer, Waiting, Watch, Which};
use super::values::{Held, is, is_on, milliseconds};
use super::{Reference, What};

impl Reference<'_> {
    /// Starts a rule: what it still waits to do is dropped, its actions are done or put to wait.
    pub(super) fn start(&mut self, id: Id<Rule>) {
        match self.house.rules[&id].body.clone() {
            RuleBody::When { actions, .. } => {
                self.state.waiting.retain(|waiting| waiting.rule != id);
                for (place, action) in actions.iter().enumerate() {
                    let after = milliseconds(action.after);
                    if after > 0 {
                        let (order, due) = (self.state.next_count(), self.state.at + after);
                        self.state.waiting.push(Waiting { order, due, rule: id, action: place });
                    } else {
                        self.act(action);
                    }
                }
            }
            RuleBody::Wired { target, .. } => self.press_wired(&target),
            RuleBody::While { .. } => {}
        }
    }

    /// Does an action that was put to wait.
    pub(super) fn act_late(&mut self, waiting: &Waiting) {
        if let RuleBody::When { actions, .. } = &self.house.rules[&waiting.rule].body {
            let action = actions[waiting.action].clone();
            self.act(&action);
        }
    }

    /// Does one action.
    fn act(&mut self, action: &Action) {
        let target = action.target.as_ref().map(|target| self.house.doing(target)).unwrap_or_default();
        let fade = milliseconds(action.fade);
        let hand = action.by_hand.as_ref();
        match &action.deed {
            Deed::Set(value) => target.iter().for_each(|point| self.give(*point, *value, fade, hand)),
            Deed::Toggle => {
                let any_on = target.iter().any(|point| is_on(self.read(*point, hand)));
                let value = if any_on { Value::Off } else { Value::On };
                target.iter().for_each(|point| self.give(*point, value, fade, hand));
            }
            Deed::Step(percent) => {
                for point in target {
                    if let Some(Held::Number(figure)) = self.read(point, hand) {
                        self.give(point, Value::Number(figure + f64::from(*percent)), fade, hand);
                    }
                }
            }
            Deed::Cycle(values) => self.cycle(&target, values, fade, hand),
            Deed::RunScene(scene) => {
                let settings = self.house.scenes.get(scene).map(|scene| scene.settings.clone());
                for setting in settings.unwrap_or_default() {
                    let fade = if fade > 0 { fade } else { milliseconds(setting.fade) };
                    for point in self.house.doing(&setting.target) {
                        self.give(point, setting.value, fade, hand);
                    }
                }
            }
            Deed::Notify { text, picture } => self.record(What::Message(text.clone(), *picture)),
            Deed::Cancel(rule) => self.state.waiting.retain(|waiting| waiting.rule != *rule),
            Deed::EnterMode(mode) => self.state.mode = *mode,
            Deed::ReleaseHand if action.target.is_none() => self.state.hands.clear(),
            Deed::ReleaseHand => target.iter().for_each(|point| drop(self.state.hands.remove(point))),
        }
    }

    /// What a deed reads of a point: the base, or by hand what shows.
    fn read(&self, point: usize, hand: Option<&Until>) -> Option<Held> {
        match hand {
            Some(_) => self.seen_at(point),
            None => self.state.base[point].map(|layer| layer.value),
        }
    }

    fn cycle(&mut self, target: &[usize], values: &[Value], fade: i64, hand: Option<&Until>) {
        let Some(first) = target.first() else { return };
        let point_type = self.house.points[*first].point_type;
        let has = self.read(*first, hand);
        let place = values.iter().position(|value| is(has, point_type, *value));
        let next = place.map_or(0, |place| (place + 1) % values.len());
        if let Some(value) = values.get(next) {
            target.iter().for_each(|point| self.give(*point, *value, fade, hand));
        }
    }

    /// Gives a point a value: its base, or what is by hand with a new end.
    fn give(&mut self, point: usize, value: Value, fade: i64, hand: Option<&Until>) {
        if self.house.points[point].point_type == PointType::Event {
            self.make_happen(point, value);
            return;
        }
        let Some(taken) = self.house.points[point].takes(value) else { return };
        let layer = Layer { value: taken, fade };
        match hand {
            None => self.give_base(point, layer),
            Some(until) => {
                let due = match until {
                    Until::For(time) => Some(self.state.at + milliseconds(*time).max(1)),
                    _ => None,
                };
                let hand = Hand { layer, until: until.clone(), watch: Watch { held: false, due } };
                self.state.hands.insert(point, hand);
                self.state.given.insert((point, Which::Hand));
            }
        }
    }

    pub(super) fn give_base(&mut self, point: usize, layer: Layer) {
        self.state.base[point] = Some(layer);
        self.state.given.insert((point, Which::Base));
    }

    /// A value given to an event point makes the event happen, unless it is Off.
    pub(super) fn make_happen(&mut self, point: usize, value: Value) {
        if value != Value::Off {
            self.state.happened.insert(point);
            let name = self.house.points[point].name.clone();
            self.record(What::Happened(name));
        }
    }

    /// One press of a wired key (section 8).
    pub(super) fn press_wired(&mut self, target: &Target) {
        let target = self.house.doing(target);
        let any_on = target.iter().any(|point| is_on(self.seen_at(*point)));
        let value = if any_on { Value::Off } else { Value::On };
        for point in target {
            self.give(point, value, 0, None);
            self.state.hands.remove(&point);
        }
    }
}
