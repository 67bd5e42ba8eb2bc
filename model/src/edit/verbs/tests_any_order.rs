//! Verbs in any order: what a verb returns is accepted, and undo and redo lead back and forth exactly.

use kurbo::{Point, Rect};
use proptest::prelude::*;

use super::tests::{House, SPEC, kind};
use super::*;
use crate::edit::{Change, Subject};
use crate::kit::{Mount, MountKind};
use crate::plan::{
    Hand, Level, Opening, OpeningForm, Room, RoomUse, Side, Spot, SpotUse, Walk, WalkPoint, WalkPurpose,
};
use crate::project::Project;
use crate::systems::{PointRef, Rule, RuleBody, Setting, Target, Value, ZonePurpose};
use crate::units::{Angle, Length, Seconds};

/// One gesture: which verb, which things, where.
#[derive(Clone, Debug)]
struct Gesture {
    verb: usize,
    picks: Vec<prop::sample::Index>,
    at: Point,
    to: Point,
    size: f64,
}

fn gesture() -> impl Strategy<Value = Gesture> {
    let point = || (-6000.0..6000.0_f64, -6000.0..6000.0_f64).prop_map(|(x, y)| Point::new(x, y));
    let picks = prop::collection::vec(any::<prop::sample::Index>(), 1..5);
    (0_usize..43, picks, point(), point(), 10.0..3000.0_f64).prop_map(|(verb, picks, at, to, size)| Gesture {
        verb,
        picks,
        at,
        to,
        size,
    })
}

/// Things of one sort that a gesture picks; `None` where there are none.
fn one<T>(gesture: &Gesture, mut all: impl Iterator<Item = T> + Clone) -> Option<T> {
    let count = all.clone().count();
    (count > 0).then(|| all.nth(gesture.picks[0].index(count)))?
}

