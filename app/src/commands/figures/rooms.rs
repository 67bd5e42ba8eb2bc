//! What rooms answer, as figures: shares, blind floor, overlaps, ways in with where somebody is first seen, walks,
//! spots at which somebody dwells, and what sensors see of other rooms.

use kurbo::Point;
use pattress_model::geometry::Region;
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::Project;
use pattress_model::studies::coverage::rooms::{Blind, Entry, Line, StaysOn, Stretch, Way};
use pattress_model::studies::coverage::{DwellAnswer, Report, RoomCoverage, Spill, WalkAnswer};
use serde_json::{Map, Value, json};

use super::{figure, level_name, list, percent, room_name, rounded, words};

/// Puts `rooms`, `walks`, `dwell` and `spill` into the figures of coverage.
pub(super) fn put(covered: &mut Value, project: &Project, report: &Report) {
    covered["rooms"] = report.rooms.iter().map(|room| room_json(project, room)).collect();
    covered["walks"] = report.walks.iter().filter_map(|walk| walk_json(project, walk)).collect();
    covered["dwell"] = report.dwell.iter().filter_map(|answer| dwell_json(project, answer)).collect();
    covered["spill"] = report.spill.iter().map(|spill| spill_json(project, spill)).collect();
}

fn room_json(project: &Project, room: &RoomCoverage) -> Value {
    let shares: Map<String, Value> = room
        .floor
        .shares
        .iter()
        .map(|(sense, share)| (sense.name().to_owned(), json!(rounded(*share, 4))))
        .collect();
    let by_sense: Map<String, Value> = room
        .floor
        .blind_by_sense
        .iter()
        .map(|(sense, blind)| (sense.name().to_owned(), areas_json(blind)))
        .collect();
    let blind = &room.floor.blind;
    let lighters: Vec<Value> = room
        .lighters
        .iter()
        .map(|lighter| {
            let (seconds, counted_from) = match lighter.stays_on {
                StaysOn::AfterLast(time) => (Some(time.0), Some("last seen")),
                StaysOn::AfterFirst(time) => (Some(time.0), Some("first seen")),
                StaysOn::Unsaid => (None, None),
            };
            json!({
                "tag": tag(project, lighter.device),
                "by_rule": lighter.rule.is_some(),
                "rule": lighter.rule.and_then(|rule| project.rules.get(rule)).map(|rule| rule.name.as_str()),
                "stays_on_s": seconds.map(|seconds| rounded(seconds, 3)),
                "counted_from": counted_from,
            })
        })
        .collect();
    json!({
        "name": room_name(project, room.room),
        "level": level_name(project, room.level),
        "area_m2": rounded(room.area.as_m2(), 4),
        "middle_mm": room.middle.map(point_json),
        "shares": shares,
        "blind": blind.areas.iter().flat_map(rings_json).collect::<Vec<_>>(),
        "blind_m2": rounded(blind.area().as_m2(), 4),
        "blind_areas": areas_json(blind),
        "blind_left_out": blind.slivers,
        "blind_left_out_m2": rounded(blind.in_slivers.as_m2(), 6),
        "blind_by_sense": by_sense,
        "overlap": rings_json(&room.floor.overlap),
        "overlap_m2": rounded(room.floor.overlap.area() / 1e6, 4),
        "lit_by": lighters,
        "entries": room.entries.iter().map(|entry| entry_json(project, room, entry)).collect::<Vec<_>>(),
    })
}

fn areas_json(blind: &Blind) -> Value {
    let area = |area: &Region| json!({ "rings": rings_json(area), "area_m2": rounded(area.area() / 1e6, 4) });
    blind.areas.iter().map(area).collect()
}

fn entry_json(project: &Project, room: &RoomCoverage, entry: &Entry) -> Value {
    let seen = entry.first_seen();
    let rule = seen.and_then(|seen| room.lighters.iter().find(|lighter| lighter.device == seen.by));
    let from_storey = match entry.way_in.way {
        Way::Stair(level) => level_name(project, level),
        Way::Door(_) | Way::Gap(_) | Way::Over(_) => None,
    };
    let from =
        entry.way_in.from.and_then(|from| room_name(project, from)).or(from_storey).unwrap_or("outside");
    json!({
        "from": from,
        "way": entry.way_in.way.name(),
        "from_level": from_storey,
        "at_mm": point_json(entry.way_in.at),
        "first_seen_mm": seen.map(|seen| rounded(seen.after.as_mm(), 1)),
        "seconds": entry.time().map(|time| rounded(time.0, 3)),
        "by": seen.map(|seen| tag(project, seen.by)),
        "by_rule": rule.map(|lighter| lighter.rule.is_some()),
        "reason": entry.reason(),
        "straight": entry.straight.map(|line| line_json(project, &line)),
        "to_middle": entry.to_middle.map(|line| line_json(project, &line)),
    })
}

