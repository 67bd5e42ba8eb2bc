//! The figures of the intruder alarm: what watches each way in, routes with their times, walks at night, grade, keypads.

use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::Project;
use pattress_model::studies::coverage::intrusion::{Crossing, Route, RouteWay, intrusion};
use serde_json::{Value, json};

use super::{figure, level_name, list, room_name, rounded, words};

/// Puts `intrusion` beside the other figures of coverage.
pub(super) fn add_intrusion(project: &Project, coverage: &mut Value) {
    let report = intrusion(project);
    let openings: Vec<Value> = report
        .openings
        .iter()
        .map(|cover| {
            let by: Vec<_> = cover.by().map(|device| tag(project, device)).collect();
            json!({
                "kind": project.openings.get(cover.opening).map(|opening| opening.name()),
                "room": room_name(project, cover.room),
                "level": level_name(project, cover.level),
                "at_mm": [rounded(cover.inside.x, 1), rounded(cover.inside.y, 1)],
                "by": by,
                "in_part_set": cover.in_part_set,
            })
        })
        .collect();
    let roof_lights: Vec<Value> = report
        .roof_lights
        .iter()
        .map(|cover| {
            let by: Vec<_> = cover.by.iter().map(|device| tag(project, *device)).collect();
            json!({ "name": project.spots.get(cover.spot).map(|spot| spot.name.as_str()), "by": by })
        })
        .collect();
    let routes: Vec<Value> = report.routes.iter().map(|found| route(project, found)).collect();
    let night: Vec<Value> = report
        .night
        .iter()
        .map(|walk| {
            json!({
                "walk": walk.walk.and_then(|walk| project.walks.get(walk)).map(|walk| walk.name.as_str()),
                "bedroom": walk.bedroom.map(|room| room_name(project, room)),
                "level": level_name(project, walk.level),
                "crosses": crossed(project, &walk.crossings),
            })
        })
        .collect();
    let tags =
        |devices: &[Id<Device>]| devices.iter().map(|device| tag(project, *device)).collect::<Vec<_>>();
    let keypads: Vec<Value> = report
        .keypads
        .iter()
        .map(|pad| {
            let rules: Vec<_> = pad.rules.iter().filter_map(|rule| project.rules.get(*rule)).collect();
            json!({
                "tag": tag(project, pad.device),
                "room": pad.room.map(|room| room_name(project, room)),
                "sets_by_itself": pad.sets_by_itself,
                "rules": rules.iter().map(|rule| rule.name.as_str()).collect::<Vec<_>>(),
            })
        })
        .collect();
    coverage["intrusion"] = json!({
        "openings": openings,
        "roof_lights": roof_lights,
        "routes": routes,
        "night": night,
        "grade": {
            "lowest": report.grade.lowest,
            "lowest_parts": tags(&report.grade.lowest_parts),
            "without": tags(&report.grade.without),
        },
        "keypads": keypads,
    });
}

fn route(project: &Project, route: &Route) -> Value {
    let aims = &project.site.intrusion;
    let (way, allowed) = match route.way {
        RouteWay::Entry => ("entry", aims.entry_time),
        RouteWay::Exit => ("exit", aims.exit_time),
    };
    json!({
        "way": way,
        "room": room_name(project, route.room),
        "level": level_name(project, route.level),
        "keypad": route.keypad.map(|device| tag(project, device)),
        "keypad_in_room": route.keypad_in_room,
        "length_mm": route.length.map(|length| rounded(length.as_mm(), 1)),
        "seconds": route.time.map(|time| rounded(time.0, 1)),
        "allowed_s": rounded(allowed.0, 1),
        "crosses": crossed(project, &route.crossings),
    })
}

fn crossed(project: &Project, crossings: &[Crossing]) -> Vec<Value> {
    let each = crossings.iter().map(|crossing| {
        json!({
            "tag": tag(project, crossing.detector),
            "after_mm": rounded(crossing.after.as_mm(), 0),
            "at_mm": [rounded(crossing.at.x, 1), rounded(crossing.at.y, 1)],
        })
    });
    each.collect()
}

fn tag(project: &Project, device: Id<Device>) -> Option<String> {
    project.devices.get(device).map(|device| device.tag.to_string())
}

/// The same in words.
pub(super) fn intrusion_lines(coverage: &Value) -> Vec<String> {
    let intrusion = &coverage["intrusion"];
    let mut lines = Vec::new();
    for opening in list(&intrusion["openings"]) {
        lines.push(format!(
            "watched: {}, {} of {}: {}",
            words(&opening["level"]),
            words(&opening["kind"]),
            words(&opening["room"]),
            joined(&opening["by"], None),
        ));
    }
    for light in list(&intrusion["roof_lights"]) {
        lines.push(format!("watched: {}: {}", words(&light["name"]), joined(&light["by"], None)));
    }
    for route in list(&intrusion["routes"]) {
        lines.push(format!(
            "route: {} by {}, {}: {} to {}, {} of {}, off the route crosses {}",
            words(&route["way"]),
            words(&route["level"]),
            words(&route["room"]),
            figure(&route["length_mm"], 0, "mm"),
            words(&route["keypad"]),
            figure(&route["seconds"], 1, "s"),
            figure(&route["allowed_s"], 0, "s"),
            joined(&route["crosses"], Some("tag")),
        ));
    }
    for walk in list(&intrusion["night"]) {
        let name = walk["walk"].as_str().or(walk["bedroom"].as_str()).unwrap_or("no room");
        lines.push(format!("at night: {name}: crosses {}", joined(&walk["crosses"], Some("tag"))));
    }
    if !list(&intrusion["openings"]).is_empty() || !intrusion["grade"]["lowest"].is_null() {
        lines.push(format!(
            "intruder alarm: grade {}",
            figure(&intrusion["grade"]["lowest"], 0, "by its lowest part")
        ));
    }
    lines
}

/// Names in a list, or none.
fn joined(values: &Value, key: Option<&str>) -> String {
    let names: Vec<&str> =
        list(values).iter().filter_map(|value| key.map_or(value, |key| &value[key]).as_str()).collect();
    if names.is_empty() { "nothing".to_owned() } else { names.join(", ") }
}
