//! The search itself: breadth first from everything off and shut, one standing of the clock after another.

use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

use super::super::almanac::Mark;
use super::super::clock::{NEVER, ms_between};
use super::super::journal::{EntryNumber, Incoming, What};
use super::super::run::{Rehearsal, Setup};
use super::super::state::State;
use super::faults::{Found, Watcher, left_lit, lit_by_clock, never_dark, rules_at};
use super::graph::{Graph, Node};
use super::inputs::{Happening, Inputs};
use super::key::key;
use super::room::Subject;
use super::{Budget, Fault, Options, Reach, RoomProof, Step, TimedStep, Wrong};
use crate::calendar::{Local, MS_PER_MINUTE, UtcTime};
use crate::id::Id;
use crate::systems::Rule;
use crate::units::TimeOfDay;

/// Standings of the clock that are tried at most, the longest of the day first.
const MOST_CLOCKS: usize = 8;

/// Where the clock stands, and the starters whose time comes while it is so, those of one minute together.
struct Standing {
    at: UtcTime,
    minutes: usize,
    times: Vec<(UtcTime, Vec<u32>)>,
}

/// Tries a room under every standing of the clock that makes a difference.
pub(super) fn prove(subject: &Subject, options: &Options) -> RoomProof {
    let inputs = Inputs::of(subject);
    let mut standings = standings(subject, options);
    let clocks_left_out = standings.len().saturating_sub(MOST_CLOCKS);
    standings.truncate(MOST_CLOCKS);
    let mut faults: BTreeMap<(Wrong, Vec<Id<Rule>>), Fault> = BTreeMap::new();
    let mut reaches: Vec<Reach> = Vec::new();
    let mut happenings = 0;
    for (place, standing) in standings.iter().enumerate() {
        let spent: usize = reaches.iter().map(|reach| reach.steps).sum();
        let share = options.budget.most_steps.saturating_sub(spent) / (standings.len() - place);
        let Some(mut search) = Search::new(subject, &inputs, options, standing) else { continue };
        happenings = happenings.max(search.happenings.len());
        reaches.push(search.run(Budget { most_steps: share, ..options.budget }));
        for fault in search.faults() {
            let name = (fault.wrong.clone(), fault.rules.clone());
            let is_shorter = |known: &Fault| fault.script.len() < known.script.len();
            if faults.get(&name).is_none_or(is_shorter) {
                faults.insert(name, fault);
            }
        }
    }
    RoomProof {
        room: subject.room,
        rules: subject.rules.clone(),
        two_state_inputs: inputs.inputs.iter().filter(|input| input.values.len() == 2).count(),
        happenings,
        reaches,
        clocks_left_out,
        faults: faults.into_values().collect(),
    }
}

/// Every set of truths that the clock gives the rules' conditions on the day (in the week, where they ask for
/// weekdays), at the first minute that has it; those that last longest first.
fn standings(subject: &Subject, options: &Options) -> Vec<Standing> {
    let book = &subject.book;
    let midnight = options.clock.begins(options.date);
    let noon = options.clock.when(Local::at(options.date, TimeOfDay { minutes: 720 })).earliest();
    if !book.watches_clock() {
        return vec![Standing { at: noon, minutes: 1440, times: Vec::new() }];
    }
    let setup = Setup::at(midnight, options.clock, Arc::clone(&options.sky));
    let Ok(mut run) = Rehearsal::start(Arc::clone(book), &setup) else { return Vec::new() };
    let asks_weekday =
        book.clock_atoms.iter().any(|(_, atom)| matches!(atom, super::super::book::ClockAtom::Weekdays(_)));
    let mut found: BTreeMap<Vec<bool>, Standing> = BTreeMap::new();
    for minute in 0..if asks_weekday { 7 * 1440 } else { 1440 } {
        let at = midnight.after_ms(minute * MS_PER_MINUTE);
        let truths = book.clock_atoms.iter().map(|(_, atom)| run.almanac.truth(*atom, at)).collect();
        let standing = found.entry(truths).or_insert(Standing { at, minutes: 0, times: Vec::new() });
        standing.minutes += 1;
        let marks = run.almanac.marks(book, at);
        let starters = marks.iter().filter_map(|(_, mark)| match mark {
            Mark::Start(starter) => Some(*starter),
            Mark::Truth(..) => None,
        });
        let starters: Vec<u32> = starters.collect();
        if !starters.is_empty() && standing.times.iter().all(|(_, known)| *known != starters) {
            standing.times.push((at, starters));
        }
    }
    let mut found: Vec<Standing> = found.into_values().collect();
    found.sort_by_key(|standing| (std::cmp::Reverse(standing.minutes), standing.at));
    found
}

