//! Visible areas worked out a second way, with the boolean operations of the `geo` crate.
//!
//! From an eye, each wall hides a shadow: the part of the plane behind it. What is seen is the rectangle of
//! the plan less the union of all shadows. That is the definition of a visibility polygon turned into set
//! operations; it shares with the code under test neither triangulation nor sweep. (`geo`'s boolean
//! operations themselves rest on an earlier version of the overlay crate the model uses for unions, which
//! has no part in the visibility code.)

use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon, unary_union};
use kurbo::{Point, Rect, Vec2};
use pattress_model::geometry::{Scene, Segment, View};

/// Five by four rooms of 3.2 m by 3 m; every inner wall has a door 0.9 m wide somewhere along it.
fn plan() -> (Rect, Vec<Segment>) {
    let bounds = Rect::new(0.0, 0.0, 16_000.0, 12_000.0);
    let mut walls = Vec::new();
    let mut count = 0;
    let mut with_door = |from: Point, to: Point| {
        count += 1;
        let length = from.distance(to);
        let along = (to - from) / length;
        let door = 250.0 + (count * 379 % 17) as f64 / 16.0 * (length - 1400.0);
        walls.push(Segment::new(from, from + along * door));
        walls.push(Segment::new(from + along * (door + 900.0), to));
    };
    for column in 1..5 {
        for row in 0..4 {
            let foot = Point::new(3200.0 * column as f64, 3000.0 * row as f64);
            with_door(foot, foot + Vec2::new(0.0, 3000.0));
        }
    }
    for row in 1..4 {
        for column in 0..5 {
            let left = Point::new(3200.0 * column as f64, 3000.0 * row as f64);
            with_door(left, left + Vec2::new(3200.0, 0.0));
        }
    }
    // A free-standing diagonal, so that not everything is square.
    walls.push(Segment::new(Point::new(7000.0, 4000.0), Point::new(8500.0, 5200.0)));
    (bounds, walls)
}

/// Behind the wall as far as `reach`, with a corner in the middle so that the far side clears the plan.
/// Anticlockwise, as the union needs it.
fn shadow(eye: Point, wall: &Segment, reach: f64) -> Polygon {
    let wall = if (wall.a - eye).cross(wall.b - eye) > 0.0 { wall.reversed() } else { *wall };
    let (a, b) = ((wall.a - eye).normalize(), (wall.b - eye).normalize());
    let far = |direction: Vec2| eye + direction * reach;
    let corners = [wall.a, wall.b, far(b), far((a + b).normalize()), far(a)];
    let ring: Vec<Coord> = corners.iter().map(|p| Coord { x: p.x, y: p.y }).collect();
    Polygon::new(LineString::from(ring), Vec::new())
}

#[test]
fn visible_areas_agree_with_shadows_taken_off() {
    let (bounds, walls) = plan();
    let scene = Scene::new(Some(bounds), &walls).expect("builds");
    let plan = geo::Rect::new(Coord { x: bounds.x0, y: bounds.y0 }, Coord { x: bounds.x1, y: bounds.y1 });
    let reach = 1.5 * bounds.size().to_vec2().hypot();
    let mut worst: f64 = 0.0;
    let mut compared = 0;
    for step in 0..80 {
        let (u, v) = ((step * 37 % 80) as f64 / 80.0, (step * 53 % 79) as f64 / 79.0);
        let eye = Point::new(100.0 + 15_800.0 * u, 100.0 + 11_800.0 * v);
        if walls.iter().any(|wall| wall.distance_to(eye) < 200.0) {
            continue;
        }
        let shadows: Vec<Polygon> = walls.iter().map(|wall| shadow(eye, wall, reach)).collect();
        let hidden: MultiPolygon = unary_union(&shadows);
        let expected = plan.to_polygon().difference(&hidden).unsigned_area();
        let found = scene.visible_from(eye, View::all_round(f64::INFINITY)).signed_area();
        let error = (found - expected).abs() / expected;
        assert!(error < 1.0e-6, "at {eye}: {found} mm² is not {expected} mm²");
        worst = worst.max(error);
        compared += 1;
    }
    println!("{} walls, {compared} eyes; worst relative difference {worst:.1e}", walls.len());
    assert!(compared >= 40);
}
