//! The door of a bedroom or of another habitable room too far from the nearest alarm.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::plan::{Opening, RoomUse};
use crate::studies::coverage::alarms::DoorReach;
use crate::units::Length;

pub(super) const CHECK: Check = Check {
    name: "fire-alarm-doors",
    limits: &["alarm_to_bedroom_door", "alarm_to_habitable_room_door"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    if house.devices().all(|(_, _, kind)| kind.fire.is_none()) {
        return;
    }
    for door in &house.alarms().doors {
        let (Some(room), Some(opening)) =
            (house.project.rooms.get(door.room), house.project.openings.get(door.opening))
        else {
            continue;
        };
        if room.room_use == RoomUse::Bedroom {
            let sort = "interlinked alarm";
            tell(house, found, "alarm_to_bedroom_door", door, opening, door.nearest_linked, sort);
        }
        let sort = "smoke alarm of the hall or landing";
        tell(house, found, "alarm_to_habitable_room_door", door, opening, door.from_hall, sort);
    }
}

fn tell(
    house: &House<'_>,
    found: &mut Vec<Finding>,
    limit: &str,
    door: &DoorReach,
    opening: &Opening,
    distance: Option<Length>,
    sort: &str,
) {
    let (Some(limit), Some(room)) = (house.limit(limit), house.project.rooms.get(door.room)) else { return };
    if distance.is_some_and(|distance| distance.as_mm() <= limit.value) {
        return;
    }
    let far = distance.map_or_else(
        || format!("is within reach of no {sort}"),
        |distance| format!("is {:.0} mm from the nearest {sort}", distance.as_mm()),
    );
    let level = house.level_name(room.level);
    let what = format!("The door of “{}” ({level}) {far}, of at most {:.0} mm", room.name, limit.value);
    let (subject, sentence) = (Subject::Opening(door.opening), for_the_designer(&what));
    let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, &limit.source);
    let at = house.project.walls.get(opening.wall).map(|wall| wall.on_axis(opening.centre));
    found.push(Finding { level: Some(room.level), at, ..finding });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireSense::{Heat, Smoke};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};

    /// 3 m from a bedroom's door, 7.5 m from that of a habitable room (BS 5839-6 and Approved Document B, as quoted).
    #[test]
    fn doors_are_measured_along_the_hall() {
        for (room_use, distance, notices, expected) in [
            (RoomUse::Bedroom, 3000.0, Smoke, 0),
            (RoomUse::Bedroom, 3010.0, Smoke, 1),
            (RoomUse::Bedroom, 7600.0, Smoke, 2),
            (RoomUse::Bedroom, 2000.0, Heat, 1),
            (RoomUse::Study, 7500.0, Smoke, 0),
            (RoomUse::Study, 7510.0, Smoke, 1),
            (RoomUse::Bathroom, 7600.0, Smoke, 0),
        ] {
            let mut house = bare_house();
            // A hall 12 m long east of a room, with the door between them at y 1500 and its hall face at x 20100.
            let (_, walls) = house.boxed_room("Room", room_use, (16_000.0, 0.0), (4000.0, 3000.0));
            house.wall((20_050.0, -50.0), (32_050.0, -50.0));
            house.wall((32_050.0, -50.0), (32_050.0, 3050.0));
            house.wall((32_050.0, 3050.0), (20_050.0, 3050.0));
            house.room("Hall", RoomUse::Circulation, (25_000.0, 1500.0));
            house.door(walls[1], 1550.0);
            house.place_new(fire_alarm(notices), ceiling(20_101.0 + distance, 1500.0), None);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{room_use:?} {distance} {notices:?}");
        }
    }
}
