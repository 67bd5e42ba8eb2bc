//! Devices of the old house's ground floor: living room, hall and stair, cloakroom, study, dining room.
//!
//! Plates stand by the latch at 1,100, detectors in corners at 2,200, thermostats at 1,400; downlights lie in
//! grids half a spacing from the walls. Symbols keep about 300 mm from each other, so that a 1:50 sheet reads.

use pattress_model::systems::ZonePurpose;

use crate::builder::{House, Way};

pub(super) fn place(house: &mut House) {
    living_room(house);
    hall(house);
    stair(house);
    cupboards(house);
    cloakroom(house);
    study(house);
    dining_room(house);
}

fn living_room(house: &mut House) {
    let ceiling = house.downlights("downlight", [150.0, 150.0, 4150.0, 7050.0], 2, 4);
    house.zone("Living room ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let soft = [
        house.hanging("pendant", "", (2150.0, 3600.0), 2150.0),
        house.on_wall("wall-light", "", (150.0, 1050.0), Way::Right, 1700.0),
        house.on_wall("wall-light", "", (150.0, 3500.0), Way::Right, 1700.0),
        house.on_wall("wall-light", "", (4150.0, 5600.0), Way::Left, 1700.0),
    ];
    house.zone("Living room soft light", ZonePurpose::Lighting, &soft, "level");
    house.on_wall("plate-6", "Living room plate", (4150.0, 2680.0), Way::Left, 1100.0);
    house.on_wall("plate-2", "Garden door plate", (2000.0, 7050.0), Way::Down, 1100.0);
    house.on_wall("room-thermostat", "Living room thermostat", (4150.0, 3150.0), Way::Left, 1400.0);
    house.on_wall("presence-millimetre-wave", "Living room presence", (4150.0, 4200.0), Way::Left, 2000.0);
    // In the corner from which it does not look out through the open door at who comes in.
    house.on_wall_turned(
        "intruder-dual-12m",
        "Living room detector",
        (4150.0, 6900.0),
        Way::Left,
        2200.0,
        45.0,
    );
    house.on_ceiling("glass-break", "", (2150.0, 1900.0));
    house.on_ceiling("smoke-alarm", "", (2150.0, 5300.0));
    // Beside the hearth and between one and three metres from it.
    house.on_wall("co-alarm", "", (150.0, 600.0), Way::Right, 2200.0);
    house.on_wall("screen", "Television", (150.0, 4300.0), Way::Right, 1200.0);
    house.on_wall("network-point-2", "", (150.0, 4900.0), Way::Right, 450.0);
    house.on_wall("aerial-point", "", (150.0, 5300.0), Way::Right, 450.0);
    house.on_ceiling("loudspeaker-ceiling", "", (1150.0, 3600.0));
    house.on_ceiling("loudspeaker-ceiling", "", (3150.0, 3600.0));
    house.on_wall("curtain-motor", "Living room front curtains", (1800.0, 150.0), Way::Up, 2300.0);
    house.on_wall("window-contact", "", (2500.0, 150.0), Way::Up, 2130.0);
    house.on_wall("curtain-motor", "Living room garden curtains", (2900.0, 7050.0), Way::Down, 2300.0);
    house.on_wall("window-contact", "", (3500.0, 7050.0), Way::Down, 2130.0);
    house.on_wall("door-contact", "Living room garden door", (1500.0, 7050.0), Way::Down, 2050.0);
}

fn hall(house: &mut House) {
    let lights = [
        house.hanging("pendant", "", (5400.0, 850.0), 2150.0),
        house.on_ceiling("downlight", "", (4900.0, 2250.0)),
        house.on_ceiling("downlight", "", (4900.0, 3750.0)),
        house.on_ceiling("downlight", "", (4900.0, 5050.0)),
        house.on_ceiling("downlight", "", (6050.0, 5050.0)),
    ];
    house.zone("Hall", ZonePurpose::Lighting, &lights, "level");
    house.on_wall("door-contact", "Front door", (5000.0, 150.0), Way::Up, 2050.0);
    house.on_wall("lock-contact", "Front door bolt", (5480.0, 150.0), Way::Up, 1050.0);
    house.on_wall("plate-4", "Front door plate", (5880.0, 150.0), Way::Up, 1100.0);
    house.on_wall("alarm-keypad", "Hall keypad", (6280.0, 150.0), Way::Up, 1400.0);
    house.on_wall("plate-3", "Hall plate", (4250.0, 2980.0), Way::Right, 1100.0);
    house.on_wall("entry-monitor", "Hall monitor", (5550.0, 1800.0), Way::Left, 1400.0);
    house.on_wall("room-thermostat", "Hall thermostat", (5550.0, 2250.0), Way::Left, 1400.0);
    house.on_wall("door-chime", "Hall chime", (5550.0, 2650.0), Way::Left, 2100.0);
    house.on_wall("wall-tablet", "Hall tablet", (5550.0, 3150.0), Way::Left, 1400.0);
    house.on_wall_turned("wall-motion-12m", "Hall motion", (4400.0, 150.0), Way::Up, 2200.0, -45.0);
    house.on_ceiling("motion-ceiling", "Hall motion, back", (5480.0, 5150.0));
    house.on_wall("intruder-motion-12m", "Hall detector", (5330.0, 5550.0), Way::Down, 2200.0);
    house.on_wall("sounder-indoor", "", (4250.0, 5200.0), Way::Right, 2200.0);
    house.on_ceiling("smoke-alarm", "", (4900.0, 3000.0));
    house.on_ceiling("access-point", "", (5450.0, 4550.0));
}

