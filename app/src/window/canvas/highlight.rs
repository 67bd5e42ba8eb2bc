//! Marks of what is selected and what is pointed at.

use kurbo::{BezPath, Circle, Line, Point, Rect, Shape as _};
use pattress_model::drawing::plan::device_bounds;
use pattress_model::edit::Subject;
use pattress_model::geometry::Ring;
use pattress_model::plan::{Side, Walk};
use pattress_model::project::Project;
use pattress_model::systems::{Rule, Scene, Zone};

use crate::window::jobs::Figures;

/// The outline to draw around a thing on a level, plan mm; of a zone or a rule, around all it joins. Empty for
/// what is not on that level.
pub fn outline(
    project: &Project,
    figures: &Figures,
    level: pattress_model::id::Id<pattress_model::plan::Level>,
    subject: Subject,
    scale: f64,
) -> BezPath {
    let air = 0.8 * scale;
    match subject {
        Subject::Device(id) => project
            .devices
            .get(id)
            .filter(|device| device.level == level)
            .and_then(|device| device_bounds(project, device, project.kinds.get(device.kind)?, scale))
            .map_or_else(BezPath::new, |bounds| rounded(bounds.inflate(air, air), air)),
        Subject::Wall(id) => project
            .walls
            .get(id)
            .filter(|wall| wall.level == level)
            .map_or_else(BezPath::new, |wall| stretch(wall, 0.0, wall.length().as_mm())),
        Subject::Opening(id) => project
            .openings
            .get(id)
            .and_then(|opening| Some((opening, project.walls.get(opening.wall)?)))
            .filter(|(_, wall)| wall.level == level)
            .map_or_else(BezPath::new, |(opening, wall)| {
                stretch(wall, opening.from().as_mm(), opening.to().as_mm())
            }),
        Subject::Room(id) => {
            figures.outlines.get(&id).map_or_else(BezPath::new, |outline| outline.shape.outer.to_path())
        }
        Subject::Joinery(id) => project
            .joinery
            .get(id)
            .filter(|piece| piece.level == level)
            .map_or_else(BezPath::new, |piece| Ring::new(piece.corners().to_vec()).to_path()),
        Subject::Underlay(id) => project
            .underlays
            .get(id)
            .filter(|underlay| underlay.level == level)
            .map_or_else(BezPath::new, |underlay| {
                let (width, height) = (underlay.width, underlay.height);
                let mut path = Rect::new(0.0, 0.0, width, height).to_path(1.0);
                path.apply_affine(underlay.plan_from_drawing());
                path
            }),
        Subject::Spot(id) => project
            .spots
            .get(id)
            .filter(|spot| spot.level == level)
            .map_or_else(BezPath::new, |spot| Circle::new(spot.at, 3.0 * scale).to_path(0.1 * scale)),
        Subject::RoomLine(id) => project
            .room_lines
            .get(id)
            .filter(|line| line.level == level)
            .map_or_else(BezPath::new, |line| Line::new(line.start, line.end).to_path(1.0)),
        Subject::Walk(id) => project.walks.get(id).map_or_else(BezPath::new, |walk| walked(walk, level)),
        Subject::Zone(id) => joined(project, figures, level, project.zones.get(id).map(in_zone), scale),
        Subject::Rule(id) => {
            joined(project, figures, level, project.rules.get(id).map(|rule| in_rule(project, rule)), scale)
        }
        Subject::Kind(id) => {
            let of_kind = project.devices.iter().filter(|(_, device)| device.kind == id);
            joined(project, figures, level, Some(of_kind.map(|(id, _)| Subject::Device(id)).collect()), scale)
        }
        Subject::Scene(id) => joined(
            project,
            figures,
            level,
            project.scenes.get(id).map(|scene| in_scene(project, scene)),
            scale,
        ),
        Subject::Level(_) | Subject::Mode(_) | Subject::Script(_) | Subject::Site => BezPath::new(),
    }
}

/// The legs of a walk on one level.
fn walked(walk: &Walk, level: pattress_model::id::Id<pattress_model::plan::Level>) -> BezPath {
    let mut path = BezPath::new();
    for leg in walk.points.windows(2).filter(|leg| leg.iter().all(|point| point.level == level)) {
        path.move_to(leg[0].at);
        path.line_to(leg[1].at);
    }
    path
}

fn joined(
    project: &Project,
    figures: &Figures,
    level: pattress_model::id::Id<pattress_model::plan::Level>,
    devices: Option<Vec<Subject>>,
    scale: f64,
) -> BezPath {
    let mut path = BezPath::new();
    for device in devices.unwrap_or_default() {
        path.extend(outline(project, figures, level, device, scale));
    }
    path
}

fn in_zone(zone: &Zone) -> Vec<Subject> {
    zone.points.iter().map(|point| Subject::Device(point.device)).collect()
}

/// Devices that a rule speaks of: by point, by zone, by a scene it runs, or as a camera.
pub fn in_rule(project: &Project, rule: &Rule) -> Vec<Subject> {
    let mut devices: Vec<Subject> = rule.devices().into_iter().map(Subject::Device).collect();
    for zone in rule.zones() {
        devices.extend(project.zones.get(zone).map(in_zone).unwrap_or_default());
    }
    for scene in rule.scenes().into_iter().filter_map(|scene| project.scenes.get(scene)) {
        devices.extend(in_scene(project, scene));
    }
    devices.sort_unstable();
    devices.dedup();
    devices
}

/// Devices that a scene sets, by point or by zone.
fn in_scene(project: &Project, scene: &Scene) -> Vec<Subject> {
    let by_point = scene.points().map(|point| Subject::Device(point.device));
    let by_zone = scene.zones().filter_map(|zone| project.zones.get(zone)).flat_map(in_zone);
    by_point.chain(by_zone).collect()
}

fn stretch(wall: &pattress_model::plan::Wall, from: f64, to: f64) -> BezPath {
    use pattress_model::units::Length;
    let corners = [
        wall.on_face(Length::mm(from), Side::Right),
        wall.on_face(Length::mm(to), Side::Right),
        wall.on_face(Length::mm(to), Side::Left),
        wall.on_face(Length::mm(from), Side::Left),
    ];
    Ring::new(corners.to_vec()).to_path()
}

fn rounded(rect: Rect, radius: f64) -> BezPath {
    rect.to_rounded_rect(radius).to_path(radius / 20.0)
}

/// A small ring that marks a point, such as where a click will land.
pub fn mark(at: Point, radius: f64) -> BezPath {
    Circle::new(at, radius).to_path(radius / 20.0)
}
