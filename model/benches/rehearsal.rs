//! How fast rules are played: a week of a family of four in a house of 400 devices and 500 rules, a million events,
//! one click, and laying out 10,000 rules.
//!
//! The house is drawn here: forty rooms of ten devices and twelve rules, and twenty rules for the whole house. The
//! family walks by a small congruential generator, so that every run measures the same. The reference takes the same
//! events in order of time through a bare binary heap, which is the least that any engine of this sort does.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::sync::Arc;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use kurbo::Point;
use pattress_model::calendar::{Date, Local, LocalClock, SummerTime, UtcTime};
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::{FreshIds, Id};
use pattress_model::kit::{
    Device, Family, Kind, Mount, MountKind, PointRole, PointSpec, PointType, Supply, Symbol, Tag,
};
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::{Incoming, PointNumber, Rehearsal, RuleBook, Setup, SkyOver};
use pattress_model::sun::Place;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, SunEvent, Target,
    Trigger, Until, Value, Zone, ZonePurpose,
};
use pattress_model::units::{Angle, Seconds, TimeOfDay};

fn main() {
    let house = House::new(ROOMS);
    let devices = house.project.devices.iter().count();
    let trace = house.family(7);
    println!("{devices} devices, {} rules, {} events in the week", house.project.rules.len(), trace.len());
    let mut run = house.start(true);
    play(&mut run, &trace);
    println!("{} lines in the journal of the week", run.journal().entries().len());
    divan::main();
}

const ROOMS: usize = 40;
const MINUTE: i64 = 60_000;
const DAY: i64 = 1440 * MINUTE;

/// A repeatable number below a bound.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }
}

struct House {
    project: Project,
    rooms: Vec<[Id<Device>; 10]>,
}

/// What stands in each room: its points, and whether they do what they are told.
const DEVICES: [(&str, &[(&str, PointType)], PointRole); 10] = [
    ("Eye", &[("motion", PointType::State)], PointRole::Reports),
    (
        "Plate",
        &[("key 1", PointType::Event), ("key 2", PointType::Event), ("key 3", PointType::Event)],
        PointRole::Reports,
    ),
    ("Lamp", &[("level", PointType::Number)], PointRole::Does),
    ("Lamp", &[("level", PointType::Number)], PointRole::Does),
    ("Lamp", &[("level", PointType::Number)], PointRole::Does),
    ("Strip", &[("level", PointType::Number), ("colour", PointType::Colour)], PointRole::Does),
    ("Blind", &[("position", PointType::Number)], PointRole::Does),
    ("Contact", &[("open", PointType::State)], PointRole::Reports),
    ("Drawer", &[("open", PointType::State)], PointRole::Reports),
    ("Room control", &[("set point", PointType::Number)], PointRole::Does),
];

fn kind(name: &str, points: &[(&str, PointType)], role: PointRole) -> Kind {
    Kind {
        supply: Supply::Mains,
        points: points
            .iter()
            .map(|(name, point_type)| PointSpec { name: (*name).to_owned(), point_type: *point_type, role })
            .collect(),
        ..Kind::bare(name, Family::Modules, "DEV", Symbol::CodeInSquare, MountKind::Ceiling)
    }
}

fn time(hours: u16, minutes: u16) -> TimeOfDay {
    TimeOfDay { minutes: hours * 60 + minutes }
}

fn set(target: Target, value: Value) -> Action {
    Action::new(Some(target), Deed::Set(value))
}