fn line_json(project: &Project, line: &Line) -> Value {
    json!({
        "length_mm": rounded(line.length.as_mm(), 1),
        "first_seen_mm": line.seen.map(|seen| rounded(seen.after.as_mm(), 1)),
        "by": line.seen.map(|seen| tag(project, seen.by)),
    })
}

fn walk_json(project: &Project, answer: &WalkAnswer) -> Option<Value> {
    let walk = project.walks.get(answer.walk)?;
    let stretch = |stretch: &Stretch| {
        json!({
            "from_mm": rounded(stretch.from.as_mm(), 1),
            "to_mm": rounded(stretch.to.as_mm(), 1),
            "level": level_name(project, stretch.level),
            "room": stretch.room.map(|room| room_name(project, room)),
            "light": stretch.light.name(),
            "dark": stretch.light.is_dark(),
            "seen_by": stretch.seen_by.map(|device| tag(project, device)),
            "stays_on_is_said": stretch.seen_by.map(|_| stretch.stays_on_is_said),
        })
    };
    Some(json!({
        "name": walk.name,
        "purpose": walk.purpose.name(),
        "length_mm": rounded(answer.length.as_mm(), 1),
        "seconds": rounded(answer.time.0, 3),
        "stretches": answer.stretches.iter().map(stretch).collect::<Vec<_>>(),
    }))
}

fn dwell_json(project: &Project, answer: &DwellAnswer) -> Option<Value> {
    let spot = project.spots.get(answer.spot)?;
    Some(json!({
        "name": spot.name,
        "use": spot.spot_use.name(),
        "level": level_name(project, answer.level),
        "room": answer.room.map(|room| room_name(project, room)),
        "at_mm": point_json(spot.at),
        "noticed_by": answer.noticed_by.iter().map(|device| tag(project, *device)).collect::<Vec<_>>(),
        "lit_by_rule": answer.by_rule,
        "sits_in_the_dark": answer.sits_in_the_dark(),
    }))
}

fn spill_json(project: &Project, spill: &Spill) -> Value {
    let into: Vec<Value> = spill
        .into
        .iter()
        .map(
            |into| json!({ "room": room_name(project, into.room), "area_m2": rounded(into.area.as_m2(), 4) }),
        )
        .collect();
    json!({ "tag": tag(project, spill.device), "room": room_name(project, spill.room), "into": into })
}

fn tag(project: &Project, device: Id<Device>) -> Option<String> {
    project.devices.get(device).map(|device| device.tag.to_string())
}

fn point_json(point: Point) -> [f64; 2] {
    [rounded(point.x, 2), rounded(point.y, 2)]
}

fn rings_json(region: &Region) -> Vec<Vec<[f64; 2]>> {
    region.rings().map(|ring| ring.points().iter().copied().map(point_json).collect()).collect()
}

/// The same figures in words, a line each.
pub(super) fn lines(covered: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    for room in list(&covered["rooms"]) {
        let called = format!("{}, {}", words(&room["level"]), words(&room["name"]));
        for (sense, share) in room["shares"].as_object().into_iter().flatten() {
            lines.push(format!("covered: {called}: {} by {sense}", percent(share)));
        }
        for area in list(&room["blind_areas"]) {
            lines.push(format!("blind: {called}: {}", figure(&area["area_m2"], 2, "m²")));
        }
        for entry in list(&room["entries"]) {
            let from = words(&entry["from"]);
            lines.push(match entry["first_seen_mm"].as_f64() {
                Some(_) => format!(
                    "first seen: {called}, from {from}: after {}, {}, by {}",
                    figure(&entry["first_seen_mm"], 0, "mm"),
                    figure(&entry["seconds"], 1, "s"),
                    words(&entry["by"]),
                ),
                None => format!("first seen: {called}, from {from}: never, {}", words(&entry["reason"])),
            });
        }
    }
    for walk in list(&covered["walks"]) {
        for stretch in list(&walk["stretches"]) {
            lines.push(format!(
                "walk: {}: {} to {}, {}: light {}",
                words(&walk["name"]),
                figure(&stretch["from_mm"], 0, "mm"),
                figure(&stretch["to_mm"], 0, "mm"),
                stretch["room"].as_str().unwrap_or("in no room"),
                words(&stretch["light"]),
            ));
        }
    }
    for spot in list(&covered["dwell"]) {
        let by: Vec<&str> = list(&spot["noticed_by"]).iter().filter_map(Value::as_str).collect();
        lines.push(format!(
            "dwell: {} ({}): small movements noticed by {}",
            words(&spot["name"]),
            spot["room"].as_str().unwrap_or("in no room"),
            if by.is_empty() { "none".to_owned() } else { by.join(", ") },
        ));
    }
    for spill in list(&covered["spill"]) {
        for into in list(&spill["into"]) {
            lines.push(format!(
                "spill: {} ({}): sees {} of {} with doors open",
                words(&spill["tag"]),
                words(&spill["room"]),
                figure(&into["area_m2"], 2, "m²"),
                words(&into["room"]),
            ));
        }
    }
    lines
}
