//! A room with a point too far from the nearest fire alarm of its sort.
//!
//! A kitchen or a garage is held to its heat alarms, a hall to its smoke alarms; any other room is well where one sort
//! reaches all of it. Rooms without an alarm are the category's to tell.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::limits::Limit;
use crate::studies::coverage::alarms::{AlarmReach, accepts};

pub(super) const CHECK: Check = Check {
    name: "fire-alarm-reach",
    limits: &["smoke_alarm_reach", "heat_alarm_reach", "corridor_width", "beam_that_acts_as_wall"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let reaches = &house.alarms().reaches;
    for (id, room) in house.project.rooms.iter() {
        let Some((_, need)) = accepts(room.room_use) else { continue };
        let of_room: Vec<&AlarmReach> =
            reaches.iter().filter(|reach| reach.room == id && need.is_met_by(reach.sense)).collect();
        let nearest = of_room.iter().min_by(|a, b| beyond(a).total_cmp(&beyond(b)));
        let Some(reach) = nearest.filter(|reach| !reach.is_within()) else { continue };
        let limit = house.limit(match reach.sense.notices_heat() {
            true => "heat_alarm_reach",
            false => "smoke_alarm_reach",
        });
        let where_counted = if reach.along_centre_line { " along its centre line" } else { "" };
        let what = format!(
            "“{}” ({}) has a point{where_counted} {:.0} mm from the nearest {} alarm, of at most {:.0} mm",
            room.name,
            house.level_name(room.level),
            reach.farthest.as_mm(),
            reach.sense.name(),
            reach.limit.as_mm(),
        );
        let source = limit.map_or("", |limit: &Limit| limit.source.as_str());
        let finding =
            house.of_room((id, room), Severity::Warning, CHECK.name, for_the_designer(&what), source);
        found.push(Finding { at: Some(reach.at), ..finding });
    }
}

/// How far beyond its limit, mm.
fn beyond(reach: &AlarmReach) -> f64 {
    reach.farthest.as_mm() - reach.limit.as_mm()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireSense::{self, Heat, Smoke, SmokeAndHeat};
    use crate::plan::RoomUse;
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};

    #[test]
    fn a_room_is_held_to_the_alarms_that_suit_it() {
        // 10 m by 6 m: from a corner 0.5 m in, the far corner is 10.98 m away; from the middle 5.83 m.
        let (middle, corner) = ((15_000.0, 3000.0), (10_500.0, 500.0));
        for (room_use, notices, at, expected) in [
            (RoomUse::Living, Smoke, corner, 1),
            (RoomUse::Living, Smoke, middle, 0),
            (RoomUse::Living, Heat, middle, 1),
            (RoomUse::Living, SmokeAndHeat, middle, 0),
            (RoomUse::Kitchen, SmokeAndHeat, middle, 1),
            (RoomUse::Circulation, Heat, corner, 0),
            (RoomUse::Bathroom, Smoke, corner, 0),
        ] as [(RoomUse, FireSense, (f64, f64), usize); 7]
        {
            let mut house = bare_house();
            house.boxed_room("Room", room_use, (10_000.0, 0.0), (10_000.0, 6000.0));
            house.place_new(fire_alarm(notices), ceiling(at.0, at.1), None);
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{room_use:?} {notices:?} {at:?}");
            assert!(found_there.iter().all(|finding| finding.sentence.contains("never a design")));
        }
    }
}
