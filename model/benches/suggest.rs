//! How long it takes to suggest a place in a room, beside a plain reference in the same run.
//!
//! The house is invented here: a room of 6 m by 4.5 m with three windows and two doors in the middle of twelve
//! rooms, furnished and with things that must be looked at. The reference judges as many poses by share of the floor
//! alone, as one would by hand: a sight line to every point of a grid of 100 mm, tried against every wall. Figure to
//! reach: 200 poses within 0.2 s.

use divan::{Bencher, black_box};
use kurbo::Point;
use pattress_model::building::Whereabouts;
use pattress_model::edit::{Change, History, Op};
use pattress_model::geometry::Segment;
use pattress_model::id::{FreshIds, Id};
use pattress_model::kit::Kind;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::plan::{
    DoorState, Hand, MakeUp, Opening, OpeningForm, Room, RoomUse, Side, Spot, SpotUse, Wall,
};
use pattress_model::project::Project;
use pattress_model::studies::coverage::suggest::{MOST_POSES, Suggestion, Wish, suggest};
use pattress_model::units::{Angle, Length};

const WIDTH: f64 = 6000.0;
const DEPTH: f64 = 4500.0;

struct House {
    project: Project,
    room: Id<Room>,
}

/// Four rooms by three, with a door in every wall between two and a window in every outer wall; the one asked about is
/// the second of the first row.
fn house() -> House {
    let mut project = Project::new();
    let level = project.levels.ids().next().expect("a level");
    let mut ids: FreshIds = project.fresh_ids();
    let mut ops = Vec::new();
    let mut room = None;
    let wall = |ids: &mut FreshIds, ops: &mut Vec<Op>, from: Point, to: Point, outer: bool| {
        let id: Id<Wall> = ids.issue();
        let thickness = Length::mm(if outer { 300.0 } else { 100.0 });
        let (height, make_up) = (Length::mm(2400.0), MakeUp::Block);
        ops.push(Op::put(id, Wall { level, start: from, end: to, thickness, height, make_up }));
        let door = OpeningForm::Door {
            hinge: Hand::Start,
            swing: Side::Left,
            state: DoorState::Open(Angle::degrees(60.0)),
        };
        let form = if outer { OpeningForm::Window { sill: Length::mm(900.0) } } else { door };
        let centre = Length::mm(from.distance(to) * 0.4);
        let (width, head) = (Length::mm(if outer { 1500.0 } else { 800.0 }), Length::mm(2100.0));
        ops.push(Op::put(ids.issue(), Opening { wall: id, centre, width, head, form }));
    };
    for row in 0..=3 {
        for column in 0..4 {
            let from = Point::new(WIDTH * f64::from(column), DEPTH * f64::from(row));
            let to = from + (WIDTH, 0.0).into_vec();
            wall(&mut ids, &mut ops, from, to, row == 0 || row == 3);
        }
    }
    for column in 0..=4 {
        for row in 0..3 {
            let from = Point::new(WIDTH * f64::from(column), DEPTH * f64::from(row));
            let to = from + (0.0, DEPTH).into_vec();
            wall(&mut ids, &mut ops, from, to, column == 0 || column == 4);
        }
    }
    for column in 0..4 {
        for row in 0..3 {
            let seed = Point::new(WIDTH * (f64::from(column) + 0.5), DEPTH * (f64::from(row) + 0.5));
            let id = ids.issue();
            room = room.or((column == 1).then_some(id));
            let (name, room_use) = (format!("Room {column} {row}"), RoomUse::Living);
            ops.push(Op::put(id, Room { level, name, room_use, seed, ceiling: None }));
            for (spot_use, x, y) in [
                (SpotUse::Seat, 900.0, 900.0),
                (SpotUse::Desk, -1500.0, 1200.0),
                (SpotUse::Radiator, 0.0, -1900.0),
            ] {
                let at = seed + (x, y).into_vec();
                let (name, height_affl) = (spot_use.name().to_owned(), Length::mm(600.0));
                ops.push(Op::put(ids.issue(), Spot { level, name, spot_use, at, height_affl }));
            }
        }
    }
    History::default().apply(&mut project, Change::new("Build", ops)).expect("a sound house");
    House { project, room: room.expect("a room") }
}

trait IntoVec {
    fn into_vec(self) -> kurbo::Vec2;
}

impl IntoVec for (f64, f64) {
    fn into_vec(self) -> kurbo::Vec2 {
        kurbo::Vec2::new(self.0, self.1)
    }
}

fn asked(house: &House, kind: &Kind, wish: Wish) -> Suggestion {
    let answer = suggest(&house.project, house.room, kind, wish);
    assert!(answer.tried > MOST_POSES / 2 && answer.best.len() == 3, "{} tried", answer.tried);
    answer
}

#[divan::bench(args = ["wall-motion-12m", "presence-ceiling"])]
fn suggest_for_light(bencher: Bencher<'_, '_>, key: &str) {
    let (house, kind) = (house(), kind_by_key(key).expect("a kind"));
    bencher.bench_local(|| asked(black_box(&house), &kind, Wish::LightByMotion));
}

#[divan::bench(args = ["wall-motion-12m", "presence-ceiling"])]
fn suggest_for_sitting(bencher: Bencher<'_, '_>, key: &str) {
    let (house, kind) = (house(), kind_by_key(key).expect("a kind"));
    bencher.bench_local(|| asked(black_box(&house), &kind, Wish::Sitting));
}

#[divan::bench]
fn suggest_for_intrusion(bencher: Bencher<'_, '_>) {
    let (house, kind) = (house(), kind_by_key("intruder-motion-12m").expect("a kind"));
    bencher.bench_local(|| asked(black_box(&house), &kind, Wish::Intrusion));
}

/// The plain way: 200 poses, a sight line to each point of a grid, each against each wall.
#[divan::bench(sample_count = 3)]
fn reference_sight_lines_to_a_grid(bencher: Bencher<'_, '_>) {
    let house = house();
    let whereabouts = Whereabouts::of(&house.project);
    let level = house.project.levels.ids().next().expect("a level");
    let outline = whereabouts.outline(&house.project, house.room).expect("a closed room");
    // The faces of all rooms, as if every door were shut: fewer than what the suggestion looks past.
    let rooms = whereabouts.rooms_on(level);
    let walls: Vec<Segment> =
        rooms.flat_map(|(_, room)| room.shape.outer.edges().collect::<Vec<_>>()).collect();
    let bounds = outline.shape.outer.bounds().expect("a room");
    let mut grid = Vec::new();
    let (mut x, mut y) = (bounds.x0 + 50.0, bounds.y0 + 50.0);
    while y < bounds.y1 {
        grid.push(Point::new(x, y));
        x += 100.0;
        if x >= bounds.x1 {
            (x, y) = (bounds.x0 + 50.0, y + 100.0);
        }
    }
    let eyes: Vec<Point> = (0..MOST_POSES)
        .map(|index| {
            bounds
                .origin()
                .lerp(bounds.origin() + bounds.size().to_vec2(), 0.01 + 0.98 * index as f64 / 200.0)
        })
        .collect();
    bencher.bench_local(|| {
        let seen = |eye: &Point, point: &Point| {
            let line = Segment::new(*eye, *point);
            !walls.iter().any(|wall| wall.intersection(&line).is_some())
        };
        let share = |eye: &Point| grid.iter().filter(|point| seen(eye, point)).count();
        black_box(&eyes).iter().map(share).max()
    });
}

fn main() {
    divan::main();
}
