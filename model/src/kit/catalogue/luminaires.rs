//! Luminaires.

use super::line::{CatalogueEntry, line};
use crate::kit::PointType::{Colour, Number, State};
use crate::kit::Symbol::{Downlight, Floodlight, LightingPoint, LinearLight, WallLight};
use crate::kit::{Family, MountKind};

/// Luminaires. Flux, beam, colour temperature, power and heights are round figures within what is usual:
/// common practice, no published source; put the manufacturer's in before a lighting study is relied on.
/// Prices and minutes are invented.
pub(super) fn luminaires() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Luminaires, code, symbol);
    vec![
        line("downlight", "Recessed downlight", "DL", Downlight)
            .ceiling()
            .mains(8.0)
            .beams(650.0, 60.0, 2700)
            .costs(35, 25),
        line("downlight-narrow", "Recessed downlight, narrow beam, tilts", "DL", Downlight)
            .ceiling()
            .mains(8.0)
            .beams(600.0, 24.0, 2700)
            .costs(45, 25),
        line("downlight-damp", "Recessed downlight for bathrooms", "DL", Downlight)
            .ceiling()
            .mains(8.0)
            .beams(650.0, 60.0, 3000)
            .costs(40, 25),
        line("downlight-tunable", "Recessed downlight, tunable white, 24 V", "DL", Downlight)
            .ceiling()
            .low_voltage(24, 10.0)
            .beams(700.0, 50.0, 3000)
            .does(Number, &["colour temperature"])
            .costs(80, 30),
        line("pendant", "Pendant", "PEN", LightingPoint)
            .undecided_on(MountKind::Ceiling)
            .mains(15.0)
            .glows(1200.0, 2700)
            .costs(90, 40),
        line("ceiling-light", "Ceiling light", "CL", LightingPoint)
            .ceiling()
            .mains(20.0)
            .glows(1800.0, 3000)
            .costs(60, 30),
        line("wall-light", "Wall light", "WL", WallLight)
            .wall(1700.0)
            .mains(8.0)
            .glows(600.0, 2700)
            .costs(70, 35),
        line("wall-light-updown", "Wall light, up and down, outdoors", "WL", WallLight)
            .wall(1800.0)
            .mains(12.0)
            .beams(800.0, 60.0, 2700)
            .costs(80, 45),
        line("mirror-light", "Mirror light", "ML", LinearLight)
            .wall(1900.0)
            .mains(12.0)
            .glows(900.0, 3000)
            .long(600.0)
            .costs(90, 40),
        line("strip-24v", "LED strip in a profile, 24 V, 2 m", "STR", LinearLight)
            .undecided_on(MountKind::Joinery)
            .low_voltage(24, 28.8)
            .beams(2400.0, 120.0, 2700)
            .long(2000.0)
            .costs(60, 45),
        line("strip-colour-24v", "Colour LED strip in a profile, 24 V, 2 m", "STR", LinearLight)
            .undecided_on(MountKind::Joinery)
            .low_voltage(24, 38.4)
            .beams(1600.0, 120.0, 3000)
            .does(Colour, &["colour"])
            .long(2000.0)
            .costs(90, 45),
        line("linear-ceiling", "Linear luminaire, 1.2 m", "LIN", LinearLight)
            .ceiling()
            .mains(30.0)
            .beams(3600.0, 110.0, 4000)
            .long(1200.0)
            .costs(110, 40),
        line("step-light", "Step light", "SL", WallLight)
            .wall(300.0)
            .boxed(1, 47.0)
            .low_voltage(24, 2.0)
            .beams(90.0, 60.0, 2700)
            .costs(40, 30),
        line("bulkhead", "Bulkhead", "BH", WallLight)
            .wall(2100.0)
            .mains(12.0)
            .switches(1000.0, None, 4000)
            .costs(40, 35),
        line("floodlight", "Floodlight", "FL", Floodlight)
            .wall(2600.0)
            .mains(30.0)
            .switches(3000.0, Some(110.0), 4000)
            .costs(60, 50),
        line("bollard-light", "Bollard light", "BOL", LightingPoint)
            .outdoors(700.0)
            .mains(10.0)
            .switches(500.0, None, 2700)
            .costs(120, 60),
        line("emergency-light", "Emergency luminaire, self-contained", "EM", LightingPoint)
            .ceiling()
            .mains(4.0)
            .switches(200.0, None, 5000)
            .reports(State, &["fault"])
            .warns(super::caution::BATTERY)
            .costs(80, 40),
    ]
}
