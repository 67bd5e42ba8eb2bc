//! Polygons compared with straight rays, one at a time, among the walls, holes, leaves and joinery themselves.
//!
//! The rays are worked out from the plan's own entities with vectors in space: no prism, scene, shadow or blank of the
//! code under test has a part in them. A point nearer than 2 mm to an outline is not judged.

use kurbo::{Point, Vec2};
use proptest::prelude::*;

use super::*;
use crate::kit::{Pattern, ReachLeft, Tier};
use crate::plan::DoorState;

/// The stretch of a line from `eye` to `point`, as parts from 0 to 1, within a rectangle that has this centre, these
/// half sizes and this direction.
fn stretch_within(
    eye: Point,
    point: Point,
    centre: Point,
    half: (f64, f64),
    along: Vec2,
) -> Option<(f64, f64)> {
    let across = Vec2::new(-along.y, along.x);
    let mut stretch = (0.0_f64, 1.0_f64);
    for (axis, half) in [(along, half.0), (across, half.1)] {
        let (start, step) = ((eye - centre).dot(axis), (point - eye).dot(axis));
        if step.abs() < 1e-12 {
            if start.abs() > half {
                return None;
            }
            continue;
        }
        let (a, b) = ((-half - start) / step, (half - start) / step);
        stretch = (stretch.0.max(a.min(b)), stretch.1.min(a.max(b)));
    }
    (stretch.0 < stretch.1).then_some(stretch)
}

/// One ray from an eye to a target.
struct Ray {
    eye: Point,
    point: Point,
    height: f64,
    target: f64,
}

impl Ray {
    fn z(&self, part: f64) -> f64 {
        self.height + (self.target - self.height) * part
    }

    /// Whether the ray is between two heights somewhere on a stretch.
    fn is_between(&self, (from, to): (f64, f64), base: f64, top: f64) -> bool {
        let (a, b) = (self.z(from), self.z(to));
        // A stretch that rounding alone made is none.
        to - from > 1e-9 && a.min(b) <= top && a.max(b) >= base
    }

    fn hits_wall(&self, wall: &Wall, openings: &[&Opening], sense: Sense, longer: f64) -> bool {
        let (along, middle) = (wall.direction(), wall.start.midpoint(wall.end));
        let half = (wall.length().as_mm() / 2.0 + longer, wall.thickness.as_mm() / 2.0);
        let Some(whole) = stretch_within(self.eye, self.point, middle, half, along) else { return false };
        let mut solid = vec![whole];
        for opening in openings {
            let glass = matches!(opening.form, OpeningForm::Window { .. });
            if glass && !matches!(sense, Sense::Camera | Sense::Microwave) {
                continue;
            }
            let centre = wall.on_axis(opening.centre);
            let half = (opening.width.as_mm() / 2.0, half.1);
            let Some(hole) = stretch_within(self.eye, self.point, centre, half, along) else { continue };
            let (sill, head) = (opening.sill().as_mm(), opening.head.as_mm());
            // A hair within the hole, so that a line through its very edge counts as neither.
            if self.is_between(hole, 0.0, sill.min(wall.height.as_mm()) - 1e-9) && sill > 0.0
                || self.is_between(hole, head, wall.height.as_mm()) && head < wall.height.as_mm()
            {
                return true;
            }
            solid = solid
                .iter()
                .flat_map(|part| [(part.0, part.1.min(hole.0)), (part.0.max(hole.1), part.1)])
                .collect();
        }
        solid.iter().any(|part| self.is_between(*part, 0.0, wall.height.as_mm()))
    }

    fn hits_leaf(&self, opening: &Opening, wall: &Wall) -> bool {
        let OpeningForm::Door { state, .. } = opening.form else { return false };
        let Some((a, b)) = opening.leaf(wall, state) else { return false };
        let (ray, leaf) = (self.point - self.eye, b - a);
        let cross = ray.cross(leaf);
        let (part, place) = ((a - self.eye).cross(leaf) / cross, (a - self.eye).cross(ray) / cross);
        (0.0..=1.0).contains(&part) && (0.0..=1.0).contains(&place) && self.z(part) <= opening.head.as_mm()
    }

    fn hits_joinery(&self, piece: &Joinery) -> bool {
        let half = (piece.width.as_mm() / 2.0, piece.depth.as_mm() / 2.0);
        stretch_within(self.eye, self.point, piece.centre, half, piece.turn.direction())
            .is_some_and(|stretch| self.is_between(stretch, piece.base.as_mm(), piece.top.as_mm()))
    }