impl House {
    fn new(rooms: usize) -> Self {
        let project = Project::new();
        let level: Id<Level> = project.levels.ids().next().unwrap_or(Id::from_number(1));
        let mut ids = project.fresh_ids();
        let mut ops = Vec::new();
        let kinds = DEVICES.map(|(name, points, role)| {
            let id: Id<Kind> = ids.issue();
            ops.push(Op::put(id, kind(name, points, role)));
            id
        });
        let mut placed = Vec::new();
        let mut number = 0;
        for room in 0..rooms {
            placed.push(kinds.map(|kind| {
                let id: Id<Device> = ids.issue();
                number += 1;
                let at = Point::new(room as f64 * 4000.0, f64::from(number));
                ops.push(Op::put(id, device(kind, level, number, at)));
                id
            }));
        }
        let mut house = Self { project, rooms: placed };
        for room in 0..rooms {
            house.rules_of_room(room, &mut ids, &mut ops);
        }
        house.rules_of_house(&mut ids, &mut ops);
        if let Err(refusal) = History::default().apply(&mut house.project, Change::new("Draw", ops)) {
            println!("the house is not sound: {refusal}");
        }
        house
    }

    fn rules_of_room(&self, room: usize, ids: &mut FreshIds, ops: &mut Vec<Op>) {
        let devices = self.rooms[room];
        let point = |device: usize, name: &str| PointRef::new(devices[device], name);
        let zone: Id<Zone> = ids.issue();
        let lamps = (2..6).map(|lamp| point(lamp, "level")).collect();
        let name = format!("Lights {room}");
        ops.push(Op::put(zone, Zone { name, purpose: ZonePurpose::Lighting, points: lamps }));
        let lights = || Target::Zone(zone);
        let is = |device, name: &str, value| Condition::Point {
            point: point(device, name),
            comparison: Comparison::Is,
            value,
        };
        let key = |name: &str, gesture| Trigger::Event { point: point(1, name), gesture };
        let when = |trigger, actions| RuleBody::When { trigger, conditions: Vec::new(), actions };
        let hold = |conditions, linger, target, value, rank| RuleBody::While {
            conditions,
            linger: Seconds(linger),
            settings: vec![Setting { target, value, fade: Seconds(1.0) }],
            rank,
            yields_to_hand: true,
        };
        let motion = || is(0, "motion", Value::On);
        let empty = Until::Holds { condition: is(0, "motion", Value::Off), lasting: Seconds(900.0) };
        let by_hand = Action { by_hand: Some(empty), ..Action::new(Some(lights()), Deed::Toggle) };
        let night = || Condition::Between(time(22, 30), time(6, 30));
        let day = || Condition::Between(time(6, 30), time(22, 30));
        let strip = || Target::Point(point(5, "colour"));
        let colours = [[255, 0, 0], [0, 0, 255], [255, 200, 120]].map(Value::Colour).to_vec();
        let blind = || Target::Point(point(6, "position"));
        let stays = Trigger::Stays { condition: is(7, "open", Value::On), lasting: Seconds(600.0) };
        let warm = || Target::Point(point(9, "set point"));
        for body in [
            hold(vec![motion(), Condition::Dark, day()], 180.0, lights(), Value::Number(70.0), 1),
            hold(vec![motion(), night()], 90.0, lights(), Value::Number(8.0), 2),
            hold(vec![is(8, "open", Value::On)], 5.0, strip(), Value::Colour([255; 3]), 3),
            when(key("key 1", Gesture::Press), vec![by_hand]),
            when(key("key 2", Gesture::Press), vec![Action::new(Some(strip()), Deed::Cycle(colours))]),
            when(key("key 2", Gesture::Hold), vec![set(lights(), Value::Off)]),
            when(key("key 3", Gesture::Press), vec![Action::new(Some(blind()), Deed::Toggle)]),
            when(key("key 3", Gesture::PressTwice), vec![set(blind(), Value::Number(50.0))]),
            when(stays, vec![Action::new(None, Deed::notify("A door stands open."))]),
            when(Trigger::Sun { event: SunEvent::Set, offset_minutes: 10 }, vec![set(blind(), Value::Off)]),
            hold(vec![is(7, "open", Value::On)], 60.0, warm(), Value::Number(7.0), 1),
            when(
                Trigger::Time(time(6 + room as u16 % 4, room as u16)),
                vec![set(warm(), Value::Number(20.0))],
            ),
        ] {
            ops.push(rule(ids, body));
        }
    }

