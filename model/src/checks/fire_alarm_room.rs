//! A fire alarm of a sort that does not suit its room: steam and cooking set smoke alarms off, heat alarms are too slow
//! for a way of escape, and over a stair's shaft nobody can test one from the floor.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::kit::FireSense;
use crate::plan::RoomUse;

pub(super) const CHECK: Check = Check { name: "fire-alarm-room", limits: &[], run };

const SOURCE: &str = "guidance to BS 5839-6:2019 room by room, garages from memory; read in secondary pages: check \
     the current edition";

const OVER_A_STAIR: &str = "Approved Document B volume 1, 1.11 to 1.15; an edition before 2019; read in a secondary \
     page: check the current edition";

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        let (Some(alarm), Some((_, room))) = (kind.fire, house.room_of(device)) else { continue };
        let Some((wrong, source)) = unsuited(room.room_use, alarm.notices) else { continue };
        let sentence = for_the_designer(&format!("{} {wrong}", house.called(device)));
        found.push(house.of_device((id, device), Severity::Warning, CHECK.name, sentence, source));
    }
}

/// Why an alarm does not suit a room, and who says so.
const fn unsuited(room_use: RoomUse, notices: FireSense) -> Option<(&'static str, &'static str)> {
    if matches!(notices, FireSense::CarbonMonoxide) {
        return None;
    }
    match room_use {
        RoomUse::Bathroom | RoomUse::Cloakroom => {
            Some(("is where steam sets it off: toilets and bathrooms have none", SOURCE))
        }
        RoomUse::Stair => {
            Some(("is over a stair: put it beside the shaft, where it can be reached", OVER_A_STAIR))
        }
        RoomUse::Kitchen if !notices.notices_heat() => {
            Some(("notices smoke in a kitchen, where cooking sets it off: a heat alarm suits", SOURCE))
        }
        RoomUse::Garage if !notices.notices_heat() => {
            Some(("notices smoke in a garage, where exhaust sets it off: a heat alarm suits", SOURCE))
        }
        RoomUse::Circulation if !notices.notices_smoke() => Some((
            "notices heat alone on a way of escape, where smoke comes first: a smoke alarm suits",
            SOURCE,
        )),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireSense::{CarbonMonoxide, Heat, Smoke, SmokeAndHeat};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};

    /// An alarm maker's page and a guide to BS 5839-6:2019; garages from memory.
    #[test]
    fn alarms_suit_rooms_as_the_guides_say() {
        for (room_use, notices, expected) in [
            (RoomUse::Kitchen, Heat, 0),
            (RoomUse::Kitchen, SmokeAndHeat, 0),
            (RoomUse::Kitchen, Smoke, 1),
            (RoomUse::Circulation, Smoke, 0),
            (RoomUse::Circulation, SmokeAndHeat, 0),
            (RoomUse::Circulation, Heat, 1),
            (RoomUse::Living, Heat, 0),
            (RoomUse::Living, Smoke, 0),
            (RoomUse::Bathroom, Heat, 1),
            (RoomUse::Cloakroom, Smoke, 1),
            (RoomUse::Bathroom, CarbonMonoxide, 0),
            (RoomUse::Garage, Smoke, 1),
            (RoomUse::Garage, Heat, 0),
            (RoomUse::Stair, Smoke, 1),
            (RoomUse::Bedroom, Smoke, 0),
        ] {
            let mut house = bare_house();
            house.boxed_room("Room", room_use, (10_000.0, 0.0), (4000.0, 3000.0));
            house.place_new(fire_alarm(notices), ceiling(12_000.0, 1500.0), None);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{room_use:?} {notices:?}");
        }
    }
}