fn perform(project: &Project, gesture: &Gesture) -> Option<Result<Change, String>> {
    let Gesture { verb, ref picks, at, to, size } = *gesture;
    let subjects: Vec<Subject> = project.entities().iter().map(|entity| entity.subject()).collect();
    let picked: Vec<Subject> = picks.iter().map(|pick| subjects[pick.index(subjects.len())]).collect();
    let level = one(gesture, project.levels.ids())?;
    let (by, length, turn) = (to - at, Length::mm(size), Angle::degrees(size));
    let placing = |kind| Placing { kind, level, turn, height: None };
    let on_wall = |wall| Mount::WallFace { wall, side: Side::Left, along: length };
    Some(match verb {
        0 | 1 => draw_walls(project, level, &[at, to], SPEC),
        2 => draw_room(project, level, Rect::from_points(at, to), SPEC),
        3 => move_wall_end(project, one(gesture, project.walls.ids())?, Hand::Start, to),
        4 => move_wall_end(project, one(gesture, project.walls.ids())?, Hand::End, to),
        5 => set_wall_length(project, one(gesture, project.walls.ids())?, length),
        6 | 7 => {
            let form =
                if verb == 6 { OpeningForm::Plain } else { OpeningForm::Window { sill: Length::mm(900.0) } };
            let wall = one(gesture, project.walls.ids())?;
            add_opening(
                project,
                Opening {
                    wall,
                    centre: length,
                    width: Length::mm(at.x.abs() / 4.0),
                    head: Length::mm(2040.0),
                    form,
                },
            )
        }
        8 => slide_opening(project, one(gesture, project.openings.ids())?, length),
        9 => flip_swing(project, one(gesture, project.openings.ids())?),
        10 => add_room(
            project,
            Room { level, name: "Room".to_owned(), room_use: RoomUse::Living, seed: at, ceiling: None },
        ),
        11 => add_level(
            project,
            Level { name: "Next".to_owned(), floor_above_datum: length, ceiling_affl: length },
        ),
        12 => copy_walls_up(project, one(gesture, project.levels.ids().rev())?, level),
        13 | 14 => place_device(project, placing(one(gesture, project.kinds.ids())?), Mount::Ceiling { at }),
        15..=17 => place_device(
            project,
            placing(one(gesture, project.kinds.ids())?),
            on_wall(one(gesture, project.walls.ids())?),
        ),
        18 => place_device(
            project,
            placing(one(gesture, project.kinds.ids())?),
            Mount::Joinery {
                joinery: one(gesture, project.joinery.ids())?,
                offset: Point::new(size / 10.0, 0.0),
            },
        ),
        19 => place_many(
            project,
            placing(one(gesture, project.kinds.ids())?),
            &array_points(Rect::from_points(at, to), 2, 2),
            "Spot",
        ),
        20..=22 => move_things(project, &picked, by),
        23 => rehost_device(project, one(gesture, project.devices.ids())?, to),
        24 => turn_things(project, &picked, turn, at),
        25 => mirror_things(project, &picked, MirrorLine::Upright, at),
        26 => mirror_things(project, &picked, MirrorLine::Level, at),
        27 => copy_things(project, &picked, by),
        28 => copy_to_level(project, &picked, level),
        29 => align(project, &picked, Edge::Left),
        30 => distribute(project, &picked, Axis::Y),
        31 => set_height(project, &picked, Some(length)),
        32 | 33 => remove_things(project, &picked),
        34 => {
            let devices: Vec<_> = project.devices.ids().collect();
            make_zone(
                project,
                "Zone",
                ZonePurpose::Lighting,
                zone_points_of(project, ZonePurpose::Lighting, &devices),
            )
        }
        35 => {
            let point = PointRef::new(one(gesture, project.devices.ids())?, "on");
            let setting = Setting { target: Target::Point(point), value: Value::On, fade: Seconds::ZERO };
            let body = RuleBody::While {
                conditions: Vec::new(),
                linger: Seconds::ZERO,
                settings: vec![setting],
                rank: 0,
                yields_to_hand: true,
            };
            let room = one(gesture, project.rooms.ids());
            add_rule(
                project,
                Rule { name: "Rule".to_owned(), room, enabled: true, comment: String::new(), body },
            )
        }
        36 => {
            let edited = one(gesture, project.walls.ids())?;
            edit_walls(project, &[(edited, WallSpec { thickness: Length::mm(size / 5.0), ..SPEC })])
        }
        37 => {
            let (spot_use, height_affl) = (SpotUse::Desk, length);
            mark_spot(project, Spot { level, name: String::new(), spot_use, at, height_affl })
        }
        38 => {
            let points = [at, to].map(|at| WalkPoint { level, at }).to_vec();
            draw_walk(project, Walk { name: String::new(), purpose: WalkPurpose::Night, points })
        }
        39 => draw_boundary(project, vec![at, to, Point::new(at.x, to.y)]),
        41 => draw_room_lines(project, level, &[at, to]),
        40 => set_tilt(project, &picked, turn),
        _ => with_kind(project, &kind("Late kind", "LK", MountKind::Wall), |project, kind| {
            place_device(
                project,
                placing(kind),
                on_wall(one(gesture, project.walls.ids()).unwrap_or(crate::id::Id::from_number(0))),
            )
        }),
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn what_a_verb_returns_is_accepted_and_can_be_taken_back(
        gestures in prop::collection::vec(gesture(), 1..40)
    ) {
        let House { mut project, mut history, .. } = House::new();
        let start = project.entities();
        let depth = history.depth();
        for gesture in &gestures {
            let before = project.clone();
            match perform(&project, gesture) {
                Some(Ok(change)) => {
                    prop_assert!(!change.label.is_empty());
                    let accepted = history.apply(&mut project, change.clone());
                    prop_assert!(accepted.is_ok(), "{:?} on {:?}: {:?}", change.label, gesture, accepted);
                }
                Some(Err(sentence)) => prop_assert!(sentence.contains(' ') && before == project),
                None => {}
            }
        }
        prop_assert_eq!(crate::edit::invariant::check_all(&project), vec![]);
        let end = project.entities();
        while history.depth() > depth {
            let _ = history.undo(&mut project);
        }
        prop_assert_eq!(project.entities(), start);
        while history.redo(&mut project).is_some() {}
        prop_assert_eq!(project.entities(), end);
    }
}

/// Refusals must be the exception: a table of gestures that always refuse would prove nothing.
#[test]
fn most_gestures_are_not_refused() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let House { mut project, mut history, .. } = House::new();
    let (mut accepted, mut refused) = (0, 0);
    for _ in 0..300 {
        let gesture = gesture().new_tree(&mut runner).unwrap().current();
        match perform(&project, &gesture) {
            Some(Ok(change)) => {
                history.apply(&mut project, change).unwrap();
                accepted += 1;
            }
            Some(Err(_)) => refused += 1,
            None => {}
        }
        if project.walls.len() > 100 {
            while history.depth() > 10 {
                let _ = history.undo(&mut project);
            }
        }
    }
    assert!(accepted > refused, "{accepted} accepted, {refused} refused");
}
