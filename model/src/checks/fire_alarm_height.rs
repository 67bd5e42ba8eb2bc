//! A fire alarm whose element hangs too far below its ceiling, or stands too near it on a wall; beneath a slope, one
//! that is not in the apex.
//!
//! Fixed straight to a ceiling an alarm is deep enough by its own body. A slope that rises no more than what an alarm
//! may hang counts as flat.

use super::fire_words::for_the_designer;
use super::{Check, Finding, House, Severity};
use crate::building::Whereabouts;
use crate::kit::{Device, FireSense, Mount};
use crate::plan::{Room, SlopingCeiling};

pub(super) const CHECK: Check = Check {
    name: "fire-alarm-height",
    limits: &["smoke_element_below_ceiling", "heat_element_below_ceiling", "element_nearest_ceiling"],
    run,
};

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    for (id, device, kind) in house.devices() {
        let notices = match kind.fire {
            Some(alarm) if alarm.notices != FireSense::CarbonMonoxide => alarm.notices,
            _ => continue,
        };
        let (Some(deepest), Some(nearest)) = (
            // What notices both must serve for heat as well, unless smoke alone is asked of it: its smoke limit holds.
            house.limit(if notices.notices_smoke() {
                "smoke_element_below_ceiling"
            } else {
                "heat_element_below_ceiling"
            }),
            house.limit("element_nearest_ceiling"),
        ) else {
            continue;
        };
        let room = house.room_of(device).map(|(_, room)| room);
        let Some((below, highest)) = below_ceiling(house, device, room, deepest.value) else { continue };
        let on_wall = matches!(device.mount, Mount::WallFace { .. });
        let what = if below > deepest.value {
            format!("is {below:.0} mm below the {highest}, of at most {:.0} mm", deepest.value)
        } else if on_wall && below < nearest.value {
            format!("is {below:.0} mm below the {highest}, of at least {:.0} mm", nearest.value)
        } else {
            continue;
        };
        let sentence = for_the_designer(&format!("{} {what}", house.called(device)));
        found.push(house.of_device((id, device), Severity::Warning, CHECK.name, sentence, &deepest.source));
    }
}

/// How far an alarm is below the ceiling that counts, mm, and what that is called. Under a slope that counts as one, an
/// alarm passes where another of its sort is in the apex: only the highest is asked.
fn below_ceiling(
    house: &House<'_>,
    device: &Device,
    room: Option<&Room>,
    deepest: f64,
) -> Option<(f64, &'static str)> {
    let height = Whereabouts::height_of(house.project, device)?.as_mm();
    let level = house.project.levels.get(device.level)?.ceiling_affl.as_mm();
    let slope = |ceiling: &SlopingCeiling| (ceiling.high - ceiling.low).as_mm() > deepest;
    match room.and_then(|room| room.ceiling.as_ref()).filter(|ceiling| slope(ceiling)) {
        Some(ceiling) => {
            let highest_of_room = house
                .devices()
                .filter(|(_, _, kind)| kind.fire.is_some_and(|alarm| alarm.notices.notices_fire()))
                .filter(|(_, other, _)| house.room_of(other).map(|(_, of)| of) == room)
                .filter_map(|(_, other, _)| Whereabouts::height_of(house.project, other))
                .map(|other| other.as_mm())
                .fold(height, f64::max);
            (height >= highest_of_room)
                .then_some((ceiling.high.as_mm() - height, "apex of the slope, where the first one belongs"))
        }
        None => Some((level - height, "ceiling")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::FireSense::{Heat, Smoke, SmokeAndHeat};
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};
    use crate::units::Length;

    /// 25 to 600 mm for smoke and 25 to 150 mm for heat below a ceiling of 2,400 (Approved Document B text, 1.14 d).
    #[test]
    fn elements_hang_no_deeper_than_the_limits() {
        for (notices, on_wall, height, expected) in [
            (Smoke, false, None, 0),
            (Smoke, false, Some(2400.0), 0),
            (Smoke, false, Some(1800.0), 0),
            (Smoke, false, Some(1799.0), 1),
            (Heat, false, Some(2250.0), 0),
            (Heat, false, Some(2249.0), 1),
            (SmokeAndHeat, false, Some(2200.0), 0),
            (Smoke, true, Some(2376.0), 1),
            (Smoke, true, Some(2375.0), 0),
        ] {
            let mut house = bare_house();
            let mount = if on_wall { house.on_wall(0, 2000.0) } else { ceiling(2000.0, 1500.0) };
            house.place_new(fire_alarm(notices), mount, height);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{notices:?} {on_wall} {height:?}");
        }
    }

    /// “Fire design stage 4”: the first row in the apex, unless the rise is under 600 mm (smoke) or 150 mm (heat).
    #[test]
    fn beneath_a_slope_the_first_is_in_the_apex() {
        for (notices, high, heights, expected) in [
            (Smoke, 3000.0, &[2400.0][..], 0),
            (Smoke, 3100.0, &[2400.0], 1),
            (Smoke, 3100.0, &[2500.0], 0),
            (Smoke, 3100.0, &[2400.0, 3000.0], 0),
            (Heat, 2500.0, &[2300.0], 0),
            (Heat, 2800.0, &[2600.0], 1),
            (Heat, 2800.0, &[2700.0], 0),
        ] {
            let mut house = bare_house();
            let mut room = house.project.rooms.get(house.kitchen).unwrap().clone();
            let (low, high) = (Length::mm(2400.0), Length::mm(high));
            room.ceiling = Some(SlopingCeiling { low, high, note: String::new() });
            let kitchen = house.kitchen;
            house.alter(kitchen, room);
            for (index, height) in heights.iter().enumerate() {
                house.place_new(
                    fire_alarm(notices),
                    ceiling(1000.0 + 1000.0 * index as f64, 1500.0),
                    Some(*height),
                );
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{notices:?} {high:?} {heights:?}");
        }
    }
}
