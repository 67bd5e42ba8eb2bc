//! A kitchen without a heat alarm.

use super::house::is_heat_alarm;
use super::{Check, Finding, House, Severity};
use crate::plan::RoomUse;

pub(super) const CHECK: Check =
    Check { name: "kitchen-heat-alarm", limits: &["heat_alarms_in_a_kitchen"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("heat_alarms_in_a_kitchen") else { return };
    for (id, room) in house.project.rooms.iter() {
        if room.room_use != RoomUse::Kitchen {
            continue;
        }
        let alarms = house
            .devices()
            .filter(|(_, device, kind)| {
                is_heat_alarm(kind) && house.room_of(device).is_some_and(|(of, _)| of == id)
            })
            .count();
        if (alarms as f64) < limit.value {
            let sentence = format!(
                "“{}” ({}) has no heat alarm: have the fire alarms designed by someone competent in them.",
                room.name,
                house.level_name(room.level)
            );
            found.push(house.of_room((id, room), Severity::Warning, CHECK.name, sentence, &limit.source));
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, FireSense, Mount, MountKind};
    use crate::small_house::{bare_house, fire_alarm, plain_kind};

    #[test]
    fn only_a_heat_alarm_within_the_kitchen_will_do() {
        let inside = Point::new(2000.0, 1500.0);
        let probe =
            plain_kind("Underfloor heat probe", Family::Heating, "HD", MountKind::Ceiling, &["alarm"]);
        for (kind, at, expected) in [
            (fire_alarm(FireSense::Heat), inside, 0),
            (fire_alarm(FireSense::SmokeAndHeat), inside, 0),
            (fire_alarm(FireSense::Smoke), inside, 1),
            (fire_alarm(FireSense::Heat), Point::new(9000.0, 0.0), 1),
            (probe, inside, 1),
        ] {
            let mut house = bare_house();
            assert_eq!(found(CHECK, &house.project).len(), 1);
            let kind = house.put(kind);
            house.place(kind, Mount::Ceiling { at }, None);
            assert_eq!(found(CHECK, &house.project).len(), expected);
        }
    }
}
