//! Devices of the garden flat: plates at 1,000 and large, outlets no lower than 450, light along the floor from
//! bed to wet room, a call button by the chair, the bed and the WC.

use pattress_model::id::Id;
use pattress_model::plan::Joinery;
use pattress_model::systems::ZonePurpose;

use crate::builder::{House, Way};

/// Height of every plate, mm: within reach from a chair and from a frame.
const PLATE_MM: f64 = 1000.0;

/// Height of plates and call buttons by the bed, mm.
const BEDSIDE_MM: f64 = 750.0;

pub(super) fn place(house: &mut House, wall_units: Id<Joinery>) {
    hall(house);
    kitchen(house, wall_units);
    living_room(house);
    bedroom(house);
    wet_room(house);
    night_path(house);
    store(house);
    outdoors(house);
}

fn hall(house: &mut House) {
    let lights = [
        house.on_ceiling("downlight", "", (5100.0, 800.0)),
        house.on_ceiling("downlight", "", (5100.0, 3200.0)),
    ];
    house.zone("Hall", ZonePurpose::Lighting, &lights, "level");
    house.on_ceiling("motion-ceiling", "Hall motion", (5100.0, 1600.0));
    house.on_ceiling("smoke-alarm", "", (5100.0, 2400.0));
    house.on_ceiling("access-point", "", (4600.0, 2000.0));
    house.on_wall("door-contact", "Front door", (5000.0, 150.0), Way::Up, 2050.0);
    house.on_wall("lock-contact", "Front door bolt", (5480.0, 150.0), Way::Up, 1050.0);
    house.on_wall("plate-3", "Front door plate", (5830.0, 150.0), Way::Up, PLATE_MM);
    house.on_wall("alarm-keypad", "Keypad", (5950.0, 560.0), Way::Left, 1100.0);
    house.on_wall("entry-monitor", "Hall monitor", (4250.0, 2650.0), Way::Right, 1150.0);
    house.on_wall("door-chime", "Chime", (4250.0, 3050.0), Way::Right, 2100.0);
}

