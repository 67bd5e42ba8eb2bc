//! What must hold of every plan: more wall never sees more, a shut door never adds, mirrored plans give mirrored
//! answers, and a sensor sees its own foot or says why not.

use proptest::prelude::*;

use super::*;
use crate::geometry::{difference, intersection};
use crate::kit::{Pattern, ReachLeft};
use crate::plan::DoorState;

/// Slivers along outlines that two reckonings may differ by: 0.5 mm along so many millimetres of outline.
fn slack(region: &Region) -> f64 {
    0.5 * region.perimeter() + 1.0
}

#[derive(Clone, Debug)]
struct House {
    walls: Vec<(f64, f64, f64, f64, f64)>,
    islands: Vec<(f64, f64, f64, f64)>,
    eye: (f64, f64, f64),
    look: (f64, f64),
    sense: Sense,
    target: f64,
}

fn houses() -> impl Strategy<Value = House> {
    let place = || 500.0..7500.0;
    let wall = (place(), place(), 0.0..TAU, 800.0..4000.0, prop_oneof![Just(2400.0), 800.0..2300.0]);
    let island = (place(), place(), 500.0..2000.0, 500.0..1800.0);
    (
        prop::collection::vec(wall, 1..5),
        prop::collection::vec(island, 0..3),
        (place(), place(), 1500.0..2390.0),
        (-180.0..180.0, prop_oneof![Just(0.0), 0.0..30.0]),
        prop::sample::select(vec![
            Sense::BodyHeat,
            Sense::Dual,
            Sense::Camera,
            Sense::Microwave,
            Sense::Sound,
        ]),
        prop_oneof![Just(1300.0), Just(800.0), Just(0.0)],
    )
        .prop_map(|(walls, islands, eye, look, sense, target)| House {
            walls,
            islands,
            eye,
            look,
            sense,
            target,
        })
}

impl House {
    /// The same with everything to the left on the right, where asked for.
    fn drawn(&self, mirrored: bool, door: Option<DoorState>) -> (Drawn, Vec<Id<Wall>>) {
        let hand = if mirrored { -1.0 } else { 1.0 };
        let mut plan = Drawn::new(2400.0);
        let walls: Vec<Id<Wall>> = self
            .walls
            .iter()
            .map(|(x, y, turn, length, height)| {
                let end = (hand * (x + length * turn.cos()), y + length * turn.sin());
                plan.wall((hand * x, *y), end, *height, MakeUp::Stud)
            })
            .collect();
        for (x, y, size, top) in &self.islands {
            plan.joinery((hand * x, *y), (*size, 600.0), 0.0, *top);
        }
        if let Some(state) = door {
            let (_, _, _, length, height) = self.walls[0];
            let mut swing = super::door(state);
            if let (true, OpeningForm::Door { swing, .. }) = (mirrored, &mut swing) {
                *swing = Side::Right;
            }
            plan.hole(walls[0], length / 2.0, 500.0, height.min(2000.0), swing);
        }
        (plan, walls)
    }

    fn asked(&self, plan: &Drawn, mirrored: bool) -> (Device, Detection, Question) {
        let (x, turn) = if mirrored { (-self.eye.0, 180.0 - self.look.0) } else { (self.eye.0, self.look.0) };
        let device = plan.at(x, self.eye.1, self.eye.2, turn, self.look.1);
        let pattern = Pattern::Fan { angle: Angle::degrees(100.0), range: Length::mm(7000.0) };
        let reach_left = ReachLeft { through_board: 0.5, ..ReachLeft::WHOLE };
        let detection = Detection { reach_left, ..Detection::plain(self.sense, pattern) };
        let target = Target::At(Length::mm(self.target));
        (device, detection, Question { target, ..Question::default() })
    }

    fn seen(&self, plan: &Drawn, mirrored: bool) -> Seen {
        let (device, detection, question) = self.asked(plan, mirrored);
        plan.seen(&device, &detection, question)
    }
}

