//! From the rules of a project to its rule book.

use std::collections::BTreeMap;

use super::book::{
    Act, Atom, ClockAtom, Doing, End, HeldAt, Hold, Must, Point, PointNumber, RuleBook, SceneSetting,
    Starter, Stay,
};
use super::clock::whole_ms;
use super::value::Nature;
use crate::id::Id;
use crate::project::Project;
use crate::systems::{
    Action, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Trigger, Until,
};

impl RuleBook {
    /// Lays out the rules of a project that are on.
    pub fn of(project: &Project) -> Self {
        let mut writer = Writer { project, book: Self::default(), known: BTreeMap::new() };
        writer.points();
        writer.zones();
        writer.book.modes = project.modes.ids().collect();
        let on: Vec<(Id<Rule>, &Rule)> = project.rules.iter().filter(|(_, rule)| rule.enabled).collect();
        // Rules may cancel rules that come after them, so that each has its number first.
        let starting = on.iter().filter(|(_, rule)| !matches!(rule.body, RuleBody::While { .. }));
        writer.book.starter_of = starting.enumerate().map(|(at, (id, _))| (*id, at as u32)).collect();
        for (id, rule) in on {
            writer.rule(id, rule);
        }
        writer.watchers();
        writer.book
    }
}

struct Writer<'a> {
    project: &'a Project,
    book: RuleBook,
    /// Atoms that are there already, by what they say.
    known: BTreeMap<String, u32>,
}