    fn is_free(&self, project: &Project, sense: Sense, outer: &[Id<Wall>]) -> bool {
        let walls = project.walls.iter().any(|(id, wall)| {
            if wall.make_up == MakeUp::Glazed && matches!(sense, Sense::Camera) {
                return false;
            }
            let openings: Vec<&Opening> = project
                .openings
                .iter()
                .map(|(_, opening)| opening)
                .filter(|opening| opening.wall == id)
                .collect();
            // The corners of the box are filled to their mitres.
            let longer = if outer.contains(&id) { wall.thickness.as_mm() / 2.0 } else { 0.0 };
            self.hits_wall(wall, &openings, sense, longer)
        });
        let leaves = project.openings.iter().any(|(_, opening)| {
            project.walls.get(opening.wall).is_some_and(|wall| self.hits_leaf(opening, wall))
        });
        let joinery = project.joinery.iter().any(|(_, piece)| self.hits_joinery(piece));
        !(walls || leaves || joinery)
    }
}

/// Whether the optics look at a point: by turning the line of sight into the lens' own directions, in space.
fn looks_at(device: &Device, detection: &Detection, eye: Point, ray: &Ray) -> bool {
    let aim = device.turn.as_radians();
    let tilt = device.tilt.as_radians();
    let to = ray.point - eye;
    if to.hypot() > detection.pattern.range().as_mm() {
        return false;
    }
    let sight = [to.x, to.y, ray.target - ray.height];
    let dot = |a: [f64; 3]| a[0] * sight[0] + a[1] * sight[1] + a[2] * sight[2];
    let axis = [aim.cos() * tilt.cos(), aim.sin() * tilt.cos(), -tilt.sin()];
    let left = [-aim.sin(), aim.cos(), 0.0];
    let up = [aim.cos() * tilt.sin(), aim.sin() * tilt.sin(), tilt.cos()];
    let (along, aside, below) = (dot(axis), dot(left), -dot(up));
    let half = detection.pattern.angle().as_radians() / 2.0;
    let flat = detection.sense == Sense::Camera;
    let down = matches!(device.mount, Mount::Ceiling { .. });
    let within_fan = if down || tilt == 0.0 {
        (to.atan2() - aim).sin().atan2((to.atan2() - aim).cos()).abs() <= half
    } else {
        aside.atan2(along).abs() <= half
    };
    let angle = if down {
        to.hypot().atan2(ray.height - ray.target)
    } else if flat {
        below.atan2(along)
    } else {
        below.atan2(along.hypot(aside))
    };
    let in_tier = |tier: &Tier| (tier.from.as_radians()..=tier.to.as_radians()).contains(&angle);
    within_fan && (detection.tiers.is_empty() || detection.tiers.iter().any(in_tier))
}

#[derive(Clone, Debug)]
struct Scattered {
    walls: Vec<(f64, f64, f64, f64, f64)>,
    holes: Vec<(f64, f64, f64, f64, u8)>,
    joinery: Vec<(f64, f64, f64, f64, f64, f64, f64)>,
    eye: (f64, f64, f64),
    look: (f64, f64, f64, f64),
    tiers: Vec<(f64, f64)>,
    sort: u8,
    target: f64,
}

fn scattered() -> impl Strategy<Value = Scattered> {
    let place = || 300.0..9700.0;
    let wall = (place(), place(), 0.0..TAU, 600.0..4000.0, prop_oneof![Just(2400.0), 700.0..2400.0]);
    let hole = (0.2..0.8, 300.0..900.0, 0.0..1300.0, 1350.0..2350.0, 0u8..4);
    let piece = (place(), place(), 0.0..TAU, 300.0..2000.0, 200.0..900.0, 0.0..1800.0, 200.0..2200.0);
    let eye = (place(), place(), prop_oneof![1800.0..2390.0, 100.0..2390.0]);
    let tilt = prop_oneof![Just(0.0), -20.0..60.0];
    let look =
        (-180.0..180.0, tilt, prop_oneof![5.0..175.0, Just(90.0), Just(360.0), 180.0..350.0], 1500.0..9000.0);
    let tiers = prop_oneof![
        Just(vec![]),
        Just(vec![(0.0, 56.4)]),
        Just(vec![(0.0, 56.4), (70.0, 90.0)]),
        (-40.0..10.0, 12.0..70.0).prop_map(|(from, to)| vec![(from, to)]),
    ];
    (
        prop::collection::vec(wall, 0..5),
        prop::collection::vec(hole, 0..5),
        prop::collection::vec(piece, 0..5),
        eye,
        look,
        tiers,
        0u8..5,
        prop_oneof![Just(1300.0), Just(800.0), Just(0.0), Just(1600.0), 0.0..2390.0],
    )
        .prop_map(|(walls, holes, joinery, eye, look, tiers, sort, target)| Scattered {
            walls,
            holes,
            joinery,
            eye,
            look,
            tiers,
            sort,
            target,
        })
}