    fn rules_of_house(&self, ids: &mut FreshIds, ops: &mut Vec<Op>) {
        for number in 0..20 {
            let lamp = Target::Point(PointRef::new(self.rooms[number % self.rooms.len()][2], "level"));
            let trigger = Trigger::Time(time(number as u16, 15));
            let actions =
                vec![set(lamp.clone(), Value::On), Action { after: Seconds(60.0), ..set(lamp, Value::Off) }];
            let conditions = vec![Condition::Dark];
            ops.push(rule(ids, RuleBody::When { trigger, conditions, actions }));
        }
    }

    fn start(&self, journal: bool) -> Rehearsal {
        let clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };
        let place = Place { latitude: Angle::degrees(51.5), longitude: Angle::degrees(-0.1) };
        let mut setup = Setup::at(first(clock), clock, Arc::new(SkyOver(place)));
        setup.journal = journal;
        Rehearsal::start(Arc::new(RuleBook::of(&self.project)), &setup)
            .unwrap_or_else(|refused| panic!("{refused}"))
    }

    /// So many days of four people, who go from room to room between seven and eleven and sleep at night. Each is
    /// seen about every twenty seconds; each comes through a door, may press a key and may open a drawer.
    fn family(&self, days: i64) -> Vec<(UtcTime, Incoming)> {
        let book = RuleBook::of(&self.project);
        let clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };
        let start = first(clock);
        let point = |room: usize, device: usize, name: &str| {
            book.number(&PointRef::new(self.rooms[room][device], name)).unwrap_or(PointNumber(0))
        };
        let mut numbers = Numbers(11);
        let mut trace = Vec::new();
        for _ in 0..4 {
            let mut at = 7 * 60 * MINUTE;
            while at < days * DAY {
                if at % DAY > 23 * 60 * MINUTE {
                    at = (at / DAY + 1) * DAY + (6 * 60 + numbers.below(90) as i64) * MINUTE;
                }
                let room = numbers.below(self.rooms.len() as u64) as usize;
                let leaves = at + (2 + numbers.below(30) as i64) * MINUTE;
                let value = |point, value| Incoming::Value { point, value };
                trace.push((at, value(point(room, 7, "open"), Value::On)));
                trace.push((at + 4000, value(point(room, 7, "open"), Value::Off)));
                let key = ["key 1", "key 2", "key 3"][numbers.below(3) as usize];
                trace.push((
                    at + 5000,
                    Incoming::Gesture { point: point(room, 1, key), gesture: Gesture::Press },
                ));
                trace.push((at + 60_000, value(point(room, 8, "open"), Value::On)));
                trace.push((at + 75_000, value(point(room, 8, "open"), Value::Off)));
                while at < leaves {
                    trace.push((at, value(point(room, 0, "motion"), Value::On)));
                    trace.push((at + 10_000, value(point(room, 0, "motion"), Value::Off)));
                    at += 12_000 + numbers.below(16_000) as i64;
                }
            }
        }
        trace.sort_by_key(|(at, _)| *at);
        trace.into_iter().map(|(at, what)| (start.after_ms(at), what)).collect()
    }
}

fn first(clock: LocalClock) -> UtcTime {
    Date::new(2026, 11, 23)
        .map_or(UtcTime::from_ms(0), |date| clock.when(Local::at(date, time(0, 0))).earliest())
}

fn device(kind: Id<Kind>, level: Id<Level>, number: u32, at: Point) -> Device {
    Device {
        kind,
        level,
        tag: Tag { code: "DEV".to_owned(), number },
        name: String::new(),
        mount: Mount::Ceiling { at },
        height_affl: None,
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: Default::default(),
    }
}

fn rule(ids: &mut FreshIds, body: RuleBody) -> Op {
    let id: Id<Rule> = ids.issue();
    let name = format!("Rule {}", id.number());
    Op::put(id, Rule { name, room: None, enabled: true, comment: String::new(), body })
}

fn play(run: &mut Rehearsal, trace: &[(UtcTime, Incoming)]) {
    for (at, what) in trace {
        if let Err(refused) = run.come_in(*at, *what) {
            println!("{refused}");
        }
    }
}

