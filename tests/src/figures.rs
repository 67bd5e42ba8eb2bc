//! The figures that a sample plan must give, as they stand beside it in `figures.json`.
//!
//! They are computed by the studies and kept in the repository, so that a change of a study shows as a changed
//! figure in a sample and has to be looked at. Areas are rounded to a hundredth of a square metre.

use pattress_model::plan::DoorsAs;
use pattress_model::project::Project;
use pattress_model::studies::coverage::{Options, coverage};
use serde_json::{Map, Value, json};

/// The figures of a plan: counts, clear floor areas of rooms, and what each sensor covers, doors as drawn.
pub fn figures(project: &Project) -> Value {
    let report = coverage(project, Options { doors: DoorsAs::Drawn });
    let mut rooms = Map::new();
    for (_, level) in project.levels_upwards() {
        rooms.insert(level.name.clone(), json!({}));
    }
    for room in &report.rooms {
        let (Some(named), Some(level)) = (project.rooms.get(room.room), project.levels.get(room.level))
        else {
            continue;
        };
        rooms[&level.name][&named.name] = json!(hundredths(room.area.as_m2()));
    }
    let mut sensors = Map::new();
    for sensor in &report.sensors {
        let Some(device) = project.devices.get(sensor.device) else { continue };
        sensors.insert(device.tag.to_string(), json!(hundredths(sensor.area.as_m2())));
    }
    json!({
        "counts": {
            "levels": project.levels.len(),
            "walls": project.walls.len(),
            "openings": project.openings.len(),
            "rooms": project.rooms.len(),
            "joinery": project.joinery.len(),
            "kinds": project.kinds.len(),
            "devices": project.devices.len(),
            "zones": project.zones.len(),
            "rules": project.rules.len(),
        },
        "room_area_m2": rooms,
        "sensor_area_m2": sensors,
    })
}

/// The text of `figures.json`.
pub fn figures_text(project: &Project) -> String {
    format!("{:#}\n", figures(project))
}

fn hundredths(square_metres: f64) -> f64 {
    (square_metres * 100.0).round() / 100.0
}
