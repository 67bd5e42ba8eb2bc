//! How long what sensors see takes: one polygon in height for three radii, a whole house, and the union of many
//! polygons beside a reference in the same run.
//!
//! The houses are invented: rooms in a grid, a door in most walls, an island or a wall unit in every second room, off
//! the grid by numbers from a small congruential generator, so that every run measures the same. Run with
//! `--test` the agreement with the reference is checked and nothing is timed.

use divan::{Bencher, black_box};
use geo::{Area as _, Coord, LineString, Polygon, unary_union};
use kurbo::Point;
use pattress_model::building::obstacle::Obstacles;
use pattress_model::edit::{Change, History, Op};
use pattress_model::geometry::{Region, union_of_regions};
use pattress_model::id::{FreshIds, Id};
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::kit::{Device, Kind, Mount, Movement, Tag};
use pattress_model::plan::{
    DoorState, DoorsAs, Hand, Joinery, JoineryForm, Level, MakeUp, Opening, OpeningForm, Sense, Side, Wall,
};
use pattress_model::project::Project;
use pattress_model::studies::coverage::{Question, Scenes, sensor_polygon, sensor_polygon_for};
use pattress_model::units::{Angle, Length};

const ROOM_WIDTH: f64 = 3600.0;
const ROOM_DEPTH: f64 = 3200.0;

/// A repeatable number from 0 to 1.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / (1u64 << 31) as f64
    }
}

/// Puts storeys together.
struct Builder {
    ids: FreshIds,
    ops: Vec<Op>,
    numbers: Numbers,
    tags: u32,
}

impl Builder {
    fn wall(&mut self, level: Id<Level>, from: Point, to: Point) {
        let id: Id<Wall> = self.ids.issue();
        let (thickness, height) = (Length::mm(100.0), Length::mm(2400.0));
        let wall = Wall { level, start: from, end: to, thickness, height, make_up: MakeUp::Block };
        self.ops.push(Op::put(id, wall));
        if self.numbers.next() > 0.8 {
            return;
        }
        let length = from.distance(to);
        let hole: Id<Opening> = self.ids.issue();
        let form = OpeningForm::Door {
            hinge: Hand::Start,
            swing: Side::Left,
            state: DoorState::Open(Angle::degrees(80.0)),
        };
        let centre = Length::mm(700.0 + self.numbers.next() * (length - 1400.0));
        let opening = Opening { wall: id, centre, width: Length::mm(800.0), head: Length::mm(2040.0), form };
        self.ops.push(Op::put(hole, opening));
    }

    fn joinery(&mut self, level: Id<Level>, corner: Point) {
        let hangs = self.numbers.next() > 0.5;
        let (base, top) = if hangs { (1400.0, 2100.0) } else { (0.0, 900.0 + 900.0 * self.numbers.next()) };
        let id: Id<Joinery> = self.ids.issue();
        let piece = Joinery {
            level,
            name: String::new(),
            form: JoineryForm::Island,
            centre: corner + kurbo::Vec2::new(1000.0 + 1500.0 * self.numbers.next(), 1500.0),
            width: Length::mm(1200.0),
            depth: Length::mm(600.0),
            turn: Angle::degrees(90.0 * (4.0 * self.numbers.next()).floor()),
            base: Length::mm(base),
            top: Length::mm(top),
            leaves: Vec::new(),
        };
        self.ops.push(Op::put(id, piece));
    }

    fn device(&mut self, level: Id<Level>, (id, kind): &(Id<Kind>, Kind), at: Point) {
        let device: Id<Device> = self.ids.issue();
        self.tags += 1;
        let ceiling = kind.default_height == Some(Length::mm(2400.0));
        let placed = Device {
            kind: *id,
            level,
            tag: Tag { code: kind.code.clone(), number: self.tags },
            name: String::new(),
            mount: if ceiling { Mount::Ceiling { at } } else { Mount::Outdoors { at } },
            height_affl: None,
            turn: Angle::degrees(360.0 * self.numbers.next()),
            tilt: Angle::ZERO,
            note: String::new(),
            legend: Default::default(),
        };
        self.ops.push(Op::put(device, placed));
    }
}

