//! Tests of the visibility code: values worked out by hand, degenerate input, and properties.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use kurbo::{Point, Rect, Vec2};
use proptest::prelude::*;

use super::polygon::Ring;
use super::sector;
use super::segment::Segment;
use super::visibility::{NUDGE, Scene, SceneError, View};

fn walls(list: &[(f64, f64, f64, f64)]) -> Vec<Segment> {
    list.iter().map(|(a, b, c, d)| Segment::new(Point::new(*a, *b), Point::new(*c, *d))).collect()
}

fn scene(bounds: Rect, list: &[(f64, f64, f64, f64)]) -> Scene {
    Scene::new(Some(bounds), &walls(list)).expect("builds")
}

fn square() -> Rect {
    Rect::new(0.0, 0.0, 4000.0, 4000.0)
}

const FAR: View = View::all_round(f64::INFINITY);

#[track_caller]
fn assert_near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{found} is not {expected}");
}

#[test]
fn a_square_room_is_seen_whole() {
    let room = scene(square(), &[]);
    let seen = room.visible_from(Point::new(1000.0, 2500.0), FAR);
    assert_near(seen.signed_area(), 16.0e6);
    assert_eq!(seen.len(), 4);
}

#[test]
fn an_l_shaped_room_hides_behind_its_corner() {
    // The upper right quarter is cut off by two walls that meet at (2000, 2000).
    let room = scene(square(), &[(2000., 4000., 2000., 2000.), (2000., 2000., 4000., 2000.)]);
    // From (1000, 1000) the corner hides nothing of the two arms.
    assert_near(room.visible_from(Point::new(1000.0, 1000.0), FAR).signed_area(), 12.0e6);
    // From (3500, 1000) the line through the corner rises 1000 in 1500 to the left, and meets x = 0 at
    // y = 1000 + 3500 / 1.5 = 3333.33; above it a triangle of the left arm is hidden.
    let seen = room.visible_from(Point::new(3500.0, 1000.0), FAR).signed_area();
    let at_wall = 1000.0 + 3500.0 / 1.5;
    let hidden = 2000.0 * (4000.0 - 0.5 * (2000.0 + at_wall));
    assert_near(seen, 12.0e6 - hidden);
}

#[test]
fn a_pillar_throws_a_shadow() {
    // A pillar 200 wide, 1000 in front of the eye; behind it the shadow widens to the wall 3000 away.
    let room = scene(
        square(),
        &[
            (1900., 2000., 2100., 2000.),
            (2100., 2000., 2100., 2200.),
            (2100., 2200., 1900., 2200.),
            (1900., 2200., 1900., 2000.),
        ],
    );
    let seen = room.visible_from(Point::new(2000.0, 1000.0), FAR).signed_area();
    let shadow = 0.5 * (200.0 + 600.0) * 2000.0;
    assert_near(seen, 16.0e6 - shadow);
}

#[test]
fn a_door_gap_lets_a_wedge_through() {
    // A wall along y = 2000 with a door from 1500 to 2500; the eye 1000 in front of its middle.
    let room = scene(square(), &[(0., 2000., 1500., 2000.), (2500., 2000., 4000., 2000.)]);
    let seen = room.visible_from(Point::new(2000.0, 1000.0), FAR);
    // Beyond, the wedge has the width 1000 at the door and 3000 at the far wall.
    assert_near(seen.signed_area(), 8.0e6 + 0.5 * (1000.0 + 3000.0) * 2000.0);
    assert_eq!(seen.len(), 8);
}

#[test]
fn a_needle_gap_stays_open() {
    let gap = 0.001;
    let room = scene(square(), &[(0., 2000., 2000.0, 2000.), (2000.0 + gap, 2000., 4000., 2000.)]);
    let seen = room.visible_from(Point::new(2000.0 + gap / 2.0, 1000.0), FAR).signed_area();
    let wedge = 0.5 * (gap + 3.0 * gap) * 2000.0;
    assert!((seen - 8.0e6 - wedge).abs() < 1e-3, "{seen}");
    // A gap below the merge distance is closed.
    let shut = scene(square(), &[(0., 2000., 2000., 2000.), (2000.000001, 2000., 4000., 2000.)]);
    assert_near(shut.visible_from(Point::new(2000.0, 1000.0), FAR).signed_area(), 8.0e6);
}

