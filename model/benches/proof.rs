//! How long it takes to try a room of 12 rules and 10 inputs of two states in every order.
//!
//! The reference beside it plays every script of up to four steps one by one through the public door, without merging
//! states that are alike, as one would without the search.

use std::sync::Arc;

use divan::counter::ItemsCount;
use kurbo::Point;
use pattress_model::calendar::Date;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::catalogue;
use pattress_model::kit::{Device, Kind, Mount, PointRole, PointSpec, PointType, Tag};
use pattress_model::plan::{Room, RoomUse};
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::proof::{Budget, Options, RoomProof, prove_room, reach_sentence};
use pattress_model::studies::rehearsal::{Incoming, Rehearsal, RuleBook, Setup};
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, Target, Trigger, Value,
};
use pattress_model::units::{Angle, Length, Seconds};

fn main() {
    let (project, room) = house();
    let proof = prove(&project, room);
    println!("{}", reach_sentence(&project, &proof, project.site.clock));
    divan::main();
}

const SENSORS: usize = 10;
const LAMPS: usize = 4;

fn point(device: u32, name: &str) -> PointRef {
    PointRef::new(Id::from_number(device), name)
}

fn is_on(sensor: usize) -> Condition {
    let point = point(100 + sensor as u32, "open");
    Condition::Point { point, comparison: Comparison::Is, value: Value::On }
}

fn lamp(number: usize) -> Target {
    Target::Point(point(120 + (number % LAMPS) as u32, "level"))
}

/// Eight holds by two contacts each, three keys, one rule that waits.
fn rules() -> Vec<RuleBody> {
    let hold = |number: usize| RuleBody::While {
        conditions: vec![is_on(number), is_on((number + 3) % SENSORS)],
        linger: Seconds(if number.is_multiple_of(2) { 60.0 } else { 0.0 }),
        settings: vec![Setting { target: lamp(number), value: Value::Number(60.0), fade: Seconds::ZERO }],
        rank: number as u8,
        yields_to_hand: true,
    };
    let key = |gesture, actions| RuleBody::When {
        trigger: Trigger::Event { point: point(130, "key 1"), gesture },
        conditions: Vec::new(),
        actions,
    };
    let deed = |number, deed| Action::new(Some(lamp(number)), deed);
    let mut rules: Vec<RuleBody> = (0..8).map(hold).collect();
    rules.push(key(Gesture::Press, vec![deed(0, Deed::Toggle)]));
    rules.push(key(Gesture::PressTwice, vec![deed(1, Deed::Toggle), deed(2, Deed::Toggle)]));
    rules.push(key(Gesture::Hold, (0..LAMPS).map(|number| deed(number, Deed::Set(Value::Off))).collect()));
    rules.push(RuleBody::When {
        trigger: Trigger::Becomes {
            point: point(109, "open"),
            comparison: Comparison::Is,
            value: Value::Off,
        },
        conditions: vec![is_on(8)],
        actions: vec![Action { after: Seconds(30.0), ..deed(3, Deed::Set(Value::Off)) }],
    });
    rules
}

fn house() -> (Project, Id<Room>) {
    let mut project = Project::new();
    let level = project.levels.ids().next().expect("a level");
    let room: Id<Room> = Id::from_number(50);
    let seed = Point::new(0.0, 0.0);
    let named = Room { level, name: "Room".to_owned(), room_use: RoomUse::Living, seed, ceiling: None };
    let mut ops = vec![Op::put(room, named)];
    let mut device = |number: u32, name: &str, point_type, role| {
        let kind: Id<Kind> = Id::from_number(number + 100);
        let mut of = catalogue()[0].kind.clone();
        of.points = vec![PointSpec { name: name.to_owned(), point_type, role }];
        ops.push(Op::put(kind, of));
        let device = Device {
            kind,
            level,
            tag: Tag { code: "D".to_owned(), number },
            name: String::new(),
            mount: Mount::Outdoors { at: Point::new(f64::from(number), 0.0) },
            height_affl: Some(Length::mm(1000.0)),
            turn: Angle::ZERO,
            tilt: Angle::ZERO,
            note: String::new(),
            legend: Default::default(),
        };
        ops.push(Op::put(Id::from_number(number), device));
    };
    (0..SENSORS as u32).for_each(|at| device(100 + at, "open", PointType::State, PointRole::Reports));
    (0..LAMPS as u32).for_each(|at| device(120 + at, "level", PointType::Number, PointRole::Does));
    device(130, "key 1", PointType::Event, PointRole::Reports);
    for (number, body) in (300..).zip(rules()) {
        let (name, comment) = (format!("Rule {number}"), String::new());
        ops.push(Op::put(
            Id::from_number(number),
            Rule { name, room: Some(room), enabled: true, comment, body },
        ));
    }
    History::default().apply(&mut project, Change::new("Build", ops)).expect("a sound house");
    (project, room)
}

fn prove(project: &Project, room: Id<Room>) -> RoomProof {
    let options = Options {
        budget: Budget::default(),
        ..Options::of(project, Date::new(2026, 6, 10).expect("a date"))
    };
    prove_room(project, room, &options)
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn every_order_in_a_room(bencher: divan::Bencher) {
    let (project, room) = house();
    let steps: usize = prove(&project, room).reaches.iter().map(|reach| reach.steps).sum();
    bencher.counter(ItemsCount::new(steps)).bench_local(|| prove(&project, room));
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn reference_every_script_of_four_steps(bencher: divan::Bencher) {
    let (project, _) = house();
    let book = Arc::new(RuleBook::of(&project));
    let start = project.site.clock.begins(Date::new(2026, 6, 10).expect("a date"));
    let mut run = Rehearsal::start(Arc::clone(&book), &Setup::of(&project, start)).expect("a run");
    let steps = scripts(&mut run, 4);
    bencher.counter(ItemsCount::new(steps)).bench_local(|| scripts(&mut run, 4));
}

/// Plays everything that may happen next, and from there again; returns how many steps that took.
fn scripts(run: &mut Rehearsal, depth: usize) -> usize {
    if depth == 0 {
        return 0;
    }
    let number = |run: &Rehearsal, device, name| run.book().number(&point(device, name)).expect("a point");
    let mut steps = 0;
    for happening in 0..SENSORS + 4 {
        let before = run.snapshot();
        let now = run.now();
        if happening < SENSORS {
            let sensor = number(run, 100 + happening as u32, "open");
            let value = if run.seen(sensor).is_on() { Value::Off } else { Value::On };
            run.come_in(now, Incoming::Value { point: sensor, value }).expect("a report");
        } else if happening < SENSORS + 3 {
            let gesture = [Gesture::Press, Gesture::PressTwice, Gesture::Hold][happening - SENSORS];
            let point = number(run, 130, "key 1");
            run.come_in(now, Incoming::Gesture { point, gesture }).expect("a press");
        } else if let Some(due) = run.next_due(now.after_ms(3_600_000)) {
            run.run_until(due);
        }
        steps += 1 + scripts(run, depth - 1);
        run.go_back(&before);
    }
    steps
}