/// So many storeys of `columns × rows` rooms with so many sensors each: of every three a ceiling detector, an intruder
/// detector with two layers and a wall detector.
fn house(storeys: usize, columns: usize, rows: usize, sensors: usize) -> Project {
    let mut project = Project::new();
    let ground = project.levels.ids().next().expect("a level");
    let mut build = Builder { ids: project.fresh_ids(), ops: Vec::new(), numbers: Numbers(7), tags: 0 };
    let kinds: Vec<(Id<Kind>, Kind)> = ["presence-ceiling", "intruder-motion-12m", "wall-motion-12m"]
        .map(|key| (build.ids.issue(), kind_by_key(key).expect("shipped")))
        .into();
    build.ops.extend(kinds.iter().map(|(id, kind)| Op::put(*id, kind.clone())));
    for storey in 0..storeys {
        let level = if storey == 0 { ground } else { build.ids.issue() };
        let (name, floor) = (format!("Storey {storey}"), Length::mm(2700.0 * storey as f64));
        let ceiling_affl = Length::mm(2400.0);
        build.ops.push(Op::put(level, Level { name, floor_above_datum: floor, ceiling_affl }));
        for column in 0..=columns {
            for row in 0..=rows {
                let corner = Point::new(ROOM_WIDTH * column as f64, ROOM_DEPTH * row as f64);
                if row < rows {
                    build.wall(level, corner, corner + kurbo::Vec2::new(0.0, ROOM_DEPTH));
                }
                if column < columns {
                    build.wall(level, corner, corner + kurbo::Vec2::new(ROOM_WIDTH, 0.0));
                }
                if column < columns && row < rows && (column + row) % 2 == 0 {
                    build.joinery(level, corner);
                }
            }
        }
        for sensor in 0..sensors {
            let at = Point::new(
                300.0 + build.numbers.next() * (ROOM_WIDTH * columns as f64 - 600.0),
                300.0 + build.numbers.next() * (ROOM_DEPTH * rows as f64 - 600.0),
            );
            build.device(level, &kinds[sensor % 3], at);
        }
    }
    History::default().apply(&mut project, Change::new("Build", build.ops)).expect("a sound house");
    project
}

/// Segments that stand in the way on a level, as edges of footprints.
fn segments(project: &Project, level: Id<Level>) -> usize {
    let obstacles = Obstacles::of_level(project, level, Sense::BodyHeat, DoorsAs::Drawn);
    obstacles.prisms().iter().map(|prism| prism.footprint.edges().count()).sum()
}

/// A storey of about 528 segments.
fn storey() -> (Project, Id<Level>) {
    let project = house(1, 5, 5, 99);
    let level = project.levels.ids().next().expect("a level");
    (project, level)
}

#[divan::bench(sample_count = 2000, sample_size = 1)]
fn polygon_with_height_and_three_radii(bencher: Bencher) {
    let (project, level) = storey();
    let mut scenes = Scenes::of_level(&project, level, DoorsAs::Drawn);
    let devices: Vec<(&Device, &Kind)> =
        project.devices_on(level).map(|(_, device, kind)| (device, kind)).collect();
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        let (device, kind) = devices[turn % devices.len()];
        let detection = kind.senses().expect("a sensor");
        Movement::ALL.map(|movement| {
            let question = Question { movement, ..Question::default() };
            sensor_polygon_for(&project, &mut scenes, black_box(device), &detection, question)
        })
    });
}

#[divan::bench(sample_count = 2000, sample_size = 1)]
fn polygon_with_height(bencher: Bencher) {
    let (project, level) = storey();
    let mut scenes = Scenes::of_level(&project, level, DoorsAs::Drawn);
    let devices: Vec<(&Device, &Kind)> =
        project.devices_on(level).map(|(_, device, kind)| (device, kind)).collect();
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        let (device, kind) = devices[turn % devices.len()];
        sensor_polygon(&project, &mut scenes, black_box(device), &kind.senses().expect("a sensor"))
    });
}

fn all_of(project: &Project, level: Id<Level>, scenes: &mut Scenes) -> Vec<Region> {
    project
        .devices_on(level)
        .filter_map(|(_, device, kind)| sensor_polygon(project, scenes, device, &kind.senses()?))
        .collect()
}

