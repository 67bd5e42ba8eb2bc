//! A room without a name: no list can speak of it.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::plan::RoomUse;

pub(super) const CHECK: Check = Check { name: "room-name-missing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, room) in house.project.rooms.iter() {
        if room.name.trim().is_empty() {
            let used_as = match room.room_use {
                RoomUse::Unsaid => String::new(),
                known => format!(" for {}", known.name()),
            };
            let level = house.level_name(room.level);
            let sentence = format!("A room{used_as} on {level} has no name: name it as the family does.");
            found.push(house.of_room((id, room), Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::plan::Room;
    use crate::small_house::bare_house;

    #[test]
    fn blanks_are_no_name() {
        let mut house = bare_house();
        assert!(found(CHECK, &house.project).is_empty());
        let level = house.ground;
        let seed = Point::new(500.0, 500.0);
        house.put(Room { level, name: "  ".to_owned(), room_use: RoomUse::Store, seed, ceiling: None });
        assert_eq!(found(CHECK, &house.project).len(), 1);
    }
}
