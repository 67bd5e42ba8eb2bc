//! Presence, intrusion sensing and contacts.

use super::caution;
use super::line::{CatalogueEntry, fan, line, round};
use crate::kit::PointType::{Event, Number, State};
use crate::kit::Symbol::{CodeInCircle, CodeInHalfCircle, CodeInSquare, Contact};
use crate::kit::{Family, MountKind};
use crate::plan::Sense;

/// The layer of a usual wall lens, degrees below its axis. 56.4°: the blind strip of a published table (“Range and
/// detection of room occupancy sensor”, table 1), which is h · tan 33.6° wide on the floor.
const WALL_LENS: [(f64, f64); 1] = [(0.0, 56.4)];

/// The same with a look-down layer beneath, as intruder detectors have against creeping along the wall.
const LOOK_DOWN_LENS: [(f64, f64); 2] = [(0.0, 56.4), (70.0, 90.0)];

/// Mounting height, walking and seated radius, metres: half the zone sides that two manufacturers' manuals for one
/// product family give. A default, not a law.
const CEILING_PRESENCE: [(f64, f64, f64); 5] =
    [(2.0, 3.0, 2.25), (2.5, 4.0, 3.0), (3.0, 4.5, 3.5), (3.5, 5.0, 4.0), (4.0, 5.5, 0.0)];

/// Presence and motion for comfort.
///
/// Wall motion 12 m × 90° at 2.2 m: sample system design proposal and a positioning guide for the trade.
/// Ceiling, at 2.5 m: zone side 6 m seated and 8 m walking (two manufacturers' manuals for one product
/// family); here the circle within that square. Millimetre wave: from memory, the lower end of what is usual.
/// What is left of a reach for somebody walking towards it, sitting still or in a warm room: that it is less is in
/// makers' manuals, how much less is common practice, no published source. Prices and minutes are invented.
pub(super) fn presence() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::Presence, code, symbol);
    vec![
        line("wall-motion-12m", "Wall motion detector, 12 m", "PIR", CodeInHalfCircle)
            .wall(2200.0)
            .boxed(1, 25.0)
            .low_voltage(24, 0.3)
            .reports(State, &["motion"])
            .reports(Number, &["light"])
            .detects(Sense::BodyHeat, fan(90.0, 12.0))
            .through_lens(&WALL_LENS)
            .notices(0.5, 0.25)
            .when_warm(0.7)
            .costs(60, 25),
        line("wall-motion-battery", "Wall motion detector, battery, 8 m", "PIR", CodeInHalfCircle)
            .wall(2200.0)
            .battery()
            .reports(State, &["motion"])
            .reports(Number, &["light", "temperature"])
            .detects(Sense::BodyHeat, fan(90.0, 8.0))
            .through_lens(&WALL_LENS)
            .notices(0.5, 0.25)
            .when_warm(0.7)
            .costs(45, 10),
        line("presence-ceiling", "Ceiling presence detector", "PD", CodeInCircle)
            .ceiling()
            .boxed(1, 35.0)
            .low_voltage(24, 0.4)
            .reports(State, &["motion"])
            .reports(Number, &["light"])
            .detects(Sense::BodyHeat, round(3.0))
            .by_height(&CEILING_PRESENCE)
            .notices(0.75, 0.75)
            .when_warm(0.7)
            .costs(90, 30),
        line("motion-ceiling", "Ceiling motion detector", "PIR", CodeInCircle)
            .ceiling()
            .boxed(1, 35.0)
            .low_voltage(24, 0.3)
            .reports(State, &["motion"])
            .detects(Sense::BodyHeat, round(4.0))
            .notices(0.6, 0.0)
            .when_warm(0.7)
            .costs(60, 30),
        line("presence-ceiling-mains", "Ceiling presence detector with relay", "PD", CodeInCircle)
            .ceiling()
            .boxed(1, 35.0)
            .mains(1000.0)
            .reports(State, &["motion"])
            .does(State, &["on"])
            .detects(Sense::BodyHeat, round(3.0))
            .by_height(&CEILING_PRESENCE)
            .notices(0.75, 0.75)
            .when_warm(0.7)
            .costs(80, 35),
        line("presence-millimetre-wave", "Wall presence detector, millimetre wave", "MW", CodeInHalfCircle)
            .wall(2000.0)
            .boxed(1, 25.0)
            .low_voltage(24, 1.5)
            .reports(State, &["motion"])
            .reports(Number, &["light"])
            .detects(Sense::Microwave, fan(120.0, 5.0))
            .notices(1.0, 0.6)
            .passes_board(0.5)
            .costs(100, 30),
    ]
}

