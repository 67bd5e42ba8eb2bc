//! Cameras and door stations, sounders, keypads, fire and carbon monoxide alarms.

use super::caution;
use super::line::{CatalogueEntry, line, round};
use crate::kit::FireGrade::{D1, F1};
use crate::kit::FireSense::{CarbonMonoxide, Heat, Smoke, SmokeAndHeat};
use crate::kit::PointType::{Event, Number, State};
use crate::kit::Symbol::{Camera, CodeInHexagon, CodeInSquare, Screen, Sounder};
use crate::kit::{Family, MountKind};
use crate::plan::Sense;

/// Width of a nominal 1/4 picture sensor, mm (a lens handbook, p. 4).
const QUARTER_INCH_MM: f64 = 3.6;
/// Width of a nominal 1/3 picture sensor, mm (a lens handbook, p. 4).
const THIRD_INCH_MM: f64 = 4.8;
/// Width of a nominal 1/2.8 picture sensor, mm (a lens formula page; wide pictures differ a little).
const ONE_OVER_2_8_INCH_MM: f64 = 5.37;

/// Cameras and door entry. Focal lengths, picture widths, drawn reaches and heights are common practice, no
/// published source; outdoors the height is decided for each view. Prices and minutes are invented.
pub(super) fn cameras_and_entry() -> Vec<CatalogueEntry> {
    let line = |key, name, code, symbol| line(key, name, Family::CamerasAndEntry, code, symbol);
    let camera = |key, name| {
        line(key, name, "CAM", Camera)
            .does(State, &["picture"])
            .reports(State, &["motion", "tamper"])
            .warns(caution::CAMERA)
    };
    vec![
        camera("camera-dome", "Dome camera, wide")
            .ceiling()
            .over_ethernet(3, 8.0)
            .sees(ONE_OVER_2_8_INCH_MM, 2.8, (2560, 1440), 10.0)
            .costs(180, 60),
        camera("camera-indoor", "Indoor camera")
            .wall(2200.0)
            .over_ethernet(2, 5.0)
            .sees(THIRD_INCH_MM, 2.8, (1920, 1080), 8.0)
            .costs(120, 45),
        camera("camera-bullet", "Outdoor camera, 4 mm")
            .undecided_on(MountKind::Wall)
            .over_ethernet(3, 10.0)
            .sees(ONE_OVER_2_8_INCH_MM, 4.0, (2560, 1440), 20.0)
            .costs(200, 75),
        camera("camera-bullet-long", "Outdoor camera, 8 mm")
            .undecided_on(MountKind::Wall)
            .over_ethernet(3, 12.0)
            .sees(ONE_OVER_2_8_INCH_MM, 8.0, (3840, 2160), 40.0)
            .costs(260, 75),
        line("door-station", "Door station with camera", "DS", CodeInSquare)
            .wall(1400.0)
            .boxed(2, 47.0)
            .over_ethernet(3, 10.0)
            .reports(Event, &["ring"])
            .reports(State, &["motion", "tamper"])
            .does(State, &["picture"])
            .sees(QUARTER_INCH_MM, 1.8, (1280, 960), 4.0)
            .warns(caution::CAMERA)
            .costs(400, 90),
        line("entry-monitor", "Door entry monitor", "DM", Screen)
            .wall(1200.0)
            .boxed(2, 47.0)
            .over_ethernet(3, 8.0)
            .reports(Event, &["answer", "release"])
            .does(State, &["picture"])
            .costs(250, 45),
        line("bell-push", "Bell push", "BP", CodeInSquare)
            .wall(1100.0)
            .boxed(1, 25.0)
            .reports(Event, &["ring"])
            .costs(15, 20),
    ]
}

/// Sounders, bells and strobes. Heights and loudness are common practice, no published source; prices and minutes
/// are invented. Security grade 2 is what is usual in dwellings (EN 50131-1, average risk).
pub(super) fn sounders() -> Vec<CatalogueEntry> {
    let line = |key, name, code| line(key, name, Family::Sounders, code, Sounder);
    vec![
        line("sounder-indoor", "Indoor sounder", "SND")
            .wall(2200.0)
            .low_voltage(12, 3.0)
            .does(State, &["siren"])
            .reports(State, &["tamper"])
            .warns(caution::SECURITY)
            .warns(caution::LOUD)
            .sounds(100.0, 1.0)
            .graded(2)
            .costs(30, 30),
        line("sounder-outdoor", "Outdoor bell box with strobe", "BELL")
            .undecided_on(MountKind::Wall)
            .low_voltage(12, 6.0)
            .does(State, &["siren", "strobe"])
            .reports(State, &["tamper"])
            .warns(caution::SECURITY)
            .warns(caution::LOUD)
            .warns(caution::BATTERY)
            .sounds(100.0, 1.0)
            .graded(2)
            .costs(90, 75),
        line("strobe", "Strobe, indoors", "STB")
            .wall(2200.0)
            .low_voltage(12, 2.0)
            .does(State, &["strobe"])
            .warns(caution::SECURITY)
            .costs(35, 30),
        line("door-chime", "Door chime", "CHM")
            .wall(2100.0)
            .boxed(1, 25.0)
            .low_voltage(24, 2.0)
            .does(Event, &["ring"])
            .sounds(80.0, 1.0)
            .costs(40, 25),
    ]
}

