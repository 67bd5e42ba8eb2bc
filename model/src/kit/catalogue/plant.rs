//! Sound and screens; hub, rack and power; network.

use super::caution;
use super::line::{CatalogueEntry, line};
use crate::kit::Family;
use crate::kit::PointType::{Event, Number, State};
use crate::kit::Symbol::{AccessPoint, CodeInRectangle, CodeInSquare, Loudspeaker, Outlet, Screen};

/// Loudspeakers, screens and wall tablets. Heights are common practice, no published source; loads, prices and
/// minutes are invented.
pub(super) fn sound_and_screens() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::SoundAndScreens, code, symbol);
    vec![
        line("loudspeaker-ceiling", "Ceiling loudspeaker", "LS", Loudspeaker)
            .ceiling()
            .does(State, &["playing"])
            .does(Number, &["volume"])
            .costs(90, 45),
        line("loudspeaker-wall", "Wall loudspeaker", "LS", Loudspeaker)
            .wall(1800.0)
            .does(State, &["playing"])
            .does(Number, &["volume"])
            .costs(110, 45),
        line("loudspeaker-garden", "Garden loudspeaker", "LS", Loudspeaker)
            .outdoors(300.0)
            .does(State, &["playing"])
            .does(Number, &["volume"])
            .costs(140, 60),
        line("amplifier", "Amplifier, 4 zones", "AMP", CodeInRectangle)
            .floor(900.0)
            .mains(400.0)
            .does(State, &["playing"])
            .does(Number, &["volume"])
            .costs(900, 90),
        line("screen", "Television screen", "TV", Screen)
            .wall(1200.0)
            .boxed(2, 47.0)
            .mains(150.0)
            .does(State, &["on", "playing"])
            .does(Number, &["volume"])
            .costs(800, 90),
        line("wall-tablet", "Wall tablet", "TAB", Screen)
            .wall(1200.0)
            .boxed(2, 47.0)
            .over_ethernet(4, 20.0)
            .reports(Event, &["touched"])
            .does(State, &["on"])
            .costs(450, 60),
    ]
}

/// Hub, rack, consumer unit and power supplies. The consumer unit's switches lie within the 1350–1450 mm that
/// Approved Document M gives; other heights are common practice, no published source. Loads, prices and minutes
/// are invented.
pub(super) fn plant() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Plant, code, symbol);
    let supply = |key, name| {
        line(key, name, "PSU", CodeInSquare)
            .wall(1500.0)
            .reports(State, &["fault"])
            .warns(caution::DISTRIBUTION)
    };
    vec![
        line("hub", "Hub", "HUB", CodeInRectangle)
            .wall(1500.0)
            .low_voltage(24, 15.0)
            .reports(State, &["fault"])
            .costs(600, 120),
        line("rack", "Equipment rack", "RK", CodeInRectangle)
            .floor(900.0)
            .mains(1500.0)
            .reports(Number, &["temperature"])
            .costs(500, 240),
        line("consumer-unit", "Consumer unit", "CU", CodeInRectangle)
            .wall(1400.0)
            .mains(18_400.0)
            .warns(caution::DISTRIBUTION)
            .costs(350, 360),
        line("energy-meter", "Energy meter on a rail", "EMT", CodeInSquare)
            .wall(1500.0)
            .mains(1.0)
            .reports(Number, &["power", "energy"])
            .costs(120, 60),
        supply("psu-12v", "Power supply, 12 V").mains(60.0).costs(60, 45),
        supply("psu-24v", "Power supply, 24 V").mains(240.0).costs(110, 45),
        supply("psu-48v", "Power supply, 48 V").mains(480.0).costs(160, 45),
        line("standby-supply", "Standby power supply", "UPS", CodeInRectangle)
            .floor(200.0)
            .mains(1000.0)
            .reports(State, &["mains failed", "battery low"])
            .warns(caution::BATTERY)
            .costs(400, 60),
    ]
}

/// Network points and access points. Outlets at the 450 mm that Approved Document M gives as the lowest; class
/// and power over Ethernet as IEEE 802.3 pairs them; prices and minutes are invented.
pub(super) fn network() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Network, code, symbol);
    vec![
        line("network-point", "Network point, 1 socket", "NP", Outlet)
            .wall(450.0)
            .boxed(1, 35.0)
            .costs(12, 30),
        line("network-point-2", "Network point, 2 sockets", "NP", Outlet)
            .wall(450.0)
            .boxed(1, 35.0)
            .costs(18, 40),
        line("aerial-point", "Aerial point", "AE", Outlet).wall(450.0).boxed(1, 35.0).costs(12, 30),
        line("access-point", "Wireless access point", "AP", AccessPoint)
            .ceiling()
            .over_ethernet(4, 20.0)
            .reports(State, &["fault"])
            .costs(160, 40),
        line("access-point-outdoor", "Wireless access point, outdoors", "AP", AccessPoint)
            .wall(3000.0)
            .over_ethernet(4, 25.0)
            .reports(State, &["fault"])
            .costs(240, 60),
        line("network-switch", "Network switch with power, 24 ports", "NSW", CodeInRectangle)
            .floor(900.0)
            .mains(400.0)
            .reports(State, &["fault"])
            .costs(450, 60),
        line("router", "Router", "RTR", CodeInRectangle)
            .wall(1500.0)
            .low_voltage(12, 20.0)
            .reports(State, &["fault"])
            .costs(200, 60),
    ]
}
