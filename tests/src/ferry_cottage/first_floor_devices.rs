//! Devices of the first floor: landing, four bedrooms, bathroom, shower room, dressing room and controls.
//!
//! Each bedroom has a plate by the latch and one each side of the bed at 700; alarms stand on the landing and in
//! the main bedroom; wardrobes light themselves.

use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::systems::ZonePurpose;

use super::first_floor::Fitted;
use crate::builder::{House, Way};

pub(super) fn place(house: &mut House, joinery: &Fitted) {
    landing(house);
    controls(house);
    bedroom_1(house);
    dressing_room(house, joinery);
    bedroom_2(house);
    bedroom_3(house);
    bedroom_4(house, joinery);
    bathroom(house);
    shower_room(house);
}

fn lighting(house: &mut House, name: &str, devices: &[Id<Device>]) {
    house.zone(name, ZonePurpose::Lighting, devices, "level");
}

fn landing(house: &mut House) {
    let lights = [
        house.on_ceiling("downlight", "", (4900.0, 2200.0)),
        house.on_ceiling("downlight", "", (4900.0, 3800.0)),
        house.on_ceiling("downlight", "", (7250.0, 4750.0)),
        house.on_ceiling("downlight", "", (9250.0, 4750.0)),
        house.on_ceiling("downlight", "", (5400.0, 6200.0)),
        house.hanging("pendant", "", (6100.0, 2850.0), 2100.0),
    ];
    lighting(house, "Landing", &lights);
    let low = [
        house.on_wall("step-light", "", (4250.0, 2350.0), Way::Right, 300.0),
        house.on_wall("step-light", "", (4250.0, 6200.0), Way::Right, 300.0),
        house.on_wall("step-light", "", (8300.0, 5250.0), Way::Down, 300.0),
        house.on_wall("step-light", "", (9700.0, 5250.0), Way::Down, 300.0),
    ];
    lighting(house, "Night path", &low);
    house.on_wall("plate-3", "Landing plate", (4250.0, 5050.0), Way::Right, 1100.0);
    house.on_wall("door-chime", "Landing chime", (4250.0, 5500.0), Way::Right, 2100.0);
    house.on_wall("sounder-indoor", "", (6550.0, 5900.0), Way::Left, 2200.0);
    house.on_wall("intruder-motion-12m", "Landing detector", (4550.0, 7050.0), Way::Down, 2200.0);
    house.on_ceiling("motion-ceiling", "Landing motion", (4900.0, 3000.0));
    house.on_ceiling("motion-ceiling", "Landing motion, wing end", (8250.0, 4750.0));
    house.on_ceiling("smoke-alarm", "", (4900.0, 4700.0));
    house.on_ceiling("access-point", "", (5800.0, 5100.0));
    house.on_wall("blind-motor", "Landing blind", (5200.0, 7050.0), Way::Down, 2200.0);
    house.on_wall("window-contact", "", (5700.0, 7050.0), Way::Down, 2130.0);
    house.on_wall("network-point", "", (6550.0, 6500.0), Way::Left, 450.0);
}

fn controls(house: &mut House) {
    let light = house.on_ceiling("ceiling-light", "", (5400.0, 800.0));
    lighting(house, "Controls light", &[light]);
    house.on_wall("door-contact", "Controls door", (4900.0, 1450.0), Way::Down, 2050.0);
    house.on_wall("dimmer-4", "", (6550.0, 500.0), Way::Left, 1500.0);
    house.on_wall("dimmer-4", "", (6550.0, 850.0), Way::Left, 1500.0);
    house.on_wall("relay-8", "", (6550.0, 1220.0), Way::Left, 1500.0);
    house.on_wall("blind-module-4", "", (6200.0, 150.0), Way::Up, 1500.0);
    house.on_wall("psu-24v", "", (5800.0, 150.0), Way::Up, 1500.0);
    house.on_wall("input-module-4", "", (5400.0, 150.0), Way::Up, 1500.0);
    house.on_wall("strip-dimmer-24v", "", (5000.0, 150.0), Way::Up, 1500.0);
}

