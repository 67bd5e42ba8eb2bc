//! A room whose walls do not close: it has no area, and nothing in it is known to be in it.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::plan::RoomUse;

pub(super) const CHECK: Check = Check { name: "room-not-enclosed", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, room) in house.project.rooms.iter() {
        let enclosed = house.whereabouts.outline(house.project, id).is_some();
        if !enclosed && room.room_use != RoomUse::Outside {
            let sentence = format!(
                "The walls around “{}” ({}) do not close: find the gap, or move its name into the room.",
                room.name,
                house.level_name(room.level)
            );
            found.push(house.of_room((id, room), Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::small_house::small_house;

    #[test]
    fn a_room_without_walls_is_reported_and_a_terrace_is_not() {
        let found_there = found(CHECK, &small_house().project);
        assert_eq!(found_there.len(), 1);
        assert!(found_there[0].sentence.contains("“Wine” (Cellar)"), "{}", found_there[0].sentence);
    }
}
