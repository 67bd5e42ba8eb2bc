//! What the survey of a house comes to: walls, openings and rooms of each level, and the drawing beneath.

use std::collections::BTreeMap;

use kurbo::Point;
use pattress_model::building::Whereabouts;
use pattress_model::id::Id;
use pattress_model::plan::{Level, ScaleFrom, Wall};
use pattress_model::project::Project;
use serde_json::{Value, json};

use super::{figure, list, rounded, words};

/// The figures as JSON, plan millimetres throughout; an opening names its wall by its place in the list, from 0.
pub(super) fn survey_json(project: &Project) -> Value {
    let whereabouts = Whereabouts::of(project);
    let levels = project.levels_upwards();
    let levels: Vec<Value> =
        levels.into_iter().map(|(id, level)| level_json(project, &whereabouts, id, level)).collect();
    json!({ "levels": levels })
}

fn level_json(project: &Project, whereabouts: &Whereabouts, id: Id<Level>, level: &Level) -> Value {
    let mut place: BTreeMap<Id<Wall>, usize> = BTreeMap::new();
    let mut walls: Vec<Value> = Vec::new();
    for (wall_id, wall) in project.walls_on(id) {
        place.insert(wall_id, walls.len());
        walls.push(json!({
            "axis": [pair(wall.start), pair(wall.end)],
            "thickness": rounded(wall.thickness.as_mm(), 2),
            "height": rounded(wall.height.as_mm(), 2),
            "make_up": wall.make_up.name(),
        }));
    }
    let openings: Vec<Value> = project
        .openings_on(id)
        .map(|(_, opening, wall)| {
            json!({
                "kind": opening.name(),
                "wall": place.get(&opening.wall),
                "at": pair(wall.on_axis(opening.centre)),
                "width": rounded(opening.width.as_mm(), 2),
                "sill": rounded(opening.sill().as_mm(), 2),
                "head": rounded(opening.head.as_mm(), 2),
            })
        })
        .collect();
    let rooms: Vec<Value> = project
        .rooms_on(id)
        .map(|(room_id, room)| {
            let outline = whereabouts.outline(project, room_id);
            let ring: Option<Vec<[f64; 2]>> =
                outline.map(|outline| outline.shape.outer.points().iter().copied().map(pair).collect());
            json!({
                "name": room.name,
                "area_m2": outline.map(|outline| rounded(outline.area().as_m2(), 4)),
                "outline": ring,
            })
        })
        .collect();
    let underlay = project.underlays.iter().find(|(_, underlay)| underlay.level == id);
    let underlay = underlay.map(|(_, underlay)| {
        json!({
            "mm_per_unit": rounded(underlay.mm_per_unit, 6),
            "turn_deg": rounded(least_turn(underlay.turn.wrapped().as_degrees()), 4),
            "scaled": underlay.scale_from.as_ref().map(ScaleFrom::words),
            "second_length": underlay.second_length.map(|second| {
                json!({
                    "known_mm": rounded(second.known.as_mm(), 2),
                    "measured_mm": rounded(second.measured.as_mm(), 2),
                })
            }),
            "on_sheets": underlay.on_sheets,
        })
    });
    json!({
        "name": level.name,
        "walls": walls,
        "openings": openings,
        "rooms": rooms,
        "underlay": underlay,
    })
}

/// The same turn, 180° either way at most, as people say it.
fn least_turn(degrees: f64) -> f64 {
    if degrees > 180.0 { degrees - 360.0 } else { degrees }
}

fn pair(point: Point) -> [f64; 2] {
    [rounded(point.x, 2), rounded(point.y, 2)]
}

/// How a drawing was scaled, what a second length said, and whether it is printed.
fn how_scaled(underlay: &Value) -> String {
    let mut told = match underlay["scaled"].as_str() {
        Some(words) => format!("scaled {words}"),
        None => "its scale found in no way that was kept".to_owned(),
    };
    let second = &underlay["second_length"];
    if second.is_object() {
        let (known, measured) = (&second["known_mm"], &second["measured_mm"]);
        told.push_str(&format!(
            ", checked: {} measures {}",
            figure(known, 1, "mm"),
            figure(measured, 1, "mm")
        ));
    }
    if underlay["on_sheets"].as_bool() == Some(true) {
        told.push_str(", printed on sheets");
    }
    told
}

/// The same in words, a line each.
pub(super) fn survey_lines(survey: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    for level in list(&survey["levels"]) {
        let name = words(&level["name"]);
        if level["underlay"].is_object() {
            lines.push(format!(
                "drawing beneath: {name}: {} to its unit, turned {}, {}",
                figure(&level["underlay"]["mm_per_unit"], 4, "mm"),
                figure(&level["underlay"]["turn_deg"], 2, "°"),
                how_scaled(&level["underlay"]),
            ));
        }
        for (place, wall) in list(&level["walls"]).iter().enumerate() {
            lines.push(format!(
                "wall: {name}, {place}: {} to {}, {} thick",
                wall["axis"][0],
                wall["axis"][1],
                figure(&wall["thickness"], 0, "mm"),
            ));
        }
        for opening in list(&level["openings"]) {
            lines.push(format!(
                "{}: {name}, in wall {}: {} wide, sill {}, head {}",
                words(&opening["kind"]),
                opening["wall"],
                figure(&opening["width"], 0, "mm"),
                figure(&opening["sill"], 0, "mm"),
                figure(&opening["head"], 0, "mm"),
            ));
        }
        for room in list(&level["rooms"]) {
            lines.push(format!(
                "outline: {name}, {}: {}",
                words(&room["name"]),
                figure(&room["area_m2"], 2, "m²")
            ));
        }
    }
    lines
}
