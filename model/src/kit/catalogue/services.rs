//! Motors and heating controls.

use super::caution;
use super::line::{CatalogueEntry, line};
use crate::kit::PointType::{Event, Number, State};
use crate::kit::Symbol::{CodeInSquare, Motor};
use crate::kit::{Drives, Family, MountKind};

/// Motors. Heights are common practice, no published source; where a motor sits where its pipe, gate or window
/// is, each one is decided. Loads, times of travel, prices and minutes are
/// invented.
pub(super) fn motors() -> Vec<CatalogueEntry> {
    let line = |key, name, code| line(key, name, Family::Motors, code, Motor);
    vec![
        line("blind-motor", "Blind motor", "BLD")
            .drives(Drives::Blind)
            .wall(2200.0)
            .mains(120.0)
            .does(Number, &["position"])
            .travels(25.0)
            .warns(caution::MOVING)
            .costs(150, 60),
        line("blind-motor-24v", "Blind motor, 24 V", "BLD")
            .drives(Drives::Blind)
            .wall(2200.0)
            .low_voltage(24, 40.0)
            .does(Number, &["position"])
            .travels(25.0)
            .warns(caution::MOVING)
            .costs(180, 60),
        line("roof-blind-motor", "Roof-light blind motor", "RLB")
            .drives(Drives::Blind)
            .ceiling()
            .low_voltage(24, 40.0)
            .does(Number, &["position"])
            .travels(25.0)
            .warns(caution::MOVING)
            .costs(220, 90),
        line("curtain-motor", "Curtain motor", "CRT")
            .drives(Drives::Curtain)
            .wall(2300.0)
            .mains(100.0)
            .does(Number, &["position"])
            .travels(12.0)
            .warns(caution::MOVING)
            .costs(260, 75),
        line("window-motor", "Window opener", "WO")
            .drives(Drives::Window)
            .undecided_on(MountKind::Wall)
            .low_voltage(24, 40.0)
            .does(Number, &["position"])
            .travels(40.0)
            .reports(State, &["open"])
            .warns(caution::MOVING)
            .costs(280, 90),
        line("gate-motor", "Gate motor", "GM")
            .drives(Drives::Gate)
            .outdoors(300.0)
            .mains(400.0)
            .does(Number, &["position"])
            .travels(20.0)
            .reports(State, &["open", "obstructed"])
            .warns(caution::POWERED_DOOR)
            .costs(700, 300),
        line("garage-door-motor", "Garage door motor", "GD")
            .drives(Drives::GarageDoor)
            .ceiling()
            .mains(300.0)
            .does(Number, &["position"])
            .travels(15.0)
            .reports(State, &["open", "obstructed"])
            .warns(caution::POWERED_DOOR)
            .costs(350, 180),
        line("water-valve", "Water stop valve, motorised", "WV")
            .drives(Drives::Valve)
            .undecided_on(MountKind::Wall)
            .low_voltage(24, 6.0)
            .does(State, &["open"])
            .warns(caution::VALVE)
            .costs(120, 90),
        line("heating-valve", "Heating zone valve, motorised", "HV")
            .drives(Drives::Valve)
            .undecided_on(MountKind::Wall)
            .mains(6.0)
            .does(State, &["open"])
            .warns(caution::VALVE)
            .costs(90, 90),
        line("lock-release", "Lock release in the door frame", "LR")
            .drives(Drives::Lock)
            .wall(1050.0)
            .low_voltage(12, 6.0)
            .does(Event, &["release"])
            .reports(State, &["locked"])
            .warns(caution::LOCK)
            .costs(90, 75),
        line("motor-lock", "Motor lock", "LCK")
            .drives(Drives::Lock)
            .wall(1050.0)
            .low_voltage(12, 12.0)
            .does(State, &["locked"])
            .reports(State, &["open", "tamper"])
            .warns(caution::LOCK)
            .warns(caution::SECURITY)
            .costs(380, 120),
    ]
}

/// Heating controls. The thermostat's height lies within the 450–1200 mm that Approved Document M gives for
/// dwellings. Loads, prices and minutes are invented.
pub(super) fn heating() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Heating, code, symbol);
    vec![
        line("room-thermostat", "Room thermostat", "TH", CodeInSquare)
            .wall(1200.0)
            .boxed(1, 35.0)
            .low_voltage(24, 0.5)
            .reports(Number, &["temperature", "humidity"])
            .does(Number, &["set point"])
            .costs(110, 25),
        line("manifold-actuator", "Manifold actuator", "MA", Motor)
            .wall(600.0)
            .low_voltage(24, 2.0)
            .does(Number, &["level"])
            .costs(30, 15),
        line("manifold-controller", "Manifold controller, 8 loops", "MCC", CodeInSquare)
            .wall(900.0)
            .mains(50.0)
            .does(Number, &["loop 1", "loop 2", "loop 3", "loop 4", "loop 5", "loop 6", "loop 7", "loop 8"])
            .costs(240, 120),
        line("radiator-valve", "Radiator valve head, battery", "RV", Motor)
            .wall(300.0)
            .battery()
            .reports(Number, &["temperature"])
            .does(Number, &["set point"])
            .costs(60, 15),
        line("floor-probe", "Floor temperature probe", "FP", CodeInSquare)
            .floor(0.0)
            .reports(Number, &["temperature"])
            .costs(15, 30),
        line("towel-rail-relay", "Towel rail relay", "TR", CodeInSquare)
            .wall(1100.0)
            .boxed(1, 47.0)
            .mains(1000.0)
            .does(State, &["on"])
            .warns(caution::HEAT)
            .costs(50, 40),
        line("boiler-relay", "Boiler demand relay", "BR", CodeInSquare)
            .wall(1500.0)
            .boxed(1, 47.0)
            .mains(500.0)
            .does(State, &["demand"])
            .warns(caution::HEAT)
            .costs(60, 60),
        line("extract-fan", "Extract fan", "EF", Motor)
            .ceiling()
            .mains(20.0)
            .does(Number, &["level"])
            .costs(110, 75),
    ]
}