/// A search with the clock standing at one moment.
struct Search<'a> {
    subject: &'a Subject,
    inputs: &'a Inputs,
    happenings: Vec<Happening>,
    times: Vec<(UtcTime, Vec<u32>)>,
    watcher: Watcher,
    run: Rehearsal,
    start: State,
    graph: Graph,
    /// Faults of single steps, each with its first script.
    shown: BTreeMap<Found, Vec<u32>>,
    is_whole: bool,
}

impl<'a> Search<'a> {
    fn new(subject: &'a Subject, inputs: &'a Inputs, options: &Options, standing: &Standing) -> Option<Self> {
        let setup = Setup::at(standing.at, options.clock, Arc::clone(&options.sky));
        let mut run = Rehearsal::start(Arc::clone(&subject.book), &setup).ok()?;
        // The clock stands: it brings nothing by itself from here on.
        run.state.next_mark = NEVER;
        let watcher = Watcher::of(&subject.book);
        let shown = watcher.look(&subject.book, run.journal.entries(), &run.state);
        run.journal.cut(0);
        let happenings = inputs.happenings(standing.times.len());
        Some(Self {
            subject,
            inputs,
            graph: Graph::new(happenings.len()),
            happenings,
            times: standing.times.clone(),
            watcher,
            start: run.state.clone(),
            run,
            shown: shown.into_iter().map(|found| (found, Vec::new())).collect(),
            is_whole: false,
        })
    }

    fn run(&mut self, budget: Budget) -> Reach {
        let mut to_try: VecDeque<State> = VecDeque::new();
        let mut steps = 0;
        self.run.state = self.start.clone();
        self.enter(None, &mut to_try);
        let mut tried: u32 = 0;
        let mut deepest = 0;
        while let Some(state) = to_try.pop_front() {
            let depth = self.graph.nodes.get(tried as usize).map_or(0, |node| node.depth);
            deepest = deepest.max(depth);
            let goes_beyond = steps + self.happenings.len() > budget.most_steps
                || self.graph.nodes.len() >= budget.most_states;
            if goes_beyond {
                return self.reach(steps, depth, false);
            }
            self.graph.try_next();
            for happening in 0..self.happenings.len() {
                self.run.state = state.clone();
                if !self.happen(self.happenings[happening]) {
                    continue;
                }
                steps += 1;
                self.look(tried, happening as u32);
                self.enter(Some((tried, happening as u32)), &mut to_try);
            }
            tried += 1;
        }
        self.is_whole = true;
        self.reach(steps, deepest, true)
    }

    fn reach(&self, steps: usize, depth: u32, whole: bool) -> Reach {
        let (at, states) = (self.start.now, self.graph.nodes.len());
        Reach { at, states, steps, depth: depth as usize, whole }
    }

    /// Lets something happen; `false` where it does not apply.
    fn happen(&mut self, happening: Happening) -> bool {
        match happening {
            Happening::Gesture(point, gesture) => {
                self.run.take_in(Incoming::Gesture { point, gesture });
            }
            Happening::Value(point, value) => {
                let has = self.subject.book.nature(point).and_then(|nature| nature.given(value));
                if has.is_none_or(|has| has == self.run.seen(point)) {
                    return false;
                }
                self.run.take_in(Incoming::Value { point, value });
            }
            Happening::Mode(mode) => {
                if self.run.mode() == mode {
                    return false;
                }
                self.run.take_in(Incoming::Mode(mode));
            }
            Happening::Time(place) => {
                let Some((_, starters)) = self.times.get(place) else { return false };
                self.run.state.rounds += 1;
                let because = self.run.write(0, What::Clock, EntryNumber::NONE);
                self.run.current.starts.extend(starters.iter().map(|starter| (*starter, because)));
                self.run.work_off();
            }
            Happening::Wait => {
                let Some(due) = self.run.next_due(NEVER).filter(|due| *due < NEVER) else {
                    return false;
                };
                self.run.state.now = due;
                self.run.fall_due(due);
            }
        }
        true
    }

