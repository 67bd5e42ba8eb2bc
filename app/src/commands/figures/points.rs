//! The point list for whoever programs the house, and how long batteries last.

use pattress_model::project::Project;
use pattress_model::schedules::batteries::battery_lives;
use pattress_model::schedules::order::WalkingOrder;
use pattress_model::schedules::points::{direction_words, point_lines};
use serde_json::{Value, json};

use super::{figure, list, rounded, words};

/// Every point of every device, in walking order.
pub(super) fn points_json(project: &Project) -> Value {
    let line = |line: pattress_model::schedules::points::PointLine| {
        let rules: Vec<Value> =
            line.rules.iter().map(|(name, on)| json!({ "name": name, "on": on })).collect();
        json!({
            "tag": line.tag,
            "name": line.name,
            "kind": line.kind,
            "level": line.level,
            "room": line.room,
            "point": line.point,
            "type": line.point_type.name(),
            "unit": if line.unit.is_empty() { Value::Null } else { json!(line.unit) },
            "direction": direction_words(line.role),
            "zones": line.zones,
            "rules": rules,
        })
    };
    point_lines(project, &WalkingOrder::of(project)).into_iter().map(line).collect()
}

/// Every device that a battery feeds, in the order in which they were placed.
pub(super) fn batteries_json(project: &Project) -> Value {
    let figure = |value: Option<f64>| value.map(|value| rounded(value, 2));
    battery_lives(project)
        .values()
        .filter_map(|life| {
            let device = project.devices.get(life.device)?;
            Some(json!({
                "tag": device.tag.to_string(),
                "messages_a_day": figure(life.messages_a_day),
                "years": figure(life.years()),
                "years_at_most": figure(life.years_at_most()),
            }))
        })
        .collect()
}

/// Both in words.
pub(super) fn lines(figures: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    for point in list(&figures["points"]) {
        let rules =
            list(&point["rules"]).iter().map(|rule| words(&rule["name"])).collect::<Vec<_>>().join("; ");
        lines.push(format!(
            "point: {} {}: {}, {}{}",
            words(&point["tag"]),
            words(&point["point"]),
            words(&point["type"]),
            words(&point["direction"]),
            if rules.is_empty() { String::new() } else { format!(", rules: {rules}") },
        ));
    }
    for battery in list(&figures["batteries"]) {
        let spoken = match battery["messages_a_day"].as_f64() {
            Some(_) => {
                let messages = figure(&battery["messages_a_day"], 1, "messages a day");
                format!("{messages}, about {} by estimate", figure(&battery["years"], 1, "years"))
            }
            None => "not played".to_owned(),
        };
        lines.push(format!(
            "battery: {}: {spoken}, at most {}",
            words(&battery["tag"]),
            figure(&battery["years_at_most"], 1, "years"),
        ));
    }
    lines
}
