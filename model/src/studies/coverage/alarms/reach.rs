//! How far the farthest point of each room is from the nearest alarm of a sense.
//!
//! Distances are level, straight where the way is clear and else round the corners of what stops smoke. An alarm counts
//! for every room of its space. In a corridor up to 2 m wide only points of its centre lines count. The farthest point
//! is found to half a millimetre.

use kurbo::Point;

use super::corridor::centre_lines;
use super::space::FireSpaces;
use crate::building::Whereabouts;
use crate::geometry::{Floor, Region, Segment, intersection};
use crate::id::Id;
use crate::kit::FireSense;
use crate::limits::limits;
use crate::plan::{Level, Room, RoomUse};
use crate::project::Project;
use crate::units::Length;

/// The farthest point of a room from the nearest alarm.
#[derive(Clone, Debug, PartialEq)]
pub struct AlarmReach {
    /// The room.
    pub room: Id<Room>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// Smoke or heat; an alarm that notices both counts for either.
    pub sense: FireSense,
    /// How far the farthest point is from the nearest alarm.
    pub farthest: Length,
    /// That point, mm.
    pub at: Point,
    /// How far it may be.
    pub limit: Length,
    /// Whether only the centre line counts, for it is a corridor.
    pub along_centre_line: bool,
}

impl AlarmReach {
    /// Whether every point that counts is within the limit, to the millimetre.
    pub fn is_within(&self) -> bool {
        self.farthest.as_mm() <= self.limit.as_mm() + 1.0
    }
}

/// Each room and sense for which its space has an alarm, by level, room and sense.
pub(super) fn reaches(
    project: &Project,
    whereabouts: &Whereabouts,
    spaces: &[FireSpaces],
) -> Vec<AlarmReach> {
    let mut found = Vec::new();
    for on_level in spaces {
        for (id, room) in project.rooms_on(on_level.level) {
            if room.room_use == RoomUse::Outside {
                continue;
            }
            for sense in [FireSense::Smoke, FireSense::Heat] {
                found.extend(reach(project, whereabouts, on_level, (id, room), sense));
            }
        }
    }
    found
}

fn reach(
    project: &Project,
    whereabouts: &Whereabouts,
    spaces: &FireSpaces,
    (id, room): (Id<Room>, &Room),
    sense: FireSense,
) -> Option<AlarmReach> {
    let outline = whereabouts.outline(project, id)?;
    let limit = match sense {
        FireSense::Heat => limits().get("heat_alarm_reach"),
        _ => limits().get("smoke_alarm_reach"),
    }?;
    let counts = |alarm: &crate::kit::FireAlarm| match sense {
        FireSense::Heat => alarm.notices.notices_heat(),
        _ => alarm.notices.notices_smoke(),
    };
    let is_corridor = matches!(room.room_use, RoomUse::Circulation | RoomUse::Stair);
    let widest = limits().get("corridor_width").map(|limit| Length::mm(limit.value));
    let lines = widest.filter(|_| is_corridor).and_then(|widest| centre_lines(&outline.shape, widest));
    let whole = Region { shapes: vec![outline.shape.clone()] };
    // A room parted by joinery up to its ceiling lies in several spaces; the worst of them counts.
    let mut worst: Option<(f64, Point)> = None;
    let mut without = false;
    for space in &spaces.floors {
        let part = intersection(&whole, &Region { shapes: vec![space.shape().clone()] });
        if part.area() < SMALLEST_PART_MM2 {
            continue;
        }
        let alarms = spaces.alarms_in(space, counts);
        if alarms.is_empty() {
            without = true;
            continue;
        }
        let pieces: Vec<[Point; 3]> = match &lines {
            Some(lines) => lines.iter().flat_map(|line| within(space, line)).collect(),
            None => part.shapes.iter().filter_map(Floor::new).flat_map(|floor| floor.triangles()).collect(),
        };
        let Some(farthest) = space.reach_from(&alarms).farthest_of(&pieces) else { continue };
        if worst.is_none_or(|(distance, _)| farthest.distance > distance) {
            worst = Some((farthest.distance, farthest.at));
        }
    }
    let (distance, at) = worst.filter(|_| !without)?;
    Some(AlarmReach {
        room: id,
        level: room.level,
        sense,
        farthest: Length::mm(distance),
        at,
        limit: Length::mm(limit.value),
        along_centre_line: lines.is_some(),
    })
}

/// A part of a room smaller than this is rounding, mm².
const SMALLEST_PART_MM2: f64 = 100.0;