/// Keypads and readers. Height within the 450–1200 mm that Approved Document M gives for dwellings; prices and
/// minutes are invented.
pub(super) fn keypads() -> Vec<CatalogueEntry> {
    let line = |key, name, code| {
        line(key, name, Family::Keypads, code, CodeInSquare)
            .wall(1200.0)
            .reports(State, &["tamper"])
            .warns(caution::SECURITY)
    };
    vec![
        line("alarm-keypad", "Alarm keypad", "KP")
            .boxed(1, 35.0)
            .low_voltage(12, 1.5)
            .does(State, &["armed"])
            .reports(Event, &["set", "unset", "wrong code"])
            .graded(2)
            .costs(120, 45),
        line("code-keypad-outdoor", "Code keypad, outdoors", "KP")
            .boxed(1, 35.0)
            .low_voltage(12, 1.0)
            .reports(Event, &["right code", "wrong code"])
            .costs(140, 60),
        line("tag-reader", "Tag reader", "RDR")
            .boxed(1, 35.0)
            .low_voltage(12, 1.0)
            .reports(Event, &["known tag", "unknown tag"])
            .graded(2)
            .costs(110, 45),
        line("alarm-panel", "Alarm control panel", "ACP")
            .wall(1600.0)
            .mains(30.0)
            .does(State, &["armed"])
            .reports(State, &["alarm", "entry", "mains failed"])
            .warns(caution::BATTERY)
            .graded(2)
            .costs(350, 180),
    ]
}

/// Fire and carbon monoxide alarms.
///
/// Any point within 7.5 m of a smoke and 5.3 m of a heat detector under a flat ceiling (trade guidance after
/// BS 5839, spaces over 2 m wide). Carbon monoxide spreads as the room's air does, so no reach is drawn; wall
/// height from "at least 150 mm below the ceiling and above doors and windows" (guidance after BS EN 50292). 85 dB(A)
/// at 3 m: a retailer's page on alarms. Mains alarms are taken to be grade D1, battery alarms F1 (BS 5839-6:2019).
/// Prices and minutes are invented.
pub(super) fn fire_and_co() -> Vec<CatalogueEntry> {
    let line = |key, name, code| {
        line(key, name, Family::FireAndCo, code, CodeInHexagon)
            .ceiling()
            .reports(State, &["alarm"])
            .warns(caution::FIRE)
    };
    vec![
        line("smoke-alarm", "Smoke alarm, mains with standby", "SD")
            .boxed(1, 25.0)
            .mains(2.0)
            .reports(State, &["battery low"])
            .detects(Sense::FireOrGas, round(7.5))
            .alarms(Smoke, D1)
            .sounds(85.0, 3.0)
            .costs(60, 40),
        line("smoke-alarm-battery", "Smoke alarm, battery", "SD")
            .battery()
            .reports(State, &["battery low"])
            .detects(Sense::FireOrGas, round(7.5))
            .alarms(Smoke, F1)
            .sounds(85.0, 3.0)
            .costs(40, 15),
        line("heat-alarm", "Heat alarm, mains with standby", "HD")
            .boxed(1, 25.0)
            .mains(2.0)
            .reports(State, &["battery low"])
            .detects(Sense::FireOrGas, round(5.3))
            .alarms(Heat, D1)
            .sounds(85.0, 3.0)
            .costs(60, 40),
        line("multi-sensor-alarm", "Smoke and heat alarm, mains with standby", "MS")
            .boxed(1, 25.0)
            .mains(2.0)
            .reports(State, &["battery low"])
            .reports(Number, &["temperature"])
            .detects(Sense::FireOrGas, round(7.5))
            .alarms(SmokeAndHeat, D1)
            .sounds(85.0, 3.0)
            .costs(80, 40),
        line("co-alarm", "Carbon monoxide alarm, wall", "CO")
            .wall(2200.0)
            .mains(2.0)
            .reports(State, &["battery low"])
            .alarms(CarbonMonoxide, D1)
            .sounds(85.0, 3.0)
            .costs(70, 40),
        line("co-alarm-ceiling", "Carbon monoxide alarm, ceiling, battery", "CO")
            .battery()
            .reports(State, &["battery low"])
            .alarms(CarbonMonoxide, F1)
            .sounds(85.0, 3.0)
            .costs(45, 15),
    ]
}
