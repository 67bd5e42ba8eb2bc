//! What cameras show, as figures: field of view, strip beneath, how far each level of detail reaches, targets, and what
//! lies beyond the site's boundary.

use pattress_model::geometry::Region;
use pattress_model::limits::camera_levels;
use pattress_model::project::Project;
use pattress_model::studies::coverage::{CameraCoverage, LevelReach, Report, TargetSeen};
use pattress_model::units::Length;
use serde_json::{Map, Value, json};

use super::{figure, level_name, list, rounded, words};

/// Puts `cameras` into the figures of coverage.
pub(super) fn put(covered: &mut Value, project: &Project, report: &Report) {
    covered["cameras"] = report.cameras.iter().filter_map(|camera| camera_json(project, camera)).collect();
}

fn camera_json(project: &Project, camera: &CameraCoverage) -> Option<Value> {
    let device = project.devices.get(camera.device)?;
    let by_level = |value: &dyn Fn(&LevelReach) -> Value| -> Map<String, Value> {
        camera.levels.iter().map(|reach| (reach.level.name.clone(), value(reach))).collect()
    };
    let is_placed = camera.height.is_some();
    Some(json!({
        "tag": device.tag.to_string(),
        "level": level_name(project, camera.level),
        "levels_of": camera_levels(project.site.camera_levels).title,
        "view_across_deg": rounded(camera.lens.view_across().as_degrees(), 4),
        "view_down_deg": rounded(camera.lens.view_down().as_degrees(), 4),
        "at_mm": [rounded(camera.lens.eye.x, 2), rounded(camera.lens.eye.y, 2)],
        "facing_deg": rounded(camera.lens.facing.wrapped().as_degrees(), 4),
        "tilt_deg": rounded(camera.lens.tilt.as_degrees(), 4),
        "height_affl_mm": length(camera.height),
        "target_height_mm": rounded(camera.target_height.as_mm(), 1),
        "near_blind_floor_mm": length(camera.near_strip(Length::ZERO)),
        "near_blind_mm": length(camera.near_strip(camera.target_height)),
        "far_limit_mm": length(camera.far_limit(camera.target_height)),
        "level_distances_mm": by_level(&|reach| json!(rounded(reach.along_axis.as_mm(), 1))),
        "level_farthest_seen_mm": by_level(&|reach| length(reach.farthest_seen)),
        "level_bands_m2": by_level(&|reach| json!(is_placed.then(|| rounded(reach.band.area() / 1e6, 4)))),
        "seen": is_placed.then(|| rings_json(&camera.seen)),
        "seen_m2": is_placed.then(|| rounded(camera.seen.area() / 1e6, 4)),
        "beyond_boundary_m2":
            camera.beyond_boundary.filter(|_| is_placed).map(|area| rounded(area.as_m2(), 4)),
        "targets": camera.targets.iter().filter_map(|target| target_json(project, target)).collect::<Vec<_>>(),
    }))
}

fn target_json(project: &Project, target: &TargetSeen) -> Option<Value> {
    let spot = project.spots.get(target.spot)?;
    Some(json!({
        "name": spot.name,
        "px_per_m": target.px_per_m.ok().map(|px_per_m| rounded(px_per_m, 2)),
        "level": target.level.map(|level| level.name.as_str()),
        "not_seen": target.px_per_m.err().map(|reason| reason.name()),
        "distance_mm": rounded(target.distance.as_mm(), 1),
        "down_angle_deg": target.px_per_m.ok().map(|_| rounded(target.down_angle.as_degrees(), 2)),
    }))
}

fn length(length: Option<Length>) -> Value {
    json!(length.map(|length| rounded(length.as_mm(), 1)))
}

fn rings_json(region: &Region) -> Vec<Vec<[f64; 2]>> {
    let ring = |ring: &pattress_model::geometry::Ring| {
        ring.points().iter().map(|point| [rounded(point.x, 2), rounded(point.y, 2)]).collect()
    };
    region.rings().map(ring).collect()
}

/// The same figures in words, a line each.
pub(super) fn lines(covered: &Value) -> Vec<String> {
    let mut lines = Vec::new();
    for camera in list(&covered["cameras"]) {
        let tag = words(&camera["tag"]);
        lines.push(format!(
            "camera: {tag} ({}): sees {} across and {} down, blind beneath to {} on the floor",
            words(&camera["level"]),
            figure(&camera["view_across_deg"], 1, "°"),
            figure(&camera["view_down_deg"], 1, "°"),
            figure(&camera["near_blind_floor_mm"], 0, "mm"),
        ));
        for (level, distance) in camera["level_distances_mm"].as_object().into_iter().flatten() {
            let seen = match camera["level_farthest_seen_mm"][level].as_f64() {
                Some(_) => format!("seen to {}", figure(&camera["level_farthest_seen_mm"][level], 0, "mm")),
                None => "seen nowhere".to_owned(),
            };
            lines.push(format!(
                "camera level: {tag}: {level} to {} along its axis, {seen}",
                figure(distance, 0, "mm")
            ));
        }
        for target in list(&camera["targets"]) {
            lines.push(match target["px_per_m"].as_f64() {
                Some(_) => format!(
                    "camera target: {tag}: {}: {}, {}",
                    words(&target["name"]),
                    figure(&target["px_per_m"], 1, "px/m"),
                    target["level"].as_str().unwrap_or("below every level"),
                ),
                None => {
                    format!(
                        "camera target: {tag}: {}: not seen, {}",
                        words(&target["name"]),
                        words(&target["not_seen"])
                    )
                }
            });
        }
        if camera["beyond_boundary_m2"].is_number() {
            let beyond = figure(&camera["beyond_boundary_m2"], 1, "m²");
            lines.push(format!("camera: {tag}: sees {beyond} beyond the site's boundary"));
        }
    }
    lines
}
