//! How long one visibility polygon takes, beside a plain reference in the same run.
//!
//! The plan is invented here: a grid of rooms with a door gap in most walls, off the grid lines by a
//! number from a small congruential generator, so that every run measures the same. The reference sorts
//! the directions of all wall ends and tries every wall against rays just beside each of them, which is
//! the textbook way and O(n²).

use divan::{Bencher, black_box};
use kurbo::{Point, Rect, Vec2};
use pattress_model::geometry::{Ring, Scene, Segment, View, union_of_rings};

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

struct House {
    bounds: Rect,
    walls: Vec<Segment>,
    eyes: Vec<Point>,
}

/// About `columns × rows × 4` wall pieces; one wall in six has no door and one in twelve is left out.
fn house(columns: usize, rows: usize) -> House {
    let mut numbers = Numbers(7);
    let bounds = Rect::new(0.0, 0.0, ROOM_WIDTH * columns as f64, ROOM_DEPTH * rows as f64);
    let mut walls: Vec<Segment> = Ring::from_rect(bounds).edges().collect();
    let mut add = |from: Point, to: Point| {
        let (kind, place) = (numbers.next(), numbers.next());
        let length = from.distance(to);
        let door = 300.0 + place * (length - 1500.0);
        let along = (to - from) / length;
        if kind < 1.0 / 6.0 {
            walls.push(Segment::new(from, to));
        } else if kind > 1.0 / 12.0 + 1.0 / 6.0 {
            walls.push(Segment::new(from, from + along * door));
            walls.push(Segment::new(from + along * (door + 900.0), to));
        }
    };
    for column in 0..columns {
        for row in 0..rows {
            let corner = Point::new(ROOM_WIDTH * column as f64, ROOM_DEPTH * row as f64);
            if column > 0 {
                add(corner, corner + Vec2::new(0.0, ROOM_DEPTH));
            }
            if row > 0 {
                add(corner, corner + Vec2::new(ROOM_WIDTH, 0.0));
            }
        }
    }
    let eyes = (0..256)
        .map(|_| {
            Point::new(
                1.0 + numbers.next() * (bounds.width() - 2.0),
                1.0 + numbers.next() * (bounds.height() - 2.0),
            )
        })
        .collect();
    House { bounds, walls, eyes }
}

/// The house of `size` walls exactly: the first so many of a slightly larger one.
fn house_of(size: usize) -> House {
    let (columns, rows) = if size <= 600 { (15, 12) } else { (44, 30) };
    let mut house = house(columns, rows);
    assert!(house.walls.len() >= size, "{} walls", house.walls.len());
    house.walls.truncate(size);
    house
}

fn scene_of(house: &House) -> Scene {
    Scene::new(Some(house.bounds), &house.walls).expect("builds")
}

const SIZES: [usize; 2] = [528, 4000];

/// Asks from one eye after the other.
fn look(bencher: Bencher, size: usize, view: View) {
    let house = house_of(size);
    let scene = scene_of(&house);
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        scene.visible_from(black_box(house.eyes[turn % house.eyes.len()]), view)
    });
}

#[divan::bench(args = SIZES, sample_count = 2000, sample_size = 1)]
fn all_round(bencher: Bencher, size: usize) {
    look(bencher, size, View::all_round(f64::INFINITY));
}

#[divan::bench(args = SIZES, sample_count = 2000, sample_size = 1)]
fn fan_of_110_degrees_to_12_m(bencher: Bencher, size: usize) {
    look(bencher, size, View::new(0.7, 110f64.to_radians(), 12_000.0));
}

#[divan::bench(args = SIZES)]
fn building_the_scene(bencher: Bencher, size: usize) {
    let house = house_of(size);
    bencher.bench_local(|| scene_of(black_box(&house)));
}

#[divan::bench(args = SIZES, sample_count = 2000, sample_size = 1)]
fn sight_line(bencher: Bencher, size: usize) {
    let house = house_of(size);
    let scene = scene_of(&house);
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        scene.sees(house.eyes[turn % 256], house.eyes[(turn * 7 + 1) % 256])
    });
}

#[divan::bench(args = [528], sample_count = 20)]
fn union_of_197_views(bencher: Bencher, size: usize) {
    let house = house_of(size);
    let scene = scene_of(&house);
    let view = View::all_round(f64::INFINITY);
    let seen: Vec<Ring> = house.eyes[..197].iter().map(|eye| scene.visible_from(*eye, view)).collect();
    bencher.bench_local(|| union_of_rings(black_box(&seen)));
}

/// The reference: area seen all round, by rays a hair to both sides of every wall end.
fn area_by_rays(house: &House, eye: Point) -> f64 {
    let mut angles: Vec<f64> = Vec::with_capacity(6 * house.walls.len());
    for wall in &house.walls {
        for end in [wall.a, wall.b] {
            let angle = (end - eye).atan2();
            angles.extend([angle - 1e-9, angle + 1e-9]);
        }
    }
    angles.sort_unstable_by(f64::total_cmp);
    let hits: Vec<Vec2> = angles
        .iter()
        .map(|angle| {
            let ray = Vec2::from_angle(*angle);
            let mut nearest = f64::INFINITY;
            for wall in &house.walls {
                let along = wall.b - wall.a;
                let cross = ray.cross(along);
                let offset = wall.a - eye;
                let (distance, place) = (offset.cross(along) / cross, offset.cross(ray) / cross);
                if distance > 0.0 && (0.0..=1.0).contains(&place) && distance < nearest {
                    nearest = distance;
                }
            }
            ray * nearest
        })
        .collect();
    let doubled: f64 = (0..hits.len()).map(|i| hits[i].cross(hits[(i + 1) % hits.len()])).sum();
    0.5 * doubled
}

#[divan::bench(args = SIZES, sample_count = 20)]
fn reference_by_rays(bencher: Bencher, size: usize) {
    let house = house_of(size);
    let mut turn = 0;
    bencher.bench_local(|| {
        turn += 1;
        area_by_rays(&house, black_box(house.eyes[turn % house.eyes.len()]))
    });
}

fn main() {
    // The two must agree before their times mean anything.
    let house = house_of(528);
    let scene = scene_of(&house);
    for eye in &house.eyes[..32] {
        let found = scene.visible_from(*eye, View::all_round(f64::INFINITY)).signed_area();
        let expected = area_by_rays(&house, *eye);
        assert!((found - expected).abs() < 1e-5 * expected, "{found} is not {expected} at {eye}");
    }
    let corners = |eye: &Point| scene.visible_from(*eye, View::all_round(f64::INFINITY)).len();
    let mean = house.eyes.iter().map(corners).sum::<usize>() as f64 / house.eyes.len() as f64;
    println!("528 walls make {} triangles; a view has {mean:.1} corners on average", scene.triangle_count());
    divan::main();
}
