//! Water, warmth and light sensing; plates; dimmers, relays and blind modules.

use super::line::{CatalogueEntry, line};
use crate::kit::PointType::{Colour, Event, Number, State};
use crate::kit::Symbol::{CodeInCircle, CodeInHalfCircle, CodeInSquare, Plate};
use crate::kit::{Family, MountKind};

/// Water, temperature, humidity and light sensing. Heights are common practice, no published source; prices and
/// minutes are invented.
pub(super) fn environment() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Environment, code, symbol);
    vec![
        line("leak-sensor", "Leak sensor", "LK", CodeInCircle)
            .floor(0.0)
            .low_voltage(12, 0.1)
            .reports(State, &["leak"])
            .costs(30, 20),
        line("leak-sensor-battery", "Leak sensor, battery", "LK", CodeInCircle)
            .floor(0.0)
            .battery()
            .reports(State, &["leak"])
            .costs(35, 5),
        line("flow-meter", "Water flow meter", "FM", CodeInSquare)
            .undecided_on(MountKind::Wall)
            .low_voltage(24, 0.5)
            .reports(Number, &["flow"])
            .costs(140, 60),
        line("room-temperature-sensor", "Room temperature sensor", "TS", CodeInHalfCircle)
            .wall(1200.0)
            .boxed(1, 25.0)
            .low_voltage(24, 0.1)
            .reports(Number, &["temperature"])
            .costs(35, 20),
        line("humidity-sensor", "Temperature and humidity sensor", "HS", CodeInHalfCircle)
            .wall(1800.0)
            .boxed(1, 25.0)
            .low_voltage(24, 0.1)
            .reports(Number, &["humidity", "temperature"])
            .costs(50, 20),
        line("light-sensor", "Light level sensor", "LX", CodeInCircle)
            .ceiling()
            .low_voltage(24, 0.1)
            .reports(Number, &["light"])
            .costs(45, 25),
        line("air-quality-sensor", "Air quality sensor", "AQ", CodeInHalfCircle)
            .wall(1200.0)
            .boxed(1, 35.0)
            .low_voltage(24, 0.5)
            .reports(Number, &["carbon dioxide", "humidity", "temperature"])
            .costs(120, 25),
        line("weather-station", "Weather station", "WS", CodeInCircle)
            .undecided_on(MountKind::Outdoors)
            .low_voltage(24, 2.0)
            .reports(Number, &["wind", "temperature", "light"])
            .reports(State, &["rain"])
            .costs(280, 90),
        line("soil-moisture-sensor", "Soil moisture sensor", "SM", CodeInCircle)
            .outdoors(0.0)
            .battery()
            .reports(Number, &["humidity", "temperature"])
            .costs(40, 15),
    ]
}

/// Names of the keys of a plate, in their order; a plate of fewer has the first of them.
const KEYS: [&str; 8] = ["key 1", "key 2", "key 3", "key 4", "key 5", "key 6", "key 7", "key 8"];

/// Plates with keys. Height within the 450–1200 mm that Approved Document M gives for dwellings; a 35 mm box as
/// flat plates need (a buyer's guide to switches). Prices and minutes are invented.
pub(super) fn plates() -> Vec<CatalogueEntry> {
    let plate = |key, name, keys: usize| {
        let gangs = if keys > 4 { 2 } else { 1 };
        let price = 50 + 10 * i64::try_from(keys).unwrap_or(0);
        line(key, name, Family::Plates, "PL", Plate)
            .wall(1100.0)
            .boxed(gangs, 35.0)
            .low_voltage(24, 0.3)
            .reports(Event, KEYS.get(..keys).unwrap_or(&KEYS))
            .costs(price, 20)
    };
    vec![
        plate("plate-1", "Plate, 1 key", 1),
        plate("plate-2", "Plate, 2 keys", 2),
        plate("plate-3", "Plate, 3 keys", 3),
        plate("plate-4", "Plate, 4 keys", 4),
        plate("plate-5", "Plate, 5 keys", 5),
        plate("plate-6", "Plate, 6 keys", 6),
        plate("plate-7", "Plate, 7 keys", 7),
        plate("plate-8", "Plate, 8 keys", 8),
    ]
}

/// Dimmers, relays, blind modules and inputs: in a box behind an accessory, or on a rail in a cabinet at
/// 1500 mm. A 47 mm box leaves room for module and cable: common practice, no published source. Loads, prices
/// and minutes are invented.
pub(super) fn modules() -> Vec<CatalogueEntry> {
    let line = |key, name, code| line(key, name, Family::Modules, code, CodeInSquare);
    vec![
        line("dimmer-1", "Dimmer, 1 channel, in a box", "DIM")
            .wall(1100.0)
            .boxed(1, 47.0)
            .mains(250.0)
            .does(Number, &["level"])
            .costs(60, 35),
        line("dimmer-4", "Dimmer, 4 channels, on a rail", "DIM")
            .wall(1500.0)
            .mains(1000.0)
            .does(Number, &["level 1", "level 2", "level 3", "level 4"])
            .costs(280, 60),
        line("strip-dimmer-24v", "Strip dimmer, 24 V, colour", "DIM")
            .wall(1500.0)
            .low_voltage(24, 240.0)
            .does(Number, &["level"])
            .does(Colour, &["colour"])
            .costs(90, 45),
        line("relay-1", "Relay, 1 channel, in a box", "REL")
            .wall(1100.0)
            .boxed(1, 47.0)
            .mains(2300.0)
            .does(State, &["on"])
            .costs(45, 35),
        line("relay-8", "Relay, 8 channels, on a rail", "REL")
            .wall(1500.0)
            .mains(3680.0)
            .does(State, &["on 1", "on 2", "on 3", "on 4", "on 5", "on 6", "on 7", "on 8"])
            .costs(260, 75),
        line("blind-module", "Blind module, 1 motor, in a box", "BLM")
            .wall(1100.0)
            .boxed(1, 47.0)
            .mains(250.0)
            .does(Number, &["position"])
            .travels(25.0)
            .costs(65, 35),
        line("blind-module-4", "Blind module, 4 motors, on a rail", "BLM")
            .wall(1500.0)
            .mains(1000.0)
            .does(Number, &["position 1", "position 2", "position 3", "position 4"])
            .travels(25.0)
            .costs(240, 60),
        line("input-module-4", "Input module, 4 dry contacts", "INP")
            .wall(1500.0)
            .low_voltage(24, 0.5)
            .reports(State, &["input 1", "input 2", "input 3", "input 4"])
            .costs(70, 40),
        line("bus-gateway", "Gateway between buses", "GW")
            .wall(1500.0)
            .low_voltage(24, 2.0)
            .reports(State, &["fault"])
            .costs(220, 60),
    ]
}
