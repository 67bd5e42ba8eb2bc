//! A sensor that puts on light and sees far into a room it does not light: a passer-by there puts the light on.

use super::{Check, Finding, House, Severity};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::Room;

pub(super) const CHECK: Check = Check { name: "lights-next-room", limits: &["lights_next_room"], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let Some(limit) = house.limit("lights_next_room") else { return };
    let report = house.coverage();
    for spill in &report.spill {
        let lit: Vec<Id<Room>> =
            report.rooms.iter().filter(|room| room.is_lit_by(spill.device)).map(|room| room.room).collect();
        if lit.is_empty() {
            continue;
        }
        let others: Vec<String> = spill
            .into
            .iter()
            .filter(|into| into.area.as_m2() > limit.value && !lit.contains(&into.room))
            .map(|into| format!("{} of {}", into.area, house.room_name(into.room)))
            .collect();
        let Some(device) = device_of(house, spill.device).filter(|_| !others.is_empty()) else { continue };
        let sentence = format!(
            "{} sees {} while the door stands open, so that whoever passes there puts the light on: turn or move it, or \
             mask that part of its lens.",
            house.called(device),
            others.join(" and ")
        );
        found.push(house.of_device(
            (spill.device, device),
            Severity::Note,
            CHECK.name,
            sentence,
            limit.source.as_str(),
        ));
    }
}

fn device_of<'a>(house: &House<'a>, id: Id<Device>) -> Option<&'a Device> {
    house.project.devices.get(id)
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::checks::tests::found;
    use crate::kit::Mount;
    use crate::plan::{DoorState, Sense};
    use crate::studies::coverage::rooms::small_rooms::{detector, door, lit_by_motion, two_rooms};

    #[test]
    fn only_a_sensor_that_lights_and_only_a_room_that_it_does_not_light() {
        // From 1 m before the door, through its 800 mm, a wedge of 400 / 1050 × (2.95² - 1.05²) = 2.9 m² is seen of the hall but
        // for what the leaf hides; from 3.5 m before it 400 / 3550 × (5.45² - 3.55²) = 1.9 m².
        for (x, light_at, expected) in [
            (3000.0, Some(2000.0), 1),
            (3000.0, None, 0),
            (3000.0, Some(5000.0), 0),
            (500.0, Some(2000.0), 0),
        ] {
            let mut rooms = two_rooms();
            rooms.way(1500.0, door(DoorState::Shut));
            let kind = rooms.house.put(detector(Sense::BodyHeat, 20_000.0));
            let mount = Mount::Ceiling { at: Point::new(x, 1500.0) };
            let sensor = rooms.house.place(kind, mount, Some(2000.0));
            if let Some(light_at) = light_at {
                let lamp = rooms.lamp(light_at, 2500.0);
                rooms.house.put(lit_by_motion(sensor, lamp, 300.0));
            }
            let notes = found(CHECK, &rooms.house.project);
            assert_eq!(notes.len(), expected, "{x} {light_at:?}");
            assert!(notes.iter().all(|note| note.sentence.contains("of Hall while the door stands open")));
        }
    }
}