impl Writer<'_> {
    fn points(&mut self) {
        for (id, device) in self.project.devices.iter() {
            let Some(kind) = self.project.kinds.get(device.kind) else { continue };
            for spec in &kind.points {
                let number = PointNumber(self.book.points.len() as u32);
                let name = PointRef::new(id, spec.name.as_str());
                self.book.numbers.insert(name.clone(), number);
                let (nature, full_travel_ms) = (Nature::of(spec), kind.full_travel.map(whole_ms));
                self.book.points.push(Point { name, nature, full_travel_ms });
            }
        }
        let count = self.book.points.len();
        self.book.events_at = vec![Vec::new(); count];
        self.book.becomes_at = vec![Vec::new(); count];
        self.book.holds_at = vec![Vec::new(); count];
        self.book.ends_at = vec![Vec::new(); count];
        self.book.atoms_of_point = vec![Vec::new(); count];
    }

    fn zones(&mut self) {
        for (id, zone) in self.project.zones.iter() {
            let points = zone.points.iter().filter_map(|point| self.book.number(point)).collect();
            self.book.zones.insert(id, points);
        }
    }

    fn rule(&mut self, id: Id<Rule>, rule: &Rule) {
        match &rule.body {
            RuleBody::When { trigger, conditions, actions } => {
                let number = self.book.starters.len() as u32;
                let conditions = self.musts(conditions);
                let acts = actions.iter().map(|action| self.act(action)).collect();
                let becomes = match trigger {
                    Trigger::Becomes { comparison, value, .. } => Some((*comparison, *value)),
                    _ => None,
                };
                self.book.starters.push(Starter { rule: id, conditions, acts, wired_to: None, becomes });
                self.trigger(trigger, number);
            }
            RuleBody::While { conditions, linger, settings, rank, yields_to_hand } => {
                let conditions = self.musts(conditions);
                let hold = self.book.holds.len() as u32;
                let mut points = Vec::new();
                for setting in settings {
                    self.holding(hold, setting, (*rank, *yields_to_hand), &mut points);
                }
                let linger_ms = whole_ms(*linger);
                self.book.holds.push(Hold { rule: id, conditions, linger_ms, points });
            }
            RuleBody::Wired { key, target } => {
                let number = self.book.starters.len() as u32;
                let wired_to = Some(self.doing_points(target));
                let (conditions, acts) = (Vec::new(), Vec::new());
                self.book.starters.push(Starter { rule: id, conditions, acts, wired_to, becomes: None });
                if let Some(key) = self.book.number(key) {
                    self.book.events_at[key.index()].push((Gesture::Press, number));
                }
            }
        }
    }

    fn trigger(&mut self, trigger: &Trigger, starter: u32) {
        match trigger {
            Trigger::Event { point, gesture } => {
                if let Some(point) = self.book.number(point) {
                    self.book.events_at[point.index()].push((*gesture, starter));
                }
            }
            Trigger::Becomes { point, .. } => {
                if let Some(point) = self.book.number(point) {
                    self.book.becomes_at[point.index()].push(starter);
                }
            }
            Trigger::Time(time) => self.book.times.push((*time, starter)),
            Trigger::Sun { event, offset_minutes } => {
                self.book.suns.push((*event, i64::from(*offset_minutes), starter));
            }
            Trigger::ModeEntered(mode) => {
                if let Some(mode) = self.book.mode_number(*mode) {
                    self.book.mode_entered.push((mode, starter));
                }
            }
            Trigger::Stays { condition, lasting } => {
                let must = self.must(condition);
                self.book.stays.push(Stay { starter, must, lasting_ms: whole_ms(*lasting).max(1) });
            }
        }
    }

    /// Puts one setting of a *while* rule over its points; the last setting of a point counts.
    fn holding(&mut self, hold: u32, setting: &Setting, over: (u8, bool), points: &mut Vec<PointNumber>) {
        let (rank, yields) = over;
        for point in self.doing_points(&setting.target) {
            let Some(value) = self.book.nature(point).and_then(|nature| nature.given(setting.value)) else {
                continue;
            };
            let held = HeldAt { hold, value, fade_ms: whole_ms(setting.fade), rank, yields };
            let here = &mut self.book.holds_at[point.index()];
            match here.iter_mut().find(|other| other.hold == hold) {
                Some(former) => *former = held,
                None => {
                    here.push(held);
                    points.push(point);
                }
            }
        }
    }

    fn act(&mut self, action: &Action) -> Act {
        let points = |writer: &Self| action.target.as_ref().map(|target| writer.doing_points(target));
        let doing = match &action.deed {
            Deed::Set(value) => Doing::Set { points: points(self).unwrap_or_default(), value: *value },
            Deed::Toggle => Doing::Toggle(points(self).unwrap_or_default()),
            Deed::Step(percent) => {
                Doing::Step { points: points(self).unwrap_or_default(), percent: *percent }
            }
            Deed::Cycle(values) => {
                Doing::Cycle { points: points(self).unwrap_or_default(), values: values.clone() }
            }
            Deed::RunScene(scene) => {
                Doing::Scene(self.project.scenes.get(*scene).map_or_else(Vec::new, |scene| {
                    scene.settings.iter().map(|setting| self.scene_setting(setting)).collect()
                }))
            }
            Deed::Notify { .. } => Doing::Notify,
            Deed::Cancel(rule) => Doing::Cancel(self.book.starter_of.get(rule).copied()),
            Deed::EnterMode(mode) => self.book.mode_number(*mode).map_or(Doing::Nothing, Doing::Enter),
            Deed::ReleaseHand => Doing::Release(points(self)),
        };
        let by_hand = action.by_hand.as_ref().map(|until| self.end(until));
        Act { doing, after_ms: whole_ms(action.after), fade_ms: whole_ms(action.fade), by_hand }
    }

    fn scene_setting(&self, setting: &Setting) -> SceneSetting {
        SceneSetting {
            points: self.doing_points(&setting.target),
            value: setting.value,
            fade_ms: whole_ms(setting.fade),
        }
    }

    fn end(&mut self, until: &Until) -> u32 {
        let end = match until {
            Until::Released => End::Released,
            Until::For(time) => End::For(whole_ms(*time).max(1)),
            Until::Time(time) => End::Time(*time),
            Until::Holds { condition, lasting } => {
                End::Holds { must: self.must(condition), lasting_ms: whole_ms(*lasting).max(1) }
            }
            Until::Event { point, gesture } => match self.book.number(point) {
                Some(point) => End::Event { point, gesture: *gesture },
                None => End::Released,
            },
        };
        let number = self.book.ends.len() as u32;
        if let End::Event { point, gesture } = &end {
            self.book.ends_at[point.index()].push((*gesture, number));
        }
        self.book.ends.push(end);
        number
    }

    /// The points of a target that do what they are told.
    fn doing_points(&self, target: &Target) -> Vec<PointNumber> {
        match target {
            Target::Point(point) => {
                self.book.number(point).into_iter().filter(|point| self.book.does(*point)).collect()
            }
            Target::Zone(zone) => {
                self.book.zone(*zone).iter().copied().filter(|point| self.book.does(*point)).collect()
            }
        }
    }

    fn musts(&mut self, conditions: &[Condition]) -> Vec<Must> {
        conditions.iter().map(|condition| self.must(condition)).collect()
    }

    fn must(&mut self, condition: &Condition) -> Must {
        let never = || Must::OneOf(Vec::new());
        let clock = |atom| Atom::Clock(atom);
        let atom = match condition {
            Condition::Not(inner) => return Must::Not(Box::new(self.must(inner))),
            Condition::OneOf(inner) => return Must::OneOf(self.musts(inner)),
            Condition::Dark => return Must::Not(Box::new(self.must(&Condition::Daylight))),
            Condition::Point { point, comparison, value } => match self.book.number(point) {
                Some(point) => Atom::Point { point, comparison: *comparison, value: *value },
                None => return never(),
            },
            Condition::AnyOf(zone) => Atom::AnyOf(self.book.zone(*zone).to_vec()),
            Condition::AllOf(zone) => Atom::AllOf(self.book.zone(*zone).to_vec()),
            Condition::Mode(mode) => match self.book.mode_number(*mode) {
                Some(mode) => Atom::Mode(mode),
                None => return never(),
            },
            Condition::Between(from, to) => clock(ClockAtom::Between(*from, *to)),
            Condition::Daylight => clock(ClockAtom::Up),
            Condition::SunHigher { degrees } => clock(ClockAtom::Higher(*degrees)),
            Condition::SunLower { degrees } => clock(ClockAtom::Lower(*degrees)),
            Condition::SunBetween { from_degrees, to_degrees } => {
                clock(ClockAtom::Bearing(*from_degrees, *to_degrees))
            }
            Condition::Weekdays(days) => clock(ClockAtom::Weekdays(*days)),
        };
        Must::Atom(self.atom(atom))
    }

    fn atom(&mut self, atom: Atom) -> u32 {
        let fresh = self.book.atoms.len() as u32;
        let number = *self.known.entry(format!("{atom:?}")).or_insert(fresh);
        if number < fresh {
            return number;
        }
        match &atom {
            Atom::Point { point, .. } => self.book.atoms_of_point[point.index()].push(fresh),
            Atom::AnyOf(points) | Atom::AllOf(points) => {
                for point in points {
                    let of_point = &mut self.book.atoms_of_point[point.index()];
                    if of_point.last() != Some(&fresh) {
                        of_point.push(fresh);
                    }
                }
            }
            Atom::Mode(_) => self.book.mode_atoms.push(fresh),
            Atom::Clock(clock) => self.book.clock_atoms.push((fresh, *clock)),
        }
        self.book.atoms.push(atom);
        fresh
    }

    /// Which rules must be judged again as a condition comes to hold or ceases to.
    fn watchers(&mut self) {
        let book = &mut self.book;
        let count = book.atoms.len();
        book.holds_of_atom = watching(count, book.holds.iter().map(|hold| hold.conditions.as_slice()));
        book.stays_of_atom = watching(count, book.stays.iter().map(|stay| std::slice::from_ref(&stay.must)));
        book.ends_of_atom = watching(
            count,
            book.ends.iter().map(|end| match end {
                End::Holds { must, .. } => std::slice::from_ref(must),
                _ => &[],
            }),
        );
    }
}

/// By atom, the numbers of those whose conditions are made of it.
fn watching<'a>(atom_count: usize, of: impl Iterator<Item = &'a [Must]>) -> Vec<Vec<u32>> {
    let mut watchers = vec![Vec::new(); atom_count];
    let mut atoms = Vec::new();
    for (number, conditions) in of.enumerate() {
        atoms.clear();
        conditions.iter().for_each(|must| must.atoms(&mut atoms));
        atoms.sort_unstable();
        atoms.dedup();
        atoms.iter().for_each(|atom| watchers[*atom as usize].push(number as u32));
    }
    watchers
}