/// Five storeys, 200 sensors, about 2,000 segments: everything from nothing, on one thread.
#[divan::bench(sample_count = 20)]
fn house_of_200_sensors(bencher: Bencher) {
    let project = house(5, 4, 4, 40);
    bencher.bench_local(|| {
        project
            .levels
            .ids()
            .map(|level| {
                all_of(&project, level, &mut Scenes::of_level(&project, level, DoorsAs::Drawn)).len()
            })
            .sum::<usize>()
    });
}

/// One of its storeys, as one of two threads would take it.
#[divan::bench(sample_count = 50)]
fn one_storey_of_40_sensors(bencher: Bencher) {
    let project = house(5, 4, 4, 40);
    let level = project.levels.ids().next().expect("a level");
    bencher.bench_local(|| {
        all_of(&project, level, &mut Scenes::of_level(&project, level, DoorsAs::Drawn)).len()
    });
}

/// Its polygons alone, once the scenes are built.
#[divan::bench(sample_count = 50)]
fn house_of_200_sensors_scenes_built(bencher: Bencher) {
    let project = house(5, 4, 4, 40);
    let mut scenes: Vec<Scenes> =
        project.levels.ids().map(|level| Scenes::of_level(&project, level, DoorsAs::Drawn)).collect();
    bencher.bench_local(|| {
        scenes
            .iter_mut()
            .map(|scenes| {
                let level = scenes.level();
                all_of(&project, level, scenes).len()
            })
            .sum::<usize>()
    });
}

/// 197 polygons of one storey.
fn polygons() -> Vec<Region> {
    let project = house(1, 12, 9, 220);
    let level = project.levels.ids().next().expect("a level");
    let mut found = all_of(&project, level, &mut Scenes::of_level(&project, level, DoorsAs::Drawn));
    found.retain(|region| !region.is_empty());
    found.truncate(197);
    assert_eq!(found.len(), 197);
    found
}

fn as_geo(regions: &[Region]) -> Vec<Polygon> {
    let line = |ring: &pattress_model::geometry::Ring| -> LineString {
        ring.points().iter().map(|at| Coord { x: at.x, y: at.y }).collect::<Vec<_>>().into()
    };
    regions
        .iter()
        .flat_map(|region| &region.shapes)
        .map(|shape| Polygon::new(line(&shape.outer), shape.holes.iter().map(line).collect()))
        .collect()
}

#[divan::bench(sample_count = 20)]
fn union_of_197_polygons(bencher: Bencher) {
    let found = polygons();
    bencher.bench_local(|| union_of_regions(&black_box(&found).iter().collect::<Vec<_>>()));
}

#[divan::bench(sample_count = 20)]
fn union_of_197_polygons_by_the_reference(bencher: Bencher) {
    let found = as_geo(&polygons());
    bencher.bench_local(|| unary_union(black_box(&found)));
}

fn main() {
    let (project, level) = storey();
    println!("the storey of one polygon holds {} segments", segments(&project, level));
    let five = house(5, 4, 4, 40);
    let sum: usize = five.levels.ids().map(|level| segments(&five, level)).sum();
    println!("the house of {} sensors holds {sum} segments", five.devices.iter().count());
    let found = polygons();
    let ours = union_of_regions(&found.iter().collect::<Vec<_>>()).area();
    let theirs = unary_union(&as_geo(&found)).unsigned_area();
    let corners: usize = found.iter().flat_map(Region::rings).map(|ring| ring.len()).sum();
    println!(
        "197 polygons of {corners} corners cover {:.3} m², by the reference {:.3} m²",
        ours * 1e-6,
        theirs * 1e-6
    );
    assert!((ours - theirs).abs() < 1e-5 * theirs, "{ours} is not {theirs}");
    if let Some(path) = std::env::args().skip_while(|word| word != "--write-polygons").nth(1) {
        let rings = |region: &Region| -> Vec<String> {
            let line = |ring: &pattress_model::geometry::Ring| {
                ring.points().iter().map(|at| format!("{} {}", at.x, at.y)).collect::<Vec<_>>().join(",")
            };
            region.rings().map(line).collect()
        };
        let text: Vec<String> = found.iter().map(|region| rings(region).join(";")).collect();
        std::fs::write(path, text.join("\n")).expect("written");
        return;
    }
    divan::main();
}