/// A centre line as a triangle without width, where it lies in the space.
fn within(space: &Floor, line: &Segment) -> Option<[Point; 3]> {
    space.contains(line.midpoint()).then_some([line.a, line.b, line.b])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Joinery, JoineryForm};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{SmallHouse, bare_house, fire_alarm};
    use crate::studies::coverage::alarms::{Report, alarms};
    use crate::units::Angle;

    fn study(house: &SmallHouse) -> Report {
        alarms(&house.project, &Whereabouts::of(&house.project))
    }

    fn farthest(house: &SmallHouse, room: Id<Room>, sense: FireSense) -> Option<AlarmReach> {
        study(house).reaches.into_iter().find(|reach| reach.room == room && reach.sense == sense)
    }

    /// G2, “Fire design stage 4”: one alarm in the middle of a space whose end walls are as far as the table allows,
    /// and two whose spacing is the table's.
    #[test]
    fn the_published_table_of_corridors_is_just_within_reach() {
        for (width, to_wall) in [(2.0, 7.50), (3.0, 7.35), (5.0, 7.07), (8.0, 6.34), (10.0, 5.59)] {
            let (width, to_wall): (f64, f64) = (width * 1000.0, to_wall * 1000.0);
            let mut house = bare_house();
            let size = (4.0 * to_wall, width);
            let (room, _) = house.boxed_room("Hall", RoomUse::Circulation, (10_000.0, 0.0), size);
            let kind = house.put(fire_alarm(FireSense::Smoke));
            for x in [to_wall, 3.0 * to_wall] {
                house.place(kind, ceiling(10_000.0 + x, width / 2.0), None);
            }
            let found = farthest(&house, room, FireSense::Smoke).unwrap();
            assert!((found.farthest.as_mm() - 7500.0).abs() <= 10.0, "{width}: {found:?}");
            assert_eq!(found.along_centre_line, width <= 2000.0);
            assert_eq!(found.limit, Length::m(7.5));
        }
    }

    #[test]
    fn the_farthest_point_of_a_room_is_a_corner_and_heat_reaches_less_far() {
        let mut house = bare_house();
        let kind = house.put(fire_alarm(FireSense::SmokeAndHeat));
        house.place(kind, ceiling(1050.0, 1050.0), None);
        let kitchen = house.kitchen;
        for (sense, limit) in [(FireSense::Smoke, 7500.0), (FireSense::Heat, 5300.0)] {
            let found = farthest(&house, kitchen, sense).unwrap();
            assert!((found.farthest.as_mm() - f64::hypot(2900.0, 1900.0)).abs() < 0.5, "{found:?}");
            assert!(found.at.distance(Point::new(3950.0, 2950.0)) < 0.1 && found.limit.as_mm() == limit);
        }
    }

    #[test]
    fn what_reaches_the_ceiling_is_gone_round_and_what_does_not_is_passed_over() {
        // A wardrobe across the kitchen from its south face to y 2050: the way to the far corner bends about its end.
        for (base, top, goes_round) in
            [(0.0, 2400.0, true), (0.0, 2300.0, false), (2160.0, 2400.0, false), (2100.0, 2400.0, true)]
        {
            let mut house = bare_house();
            let kind = house.put(fire_alarm(FireSense::Heat));
            house.place(kind, ceiling(1050.0, 1050.0), None);
            house.put(Joinery {
                level: house.ground,
                name: "Wardrobe".to_owned(),
                form: JoineryForm::Wardrobe,
                centre: Point::new(2300.0, 1050.0),
                width: Length::mm(600.0),
                depth: Length::mm(2000.0),
                turn: Angle::ZERO,
                base: Length::mm(base),
                top: Length::mm(top),
                leaves: Vec::new(),
            });
            let found = farthest(&house, house.kitchen, FireSense::Heat).unwrap();
            let bend = (Point::new(2000.0, 2050.0), Point::new(2600.0, 2050.0));
            let round = Point::new(1050.0, 1050.0).distance(bend.0)
                + 600.0
                + bend.1.distance(Point::new(3950.0, 50.0));
            let straight = f64::hypot(2900.0, 1900.0);
            let expected = if goes_round { round } else { straight };
            assert!((found.farthest.as_mm() - expected).abs() < 1.0, "{base} {top}: {found:?} {expected}");
        }
    }

    #[test]
    fn a_shut_door_parts_and_an_opening_without_a_beam_joins() {
        // 2,400 high: what is left above a head of 2,160 is just a tenth.
        for (head, joins) in [(None, false), (Some(2160.0), true), (Some(2150.0), false)] {
            let mut house = bare_house();
            house.wall((4000.0, 0.0), (7000.0, 0.0));
            house.wall((7000.0, 0.0), (7000.0, 3000.0));
            house.wall((7000.0, 3000.0), (4000.0, 3000.0));
            let between = house.walls[1];
            match head {
                Some(head) => house.gap(between, 1500.0, head),
                None => house.door(between, 1500.0),
            };
            let hall = house.room("Hall", RoomUse::Circulation, (5500.0, 1500.0));
            let kind = house.put(fire_alarm(FireSense::Smoke));
            house.place(kind, ceiling(5500.0, 1500.0), None);
            assert!(farthest(&house, hall, FireSense::Smoke).is_some());
            assert_eq!(farthest(&house, house.kitchen, FireSense::Smoke).is_some(), joins, "{head:?}");
        }
    }

    #[test]
    fn rooms_without_an_alarm_of_that_sense_have_no_figure() {
        let mut house = bare_house();
        assert!(study(&house).reaches.is_empty());
        let kind = house.put(fire_alarm(FireSense::CarbonMonoxide));
        house.place(kind, ceiling(2000.0, 1500.0), None);
        assert!(study(&house).reaches.is_empty());
    }
}
