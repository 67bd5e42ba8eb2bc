//! One instant after another, round by round (sections 4, 7 and 9).

use std::collections::{BTreeMap, BTreeSet};

use pattress_model::id::Id;
use pattress_model::kit::PointType;
use pattress_model::systems::{Gesture, HouseMode, Rule, RuleBody, SunEvent, Trigger, Until, Value};

use super::state::{Layer, Waiting, Which};
use super::values::{Held, compares};
use super::{Incoming, Record, Reference, What};

/// Rounds that may follow round 0.
const MOST_ROUNDS: u32 = 16;

/// What a round has.
#[derive(Default)]
pub(super) struct Has {
    /// Events, with what was done.
    pub events: BTreeSet<(usize, Gesture)>,
    /// Points whose seen value changed, with the value before and after.
    pub changes: BTreeMap<usize, (Option<Held>, Option<Held>)>,
    /// The mode that was left and the one that was entered.
    pub mode: Option<(HouseMode, HouseMode)>,
    /// Whether the hub starts.
    pub start: bool,
    due_waiting: Vec<Waiting>,
    pub due_lingers: BTreeSet<Id<Rule>>,
    pub due_stays: BTreeSet<Id<Rule>>,
    pub due_hands: BTreeSet<usize>,
    due_times: BTreeSet<Id<Rule>>,
}

impl Has {
    fn is_empty(&self) -> bool {
        self.events.is_empty() && self.changes.is_empty() && self.mode.is_none()
    }

    fn falls_due(&self) -> bool {
        !(self.due_waiting.is_empty()
            && self.due_lingers.is_empty()
            && self.due_stays.is_empty()
            && self.due_hands.is_empty()
            && self.due_times.is_empty())
    }
}

/// Values as rules see them and layers that show, before something is done.
struct Before {
    seen: Vec<Option<Held>>,
    shows: Vec<Option<(Which, Layer)>>,
    mode: HouseMode,
}