#[test]
fn windows_between_collinear_walls() {
    // Two walls of one line, and the eye on that line: neither hides anything but a line.
    let room = scene(square(), &[(1000., 2000., 1500., 2000.), (2500., 2000., 3000., 2000.)]);
    assert_near(room.visible_from(Point::new(2000.0, 2000.0), FAR).signed_area(), 16.0e6);
    assert_near(room.visible_from(Point::new(200.0, 2000.0), FAR).signed_area(), 16.0e6);
    assert!(room.sees(Point::new(200.0, 2000.0), Point::new(3800.0, 2000.0)));
}

#[test]
fn crossing_overlapping_and_degenerate_walls() {
    let room = scene(
        square(),
        &[
            (1000., 1000., 3000., 3000.),
            (1000., 3000., 3000., 1000.),
            (1000., 1000., 2500., 2500.),
            (2000., 2000., 2000., 2000.),
            (3000., 3000., 1000., 1000.),
            (0., 0., 4000., 0.),
        ],
    );
    // From below the cross: walls to its two lower ends hide everything behind them.
    let seen = room.visible_from(Point::new(2000.0, 500.0), FAR).signed_area();
    // Left of the axis: below y = 500: 2000 × 500; the triangle (2000,500) (0,500) (0,1500): 1e6; and the
    // triangle eye, (1000,1000), (2000,2000): 0.5 × |(-1000,500) × (0,1500)| = 0.75e6.
    assert_near(seen, 2.0 * (1.0e6 + 1.0e6 + 0.75e6));
}

#[test]
fn range_smaller_than_the_nearest_wall() {
    let room = scene(square(), &[]);
    let view = View::all_round(500.0);
    let seen = room.visible_from(Point::new(2000.0, 2000.0), view).signed_area();
    let circle = PI * 500.0 * 500.0;
    assert!(seen <= circle && seen > circle * (1.0 - 4.0 / 3.0 * 0.25 / 500.0), "{seen} {circle}");
}

#[test]
fn the_range_circle_cuts_a_wall_exactly() {
    let room = scene(square(), &[]);
    let eye = Point::new(2000.0, 600.0);
    let seen = room.visible_from(eye, View::all_round(1000.0));
    // The circle of 1000 meets y = 0 at x = 2000 ± 800.
    for corner in [Point::new(1200.0, 0.0), Point::new(2800.0, 0.0)] {
        assert!(seen.points().iter().any(|point| point.distance(corner) < 1e-6), "{corner}");
    }
    assert!(seen.points().iter().all(|point| point.distance(eye) <= 1000.0 + 1e-9));
}

#[test]
fn fans_start_with_the_eye() {
    let room = scene(square(), &[]);
    let eye = Point::new(2000.0, 2000.0);
    let seen = room.visible_from(eye, View::new(0.0, FRAC_PI_2, f64::INFINITY));
    assert_eq!(seen.points()[0], eye);
    assert_near(seen.signed_area(), 4.0e6);
    let half = room.visible_from(eye, View::new(FRAC_PI_2, PI, f64::INFINITY));
    assert_eq!(half.points()[0], eye);
    assert_near(half.signed_area(), 8.0e6);
    let wide = room.visible_from(eye, View::new(2.0, 1.5 * PI, 100.0));
    let exact = 0.75 * PI * 1.0e4;
    assert!(wide.signed_area() <= exact && wide.signed_area() > 0.99 * exact);
}

#[test]
fn nothing_to_see() {
    let room = scene(square(), &[]);
    let eye = Point::new(2000.0, 2000.0);
    assert!(room.visible_from(Point::new(5000.0, 1.0), FAR).is_empty());
    assert!(room.visible_from(eye, View::new(0.0, 0.0, 100.0)).is_empty());
    assert!(room.visible_from(eye, View::new(0.0, -1.0, 100.0)).is_empty());
    assert!(room.visible_from(eye, View::new(f64::NAN, 1.0, 100.0)).is_empty());
    assert!(room.visible_from(eye, View::all_round(0.0)).is_empty());
    assert!(room.visible_from(eye, View::all_round(f64::NAN)).is_empty());
    assert!(room.visible_from(Point::new(f64::NAN, 0.0), FAR).is_empty());
}