fn kitchen(house: &mut House, wall_units: Id<Joinery>) {
    let ceiling = house.downlights("downlight", [750.0, 750.0, 4150.0, 3550.0], 3, 2);
    house.zone("Kitchen ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let strip = house.on_joinery("strip-24v", "", wall_units, (0.0, -100.0), 1240.0);
    house.zone("Kitchen worktop", ZonePurpose::Lighting, &[strip], "level");
    house.on_ceiling("heat-alarm", "", (2600.0, 2150.0));
    house.on_ceiling("presence-ceiling", "Kitchen presence", (1800.0, 2150.0));
    house.on_wall("plate-3", "Kitchen plate", (4150.0, 2700.0), Way::Left, PLATE_MM);
    house.on_wall("wall-tablet", "Kitchen tablet", (4150.0, 3150.0), Way::Left, 1150.0);
    house.on_wall("blind-motor", "Kitchen blind", (1700.0, 150.0), Way::Up, 2200.0);
    house.on_wall("window-contact", "", (2400.0, 150.0), Way::Up, 2130.0);
    house.on_wall("water-valve", "Stop valve", (1050.0, 150.0), Way::Up, 500.0);
    house.on_floor("leak-sensor", "Sink leak", (2000.0, 450.0), 0.0);
}

fn living_room(house: &mut House) {
    let ceiling = house.downlights("downlight", [150.0, 3650.0, 5950.0, 6750.0], 3, 2);
    house.zone("Living room ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let soft = [
        house.hanging("pendant", "", (3050.0, 5200.0), 2100.0),
        house.on_wall("wall-light", "", (150.0, 4900.0), Way::Right, 1600.0),
    ];
    house.zone("Living room soft light", ZonePurpose::Lighting, &soft, "level");
    house.on_ceiling("multi-sensor-alarm", "", (2050.0, 5200.0));
    house.on_wall("presence-millimetre-wave", "Living room presence", (150.0, 4100.0), Way::Right, 2000.0);
    house.on_wall("plate-4", "Living room plate", (4350.0, 3650.0), Way::Up, PLATE_MM);
    house.on_wall("room-thermostat", "Living room thermostat", (3900.0, 3650.0), Way::Up, 1200.0);
    house.on_wall("plate-2", "Garden door plate", (2250.0, 6750.0), Way::Down, PLATE_MM);
    house.on_wall("door-contact", "Garden door", (1650.0, 6750.0), Way::Down, 2050.0);
    house.on_wall("curtain-motor", "Living room curtain", (3700.0, 6750.0), Way::Down, 2300.0);
    house.on_wall("window-contact", "", (4350.0, 6750.0), Way::Down, 2130.0);
    house.on_wall("panic-button", "Chair call button", (150.0, 5400.0), Way::Right, BEDSIDE_MM);
    house.on_wall("screen", "Television", (5950.0, 5200.0), Way::Left, 1100.0);
    house.on_wall("network-point-2", "", (5950.0, 5750.0), Way::Left, 450.0);
    house.on_wall("aerial-point", "", (5950.0, 6150.0), Way::Left, 450.0);
    house.on_ceiling("loudspeaker-ceiling", "", (2083.0, 4425.0));
    house.on_ceiling("loudspeaker-ceiling", "", (4017.0, 4425.0));
}

fn bedroom(house: &mut House) {
    let ceiling = house.downlights("downlight", [6650.0, 2450.0, 10050.0, 6750.0], 2, 2);
    house.zone("Bedroom ceiling", ZonePurpose::Lighting, &ceiling, "level");
    let soft = house.hanging("pendant", "", (8350.0, 4800.0), 2100.0);
    house.zone("Bedroom soft light", ZonePurpose::Lighting, &[soft], "level");
    house.on_ceiling("motion-ceiling", "Bedroom motion", (8350.0, 3550.0));
    house.on_ceiling("smoke-alarm", "", (7400.0, 4600.0));
    house.on_wall("plate-4", "Bedroom plate", (6050.0, 3700.0), Way::Right, PLATE_MM);
    house.on_wall("plate-3", "Left bedside", (10050.0, 5600.0), Way::Left, BEDSIDE_MM);
    house.on_wall("plate-3", "Right bedside", (10050.0, 4000.0), Way::Left, BEDSIDE_MM);
    house.on_wall("panic-button", "Bed call button", (10050.0, 6000.0), Way::Left, BEDSIDE_MM);
    house.on_wall("network-point", "", (10050.0, 6450.0), Way::Left, 450.0);
    house.on_wall("room-thermostat", "Bedroom thermostat", (9400.0, 6750.0), Way::Down, 1200.0);
    house.on_wall("curtain-motor", "Bedroom curtain", (7800.0, 6750.0), Way::Down, 2300.0);
    house.on_wall("window-contact", "", (8450.0, 6750.0), Way::Down, 2130.0);
}

/// Extra-low voltage only within reach; the towel rail's relay stands 800 mm from the shower area.
fn wet_room(house: &mut House) {
    let ceiling = [
        house.on_ceiling("downlight-damp", "", (6600.0, 1100.0)),
        house.on_ceiling("downlight-damp", "", (7500.0, 1100.0)),
        house.on_ceiling("downlight-damp", "", (8350.0, 750.0)),
    ];
    house.zone("Wet room", ZonePurpose::Lighting, &ceiling, "level");
    let mirror = house.on_wall("mirror-light", "", (6425.0, 150.0), Way::Up, 1800.0);
    house.zone("Wet room mirror", ZonePurpose::Lighting, &[mirror], "level");
    house.on_ceiling("presence-ceiling", "Wet room presence", (7450.0, 1700.0));
    house.on_ceiling("extract-fan", "Wet room fan", (8350.0, 1450.0));
    house.on_wall("panic-button", "WC call button", (6850.0, 150.0), Way::Up, 600.0);
    house.on_wall("humidity-sensor", "Wet room air", (6050.0, 2100.0), Way::Right, 1800.0);
    house.on_wall("towel-rail-relay", "Towel rail", (8850.0, 1950.0), Way::Left, 1000.0);
    house.on_floor("leak-sensor", "Wet room leak", (7000.0, 2000.0), 0.0);
    house.on_wall("window-contact-battery", "", (7250.0, 150.0), Way::Up, 2130.0);
}

/// Low light from the bed past the foot of the wall to the WC, and along the hall.
fn night_path(house: &mut House) {
    let low = [
        house.on_wall("step-light", "", (10050.0, 3400.0), Way::Left, 300.0),
        house.on_wall("step-light", "", (8800.0, 2450.0), Way::Up, 300.0),
        house.on_wall("step-light", "", (7500.0, 2350.0), Way::Down, 300.0),
        house.on_wall("step-light", "", (4250.0, 900.0), Way::Right, 300.0),
        house.on_wall("step-light", "", (4250.0, 3400.0), Way::Right, 300.0),
    ];
    house.zone("Night path", ZonePurpose::Lighting, &low, "level");
}

fn store(house: &mut House) {
    let light = house.on_ceiling("ceiling-light", "", (9500.0, 1200.0));
    house.zone("Store light", ZonePurpose::Lighting, &[light], "level");
    house.on_wall("door-contact", "Store door", (9500.0, 2350.0), Way::Down, 2050.0);
    house.on_wall("consumer-unit", "Consumer unit", (10050.0, 700.0), Way::Left, 1400.0);
    house.on_wall("hub", "Hub", (10050.0, 1300.0), Way::Left, 1500.0);
    house.on_wall("boiler-relay", "Boiler", (10050.0, 1900.0), Way::Left, 1500.0);
    house.on_wall("alarm-panel", "Alarm panel", (8950.0, 900.0), Way::Right, 1600.0);
    house.on_wall("psu-24v", "", (8950.0, 1350.0), Way::Right, 1500.0);
    house.on_wall("dimmer-4", "", (9250.0, 150.0), Way::Up, 1500.0);
    house.on_wall("relay-8", "", (9650.0, 150.0), Way::Up, 1500.0);
    house.on_ceiling("co-alarm-ceiling", "", (9450.0, 1800.0));
}

fn outdoors(house: &mut House) {
    house.on_wall("door-station", "Front door station", (5900.0, -150.0), Way::Down, 1200.0);
    let lanterns = [
        house.on_wall("wall-light-updown", "", (4250.0, -150.0), Way::Down, 1900.0),
        house.on_wall("wall-light-updown", "", (6450.0, -150.0), Way::Down, 1900.0),
    ];
    house.zone("Front lanterns", ZonePurpose::Lighting, &lanterns, "level");
    house.on_wall_turned("camera-bullet", "Front camera", (300.0, -150.0), Way::Down, 2500.0, 35.0);
    let terrace = [
        house.on_wall("wall-light-updown", "", (750.0, 7050.0), Way::Up, 1900.0),
        house.on_wall("wall-light-updown", "", (2350.0, 7050.0), Way::Up, 1900.0),
    ];
    house.zone("Terrace", ZonePurpose::Lighting, &terrace, "level");
    house.on_wall("intruder-outdoor-10m", "Garden motion", (5300.0, 7050.0), Way::Up, 1200.0);
    house.on_wall("sounder-outdoor", "Bell box", (8600.0, -150.0), Way::Down, 2800.0);
}