/// Intrusion sensing.
///
/// Volumetric 12 m × 90°: sample system design proposal. Curtain and corridor lenses: from memory (5–15°;
/// 20–30 m at about 10°), 8 m and 20 m × 12° being round figures; outdoors 10 m is common practice too. Both ways
/// of a combined detector must see (EN 50131-2-4:2020, scope). Glass break: best within 2–3 m and at most 9 m
/// from the pane (a manufacturer's page); 6 m is common practice, no published source. Prices and minutes are
/// invented.
pub(super) fn intrusion() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| {
        line(key, name, Family::Intrusion, code, symbol)
            .reports(State, &["alarm", "tamper"])
            .low_voltage(12, 0.2)
            .warns(caution::SECURITY)
    };
    vec![
        line("intruder-motion-12m", "Intruder motion detector, 12 m", "PIR", CodeInHalfCircle)
            .wall(2200.0)
            .detects(Sense::BodyHeat, fan(90.0, 12.0))
            .through_lens(&LOOK_DOWN_LENS)
            .notices(0.5, 0.0)
            .when_warm(0.7)
            .graded(2)
            .costs(50, 30),
        line("intruder-dual-12m", "Intruder detector, body heat and microwave", "DT", CodeInHalfCircle)
            .wall(2200.0)
            .low_voltage(12, 0.3)
            .detects(Sense::Dual, fan(90.0, 12.0))
            .through_lens(&LOOK_DOWN_LENS)
            .notices(0.5, 0.0)
            .when_warm(0.7)
            .graded(2)
            .costs(75, 30),
        line("curtain-8m", "Curtain detector, 8 m", "CUR", CodeInHalfCircle)
            .wall(2200.0)
            .detects(Sense::BodyHeat, fan(15.0, 8.0))
            .through_lens(&[(0.0, 90.0)])
            .notices(0.5, 0.0)
            .graded(2)
            .costs(65, 30),
        line("corridor-20m", "Corridor detector, long range", "PIR", CodeInHalfCircle)
            .wall(2200.0)
            .detects(Sense::BodyHeat, fan(12.0, 20.0))
            .through_lens(&LOOK_DOWN_LENS)
            .notices(0.5, 0.0)
            .graded(2)
            .costs(70, 30),
        line("glass-break", "Glass-break detector, acoustic", "GB", CodeInCircle)
            .ceiling()
            .detects(Sense::Sound, round(6.0))
            .passes_board(0.25)
            .graded(2)
            .costs(45, 25),
        line("intruder-outdoor-10m", "Outdoor motion detector, 10 m", "OD", CodeInHalfCircle)
            .wall(1200.0)
            .low_voltage(12, 0.4)
            .detects(Sense::Dual, fan(90.0, 10.0))
            .notices(0.5, 0.0)
            .graded(2)
            .costs(160, 45),
        line("vibration-sensor", "Vibration sensor on a frame", "VIB", CodeInSquare)
            .undecided_on(MountKind::Wall)
            .graded(2)
            .costs(35, 25),
        line("panic-button", "Panic button", "PB", CodeInSquare)
            .wall(1000.0)
            .boxed(1, 25.0)
            .reports(Event, &["pressed"])
            .graded(2)
            .costs(30, 25),
    ]
}

/// Contacts. Heights are those of the head of a usual door and the rail of a usual window: common practice, no
/// published source. Prices and minutes are invented.
pub(super) fn contacts() -> Vec<CatalogueEntry> {
    let line = |key, name, code| line(key, name, Family::Contacts, code, Contact).reports(State, &["open"]);
    vec![
        line("door-contact", "Door contact, flush", "MC")
            .wall(2050.0)
            .reports(State, &["tamper"])
            .graded(2)
            .costs(15, 25),
        line("window-contact", "Window contact, surface", "MC")
            .undecided_on(MountKind::Wall)
            .reports(State, &["tamper"])
            .graded(2)
            .costs(15, 25),
        line("window-contact-battery", "Window contact, battery", "MC")
            .undecided_on(MountKind::Wall)
            .battery()
            .reports(State, &["tamper"])
            .graded(2)
            .costs(30, 10),
        line("drawer-contact", "Drawer or cupboard contact", "MC")
            .undecided_on(MountKind::Joinery)
            .costs(15, 20),
        line("garage-door-contact", "Garage door contact, heavy duty", "MC").floor(50.0).costs(35, 30),
        line("lock-contact", "Bolt contact in the door frame", "BC")
            .wall(1050.0)
            .reports(State, &["locked"])
            .graded(2)
            .costs(25, 35),
    ]
}