fn bedroom_1(house: &mut House) {
    let ceiling = house.downlights("downlight", [10350.0, 3050.0, 14550.0, 7050.0], 3, 2);
    lighting(house, "Bedroom 1 ceiling", &ceiling);
    let soft = [
        house.hanging("pendant", "", (12450.0, 5050.0), 2100.0),
        house.on_wall("wall-light", "", (14550.0, 4350.0), Way::Left, 1300.0),
        house.on_wall("wall-light", "", (14550.0, 5650.0), Way::Left, 1300.0),
    ];
    lighting(house, "Bedroom 1 soft light", &soft);
    house.on_wall("plate-4", "Bedroom 1 plate", (10350.0, 5450.0), Way::Right, 1100.0);
    house.on_wall("room-thermostat", "Bedroom 1 thermostat", (10350.0, 5900.0), Way::Right, 1400.0);
    house.on_wall("plate-4", "Bedroom 1 left bedside", (14550.0, 6050.0), Way::Left, 700.0);
    house.on_wall("plate-4", "Bedroom 1 right bedside", (14550.0, 3950.0), Way::Left, 700.0);
    house.on_wall("panic-button", "", (14550.0, 6400.0), Way::Left, 700.0);
    house.on_wall("network-point", "", (14550.0, 3500.0), Way::Left, 450.0);
    house.on_ceiling("smoke-alarm", "", (11700.0, 4500.0));
    house.on_ceiling("loudspeaker-ceiling", "", (11700.0, 5300.0));
    house.on_ceiling("loudspeaker-ceiling", "", (13300.0, 5300.0));
    house.on_wall("curtain-motor", "Bedroom 1 curtains", (12050.0, 7050.0), Way::Down, 2300.0);
    house.on_wall("window-contact", "", (12800.0, 7050.0), Way::Down, 2130.0);
    house.on_wall("radiator-valve", "", (13650.0, 7050.0), Way::Down, 300.0);
}

fn dressing_room(house: &mut House, joinery: &Fitted) {
    let ceiling = house.downlights("downlight", [10350.0, 1350.0, 12350.0, 2950.0], 2, 1);
    lighting(house, "Dressing room", &ceiling);
    house.on_ceiling("motion-ceiling", "Dressing room motion", (11350.0, 1800.0));
    let rail = house.on_joinery("strip-24v", "", joinery.dressing_wardrobe, (0.0, 50.0), 2000.0);
    lighting(house, "Dressing room wardrobe light", &[rail]);
    house.on_joinery(
        "drawer-contact",
        "Dressing room wardrobe",
        joinery.dressing_wardrobe,
        (-700.0, -250.0),
        2100.0,
    );
}

fn bedroom_2(house: &mut House) {
    let ceiling = house.downlights("downlight", [150.0, 150.0, 4150.0, 3650.0], 2, 2);
    lighting(house, "Bedroom 2 ceiling", &ceiling);
    let soft = house.hanging("pendant", "", (2150.0, 1900.0), 2100.0);
    lighting(house, "Bedroom 2 soft light", &[soft]);
    house.on_wall("plate-4", "Bedroom 2 plate", (4150.0, 2500.0), Way::Left, 1100.0);
    house.on_wall("plate-2", "Bedroom 2 left bedside", (4150.0, 450.0), Way::Left, 700.0);
    house.on_wall("plate-2", "Bedroom 2 right bedside", (4150.0, 2050.0), Way::Left, 700.0);
    house.on_wall("room-thermostat", "Bedroom 2 thermostat", (2600.0, 3650.0), Way::Down, 1400.0);
    house.on_wall("network-point", "", (1200.0, 3650.0), Way::Down, 450.0);
    house.on_wall("blind-motor", "Bedroom 2 blind", (1800.0, 150.0), Way::Up, 2200.0);
    house.on_wall("window-contact", "", (2400.0, 150.0), Way::Up, 2130.0);
    house.on_wall("radiator-valve", "", (2900.0, 150.0), Way::Up, 300.0);
}

fn bedroom_3(house: &mut House) {
    let ceiling = house.downlights("downlight", [750.0, 3750.0, 4150.0, 7050.0], 2, 2);
    lighting(house, "Bedroom 3 ceiling", &ceiling);
    let soft = house.hanging("pendant", "", (2450.0, 5400.0), 2100.0);
    lighting(house, "Bedroom 3 soft light", &[soft]);
    house.on_wall("plate-4", "Bedroom 3 plate", (4150.0, 4900.0), Way::Left, 1100.0);
    house.on_wall("plate-2", "Bedroom 3 left bedside", (4150.0, 5350.0), Way::Left, 700.0);
    house.on_wall("plate-2", "Bedroom 3 right bedside", (4150.0, 6850.0), Way::Left, 700.0);
    house.on_wall("room-thermostat", "Bedroom 3 thermostat", (2200.0, 3750.0), Way::Up, 1400.0);
    house.on_wall("network-point", "", (150.0, 6300.0), Way::Right, 450.0);
    house.on_wall("blind-motor", "Bedroom 3 blind", (1800.0, 7050.0), Way::Down, 2200.0);
    house.on_wall("window-contact", "", (2400.0, 7050.0), Way::Down, 2130.0);
    house.on_wall("radiator-valve", "", (2900.0, 7050.0), Way::Down, 300.0);
}