impl Reference<'_> {
    pub(super) fn record(&mut self, what: What) {
        self.records.push(Record { at: self.state.at, round: self.round, what });
    }

    fn before(&self) -> Before {
        let points = 0..self.house.points.len();
        Before {
            seen: points.clone().map(|point| self.seen_at(point)).collect(),
            shows: points.map(|point| self.state.shows(point)).collect(),
            mode: self.state.mode,
        }
    }

    /// The next millisecond at which something falls due, or a minute begins.
    pub(super) fn next_due(&self) -> Option<i64> {
        if !self.state.running {
            return None;
        }
        let waiting = self.state.waiting.iter().map(|waiting| waiting.due);
        let stays = self.state.stays.values().filter_map(|watch| watch.due);
        let hands = self.state.hands.values().filter_map(|hand| hand.watch.due);
        let lingers = self.state.lingering.values().copied();
        let minute = (self.minute() + 1) * 60_000;
        waiting.chain(stays).chain(hands).chain(lingers).chain([minute]).min()
    }

    /// Works off all that falls due at this millisecond as one instant.
    pub(super) fn work_off_due(&mut self) {
        let at = self.state.at;
        let is_new_minute = at % 60_000 == 0;
        let due_waiting = self.state.waiting.iter().filter(|waiting| waiting.due == at).cloned().collect();
        let mut has = Has { due_waiting, ..Has::default() };
        has.due_waiting.sort_by_key(|waiting| waiting.order);
        let lingers = self.state.lingering.iter().filter(|(_, due)| **due == at);
        has.due_lingers = lingers.map(|(rule, _)| *rule).collect();
        let stays = self.state.stays.iter().filter(|(_, watch)| watch.due == Some(at));
        has.due_stays = stays.map(|(rule, _)| *rule).collect();
        has.due_hands = self
            .state
            .hands
            .iter()
            .filter(|(_, hand)| match hand.until {
                Until::Time(time) => is_new_minute && self.clock.comes(time, self.minute()),
                _ => hand.watch.due == Some(at),
            })
            .map(|(point, _)| *point)
            .collect();
        if is_new_minute {
            let times = self.house.rules.iter().filter(|(_, rule)| self.time_comes(rule));
            has.due_times = times.map(|(id, _)| *id).collect();
        }
        if has.falls_due() || self.clock_turns() {
            let before = self.before();
            self.nothing_done_yet();
            self.work_off(before, has);
        }
    }

    /// Whether this minute changes a condition of clock, day or sun of any rule that is on.
    fn clock_turns(&self) -> bool {
        let mut turns = false;
        for rule in self.house.rules.values() {
            for condition in rule.conditions() {
                turns |= self.clock_changes(condition);
            }
        }
        turns && self.state.at % 60_000 == 0
    }

    /// A round, or what is taken in before one, begins.
    fn nothing_done_yet(&mut self) {
        self.state.given.clear();
        self.state.happened.clear();
    }

    /// Whether a rule is started by the clock or the sun at this minute.
    fn time_comes(&self, rule: &Rule) -> bool {
        let RuleBody::When { trigger, .. } = &rule.body else { return false };
        match trigger {
            Trigger::Time(time) => self.clock.comes(*time, self.minute()),
            Trigger::Sun { event, offset_minutes } => {
                let minute = self.minute() - i64::from(*offset_minutes);
                let up = |minute| (self.setup.sky)(minute).is_up();
                let (was, is) = (up(minute - 1), up(minute));
                match event {
                    SunEvent::Rise => is && !was,
                    SunEvent::Set => was && !is,
                }
            }
            _ => false,
        }
    }

    /// Works off what comes in as an instant of its own.
    pub(super) fn work_off_incoming(&mut self, incoming: &Incoming) {
        let before = self.before();
        self.nothing_done_yet();
        self.round = 0;
        let mut has = Has::default();
        self.take_in(incoming, &mut has);
        self.note_changes(&before);
        // What is given at a device is there, or on its way, as it is taken in.
        self.start_ways(&before);
        if self.state.running {
            for (point, held) in before.seen.iter().enumerate() {
                let now = self.seen_at(point);
                if *held != now {
                    has.changes.insert(point, (*held, now));
                }
            }
            if before.mode != self.state.mode {
                has.mode = Some((before.mode, self.state.mode));
            }
            let taken_in = self.before();
            self.work_off(taken_in, has);
        }
    }

    /// Step 1: what came in.
    fn take_in(&mut self, incoming: &Incoming, has: &mut Has) {
        match incoming {
            Incoming::Gesture(name, gesture) => {
                let Some(point) = self.house.number(name) else { return };
                if self.state.running {
                    has.events.insert((point, *gesture));
                } else if *gesture == Gesture::Press {
                    self.press_while_stopped(point);
                }
            }
            Incoming::Report(name, value) => {
                let Some(point) = self.house.number(name) else { return };
                if let Some(value) = self.house.points[point].takes(*value) {
                    self.state.base[point] = Some(Layer { value, fade: 0 });
                }
            }
            Incoming::Given(name, value) => {
                let Some(point) = self.house.number(name) else { return };
                if self.house.points[point].point_type == PointType::Event && *value != Value::Off {
                    has.events.insert((point, Gesture::Happens));
                } else if let Some(value) = self.house.points[point].takes(*value) {
                    self.give_base(point, Layer { value, fade: 0 });
                    if !self.state.running {
                        self.uncover(point);
                    }
                }
            }
            Incoming::Mode(mode) => self.state.mode = *mode,
            Incoming::HubStops => self.stop(),
            Incoming::HubStarts if self.state.running => {}
            Incoming::HubStarts | Incoming::HubRestarts => {
                self.stop();
                self.state.running = true;
                self.state.holding.clear();
                has.start = true;
            }
        }
    }

    fn stop(&mut self) {
        self.state.running = false;
        self.state.waiting.clear();
        self.state.lingering.clear();
        self.state.stays.clear();
    }

    /// Section 8: wired keys while the hub is stopped.
    fn press_while_stopped(&mut self, key: usize) {
        let wired: Vec<_> = self
            .house
            .rules
            .values()
            .filter_map(|rule| match &rule.body {
                RuleBody::Wired { key: of, target } if self.house.number(of) == Some(key) => {
                    Some(target.clone())
                }
                _ => None,
            })
            .collect();
        for target in wired {
            self.press_wired(&target);
            self.house.doing(&target).into_iter().for_each(|point| self.uncover(point));
        }
    }

    /// Takes holds and hand off a point, so that its base shows.
    fn uncover(&mut self, point: usize) {
        self.state.hands.remove(&point);
        for hold in self.state.holds.values_mut() {
            hold.over.remove(&point);
        }
    }

    /// Works off an instant; `before` is what was before its first round did anything.
    fn work_off(&mut self, mut before: Before, mut has: Has) {
        for round in 0..=MOST_ROUNDS {
            self.round = round;
            let taken_in = self.before();
            let judged = self.judge(&has);
            if has.start {
                // Section 9: judged on what was seen until then, and only then is all of it gone.
                self.state.holds.clear();
                self.state.hands.clear();
            }
            // What came due is done, also where one of these actions cancels another.
            self.state.waiting.retain(|waiting| has.due_waiting.iter().all(|due| due.order != waiting.order));
            for waiting in std::mem::take(&mut has.due_waiting) {
                self.act_late(&waiting);
            }
            judged.starts.iter().for_each(|id| self.start(*id));
            self.mind_stays(&judged, &has);
            self.mind_whiles(&judged, &has);
            self.mind_hands(&judged, &has);
            self.judge_new_hands();
            self.note_changes(&taken_in);
            self.start_ways(&before);
            has = self.what_changed(&taken_in);
            if has.is_empty() {
                return;
            }
            before = self.before();
            self.nothing_done_yet();
        }
        self.record(What::Loop);
    }

    /// What the next round has.
    fn what_changed(&self, before: &Before) -> Has {
        let mut has = Has::default();
        for (point, was) in before.seen.iter().enumerate() {
            let now = self.seen_at(point);
            if *was != now {
                has.changes.insert(point, (*was, now));
            }
        }
        has.events = self.state.happened.iter().map(|point| (*point, Gesture::Happens)).collect();
        if before.mode != self.state.mode {
            has.mode = Some((before.mode, self.state.mode));
        }
        has
    }

    /// Whether a round has what starts a rule; *stays* apart.
    pub(super) fn triggers(&self, id: Id<Rule>, trigger: &Trigger, has: &Has) -> bool {
        match trigger {
            Trigger::Event { point, gesture } => {
                let number = self.house.number(point);
                has.events.iter().any(|(point, happened)| Some(*point) == number && happened == gesture)
            }
            Trigger::Becomes { point, comparison, value } => {
                let Some(number) = self.house.number(point) else { return false };
                let point_type = self.house.points[number].point_type;
                let holds = |held| compares(held, point_type, *comparison, *value);
                has.changes.get(&number).is_some_and(|(was, is)| holds(*is) && !holds(*was))
            }
            Trigger::ModeEntered(mode) => has.mode.is_some_and(|(_, entered)| entered == *mode),
            Trigger::Time(_) | Trigger::Sun { .. } => has.due_times.contains(&id),
            Trigger::Stays { .. } => false,
        }
    }

    fn note_changes(&mut self, before: &Before) {
        for point in 0..self.house.points.len() {
            let now = self.seen_at(point);
            if let Some(value) = now
                && before.seen[point] != now
            {
                self.record(What::Seen(self.house.points[point].name.clone(), value));
            }
        }
        if before.mode != self.state.mode {
            self.record(What::Mode(self.state.mode));
        }
    }

    /// The end of a round: points whose layer was given a value, or is another, start on their way (section 2).
    fn start_ways(&mut self, before: &Before) {
        for point in 0..self.house.points.len() {
            let spec = &self.house.points[point];
            if !spec.does || spec.point_type == PointType::Event {
                continue;
            }
            let (Some((which, layer)), Some((which_before, layer_before))) =
                (self.state.shows(point), before.shows[point])
            else {
                continue;
            };
            let given = self.state.given.contains(&(point, which));
            if given || which != which_before {
                let from = self.drawn_before(point, before);
                let fade = if given { layer.fade } else { layer_before.fade };
                self.start_way(point, from, layer.value, fade);
            }
        }
    }

    /// Where a point is drawn now, though what shows has changed already.
    fn drawn_before(&self, point: usize, before: &Before) -> Held {
        match self.state.ways[point] {
            Some(_) => self.drawn_at(point),
            None => before.seen[point],
        }
        .unwrap_or(Held::State(false))
    }
}