#[test]
fn bad_scenes_are_refused() {
    let bad = walls(&[(0., 0., 1., 1.), (0., f64::NAN, 1., 1.)]);
    assert_eq!(Scene::new(None, &bad).err(), Some(SceneError::WallNotFinite { index: 1 }));
    let far = walls(&[(0., 0., 1e9, 1.)]);
    assert_eq!(Scene::new(None, &far).err(), Some(SceneError::WallTooFarAway { index: 0 }));
    assert_eq!(Scene::new(None, &[]).err(), Some(SceneError::Empty));
    let rect = Rect::new(0.0, 0.0, f64::INFINITY, 5.0);
    assert_eq!(Scene::new(Some(rect), &[]).err(), Some(SceneError::BadBoundary));
    // A single point and a single wall still make a scene.
    assert!(Scene::new(None, &walls(&[(5., 5., 5., 5.)])).is_ok());
    assert!(Scene::new(Some(Rect::ZERO), &walls(&[(5., 5., 9., 5.)])).is_ok());
}

#[test]
fn an_eye_on_a_wall_looks_into_its_room() {
    let room = scene(square(), &[(0., 2000., 4000., 2000.)]);
    for (facing, hair) in [(FRAC_PI_2, 0.0), (-FRAC_PI_2, 0.0), (FRAC_PI_2, -0.004), (-FRAC_PI_2, 0.004)] {
        let view = View::new(facing, PI * 0.999, f64::INFINITY);
        let seen = room.visible_from(Point::new(1700.0, 2000.0 + hair), view);
        assert!((seen.signed_area() - 8.0e6).abs() < 3.0e4, "{}", seen.signed_area());
        assert!(seen.points()[0].distance(Point::new(1700.0, 2000.0)) <= NUDGE + 0.005);
    }
    // All round and facing along the wall: the left side is looked at.
    let seen = room.visible_from(Point::new(1700.0, 2000.0), FAR);
    assert!((seen.signed_area() - 8.0e6).abs() < 200.0, "{}", seen.signed_area());
    assert!(seen.centroid().expect("has area").y > 2000.0);
}

#[test]
fn an_eye_on_a_corner_looks_where_it_faces() {
    let room = scene(square(), &[(0., 2000., 4000., 2000.)]);
    let seen = room.visible_from(Point::new(0.0, 2000.0), View::new(PI / 4.0, FRAC_PI_2, f64::INFINITY));
    assert!((seen.signed_area() - 8.0e6).abs() < 500.0, "{}", seen.signed_area());
    // The free end of a wall, all round.
    let room = scene(square(), &[(0., 2000., 2000., 2000.)]);
    let seen = room.visible_from(Point::new(2000.0, 2000.0), FAR);
    assert!((seen.signed_area() - 16.0e6).abs() < 500.0, "{}", seen.signed_area());
}

#[test]
fn sight_lines() {
    let room = scene(square(), &[(0., 2000., 1500., 2000.), (2500., 2000., 4000., 2000.)]);
    let (below, above) = (Point::new(2000.0, 1000.0), Point::new(2000.0, 3000.0));
    assert!(room.sees(below, above) && room.sees(above, below));
    assert!(!room.sees(Point::new(500.0, 1000.0), Point::new(500.0, 3000.0)));
    // Past the very end of a wall, and to points on walls.
    assert!(room.sees(Point::new(1500.0, 1000.0), Point::new(1500.0, 3000.0)));
    assert!(room.sees(below, Point::new(500.0, 2000.0)));
    assert!(room.sees(Point::new(100.0, 2000.0), Point::new(1400.0, 2000.0)));
    assert!(room.sees(below, below));
    assert!(!room.sees(below, Point::new(2000.0, 5000.0)));
    // Between two walls that share a point there is no way through.
    let shut = scene(square(), &[(0., 2000., 2000., 2000.), (2000., 2000., 4000., 2000.)]);
    assert!(!shut.sees(below, above));
}

