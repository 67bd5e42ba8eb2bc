//! Devices of the wing's ground floor: kitchen, larder and utility, with the house's plant.

use pattress_model::systems::ZonePurpose;

use crate::builder::{House, Way};

pub(super) fn place(house: &mut House, joinery: &super::ground_floor::Fitted) {
    kitchen(house, joinery);
    larder(house);
    utility_lights_and_controls(house);
    utility_plant(house);
}

fn kitchen(house: &mut House, joinery: &super::ground_floor::Fitted) {
    let ceiling = house.downlights("downlight-tunable", [10350.0, 3050.0, 13950.0, 6450.0], 3, 2);
    house.zone("Kitchen ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let island = [
        house.hanging("pendant", "", (12450.0, 4300.0), 1650.0),
        house.hanging("pendant", "", (12450.0, 5100.0), 1650.0),
    ];
    house.zone("Kitchen island", ZonePurpose::Lighting, &island, "level");
    let under_units = house.on_joinery("strip-24v", "", joinery.wall_units, (0.0, -100.0), 1390.0);
    house.zone("Kitchen worktop", ZonePurpose::Lighting, &[under_units], "level");
    let in_drawer = house.on_joinery("strip-24v", "", joinery.hob_run, (-100.0, -200.0), 700.0);
    house.zone("Pan drawer light", ZonePurpose::Lighting, &[in_drawer], "level");
    house.on_joinery("drawer-contact", "Pan drawer", joinery.hob_run, (1200.0, -200.0), 700.0);
    house.on_wall("plate-6", "Kitchen plate", (10350.0, 3750.0), Way::Right, 1100.0);
    house.on_wall("room-thermostat", "Kitchen thermostat", (10350.0, 3300.0), Way::Right, 1400.0);
    house.on_wall("wall-tablet", "Kitchen tablet", (10350.0, 6250.0), Way::Right, 1400.0);
    house.on_wall("plate-2", "Terrace door plate", (10500.0, 7050.0), Way::Down, 1100.0);
    house.on_wall("door-contact", "Kitchen garden door", (11000.0, 7050.0), Way::Down, 2050.0);
    // Beside the utility's door, through which it would see who comes in at the side.
    house.on_wall("intruder-motion-12m", "Kitchen detector", (11900.0, 3050.0), Way::Up, 2200.0);
    house.on_ceiling("presence-ceiling", "Kitchen presence", (11400.0, 5050.0));
    house.on_ceiling("heat-alarm", "", (12800.0, 5950.0));
    house.on_ceiling("loudspeaker-ceiling", "", (10875.0, 5050.0));
    house.on_ceiling("loudspeaker-ceiling", "", (13500.0, 5050.0));
    house.on_wall("blind-motor-24v", "Kitchen blind", (13000.0, 7050.0), Way::Down, 2200.0);
    house.on_wall("window-contact", "", (13650.0, 7050.0), Way::Down, 2130.0);
    house.on_floor("leak-sensor", "Kitchen sink leak", (13300.0, 6750.0), 0.0);
}

fn larder(house: &mut House) {
    let light = house.on_ceiling("downlight", "", (11100.0, 1850.0));
    house.zone("Larder light", ZonePurpose::Lighting, &[light], "level");
    house.on_wall("door-contact", "Larder door", (11300.0, 2950.0), Way::Down, 2050.0);
    house.on_wall("window-contact", "", (11250.0, 750.0), Way::Up, 2130.0);
    house.on_wall("humidity-sensor", "Larder air", (11850.0, 1500.0), Way::Left, 1800.0);
}

fn utility_lights_and_controls(house: &mut House) {
    let light = house.on_ceiling("linear-ceiling", "", (13200.0, 1700.0));
    house.zone("Utility light", ZonePurpose::Lighting, &[light], "level");
    house.on_ceiling("motion-ceiling", "Utility motion", (12600.0, 2050.0));
    house.on_wall("plate-2", "Utility plate", (13200.0, 2950.0), Way::Down, 1100.0);
    house.on_wall("alarm-keypad", "Side door keypad", (13600.0, 2950.0), Way::Down, 1400.0);
    house.on_wall("door-contact", "Side door", (12900.0, 750.0), Way::Up, 2050.0);
    house.on_wall("window-contact", "", (14050.0, 750.0), Way::Up, 2130.0);
    // Between one and three metres from the boiler.
    house.on_wall("co-alarm", "", (14000.0, 2950.0), Way::Down, 2200.0);
}

/// Consumer unit at 1,400, meter above it; boiler and water on the wall over the laundry worktop.
fn utility_plant(house: &mut House) {
    house.on_wall("consumer-unit", "Consumer unit", (11950.0, 1700.0), Way::Right, 1400.0);
    house.on_wall("energy-meter", "Energy meter", (11950.0, 2080.0), Way::Right, 1700.0);
    house.on_floor("rack", "Rack", (12200.0, 1050.0), 900.0);
    house.on_wall("hub", "Hub", (14550.0, 2650.0), Way::Left, 1500.0);
    house.on_wall("heating-valve", "Radiator circuit valve", (14550.0, 2250.0), Way::Left, 1400.0);
    house.on_wall("boiler-relay", "Boiler", (14550.0, 1900.0), Way::Left, 1500.0);
    house.on_wall("water-valve", "Water stop valve", (14550.0, 1550.0), Way::Left, 600.0);
    house.on_wall("flow-meter", "Water meter", (14550.0, 1200.0), Way::Left, 600.0);
    house.on_floor("leak-sensor", "Utility sink leak", (13700.0, 1200.0), 0.0);
}