    /// Notes what the step just done shows.
    fn look(&mut self, from: u32, happening: u32) {
        let book = &self.subject.book;
        for found in self.watcher.look(book, self.run.journal.entries(), &self.run.state) {
            if !self.shown.contains_key(&found) {
                let mut script = self.graph.script_to(from);
                script.push(happening);
                self.shown.insert(found, script);
            }
        }
        self.run.journal.cut(0);
    }

    /// Enters the state that the run is in; one that is new is put to be tried.
    fn enter(&mut self, from: Option<(u32, u32)>, to_try: &mut VecDeque<State>) {
        let has_timer = self.run.state.next_due().is_some();
        let run = &self.run;
        let is_at_rest = |input: &super::inputs::Input| {
            input.values.first().is_some_and(|(_, first)| run.seen(input.point) == *first)
        };
        let is_idle = !has_timer && self.inputs.inputs.iter().all(is_at_rest);
        let lamps = self.subject.lamps.iter().take(64).enumerate();
        let lit = lamps.filter(|(_, lamp)| run.seen(**lamp).is_on()).fold(0, |lit, (bit, _)| lit | 1 << bit);
        let depth = from.and_then(|(from, _)| self.graph.nodes.get(from as usize));
        let depth = depth.map_or(0, |from| from.depth + 1);
        let node = || Node { from, depth, lit, is_idle };
        let (number, is_new) = self.graph.enter(key(&self.subject.book, &run.state), node);
        if is_new {
            to_try.push_back(run.state.clone());
        }
        if let Some((from, happening)) = from {
            self.graph.lead(from, happening as usize, number);
        }
    }

    /// Everything that is wrong, with scripts.
    fn faults(&mut self) -> Vec<Fault> {
        let mut faults = Vec::new();
        for ((wrong, rules), happenings) in std::mem::take(&mut self.shown) {
            faults.push(self.fault(wrong, rules, &happenings));
        }
        let passed_over = lit_by_clock(self.subject);
        let is_by_hand = |happening: u32| {
            self.happenings.get(happening as usize).is_some_and(|one| self.inputs.is_by_hand(*one))
        };
        let left = left_lit(&self.graph, passed_over, is_by_hand);
        let stuck = if self.is_whole { never_dark(&self.graph, passed_over) } else { Vec::new() };
        let mut stuck_lamps = 0_u64;
        for (bit, happenings) in stuck {
            stuck_lamps |= 1 << bit;
            faults.extend(self.lamp_fault(bit, Wrong::NeverDark, &happenings));
        }
        // A lamp that nothing makes dark needs no second word.
        for (bit, happenings) in left.into_iter().filter(|(bit, _)| stuck_lamps >> bit & 1 == 0) {
            faults.extend(self.lamp_fault(bit, Wrong::LeftLit, &happenings));
        }
        faults
    }

    fn lamp_fault(
        &mut self,
        bit: u32,
        wrong: impl Fn(crate::systems::PointRef) -> Wrong,
        happenings: &[u32],
    ) -> Option<Fault> {
        let lamp = *self.subject.lamps.get(bit as usize)?;
        let name = self.subject.book.name(lamp)?.clone();
        Some(self.fault(wrong(name), rules_at(&self.subject.book, lamp), happenings))
    }

    /// Plays a script once more, to write down when each of its steps comes.
    fn fault(&mut self, wrong: Wrong, rules: Vec<Id<Rule>>, happenings: &[u32]) -> Fault {
        self.run.state = self.start.clone();
        let mut script = Vec::new();
        for at in happenings {
            let Some(happening) = self.happenings.get(*at as usize).copied() else { continue };
            self.happen(happening);
            self.run.journal.cut(0);
            let after_ms = ms_between(self.start.now, self.run.state.now);
            script.extend(self.step(happening).map(|step| TimedStep { after_ms, step }));
        }
        Fault { wrong, rules, start: self.start.now, script }
    }

    fn step(&self, happening: Happening) -> Option<Step> {
        let book = &self.subject.book;
        Some(match happening {
            Happening::Gesture(point, gesture) => Step::Gesture(book.name(point)?.clone(), gesture),
            Happening::Value(point, value) => Step::Value(book.name(point)?.clone(), value),
            Happening::Mode(mode) => Step::Mode(mode),
            Happening::Time(place) => {
                let (at, starters) = self.times.get(place)?;
                let rules = starters.iter().filter_map(|starter| book.starters.get(*starter as usize));
                Step::TimeComes { rules: rules.map(|starter| starter.rule).collect(), at: *at }
            }
            Happening::Wait => Step::Wait,
        })
    }
}