fn bedroom_4(house: &mut House, joinery: &Fitted) {
    let ceiling = house.downlights("downlight", [6650.0, 150.0, 9450.0, 4150.0], 2, 2);
    lighting(house, "Bedroom 4 ceiling", &ceiling);
    let soft = house.hanging("pendant", "", (8050.0, 2150.0), 2100.0);
    lighting(house, "Bedroom 4 soft light", &[soft]);
    house.on_wall("plate-4", "Bedroom 4 plate", (7900.0, 4150.0), Way::Down, 1100.0);
    house.on_wall("room-thermostat", "Bedroom 4 thermostat", (8350.0, 4150.0), Way::Down, 1400.0);
    house.on_wall("plate-2", "Bedroom 4 left bedside", (6650.0, 1000.0), Way::Right, 700.0);
    house.on_wall("plate-2", "Bedroom 4 right bedside", (6650.0, 2600.0), Way::Right, 700.0);
    house.on_wall("network-point", "", (10050.0, 900.0), Way::Left, 450.0);
    house.on_wall("blind-motor", "Bedroom 4 blind", (7850.0, 150.0), Way::Up, 2200.0);
    house.on_wall("window-contact", "", (8450.0, 150.0), Way::Up, 2130.0);
    house.on_wall("radiator-valve", "", (9000.0, 150.0), Way::Up, 300.0);
    let rail = house.on_joinery("strip-24v", "", joinery.bedroom_4_wardrobe, (0.0, 50.0), 2000.0);
    lighting(house, "Bedroom 4 wardrobe light", &[rail]);
    house.on_joinery(
        "drawer-contact",
        "Bedroom 4 wardrobe",
        joinery.bedroom_4_wardrobe,
        (900.0, -250.0),
        2100.0,
    );
}

/// Everything within 600 mm of the bath is low and dry or fit for it; the plate is extra-low voltage and stands
/// 1.4 m from the bath.
fn bathroom(house: &mut House) {
    let ceiling = house.downlights("downlight-damp", [6650.0, 5350.0, 10050.0, 7050.0], 4, 1);
    lighting(house, "Bathroom ceiling", &ceiling);
    let mirror = house.on_wall("mirror-light", "", (7900.0, 7050.0), Way::Down, 1900.0);
    lighting(house, "Bathroom mirror", &[mirror]);
    house.on_wall("plate-2", "Bathroom plate", (7950.0, 5350.0), Way::Up, 1100.0);
    house.on_ceiling("presence-ceiling", "Bathroom presence", (8350.0, 5800.0));
    house.on_ceiling("extract-fan", "Bathroom fan", (9200.0, 6650.0));
    house.on_wall("humidity-sensor", "Bathroom air", (6650.0, 6250.0), Way::Right, 1800.0);
    house.on_wall("towel-rail-relay", "Bathroom towel rail", (6650.0, 6700.0), Way::Right, 1100.0);
    house.on_floor("leak-sensor", "Bath leak", (9200.0, 5600.0), 0.0);
    house.on_wall("window-contact-battery", "", (7100.0, 7050.0), Way::Down, 2130.0);
}

fn shower_room(house: &mut House) {
    let ceiling = [
        house.on_ceiling("downlight-damp", "", (13050.0, 1500.0)),
        house.on_ceiling("downlight-damp", "", (14100.0, 1200.0)),
        house.on_ceiling("downlight-damp", "", (13750.0, 2400.0)),
    ];
    lighting(house, "Shower room ceiling", &ceiling);
    let mirror = house.on_wall("mirror-light", "", (12925.0, 750.0), Way::Up, 1900.0);
    lighting(house, "Shower room mirror", &[mirror]);
    house.on_ceiling("presence-ceiling", "Shower room presence", (13050.0, 2150.0));
    house.on_ceiling("extract-fan", "Shower room fan", (14100.0, 1800.0));
    house.on_wall("humidity-sensor", "Shower room air", (12450.0, 1650.0), Way::Right, 1800.0);
    house.on_wall("towel-rail-relay", "Shower room towel rail", (12450.0, 1250.0), Way::Right, 1100.0);
    house.on_floor("leak-sensor", "Shower leak", (13450.0, 1800.0), 0.0);
    house.on_wall("window-contact-battery", "", (14550.0, 1850.0), Way::Left, 2130.0);
}
