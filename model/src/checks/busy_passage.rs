//! A body-heat detector that looks through its own door into a passage: whoever walks by sets it off.
//!
//! A passage is a room of circulation, or a place where an everyday way passes the door without going through it.

use std::collections::BTreeMap;

use kurbo::{Line, ParamCurveNearest, Point};

use super::house::sees_body_heat;
use super::{Check, Finding, House, Severity};
use crate::id::Id;
use crate::plan::{DoorsAs, Level, OpeningForm, Room, RoomUse, Walk, WalkPoint, WalkPurpose};
use crate::studies::coverage::{Scenes, sensor_polygon};

pub(super) const CHECK: Check = Check { name: "busy-passage", limits: &["passage_by_door"], run };

/// How far beyond the far face of a door the passage is looked for in the view, mm.
const BEYOND_DOOR_MM: f64 = 300.0;

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let Some(limit) = house.limit("passage_by_door") else { return };
    let mut scenes = BTreeMap::new();
    for (id, device, kind) in house.devices() {
        let (Some(detection), true) = (&kind.detection, sees_body_heat(kind)) else { continue };
        let (Some((own, room)), Some(at)) = (house.room_of(device), project.position_of(device)) else {
            continue;
        };
        if matches!(room.room_use, RoomUse::Circulation | RoomUse::Stair) {
            continue;
        }
        let on_level = scenes
            .entry(device.level)
            .or_insert_with(|| Scenes::of_level(project, device.level, DoorsAs::Open));
        let Some(view) = sensor_polygon(project, on_level, device, detection) else { continue };
        let passage = project.openings_on(device.level).find_map(|(_, opening, wall)| {
            if !matches!(opening.form, OpeningForm::Door { .. }) {
                return None;
            }
            let far = wall.side_of(at).other();
            let outside = wall.on_face(opening.centre, far) + wall.normal(far) * BEYOND_DOOR_MM;
            let inside =
                wall.on_face(opening.centre, far.other()) + wall.normal(far.other()) * BEYOND_DOOR_MM;
            let is_own_door = house.whereabouts.room_at(device.level, inside) == Some(own);
            if !is_own_door || !view.contains(outside) {
                return None;
            }
            busy(house, device.level, own, outside, limit.value)
        });
        if let Some(passage) = passage {
            let sentence = format!(
                "{} looks through its door, when that stands open, at {passage}: whoever passes there sets it off. \
                 Turn it away from the door.",
                house.called(device),
            );
            found.push(house.of_device((id, device), Severity::Note, CHECK.name, sentence, &limit.source));
        }
    }
}

/// What passes at a point beyond a door, if anything does.
fn busy(house: &House<'_>, level: Id<Level>, own: Id<Room>, at: Point, near: f64) -> Option<String> {
    let project = house.project;
    let beyond = house.whereabouts.room_at(level, at)?;
    let room = project.rooms.get(beyond).filter(|_| beyond != own)?;
    if room.room_use == RoomUse::Circulation {
        return Some(room.name.clone());
    }
    let passes = |walk: &&Walk| {
        walk.purpose == WalkPurpose::Daily
            && walk_distance(walk, level, at) < near
            && !walk.points.iter().any(|point| house.whereabouts.room_at(point.level, point.at) == Some(own))
    };
    let walk = project.walks.iter().map(|(_, walk)| walk).find(passes)?;
    Some(format!("“{}”", walk.name))
}

/// The least distance of a walk's stretches on a level from a point, mm.
fn walk_distance(walk: &Walk, level: Id<Level>, at: Point) -> f64 {
    let stretches = walk.points.windows(2).filter(|pair| pair.iter().all(|point| point.level == level));
    let distance =
        |pair: &[WalkPoint]| Line::new(pair[0].at, pair[1].at).nearest(at, 1e-6).distance_sq.sqrt();
    stretches.map(distance).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::plan::{DoorState, Hand, MakeUp, Opening, Sense, Side, Wall};
    use crate::small_house::{SmallHouse, bare_house, detector};
    use crate::units::Length;

    /// The kitchen with a door in its north wall to a second room, 4 m by 2 m, of a use.
    fn two_rooms(beyond: RoomUse) -> SmallHouse {
        let mut house = bare_house();
        let level = house.ground;
        for (from, to) in [
            ((4000.0, 3000.0), (4000.0, 5000.0)),
            ((4000.0, 5000.0), (0.0, 5000.0)),
            ((0.0, 5000.0), (0.0, 3000.0)),
        ] {
            let (thickness, height) = (Length::mm(100.0), Length::mm(2400.0));
            let (start, end) = (Point::from(from), Point::from(to));
            house.put(Wall { level, start, end, thickness, height, make_up: MakeUp::Block });
        }
        let seed = Point::new(2000.0, 4000.0);
        house.put(Room { level, name: "Hall".to_owned(), room_use: beyond, seed, ceiling: None });
        let wall = house.walls[2];
        house.put(Opening {
            wall,
            centre: Length::mm(2000.0),
            width: Length::mm(800.0),
            head: Length::mm(2000.0),
            form: OpeningForm::Door { hinge: Hand::Start, swing: Side::Left, state: DoorState::Shut },
        });
        house
    }

    #[test]
    fn a_passage_beyond_the_own_door_counts() {
        for (sense, beyond, wall, expected) in [
            (Sense::BodyHeat, RoomUse::Circulation, 0, 1),
            (Sense::Sound, RoomUse::Circulation, 0, 0),
            (Sense::BodyHeat, RoomUse::Store, 0, 0),
            // On the wall of the door it looks away from it.
            (Sense::BodyHeat, RoomUse::Circulation, 2, 0),
        ] {
            let mut house = two_rooms(beyond);
            let kind = detector(&mut house, sense);
            house.place(kind, house.on_wall(wall, if wall == 0 { 2000.0 } else { 500.0 }), Some(2000.0));
            assert_eq!(found(CHECK, &house.project).len(), expected, "{sense:?} {beyond:?} {wall}");
        }
    }

    #[test]
    fn an_everyday_way_past_the_door_makes_a_passage_and_one_through_it_does_not() {
        for (ends, purpose, expected) in [
            ([(500.0, 4000.0), (3500.0, 4000.0)], WalkPurpose::Daily, 1),
            ([(500.0, 4000.0), (3500.0, 4000.0)], WalkPurpose::Night, 0),
            ([(2000.0, 4500.0), (2000.0, 1500.0)], WalkPurpose::Daily, 0),
        ] {
            let mut house = two_rooms(RoomUse::Utility);
            let kind = detector(&mut house, Sense::BodyHeat);
            house.place(kind, house.on_wall(0, 2000.0), Some(2000.0));
            let level = house.ground;
            let points = ends.map(|at| WalkPoint { level, at: Point::from(at) }).to_vec();
            house.put(Walk { name: "To the tap".to_owned(), purpose, points });
            assert_eq!(found(CHECK, &house.project).len(), expected, "{ends:?} {purpose:?}");
        }
    }
}
