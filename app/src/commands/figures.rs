//! `pattress figures`: every computed figure of a plan, with its unit.
//!
//! Both forms, words and JSON, are made from one value, so that they cannot differ.

mod alarms;
mod cameras;
mod intrusion;
mod points;
mod proof;
mod rooms;
mod survey;

use std::io::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use kurbo::Point;
use pattress_model::building::Whereabouts;
use pattress_model::drawing::dimensions::setting_out;
use pattress_model::geometry::Region;
use pattress_model::id::Id;
use pattress_model::plan::{Level, Room};
use pattress_model::project::Project;
use pattress_model::schedules::devices::hook_words;
use pattress_model::schedules::kit_list::{kit_lines, kit_total};
use pattress_model::schedules::zones::load_of;
use pattress_model::studies::coverage::{Options, Report, coverage};
use serde_json::{Map, Value, json};

use self::alarms::{add_alarms, alarm_lines};
use self::intrusion::{add_intrusion, intrusion_lines};
use self::proof::{proof_json, proof_lines};
use self::survey::{survey_json, survey_lines};
use super::{DONE, Stop};

/// The groups of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub enum Study {
    /// Levels and rooms, with areas and perimeters
    Rooms,
    /// Walls, openings, room outlines and the drawing beneath, level by level
    Survey,
    /// What each sensor covers, and what share of each room is covered
    Coverage,
    /// Where each box on a wall goes: how far from which corner or reveal, and how high
    SettingOut,
    /// Zones, with points and loads
    Zones,
    /// The point list for whoever programs the house; only where asked for
    Points,
    /// How long batteries last, estimated from the plan's scripts; only where asked for
    Batteries,
    /// What the kit costs, and the time and price of fitting it
    Costs,
    /// Rules tried in every order: what is wrong, by which script, and how far that went
    Proof,
}

/// Arguments of `figures`.
#[derive(Clone, Debug, Args)]
pub struct FiguresArguments {
    /// The plan: NAME.pattress, or a folder with the same content
    pub plan: PathBuf,
    /// Only this group of figures
    #[arg(long, value_name = "NAME")]
    pub study: Option<Study>,
    /// Print JSON
    #[arg(long)]
    pub json: bool,
}