/// One step light for every fourth riser, 150 above its tread: 2,700 rise in 13 risers of 207.7 over goings of
/// 225 from y 1,500.
fn stair(house: &mut House) {
    let steps = [
        house.on_wall("step-light", "", (5650.0, 1950.0), Way::Right, 560.0),
        house.on_wall("step-light", "", (5650.0, 2550.0), Way::Right, 1120.0),
        house.on_wall("step-light", "", (5650.0, 3100.0), Way::Right, 1620.0),
    ];
    house.zone("Stair", ZonePurpose::Lighting, &steps, "level");
}

fn cupboards(house: &mut House) {
    let under_stair = house.on_wall("wall-light", "", (6550.0, 3480.0), Way::Left, 1500.0);
    let coats = house.on_ceiling("ceiling-light", "", (6200.0, 6350.0));
    house.zone("Stair cupboard light", ZonePurpose::Lighting, &[under_stair], "level");
    house.zone("Coats light", ZonePurpose::Lighting, &[coats], "level");
    house.on_wall("door-contact", "Stair cupboard door", (5650.0, 3900.0), Way::Right, 2050.0);
    house.on_wall("manifold-controller", "Floor heating controller", (6550.0, 3830.0), Way::Left, 900.0);
    house.on_wall("manifold-actuator", "", (6150.0, 4450.0), Way::Down, 600.0);
    house.on_wall("door-contact", "Coats door", (6100.0, 5650.0), Way::Up, 2050.0);
    house.on_wall("alarm-panel", "Alarm panel", (5650.0, 6400.0), Way::Right, 1600.0);
    house.on_wall("psu-12v", "", (5650.0, 6800.0), Way::Right, 1500.0);
}

fn cloakroom(house: &mut House) {
    let light = house.on_ceiling("downlight-damp", "", (4900.0, 6350.0));
    house.zone("Cloakroom light", ZonePurpose::Lighting, &[light], "level");
    house.on_ceiling("presence-ceiling", "Cloakroom presence", (4900.0, 5950.0));
    house.on_ceiling("extract-fan", "Cloakroom fan", (4550.0, 6550.0));
    house.on_wall("window-contact", "", (5050.0, 7050.0), Way::Down, 2130.0);
    house.on_floor("leak-sensor", "Cloakroom leak", (5300.0, 6200.0), 0.0);
}

fn study(house: &mut House) {
    let lights = house.downlights("downlight", [6650.0, 150.0, 10050.0, 2950.0], 2, 2);
    house.zone("Study", ZonePurpose::Lighting, &lights, "level");
    house.on_wall("plate-4", "Study plate", (6650.0, 1320.0), Way::Right, 1100.0);
    house.on_wall("room-thermostat", "Study thermostat", (6650.0, 1750.0), Way::Right, 1400.0);
    house.on_wall("air-quality-sensor", "Study air", (6650.0, 2150.0), Way::Right, 1200.0);
    house.on_ceiling("presence-ceiling", "Study presence", (8350.0, 1550.0));
    house.on_ceiling("loudspeaker-ceiling", "", (9200.0, 1550.0));
    house.on_wall("network-point-2", "", (10050.0, 1000.0), Way::Left, 450.0);
    house.on_wall("network-point-2", "", (10050.0, 1900.0), Way::Left, 450.0);
    house.on_wall("blind-motor", "Study blind", (8150.0, 150.0), Way::Up, 2200.0);
    house.on_wall("window-contact", "", (8700.0, 150.0), Way::Up, 2130.0);
}

fn dining_room(house: &mut House) {
    let ceiling = house.downlights("downlight", [6650.0, 3050.0, 10050.0, 7050.0], 2, 2);
    house.zone("Dining room ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let table = [
        house.hanging("pendant", "", (8000.0, 5050.0), 1600.0),
        house.hanging("pendant", "", (8700.0, 5050.0), 1600.0),
    ];
    house.zone("Dining table", ZonePurpose::Lighting, &table, "level");
    house.on_wall("plate-4", "Dining room plate", (6650.0, 4350.0), Way::Right, 1100.0);
    house.on_wall("room-thermostat", "Dining room thermostat", (6650.0, 3900.0), Way::Right, 1400.0);
    house.on_ceiling("presence-ceiling", "Dining room presence", (8350.0, 4200.0));
    house.on_ceiling("multi-sensor-alarm", "", (8350.0, 6050.0));
    house.on_ceiling("loudspeaker-ceiling", "", (7400.0, 5050.0));
    house.on_ceiling("loudspeaker-ceiling", "", (9400.0, 5050.0));
    house.on_wall("network-point", "", (6650.0, 6500.0), Way::Right, 450.0);
    house.on_wall("blind-motor", "Dining room blind", (8050.0, 7050.0), Way::Down, 2200.0);
    house.on_wall("window-contact", "", (8800.0, 7050.0), Way::Down, 2130.0);
}