fn mirrored(region: &Region) -> Region {
    let turn = |ring: &Ring| Ring::new(ring.points().iter().map(|at| Point::new(-at.x, at.y)).collect());
    let outlines: Vec<Ring> = region.rings().map(turn).collect();
    crate::geometry::overlay::filled_outlines(&outlines, true)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn more_wall_never_sees_more(house in houses()) {
        let (mut plan, walls) = house.drawn(false, None);
        let with = house.seen(&plan, false).region;
        remove(&mut plan.project, Subject::Wall(walls[walls.len() - 1]));
        let without = house.seen(&plan, false).region;
        prop_assert!(difference(&with, &without).area() <= slack(&with));
    }

    #[test]
    fn a_shut_door_never_adds(house in houses()) {
        // A doorway without a leaf sees most: an open leaf stands in other ways.
        let (shut, _) = house.drawn(false, Some(DoorState::Shut));
        let (mut open, walls) = house.drawn(false, None);
        let (_, _, _, length, height) = house.walls[0];
        open.hole(walls[0], length / 2.0, 500.0, height.min(2000.0), OpeningForm::Plain);
        let (shut, open) = (house.seen(&shut, false).region, house.seen(&open, false).region);
        prop_assert!(difference(&shut, &open).area() <= slack(&shut));
    }

    #[test]
    fn a_mirrored_plan_gives_a_mirrored_answer(house in houses()) {
        let state = Some(DoorState::Open(Angle::degrees(60.0)));
        let here = house.seen(&house.drawn(false, state).0, false).region;
        let there = mirrored(&house.seen(&house.drawn(true, state).0, true).region);
        let apart = difference(&here, &there).area() + difference(&there, &here).area();
        prop_assert!(apart <= slack(&here), "{} mm²", apart);
    }

    /// Body heat and microwave together see what both see.
    #[test]
    fn dual_is_the_intersection_of_both(house in houses()) {
        let (plan, _) = house.drawn(false, Some(DoorState::Shut));
        let of = |sense| House { sense, ..house.clone() }.seen(&plan, false).region;
        let both = intersection(&of(Sense::BodyHeat), &of(Sense::Microwave));
        let dual = of(Sense::Dual);
        let apart = difference(&dual, &both).area() + difference(&both, &dual).area();
        prop_assert!(apart <= slack(&dual), "{} mm²", apart);
    }

    /// Just ahead of its foot a sensor sees, unless it says that it is blind or how wide its blind strip is.
    #[test]
    fn a_sensor_sees_its_own_foot_or_says_why_not(house in houses(), lens in 0usize..4) {
        // Tilted by 20° the look-down layer begins exactly at the foot, a matter of rounding.
        prop_assume!(lens != 2 || house.look.1 < 19.0);
        let (plan, _) = house.drawn(false, None);
        let (device, mut detection, question) = house.asked(&plan, false);
        detection.tiers = [
            vec![],
            detection_of("wall-motion-12m").tiers,
            detection_of("intruder-motion-12m").tiers,
            detection_of("camera-indoor").tiers,
        ][lens].clone();
        let seen = plan.seen(&device, &detection, question);
        if let Some(blind) = seen.blind {
            prop_assert!(seen.region.is_empty(), "{:?}", blind);
            return Ok(());
        }
        if let Some(strip) = seen.blind_strip {
            let eye = Point::new(house.eye.0, house.eye.1);
            let foot = eye + device.turn.direction() * (strip + 3.0);
            let something_near = off_outline(&seen.region, foot) < 50.0;
            prop_assert!(
                seen.region.contains(foot) || (strip > 0.0 && something_near) || plan_hides(&plan, eye, foot),
                "{foot} {strip}"
            );
        }
    }
}

/// Whether anything of the plan stands near the way to the foot, so that the strip is not all that hides it.
fn plan_hides(plan: &Drawn, eye: Point, foot: Point) -> bool {
    let way = crate::geometry::Segment::new(eye, foot);
    let near = |ring: Ring| ring.edges().any(|edge| edge.intersection(&way).is_some()) || ring.contains(foot);
    plan.project.joinery.iter().any(|(_, piece)| near(Ring::new(piece.corners().to_vec())))
        || plan.project.walls.iter().any(|(_, wall)| {
            let half = wall.thickness.as_mm() / 2.0;
            let out = wall.normal(Side::Left) * half;
            near(Ring::new(vec![wall.start - out, wall.end - out, wall.end + out, wall.start + out]))
        })
}