/// Prints the figures.
///
/// # Errors
/// A plan that cannot be read, or an output that is shut.
pub fn figures(arguments: &FiguresArguments, out: &mut dyn Write) -> Result<u8, Stop> {
    let plan = crate::files::read(&arguments.plan).map_err(Stop::unreadable)?;
    let figures = figures_json(&plan.project, arguments.study);
    if arguments.json {
        writeln!(out, "{figures:#}")?;
    } else {
        for line in in_words(&figures) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(DONE)
}

/// The figures as JSON: metres, square metres, watts and the plan's currency, polygons in plan millimetres.
pub fn figures_json(project: &Project, study: Option<Study>) -> Value {
    let wanted = |of: Study| study.is_none_or(|wanted| wanted == of);
    let mut figures = Map::new();
    figures.insert("plan".to_owned(), json!(project.site.project_name));
    if wanted(Study::Rooms) {
        figures.insert("levels".to_owned(), levels(project));
    }
    // Geometry by the thousand lines is printed only where it is asked for by name.
    if study == Some(Study::Survey) {
        figures.insert("survey".to_owned(), survey_json(project));
    }
    if study == Some(Study::Points) {
        figures.insert("points".to_owned(), points::points_json(project));
    }
    if study == Some(Study::Batteries) {
        figures.insert("batteries".to_owned(), points::batteries_json(project));
    }
    if wanted(Study::Coverage) {
        figures.insert("coverage".to_owned(), covered(project, &coverage(project, Options::default())));
    }
    if wanted(Study::SettingOut) {
        figures.insert("setting_out".to_owned(), set_out(project));
    }
    if wanted(Study::Zones) {
        figures.insert("zones".to_owned(), zones(project));
    }
    if wanted(Study::Costs) {
        figures.insert("costs".to_owned(), costs(project));
    }
    // It takes seconds.
    if study == Some(Study::Proof) {
        figures.insert("proof".to_owned(), proof_json(project));
    }
    Value::Object(figures)
}

/// A figure to so many decimals, as JSON carries it.
pub(super) fn rounded(value: f64, decimals: i32) -> f64 {
    let factor = 10_f64.powi(decimals);
    // Adding nought turns a negative nought into a plain one.
    (value * factor).round() / factor + 0.0
}

fn levels(project: &Project) -> Value {
    let whereabouts = Whereabouts::of(project);
    let level_of = |(id, level): (Id<Level>, &Level)| {
        let rooms: Vec<Value> = project
            .rooms_on(id)
            .map(|(room_id, room)| {
                let outline = whereabouts.outline(project, room_id);
                let perimeter =
                    outline.map(|outline| Region { shapes: vec![outline.shape.clone()] }.perimeter());
                json!({
                    "name": room.name,
                    "use": room.room_use.name(),
                    "area_m2": outline.map(|outline| rounded(outline.area().as_m2(), 4)),
                    "perimeter_m": perimeter.map(|perimeter| rounded(perimeter / 1000.0, 4)),
                })
            })
            .collect();
        json!({
            "name": level.name,
            "floor_above_datum_m": rounded(level.floor_above_datum.as_m(), 4),
            "ceiling_affl_m": rounded(level.ceiling_affl.as_m(), 4),
            "rooms": rooms,
        })
    };
    project.levels_upwards().into_iter().map(level_of).collect()
}

fn covered(project: &Project, report: &Report) -> Value {
    let sensors: Vec<Value> = report
        .sensors
        .iter()
        .filter_map(|sensor| {
            let device = project.devices.get(sensor.device)?;
            let corner = |point: &Point| [rounded(point.x, 2), rounded(point.y, 2)];
            let rings: Vec<Vec<[f64; 2]>> =
                sensor.polygon.rings().map(|ring| ring.points().iter().map(corner).collect()).collect();
            Some(json!({
                "tag": device.tag.to_string(),
                "level": level_name(project, sensor.level),
                "room": sensor.room.map(|room| room_name(project, room)),
                "sense": sensor.sense.name(),
                "polygon": rings,
                "area_m2": rounded(sensor.area.as_m2(), 4),
                "share_of_room": sensor.share_of_room.map(|share| rounded(share, 4)),
            }))
        })
        .collect();
    let mut covered = json!({ "sensors": sensors });
    rooms::put(&mut covered, project, report);
    add_alarms(project, &mut covered);
    cameras::put(&mut covered, project, report);
    add_intrusion(project, &mut covered);
    covered
}

fn set_out(project: &Project) -> Value {
    let levels = project.levels_upwards();
    let boxes = levels.iter().flat_map(|(level, _)| setting_out(project, *level));
    boxes
        .filter_map(|found| {
            let device = project.devices.get(found.device)?;
            Some(json!({
                "tag": device.tag.to_string(),
                "level": level_name(project, device.level),
                "distance_mm": rounded(found.distance.as_mm(), 1),
                "from": hook_words(project, &found),
                "from_mm": [rounded(found.from_point.x, 1), rounded(found.from_point.y, 1)],
                "centre_mm": [rounded(found.to_point.x, 1), rounded(found.to_point.y, 1)],
                "height_affl_mm": found.height.map(|height| rounded(height.as_mm(), 1)),
            }))
        })
        .collect()
}

fn level_name(project: &Project, level: Id<Level>) -> Option<&str> {
    project.levels.get(level).map(|level| level.name.as_str())
}

fn room_name(project: &Project, room: Id<Room>) -> Option<&str> {
    project.rooms.get(room).map(|room| room.name.as_str())
}

fn zones(project: &Project) -> Value {
    let zone_of = |zone: &pattress_model::systems::Zone| {
        let points: Vec<String> = zone
            .points
            .iter()
            .filter_map(|point| Some(format!("{} {}", project.devices.get(point.device)?.tag, point.point)))
            .collect();
        json!({
            "name": zone.name,
            "purpose": zone.purpose.name(),
            "load_w": rounded(load_of(project, zone).0, 2),
            "points": points,
        })
    };
    project.zones.iter().map(|(_, zone)| zone_of(zone)).collect()
}

fn costs(project: &Project) -> Value {
    let lines = kit_lines(project);
    let total = kit_total(&lines);
    let each: Vec<Value> = lines
        .iter()
        .map(|line| {
            json!({
                "family": line.kind.family.name(),
                "kind": line.kind.name,
                "code": line.kind.code,
                "quantity": line.quantity,
                "unit_price": line.kind.price.as_units(),
                "sum": line.sum.as_units(),
                "hours": rounded(line.minutes as f64 / 60.0, 4),
                "labour": line.labour.as_units(),
            })
        })
        .collect();
    json!({
        "currency": project.site.currency,
        "hourly_rate": project.site.hourly_rate.as_units(),
        "lines": each,
        "quantity": total.quantity,
        "kit": total.sum.as_units(),
        "hours": rounded(total.minutes as f64 / 60.0, 4),
        "labour": total.labour.as_units(),
        "total": (total.sum.hundredths + total.labour.hundredths) as f64 / 100.0,
    })
}

/// The same figures in words, a line each.
fn in_words(figures: &Value) -> Vec<String> {
    let mut lines = vec![words(&figures["plan"])];
    for level in list(&figures["levels"]) {
        for room in list(&level["rooms"]) {
            lines.push(format!(
                "room: {}, {}: {}, floor {}, perimeter {}",
                words(&level["name"]),
                words(&room["name"]),
                words(&room["use"]),
                figure(&room["area_m2"], 2, "m²"),
                figure(&room["perimeter_m"], 2, "m"),
            ));
        }
    }
    lines.extend(survey_lines(&figures["survey"]));
    lines.extend(points::lines(figures));
    for sensor in list(&figures["coverage"]["sensors"]) {
        let room = sensor["room"].as_str().unwrap_or("in no room");
        let share = match sensor["share_of_room"].as_f64() {
            Some(_) => format!(", {} of its room", percent(&sensor["share_of_room"])),
            None => String::new(),
        };
        lines.push(format!(
            "sensor: {} ({room}, {}): {}, covers {}{share}",
            words(&sensor["tag"]),
            words(&sensor["level"]),
            words(&sensor["sense"]),
            figure(&sensor["area_m2"], 2, "m²"),
        ));
    }
    lines.extend(rooms::lines(&figures["coverage"]));
    lines.extend(alarm_lines(&figures["coverage"]));
    lines.extend(cameras::lines(&figures["coverage"]));
    lines.extend(intrusion_lines(&figures["coverage"]));
    for set_out in list(&figures["setting_out"]) {
        lines.push(format!(
            "set out: {} ({}): {} from the {}, facing the wall, height {}",
            words(&set_out["tag"]),
            words(&set_out["level"]),
            figure(&set_out["distance_mm"], 0, "mm"),
            words(&set_out["from"]),
            figure(&set_out["height_affl_mm"], 0, "mm AFFL"),
        ));
    }
    for zone in list(&figures["zones"]) {
        lines.push(format!(
            "zone: {}: {}, {} {}, load {}",
            words(&zone["name"]),
            words(&zone["purpose"]),
            list(&zone["points"]).len(),
            if list(&zone["points"]).len() == 1 { "point" } else { "points" },
            figure(&zone["load_w"], 1, "W"),
        ));
    }
    if let Some(costs) = figures.get("costs") {
        lines.extend(cost_lines(costs));
    }
    if let Some(proof) = figures.get("proof") {
        lines.extend(proof_lines(proof));
    }
    lines
}

fn cost_lines(costs: &Value) -> Vec<String> {
    let currency = words(&costs["currency"]);
    let mut lines: Vec<String> = list(&costs["lines"])
        .iter()
        .map(|line| {
            format!(
                "kit: {} × {}: {}, fitting {}, labour {}",
                line["quantity"],
                words(&line["kind"]),
                figure(&line["sum"], 2, &currency),
                figure(&line["hours"], 2, "h"),
                figure(&line["labour"], 2, &currency),
            )
        })
        .collect();
    lines.push(format!(
        "total: {} devices, kit {}, fitting {}, labour {}, together {}",
        costs["quantity"],
        figure(&costs["kit"], 2, &currency),
        figure(&costs["hours"], 2, "h"),
        figure(&costs["labour"], 2, &currency),
        figure(&costs["total"], 2, &currency),
    ));
    lines
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn words(value: &Value) -> String {
    value.as_str().filter(|words| !words.is_empty()).unwrap_or("none").to_owned()
}

fn figure(value: &Value, decimals: usize, unit: &str) -> String {
    value.as_f64().map_or_else(|| "missing".to_owned(), |value| format!("{value:.decimals$} {unit}"))
}

fn percent(value: &Value) -> String {
    value.as_f64().map_or_else(|| "no share".to_owned(), |share| format!("{:.1} %", share * 100.0))
}