/// Whether no wall crosses the line properly, tried one by one.
fn sees_by_trying_all(list: &[Segment], a: Point, b: Point) -> bool {
    let line = Segment::new(a, b);
    !list.iter().any(|wall| line.intersection(wall).is_some())
}

/// The line stays this far from every wall end and so is not a close call.
fn is_clear_cut(list: &[Segment], a: Point, b: Point) -> bool {
    let line = Segment::new(a, b);
    list.iter().all(|wall| {
        line.distance_to(wall.a) > 0.1
            && line.distance_to(wall.b) > 0.1
            && wall.distance_to(a) > 0.1
            && wall.distance_to(b) > 0.1
    })
}

fn any_walls() -> impl Strategy<Value = Vec<Segment>> {
    let place = || (0u32..17, 0u32..17).prop_map(|(x, y)| Point::new(x as f64 * 250.0, y as f64 * 250.0));
    prop::collection::vec((place(), place()).prop_map(|(a, b)| Segment::new(a, b)), 0..30)
}

/// Anywhere, or in line with the grid the walls are on.
fn any_eye() -> impl Strategy<Value = Point> {
    let anywhere = (1.0f64..3999.0, 1.0f64..3999.0).prop_map(|(x, y)| Point::new(x, y));
    let in_line = (1u32..32, 1u32..32).prop_map(|(x, y)| Point::new(x as f64 * 125.0, y as f64 * 125.0));
    prop_oneof![2 => anywhere, 1 => in_line]
}

/// Not so near a wall that the eye counts as mounted on it.
fn stands_free(list: &[Segment], eye: Point) -> bool {
    list.iter().all(|wall| wall.distance_to(eye) > 1.0)
}

