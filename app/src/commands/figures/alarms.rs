//! The figures of fire alarms: reach by room and sense, the category the layout reaches, and sound at bedheads.

use pattress_model::building::Whereabouts;
use pattress_model::id::Id;
use pattress_model::plan::Room;
use pattress_model::project::{FireCategory, Project};
use pattress_model::studies::coverage::alarms::{CAUTION, Lacking, Report, alarms};
use pattress_model::units::Length;
use serde_json::{Value, json};

use super::{figure, level_name, list, room_name, rounded, words};

/// Puts `alarms` and `fire` beside the other figures of coverage.
pub(super) fn add_alarms(project: &Project, coverage: &mut Value) {
    let report = alarms(project, &Whereabouts::of(project));
    coverage["alarms"] = reaches(project, &report);
    coverage["fire"] = fire(project, &report);
}

fn reaches(project: &Project, report: &Report) -> Value {
    let each = report.reaches.iter().map(|reach| {
        json!({
            "room": room_name(project, reach.room),
            "level": level_name(project, reach.level),
            "sense": reach.sense.name(),
            "farthest_mm": millimetres(reach.farthest),
            "at": [rounded(reach.at.x, 1), rounded(reach.at.y, 1)],
            "limit_mm": millimetres(reach.limit),
            "along_centre_line": reach.along_centre_line,
        })
    });
    each.collect()
}

fn fire(project: &Project, report: &Report) -> Value {
    let asked = project.site.fire_category;
    let missing: Vec<Value> =
        report.cover.missing_for_next().map(|lacking| missing(project, lacking)).collect();
    let bedheads: Vec<Value> = report
        .bedheads
        .iter()
        .map(|head| {
            let tag =
                head.from.and_then(|device| project.devices.get(device)).map(|device| device.tag.to_string());
            json!({
                "name": project.spots.get(head.spot).map(|spot| spot.name.as_str()),
                "room": head.room.map(|room| room_name(project, room)),
                "level_dba": head.level_dba.map(|level| rounded(level, 1)),
                "from": tag,
                "way_mm": head.way.map(millimetres),
                "shut_doors": head.doors,
                "at_door_dba": head.at_door_dba.map(|level| rounded(level, 1)),
            })
        })
        .collect();
    let doors: Vec<Value> = report
        .doors
        .iter()
        .map(|door| {
            json!({
                "room": room_name(project, door.room),
                "from_hall_mm": door.from_hall.map(millimetres),
                "nearest_interlinked_mm": door.nearest_linked.map(millimetres),
            })
        })
        .collect();
    let unmarked: Vec<_> =
        report.bedrooms_without_bedhead.iter().map(|room| room_name(project, *room)).collect();
    json!({
        "caution": CAUTION,
        "category": report.cover.reached.map(FireCategory::name),
        "asked": asked.map(FireCategory::name),
        "missing": missing,
        "bedheads": bedheads,
        "bedrooms_without_bedhead": unmarked,
        "doors": doors,
    })
}

fn missing(project: &Project, lacking: &Lacking) -> Value {
    let room: Id<Room> = lacking.room;
    let level = project.rooms.get(room).map(|room| room.level);
    json!({
        "category": lacking.category.name(),
        "room": room_name(project, room),
        "level": level.map(|level| level_name(project, level)),
        "needs": lacking.need.name(),
        "out_of_reach": lacking.out_of_reach,
    })
}

fn millimetres(length: Length) -> f64 {
    rounded(length.as_mm(), 1)
}

/// The same in words.
pub(super) fn alarm_lines(coverage: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    for reach in list(&coverage["alarms"]) {
        lines.push(format!(
            "alarms: {}, {}: the farthest point is {} from the nearest {} alarm, of at most {}",
            words(&reach["level"]),
            words(&reach["room"]),
            figure(&reach["farthest_mm"], 0, "mm"),
            words(&reach["sense"]),
            figure(&reach["limit_mm"], 0, "mm"),
        ));
    }
    let fire = &coverage["fire"];
    if fire.is_null() {
        return lines;
    }
    lines.push(format!("fire: category reached: {}. {CAUTION}", words(&fire["category"])));
    for missing in list(&fire["missing"]) {
        lines.push(format!(
            "fire: for {}: {}, {} wants {}{}",
            words(&missing["category"]),
            words(&missing["level"]),
            words(&missing["room"]),
            words(&missing["needs"]),
            if missing["out_of_reach"] == true { " within reach of every point" } else { "" },
        ));
    }
    for head in list(&fire["bedheads"]) {
        lines.push(format!(
            "fire: {}: {} from {}, shut doors on the way {}",
            words(&head["name"]),
            figure(&head["level_dba"], 1, "dB(A)"),
            words(&head["from"]),
            head["shut_doors"],
        ));
    }
    lines
}