fn drawn(from: &Scattered) -> (Drawn, [Id<Wall>; 4]) {
    let mut plan = Drawn::new(2400.0);
    let outer = plan.box_of_walls(0.0, 0.0, 10_000.0, 10_000.0);
    let mut walls = outer.to_vec();
    for (x, y, turn, length, height) in &from.walls {
        let end = (x + length * turn.cos(), y + length * turn.sin());
        let make_up = if *height > 2000.0 && *height < 2300.0 { MakeUp::Glazed } else { MakeUp::Stud };
        walls.push(plan.wall((*x, *y), end, *height, make_up));
    }
    // One hole a wall at most, from the last wall back, so that holes never meet.
    for ((place, width, sill, head, form), wall) in from.holes.iter().zip(walls.iter().rev()) {
        let length = plan.project.walls.get(*wall).unwrap().length().as_mm();
        let form = match form {
            0 => window(*sill),
            1 => OpeningForm::Plain,
            2 => door(DoorState::Shut),
            _ => door(DoorState::Open(Angle::degrees(70.0))),
        };
        plan.hole(*wall, place * length, width.min(0.3 * length), *head, form);
    }
    for (x, y, turn, width, depth, base, tall) in &from.joinery {
        let id = plan.joinery((*x, *y), (*width, *depth), *base, base + tall);
        let mut piece = plan.project.joinery.get(id).unwrap().clone();
        piece.turn = Angle::radians(*turn);
        put_as(&mut plan.project, id, piece);
    }
    (plan, outer)
}

/// Which device and detection are asked: a lens of body heat, a ceiling detector or a camera.
fn asked(plan: &Drawn, from: &Scattered) -> (Device, Detection) {
    let (turn, tilt, angle, range) = from.look;
    let at = Point::new(from.eye.0, from.eye.1);
    let tier = |(from, to): &(f64, f64)| Tier { from: Angle::degrees(*from), to: Angle::degrees(*to) };
    let (sense, mount, angle, tilt) = match from.sort {
        0 | 1 => (Sense::BodyHeat, Mount::Outdoors { at }, angle, tilt),
        2 => (Sense::BodyHeat, Mount::Ceiling { at }, angle, 0.0),
        _ => (Sense::Camera, Mount::Outdoors { at }, angle.min(120.0), tilt),
    };
    let pattern = Pattern::Fan { angle: Angle::degrees(angle), range: Length::mm(range) };
    let detection = Detection {
        sense,
        pattern,
        tiers: from.tiers.iter().map(tier).collect(),
        reach_left: ReachLeft::WHOLE,
        by_height: Vec::new(),
    };
    (plan.device(mount, Some(from.eye.2), turn, tilt), detection)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn a_point_is_covered_exactly_where_a_straight_ray_reaches_it(from in scattered(), offset in 0.0..1.0f64) {
        let (plan, outer) = drawn(&from);
        let (device, detection) = asked(&plan, &from);
        let question = Question { target: Target::At(Length::mm(from.target)), ..Question::default() };
        let seen = plan.seen(&device, &detection, question);
        let eye = Point::new(from.eye.0, from.eye.1);
        if matches!(seen.blind, Some(Blind::InsideWall | Blind::InsideJoinery)) {
            prop_assert!(seen.region.is_empty());
            return Ok(());
        }
        let range = detection.pattern.range().as_mm();
        for index in 0..400 {
            // Points spread evenly over the disc about the eye (a golden-angle spiral), denser near it.
            let part = (index as f64 + offset) / 400.0;
            let way = index as f64 * 2.399_963_229_728_653;
            let point = eye + Vec2::new(way.cos(), way.sin()) * (part.powf(0.7) * 1.02 * range);
            if off_outline(&seen.region, point) < 2.0 {
                continue;
            }
            let ray = Ray { eye, point, height: from.eye.2, target: from.target };
            let expected = looks_at(&device, &detection, eye, &ray)
                && ray.is_free(&plan.project, detection.sense, &outer);
            prop_assert_eq!(
                seen.region.contains(point), expected,
                "{} from {} h {} t {} ({:.3} m off the outline)",
                point, eye, from.eye.2, from.target, off_outline(&seen.region, point) / 1000.0
            );
        }
    }
}