/// A week of the family, from the rules as they are in the project to the last change, with the journal.
#[divan::bench(sample_count = 5)]
fn a_week_of_a_family_of_four(bencher: Bencher<'_, '_>) {
    let house = House::new(ROOMS);
    let trace = house.family(7);
    let end =
        first(LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European }).after_ms(7 * DAY);
    bencher.bench_local(|| {
        let mut run = house.start(true);
        play(&mut run, &trace);
        run.run_until(end);
        black_box(run.journal().entries().len())
    });
}

/// A million events, a tenth of a second apart.
const MILLION: usize = 1_000_000;

fn million() -> (House, Vec<(UtcTime, Incoming)>) {
    let house = House::new(ROOMS);
    let base: Vec<Incoming> = house.family(7).into_iter().map(|(_, what)| what).collect();
    let clock = LocalClock { ahead_of_utc_minutes: 0, summer_time: SummerTime::European };
    let start = first(clock);
    let trace = (0..MILLION).map(|at| (start.after_ms(at as i64 * 100), base[at % base.len()])).collect();
    (house, trace)
}

#[divan::bench(sample_count = 5)]
fn a_million_events(bencher: Bencher<'_, '_>) {
    let (house, trace) = million();
    let fresh = house.start(false);
    bencher.counter(ItemsCount::new(MILLION)).with_inputs(|| fresh.clone()).bench_local_values(|mut run| {
        play(&mut run, &trace);
        run
    });
}

#[divan::bench(sample_count = 5)]
fn a_million_events_with_the_journal(bencher: Bencher<'_, '_>) {
    let (house, trace) = million();
    let fresh = house.start(true);
    bencher.counter(ItemsCount::new(MILLION)).with_inputs(|| fresh.clone()).bench_local_values(|mut run| {
        play(&mut run, &trace);
        run
    });
}

/// The reference: the same events through a binary heap, in order of time.
#[divan::bench(sample_count = 5)]
fn a_million_events_through_a_bare_heap(bencher: Bencher<'_, '_>) {
    let (_, trace) = million();
    let keys: Vec<(i64, u32)> =
        trace.iter().enumerate().map(|(at, (when, _))| (when.ms, at as u32)).collect();
    bencher.counter(ItemsCount::new(MILLION)).bench_local(|| {
        let mut heap: BinaryHeap<Reverse<(i64, u32)>> = BinaryHeap::with_capacity(1024);
        let mut sum = 0_u64;
        for chunk in keys.chunks(512) {
            heap.extend(chunk.iter().map(|key| Reverse(*key)));
            while let Some(Reverse((_, at))) = heap.pop() {
                sum += u64::from(at);
            }
        }
        black_box(sum)
    });
}

/// One press, with all that follows, in the midst of the week.
#[divan::bench]
fn a_click(bencher: Bencher<'_, '_>) {
    let house = House::new(ROOMS);
    let mut run = house.start(false);
    let trace = house.family(1);
    play(&mut run, &trace);
    let key = run.book().number(&PointRef::new(house.rooms[0][1], "key 1")).unwrap_or(PointNumber(0));
    let mut at = run.now();
    bencher.bench_local(|| {
        at = at.after_ms(1000);
        let _ = black_box(run.come_in(at, Incoming::Gesture { point: key, gesture: Gesture::Press }));
    });
}

/// To take and to go back to a place in the run.
#[divan::bench]
fn a_snapshot_there_and_back(bencher: Bencher<'_, '_>) {
    let house = House::new(ROOMS);
    let mut run = house.start(false);
    play(&mut run, &house.family(1));
    bencher.bench_local(|| {
        let kept = run.snapshot();
        run.go_back(&kept);
    });
}

/// To lay out the rules of the house, and twenty times as many.
#[divan::bench(args = [40, 830], sample_count = 5)]
fn lay_out_rules(bencher: Bencher<'_, '_>, rooms: usize) {
    let house = House::new(rooms);
    bencher.bench_local(|| black_box(RuleBook::of(&house.project)));
}
