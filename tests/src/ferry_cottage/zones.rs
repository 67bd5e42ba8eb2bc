//! Zones that reach across rooms: blinds, heating, the sets of the alarm, sound. Lighting zones are gathered
//! where their luminaires are placed.

use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::systems::ZonePurpose;

use crate::builder::House;

/// Every sort of motor at a window.
const AT_WINDOWS: [&str; 3] = ["blind-motor", "blind-motor-24v", "curtain-motor"];

pub(super) fn gather(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    blinds(house, ground, first);
    heating(house, ground, first);
    sets(house, ground);
    sound(house, ground, first);
}

fn blinds(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    let downstairs = house.devices_of(&AT_WINDOWS, Some(ground));
    house.zone("Downstairs blinds and curtains", ZonePurpose::Blinds, &downstairs, "position");
    let upstairs = house.devices_of(&AT_WINDOWS, Some(first));
    house.zone("Upstairs blinds and curtains", ZonePurpose::Blinds, &upstairs, "position");
    let living = [house.device("Living room front curtains"), house.device("Living room garden curtains")];
    house.zone("Living room curtains", ZonePurpose::Blinds, &living, "position");
    let garden_side = [house.device("Dining room blind"), house.device("Kitchen blind")];
    house.zone("Garden side blinds", ZonePurpose::Blinds, &garden_side, "position");
}

fn heating(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    let downstairs = house.devices_of(&["room-thermostat"], Some(ground));
    house.zone("Downstairs heating", ZonePurpose::Heating, &downstairs, "set point");
    let upstairs = house.devices_of(&["room-thermostat", "radiator-valve"], Some(first));
    house.zone("Upstairs heating", ZonePurpose::Heating, &upstairs, "set point");
}

/// The full set watches everything; the part set leaves out what the family meets at night: landing, bedrooms.
fn sets(house: &mut House, ground: Id<Level>) {
    let contacts = ["window-contact", "window-contact-battery"];
    let detectors = ["intruder-motion-12m", "intruder-dual-12m", "glass-break"];
    let doors = ["Front door", "Living room garden door", "Kitchen garden door", "Side door"];
    let doors: Vec<_> = doors.iter().map(|name| house.device(name)).collect();
    for (name, purpose, level) in
        [("Full set", ZonePurpose::FullSet, None), ("Part set", ZonePurpose::PartSet, Some(ground))]
    {
        let mut opens = doors.clone();
        opens.extend(house.devices_of(&contacts, level));
        let mut points: Vec<_> = opens.into_iter().map(|device| house.point(device, "open")).collect();
        let watching = house.devices_of(&detectors, level);
        points.extend(watching.into_iter().map(|device| house.point(device, "alarm")));
        house.zone_of_points(name, purpose, points);
    }
    let hall = house.device("Hall detector");
    let ways_in = ["Front door", "Side door"].map(|name| house.device(name));
    let mut entry: Vec<_> = ways_in.iter().map(|door| house.point(*door, "open")).collect();
    entry.push(house.point(hall, "alarm"));
    house.zone_of_points("Entry route", ZonePurpose::EntryRoute, entry);
    let windows = house.devices_of(&contacts, None);
    house.zone("Windows", ZonePurpose::Indication, &windows[..windows.len().min(8)], "open");
}

fn sound(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    for (name, key, level) in [
        ("Downstairs sound", "loudspeaker-ceiling", ground),
        ("Bedroom 1 sound", "loudspeaker-ceiling", first),
        ("Garden sound", "loudspeaker-garden", ground),
    ] {
        let speakers = house.devices_of(&[key], Some(level));
        house.zone(name, ZonePurpose::Sound, &speakers, "playing");
    }
}