fn any_view() -> impl Strategy<Value = View> {
    let range = prop_oneof![200.0f64..3000.0, Just(f64::INFINITY)];
    (-7.0f64..7.0, 0.01f64..7.0, range).prop_map(|(facing, width, range)| View::new(facing, width, range))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// A random point is in the ring exactly when no wall is in between, it is in the fan and in range.
    #[test]
    fn inside_means_seen(list in any_walls(), eye in any_eye(), view in any_view(),
                         targets in prop::collection::vec(any_eye(), 30)) {
        let scene = Scene::new(Some(square()), &list).expect("builds");
        let seen = scene.visible_from(eye, view);
        for target in targets {
            let reach = target - eye;
            if !is_clear_cut(&list, eye, target) || (reach.hypot() - view.range).abs() < 1.0 {
                continue;
            }
            let off = super::numbers::wrap_angle(reach.atan2() - view.facing).abs();
            if view.width < TAU && (off - view.width / 2.0).abs() * reach.hypot() < 0.1 {
                continue;
            }
            let free = sees_by_trying_all(&list, eye, target);
            prop_assert_eq!(scene.sees(eye, target), free);
            let in_view = sector::fan_contains_direction(view.facing, view.width, reach) && reach.hypot() < view.range;
            prop_assert_eq!(seen.contains(target), free && in_view);
        }
    }

    /// Every corner of the ring is visible: the way to it, drawn in a little, is crossed by no wall.
    #[test]
    fn every_corner_is_seen(list in any_walls(), eye in any_eye(), view in any_view()) {
        prop_assume!(stands_free(&list, eye));
        let scene = Scene::new(Some(square()), &list).expect("builds");
        let seen = scene.visible_from(eye, view);
        for (index, corner) in seen.points().iter().enumerate() {
            let ring = seen.points();
            let before = ring[(index + ring.len() - 1) % ring.len()];
            let after = ring[(index + 1) % ring.len()];
            // Towards the inside of the ring by a hair, where one of the two neighbours lies on the same ray.
            let towards = [before, after].map(|neighbour| corner.lerp(neighbour, 1e-5));
            let free = towards.iter().any(|target| {
                let target = target.lerp(eye, 1e-5);
                !list.iter().any(|wall| {
                    Segment::new(eye, target).intersection(wall).is_some_and(|hit| {
                        hit.t < 1.0 - 1e-4 && hit.point.distance(wall.a) > 0.1 && hit.point.distance(wall.b) > 0.1
                    })
                })
            });
            prop_assert!(free, "{corner} from {eye}");
        }
    }

    /// Never more than the plain fan, anticlockwise, corners apart, and within the room.
    #[test]
    fn bounded_by_the_fan(list in any_walls(), eye in any_eye(), view in any_view()) {
        prop_assume!(stands_free(&list, eye));
        let scene = Scene::new(Some(square()), &list).expect("builds");
        let seen = scene.visible_from(eye, view);
        let area = seen.signed_area();
        prop_assert!((0.0..=16.0e6 * (1.0 + 1e-9)).contains(&area));
        prop_assert!(area <= 0.5 * view.width.min(TAU) * view.range * view.range * (1.0 + 1e-9));
        for edge in seen.edges() {
            prop_assert!(edge.length() > 1e-6);
        }
        // Star-shaped: every edge goes anticlockwise as seen from the eye, or along a ray.
        for edge in seen.edges() {
            let (a, b) = (edge.a - eye, edge.b - eye);
            prop_assert!(a.cross(b) >= -1e-6 * (a.hypot() + b.hypot()));
        }
    }

    /// Turning and shifting everything changes nothing but rounding.
    #[test]
    fn turned_and_shifted(list in any_walls(), eye in any_eye(), view in any_view(),
                          turn in -3.0f64..3.0, dx in -1.0e5f64..1.0e5, dy in -1.0e5f64..1.0e5) {
        prop_assume!(stands_free(&list, eye));
        let hull = Ring::from_rect(square());
        let list: Vec<Segment> = list.into_iter().chain(hull.edges()).collect();
        let (sine, cosine) = turn.sin_cos();
        let moved = |p: Point| Point::new(p.x * cosine - p.y * sine + dx, p.x * sine + p.y * cosine + dy);
        let others: Vec<Segment> = list.iter().map(|w| Segment::new(moved(w.a), moved(w.b))).collect();
        let here = Scene::new(None, &list).expect("builds").visible_from(eye, view).signed_area();
        let view = View { facing: view.facing + turn, ..view };
        let there = Scene::new(None, &others).expect("builds").visible_from(moved(eye), view).signed_area();
        // The arc may be divided from another starting point, which its chords show.
        let arc = if view.range.is_finite() { 0.25 * TAU * view.range } else { 0.0 };
        prop_assert!((here - there).abs() < 2.0 + arc, "{here} {there}");
    }

    /// A fan and the rest of the turn add up to all round.
    #[test]
    fn complementary_fans_add_up(list in any_walls(), eye in any_eye(), facing in -4.0f64..4.0,
                                 width in 0.05f64..6.2) {
        prop_assume!(stands_free(&list, eye));
        let scene = Scene::new(Some(square()), &list).expect("builds");
        let area = |view: View| scene.visible_from(eye, view).signed_area();
        let whole = area(FAR);
        let one = area(View::new(facing, width, f64::INFINITY));
        let other = area(View::new(facing + PI, TAU - width, f64::INFINITY));
        prop_assert!((one + other - whole).abs() < 1e-6 * whole.max(1.0), "{one} + {other} is not {whole}");
    }

    /// Close calls and overlaps of every kind: nothing stops the program, and views stay within the room.
    #[test]
    fn messy_input_is_survived(
        list in prop::collection::vec(((0u8..9, 0u8..9), (0u8..9, 0u8..9), -2e-5f64..2e-5), 0..40),
        x in 0u8..9, y in 0u8..9, view in any_view(),
    ) {
        // Noise about as large as the merge distance makes every tie a close call.
        let list: Vec<Segment> = list.into_iter().map(|((a, b), (c, d), noise)| Segment::new(
            Point::new(a as f64 * 500.0 + noise, b as f64 * 500.0), Point::new(c as f64 * 500.0, d as f64 * 500.0 - noise),
        )).collect();
        let scene = Scene::new(Some(square()), &list).expect("builds");
        let eye = Point::new(x as f64 * 500.0, y as f64 * 500.0);
        let seen = scene.visible_from(eye, view);
        prop_assert_eq!(scene.left_out_pieces(), 0);
        prop_assert!(seen.is_finite());
        prop_assert!(seen.area() <= 16.0e6 * 1.000001);
        scene.sees(eye, Point::new(2000.0, 2000.0) + Vec2::new(x as f64, y as f64));
    }
}
