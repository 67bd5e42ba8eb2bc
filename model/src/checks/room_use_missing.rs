//! A room of which nobody has said what it is for: what depends on its use is not looked at.

use super::house::COMMON_PRACTICE;
use super::{Check, Finding, House, Severity};
use crate::plan::RoomUse;

pub(super) const CHECK: Check = Check { name: "room-use-missing", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, room) in house.project.rooms.iter() {
        let name = room.name.trim();
        // A room without a name is asked for its name first.
        if room.room_use == RoomUse::Unsaid && !name.is_empty() {
            let sentence = format!(
                "Nobody has said what {name} on {} is for: choose its use on its card, so that what a kitchen, a \
                 bathroom or a way out needs is looked at.",
                house.level_name(room.level)
            );
            found.push(house.of_room((id, room), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
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
    fn a_room_without_a_use_is_asked_for() {
        for (room_use, asked_for) in [(RoomUse::Unsaid, 1), (RoomUse::Store, 0), (RoomUse::Living, 0)] {
            let mut house = bare_house();
            let level = house.ground;
            let seed = Point::new(500.0, 500.0);
            house.put(Room { level, name: "Raum 1".to_owned(), room_use, seed, ceiling: None });
            let findings = found(CHECK, &house.project);
            assert_eq!(findings.len(), asked_for, "{room_use:?}");
            assert!(findings.iter().all(|finding| finding.sentence.contains("what Raum 1 on")));
        }
    }
}
