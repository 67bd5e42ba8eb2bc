//! How far the doors of bedrooms and of other habitable rooms are from the nearest alarm.
//!
//! Measured level, round the corners of what stops smoke, to the middle of the door: on the side of the hall or landing,
//! and for a bedroom within the room as well. Only doors onto a hall, a landing or a stair are asked after.

use super::space::FireSpaces;
use crate::id::Id;
use crate::plan::{Opening, Room, RoomUse};
use crate::project::Project;
use crate::studies::coverage::ways::StoreyWays;
use crate::units::Length;

/// A door with the nearest alarm.
#[derive(Clone, Debug, PartialEq)]
pub struct DoorReach {
    /// The door or opening.
    pub opening: Id<Opening>,
    /// The room it leads into from the hall.
    pub room: Id<Room>,
    /// How far the nearest smoke alarm is from its hall side; `None` where the hall has none.
    pub from_hall: Option<Length>,
    /// How far the nearest interlinked alarm is, on either side; `None` where there is none.
    pub nearest_linked: Option<Length>,
}

/// Whether people live or sleep in it (a kitchen counts, a bathroom does not: Approved Document B, from memory).
const fn is_habitable(room_use: RoomUse) -> bool {
    matches!(
        room_use,
        RoomUse::Living | RoomUse::Dining | RoomUse::Kitchen | RoomUse::Bedroom | RoomUse::Study
    )
}

pub(super) fn door_reaches(project: &Project, spaces: &[FireSpaces]) -> Vec<DoorReach> {
    let mut found = Vec::new();
    for on_level in spaces {
        let ways = StoreyWays::of_level(project, on_level.level);
        for doorway in &ways.doorways {
            for side in 0..2 {
                let (Some(room), Some(hall)) = (doorway.rooms[side], doorway.rooms[1 - side]) else {
                    continue;
                };
                let used = |id| project.rooms.get(id).map(|room| room.room_use);
                let leads_in = used(room).is_some_and(is_habitable)
                    && matches!(used(hall), Some(RoomUse::Circulation | RoomUse::Stair));
                if !leads_in {
                    continue;
                }
                let nearest = |side: usize, linked: bool| {
                    let space = on_level.space_at(doorway.sides[side])?;
                    let alarms = on_level.alarms_in(space, |alarm| {
                        if linked {
                            alarm.interlinked
                                && (alarm.notices.notices_smoke() || alarm.notices.notices_heat())
                        } else {
                            alarm.notices.notices_smoke()
                        }
                    });
                    space.reach_from(&alarms).distance_to(doorway.sides[side]).map(Length::mm)
                };
                let either = [nearest(side, true), nearest(1 - side, true)];
                found.push(DoorReach {
                    opening: doorway.opening,
                    room,
                    from_hall: nearest(1 - side, false),
                    nearest_linked: either.into_iter().flatten().reduce(|a, b| if b < a { b } else { a }),
                });
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::building::Whereabouts;
    use crate::kit::FireSense;
    use crate::small_house::drawn_rooms::{ceiling, two_rooms};
    use crate::small_house::fire_alarm;
    use crate::studies::coverage::alarms::alarms;

    #[test]
    fn doors_onto_the_hall_are_measured_from_the_nearest_alarm() {
        let (mut house, _) = two_rooms();
        let doors = |house: &crate::small_house::SmallHouse| {
            alarms(&house.project, &Whereabouts::of(&house.project)).doors
        };
        let found = doors(&house);
        assert_eq!((found.len(), found[0].room, found[0].from_hall), (1, house.kitchen, None));
        house.place_new(fire_alarm(FireSense::Heat), ceiling(3000.0, 1500.0), None);
        // The hall's face is at x 4050, the kitchen's at 3950.
        let found = doors(&house).remove(0);
        assert_eq!((found.from_hall, found.nearest_linked), (None, Some(Length::mm(949.0))));
        house.place_new(fire_alarm(FireSense::Smoke), ceiling(6051.0, 1500.0), None);
        let found = doors(&house).remove(0);
        assert_eq!(
            (found.from_hall, found.nearest_linked),
            (Some(Length::mm(2000.0)), Some(Length::mm(949.0)))
        );
    }
}
