//! A place where water may leak without a sensor that would notice it.

use super::house::is_leak_sensor;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::plan::SpotUse;

pub(super) const CHECK: Check = Check { name: "water-risk", limits: &["leak_sensor_reach"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("leak_sensor_reach") else { return };
    for (id, spot) in house.project.spots.iter().filter(|(_, spot)| spot.spot_use == SpotUse::WaterRisk) {
        let room = house.project.rooms_on(spot.level).find(|(room, _)| {
            house.whereabouts.outline(house.project, *room).is_some_and(|outline| outline.contains(spot.at))
        });
        let noticed = house.devices().any(|(_, device, kind)| {
            let near =
                house.project.position_of(device).is_some_and(|at| at.distance(spot.at) <= limit.value);
            let same_room =
                room.is_some() && house.room_of(device).map(|(id, _)| id) == room.map(|(id, _)| id);
            is_leak_sensor(kind) && device.level == spot.level && (near || same_room)
        });
        if !noticed {
            let sentence = format!(
                "“{}” ({}) may leak and no leak sensor is in its room or within {:.0} mm: put one beside it.",
                spot.name,
                house.level_name(spot.level),
                limit.value
            );
            let subject = Subject::Spot(id);
            let finding = house.of_subject(subject, Severity::Warning, CHECK.name, sentence, &limit.source);
            found.push(Finding { level: Some(spot.level), at: Some(spot.at), ..finding });
        }
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, Mount, MountKind};
    use crate::small_house::{bare_house, plain_kind};

    #[test]
    fn a_sensor_in_the_room_or_within_a_metre_will_do() {
        // A spot in the kitchen, and one outdoors in no room.
        for (risk, sensor, point, expected) in [
            ((500.0, 500.0), Some((3500.0, 2500.0)), "leak", 0),
            ((500.0, 500.0), Some((3500.0, 2500.0)), "temperature", 1),
            ((500.0, 500.0), Some((9000.0, 500.0)), "leak", 1),
            ((500.0, 500.0), None, "leak", 1),
            ((9000.0, 0.0), Some((9000.0, 1000.0)), "leak", 0),
            ((9000.0, 0.0), Some((9000.0, 1001.0)), "leak", 1),
        ] {
            let mut house = bare_house();
            house.spot("Washing machine", SpotUse::WaterRisk, risk);
            if let Some(at) = sensor {
                let kind = plain_kind("Sensor", Family::Environment, "WL", MountKind::Floor, &[point]);
                house.place_new(kind, Mount::Floor { at: Point::from(at) }, Some(0.0));
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{risk:?} {sensor:?} {point}");
        }
    }
}
