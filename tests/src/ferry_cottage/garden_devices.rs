//! Devices outdoors: the front with gate and path, the side door, and the garden behind the house.

use pattress_model::systems::ZonePurpose;

use crate::builder::{House, Way};

pub(super) fn place(house: &mut House) {
    front(house);
    side(house);
    garden(house);
}

fn front(house: &mut House) {
    house.on_wall("door-station", "Front door station", (5800.0, -150.0), Way::Down, 1400.0);
    let lanterns = [
        house.on_wall("wall-light-updown", "", (4100.0, -150.0), Way::Down, 1900.0),
        house.on_wall("wall-light-updown", "", (6400.0, -150.0), Way::Down, 1900.0),
    ];
    house.zone("Front lanterns", ZonePurpose::Lighting, &lanterns, "level");
    let path = [
        house.outdoors("bollard-light", "", (2500.0, -2100.0), 700.0, 0.0),
        house.outdoors("bollard-light", "", (3400.0, -1600.0), 700.0, 0.0),
        house.outdoors("bollard-light", "", (4300.0, -1100.0), 700.0, 0.0),
    ];
    house.zone("Front path", ZonePurpose::Lighting, &path, "on");
    house.outdoors("gate-motor", "Gate", (1500.0, -2500.0), 300.0, 90.0);
    let camera =
        house.on_wall_turned("camera-bullet", "Front camera", (500.0, -150.0), Way::Down, 2600.0, 35.0);
    house.tilt(camera, 15.0);
    house.on_wall("sounder-outdoor", "Bell box", (7000.0, -150.0), Way::Down, 2800.0);
    house.on_wall("intruder-outdoor-10m", "Front motion", (3000.0, -150.0), Way::Down, 1200.0);
}

fn side(house: &mut House) {
    let lamp = house.on_wall("bulkhead", "", (12400.0, 450.0), Way::Down, 2100.0);
    house.zone("Side door lamp", ZonePurpose::Lighting, &[lamp], "on");
    let camera =
        house.on_wall_turned("camera-bullet", "Side camera", (14500.0, 450.0), Way::Down, 2600.0, -40.0);
    house.tilt(camera, 15.0);
}

fn garden(house: &mut House) {
    let terrace = [
        house.on_wall("wall-light-updown", "", (500.0, 7350.0), Way::Up, 1900.0),
        house.on_wall("wall-light-updown", "", (2150.0, 7350.0), Way::Up, 1900.0),
        house.on_wall("wall-light-updown", "", (10400.0, 7350.0), Way::Up, 1900.0),
        house.on_wall("wall-light-updown", "", (11950.0, 7350.0), Way::Up, 1900.0),
    ];
    house.zone("Terrace", ZonePurpose::Lighting, &terrace, "level");
    let beds = [
        house.outdoors("bollard-light", "", (4800.0, 8700.0), 700.0, 0.0),
        house.outdoors("bollard-light", "", (7000.0, 9000.0), 700.0, 0.0),
        house.outdoors("bollard-light", "", (12600.0, 8700.0), 700.0, 0.0),
    ];
    house.zone("Garden", ZonePurpose::Lighting, &beds, "on");
    let flood = house.on_wall("floodlight", "", (6300.0, 7350.0), Way::Up, 2600.0);
    house.zone("Garden floodlight", ZonePurpose::Lighting, &[flood], "on");
    let camera =
        house.on_wall_turned("camera-bullet", "Garden camera", (14600.0, 7350.0), Way::Up, 2700.0, 55.0);
    house.tilt(camera, 12.0);
    house.on_wall("intruder-outdoor-10m", "Garden motion", (5700.0, 7350.0), Way::Up, 1200.0);
    house.on_wall("access-point-outdoor", "", (6900.0, 7350.0), Way::Up, 3000.0);
    house.outdoors("weather-station", "Weather station", (14300.0, 8600.0), 2500.0, 0.0);
    house.outdoors("soil-moisture-sensor", "Border soil", (3200.0, 8800.0), 0.0, 0.0);
    house.outdoors("soil-moisture-sensor", "Herb bed soil", (9000.0, 8900.0), 0.0, 0.0);
    house.outdoors("loudspeaker-garden", "", (2600.0, 8300.0), 300.0, 0.0);
    house.outdoors("loudspeaker-garden", "", (10000.0, 8400.0), 300.0, 0.0);
}
