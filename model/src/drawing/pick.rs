//! What lies under the pointer, nearest and topmost first, so that what is seen is what is picked.
//!
//! Only what the drawing shows can be picked: a hidden layer is out of reach. Devices come before openings,
//! openings before joinery, then room lines and walls, rooms, zones and the underlay; the window walks down the list when
//! people click the same place again.

use kurbo::{ParamCurve as _, Point, Rect, Shape as _};

use super::{Item, Layer, Role, Shape};
use crate::building::outline::RoomOutline;
use crate::edit::Subject;
use crate::geometry::{Ring, Segment};
use crate::id::Id;
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::units::Length;

use std::collections::{BTreeMap, BTreeSet};

/// Everything under a point, nearest and topmost first. `tolerance_mm` is how far off, in plan mm, still counts.
/// Of the level's items those about the point are enough.
pub fn pick<'a>(
    items: impl Iterator<Item = &'a Item> + Clone,
    project: &Project,
    level: Id<Level>,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    at: Point,
    tolerance_mm: f64,
) -> Vec<Subject> {
    let shows = |layer: Layer| items.clone().any(|item| item.layer == layer);
    let mut found = by_distance(devices_at(items.clone(), at, tolerance_mm));
    found.extend(by_distance(spots_at(items.clone(), at, tolerance_mm)));
    if shows(Layer::Building) {
        found.extend(by_distance(openings_at(project, level, at, tolerance_mm)));
    }
    if shows(Layer::Joinery) {
        found.extend(by_distance(joinery_at(project, level, at, tolerance_mm)));
    }
    if shows(Layer::Building) {
        found.extend(by_distance(room_lines_at(project, level, at, tolerance_mm)));
        found.extend(by_distance(walls_at(project, level, at, tolerance_mm)));
    }
    if shows(Layer::Rooms) {
        let rooms = outlines.iter().filter(|(_, outline)| outline.contains(at));
        found.extend(rooms.map(|(id, _)| Subject::Room(*id)));
    }
    found.extend(zones_at(items.clone(), at));
    found.extend(underlays_at(items, at));
    let mut seen = BTreeSet::new();
    found.retain(|subject| seen.insert(*subject));
    found
}

/// Everything that lies wholly within a rectangle: devices, openings, joinery and walls. Rooms, zones and the
/// underlay are no things one gathers with a box.
pub fn pick_box<'a>(
    items: impl Iterator<Item = &'a Item> + Clone,
    project: &Project,
    level: Id<Level>,
    rect: Rect,
) -> Vec<Subject> {
    let shows = |layer: Layer| items.clone().any(|item| item.layer == layer);
    let holds = |points: &[Point]| {
        points
            .iter()
            .all(|point| rect.x0 <= point.x && point.x <= rect.x1 && rect.y0 <= point.y && point.y <= rect.y1)
    };
    let mut found: Vec<Subject> = device_rects(items.clone())
        .into_iter()
        .filter(|(_, bounds)| rect.contains_rect(*bounds))
        .map(|(subject, _)| subject)
        .collect();
    if shows(Layer::Building) {
        let inside = project
            .openings_on(level)
            .filter(|(_, opening, wall)| holds(&[wall.on_axis(opening.from()), wall.on_axis(opening.to())]));
        found.extend(inside.map(|(id, _, _)| Subject::Opening(id)));
    }
    if shows(Layer::Joinery) {
        let inside = project.joinery_on(level).filter(|(_, piece)| holds(&piece.corners()));
        found.extend(inside.map(|(id, _)| Subject::Joinery(id)));
    }
    if shows(Layer::Building) {
        let inside = project.walls_on(level).filter(|(_, wall)| holds(&[wall.start, wall.end]));
        found.extend(inside.map(|(id, _)| Subject::Wall(id)));
        let inside = project.room_lines_on(level).filter(|(_, line)| holds(&[line.start, line.end]));
        found.extend(inside.map(|(id, _)| Subject::RoomLine(id)));
    }
    found
}

/// Subjects by distance; of two at the same distance the one made later, which lies on top.
fn by_distance(mut found: Vec<(f64, Subject)>) -> Vec<Subject> {
    found.sort_by(|(near, a), (far, b)| near.total_cmp(far).then(b.cmp(a)));
    found.into_iter().map(|(_, subject)| subject).collect()
}

/// The rectangle of every device's symbol, without the ring of warning about it.
fn device_rects<'a>(items: impl Iterator<Item = &'a Item>) -> BTreeMap<Subject, Rect> {
    let mut rects: BTreeMap<Subject, Rect> = BTreeMap::new();
    for item in items.filter(|item| item.layer == Layer::Devices && item.role != Role::Missing) {
        let (Some(subject @ Subject::Device(_)), Shape::Path(path)) = (item.subject, &item.shape) else {
            continue;
        };
        let bounds = path.bounding_box();
        rects.entry(subject).and_modify(|rect| *rect = rect.union(bounds)).or_insert(bounds);
    }
    rects
}

fn devices_at<'a>(items: impl Iterator<Item = &'a Item>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    device_rects(items)
        .into_iter()
        .filter(|(_, rect)| rect.inflate(tolerance, tolerance).contains(at))
        .map(|(subject, rect)| (rect.center().distance(at), subject))
        .collect()
}

/// Spots by their lozenges, walks by their lines.
fn spots_at<'a>(items: impl Iterator<Item = &'a Item>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    let mut found = Vec::new();
    for item in items.filter(|item| item.layer == Layer::Spots) {
        let (Some(subject), Shape::Path(path)) = (item.subject, &item.shape) else { continue };
        let distance = match item.role {
            Role::Spot => path.bounding_box().center().distance(at) - path.bounding_box().width() / 2.0,
            Role::Walk => path
                .segments()
                .map(|leg| Segment::new(leg.eval(0.0), leg.eval(1.0)).distance_to(at))
                .fold(f64::INFINITY, f64::min),
            _ => continue,
        };
        if distance <= tolerance {
            found.push((distance.max(0.0), subject));
        }
    }
    found
}

fn openings_at(project: &Project, level: Id<Level>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    let mut found = Vec::new();
    for (id, opening, wall) in project.openings_on(level) {
        let along = wall.along_of(at).as_mm();
        let past_reveals = (opening.from().as_mm() - along).max(along - opening.to().as_mm()).max(0.0);
        let off_axis = (at - wall.on_axis(Length::mm(along))).hypot();
        let past_face = (off_axis - wall.thickness.as_mm() / 2.0).max(0.0);
        let mut distance = past_reveals.hypot(past_face);
        // A door is picked by its leaf too.
        if let crate::plan::OpeningForm::Door { state, .. } = opening.form
            && let Some((hinge, free_edge)) = opening.leaf(wall, state)
        {
            distance = distance.min(Segment::new(hinge, free_edge).distance_to(at));
        }
        if distance <= tolerance {
            found.push((distance, Subject::Opening(id)));
        }
    }
    found
}

/// Joinery by how far above the floor it is first: what hangs over a worktop is picked before it.
fn joinery_at(project: &Project, level: Id<Level>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    project
        .joinery_on(level)
        .filter(|(_, piece)| {
            let ring = Ring::new(piece.corners().to_vec());
            ring.contains(at) || ring.distance_to_outline(at) <= tolerance
        })
        .map(|(id, piece)| (-piece.base.as_mm(), Subject::Joinery(id)))
        .collect()
}

fn room_lines_at(project: &Project, level: Id<Level>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    project
        .room_lines_on(level)
        .map(|(id, line)| (Segment::new(line.start, line.end).distance_to(at), Subject::RoomLine(id)))
        .filter(|(distance, _)| *distance <= tolerance)
        .collect()
}

fn walls_at(project: &Project, level: Id<Level>, at: Point, tolerance: f64) -> Vec<(f64, Subject)> {
    project
        .walls_on(level)
        .map(|(id, wall)| (wall.distance_to_axis(at) - wall.thickness / 2.0, Subject::Wall(id)))
        .filter(|(past_face, _)| past_face.as_mm() <= tolerance)
        .map(|(past_face, subject)| (past_face.as_mm().max(0.0), subject))
        .collect()
}

/// Zones whose area holds the point, the smallest first: it lies on or in the larger ones.
fn zones_at<'a>(items: impl Iterator<Item = &'a Item>, at: Point) -> Vec<Subject> {
    let areas = items.filter_map(|item| match (item.subject, &item.shape) {
        (Some(subject @ Subject::Zone(_)), Shape::Path(path)) if item.role != Role::ZoneTie => {
            path.contains(at).then(|| (path.area().abs(), subject))
        }
        _ => None,
    });
    by_distance(areas.collect())
}

fn underlays_at<'a>(items: impl Iterator<Item = &'a Item>, at: Point) -> Vec<Subject> {
    let mut found: Vec<Subject> = items
        .filter_map(|item| match (item.subject, &item.shape) {
            (Some(subject @ Subject::Underlay(_)), Shape::Picture { plan_from_units, size, .. }) => {
                let pixel = plan_from_units.inverse() * at;
                let (width, height) = *size;
                Rect::new(0.0, 0.0, width, height).contains(pixel).then_some(subject)
            }
            _ => None,
        })
        .collect();
    found.reverse();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::plan::example::two_rooms;
    use crate::drawing::plan::{LevelFigures, PlanOptions, level_items};
    use crate::plan::DoorsAs;

    fn drawn(hidden: &[Layer]) -> (Vec<Item>, Project, Id<Level>, LevelFigures) {
        let (project, level) = two_rooms();
        let figures = LevelFigures::compute(&project, level, DoorsAs::Drawn);
        let layers = Layer::ALL.into_iter().filter(|layer| !hidden.contains(layer)).collect();
        let options = PlanOptions { scale: 50.0, layers, level_below: None };
        (level_items(&project, level, &figures, &options), project, level, figures)
    }

    fn words(project: &Project, found: &[Subject]) -> Vec<String> {
        let word = |subject: &Subject| match subject {
            Subject::Device(id) => project.devices.get(*id).map(|device| device.tag.to_string()),
            Subject::Opening(id) => project.openings.get(*id).map(|opening| opening.name().to_owned()),
            Subject::Joinery(id) => project.joinery.get(*id).map(|piece| piece.name.clone()),
            Subject::Room(id) => project.rooms.get(*id).map(|room| room.name.clone()),
            Subject::Zone(id) => project.zones.get(*id).map(|zone| zone.name.clone()),
            Subject::Wall(_) => Some("wall".to_owned()),
            _ => None,
        };
        found.iter().filter_map(word).collect()
    }

    #[test]
    fn what_lies_on_top_is_picked_first() {
        let (items, project, level, figures) = drawn(&[]);
        let cases: [((f64, f64), &[&str]); 9] = [
            ((1200.0, 1400.0), &["DL-12", "Living", "Living ceiling"]),
            ((2000.0, 1800.0), &["Living", "Living ceiling"]),
            ((3000.0, 3900.0), &["Wall units", "Worktop", "Living"]),
            ((2500.0, 3450.0), &["Worktop", "Living"]),
            ((4200.0, 900.0), &["door", "wall"]),
            ((4200.0, 2500.0), &["wall"]),
            ((6250.0, 4150.0), &["window", "wall"]),
            ((760.0, 600.0), &["Living"]),
            ((20_000.0, 0.0), &[]),
        ];
        for ((x, y), expected) in cases {
            let found = pick(items.iter(), &project, level, &figures.outlines, Point::new(x, y), 20.0);
            assert_eq!(words(&project, &found), expected, "at {x}, {y}");
        }
    }

    #[test]
    fn a_door_is_picked_by_its_leaf_and_tolerance_reaches_out() {
        let (items, project, level, figures) = drawn(&[]);
        let at = |x: f64, y: f64, tolerance: f64| {
            words(
                &project,
                &pick(items.iter(), &project, level, &figures.outlines, Point::new(x, y), tolerance),
            )
        };
        assert_eq!(at(4700.0, 500.0, 30.0)[0], "door");
        assert_eq!(at(4280.0, 2700.0, 10.0), ["Bedroom"]);
        assert_eq!(at(4280.0, 2700.0, 40.0), ["wall", "Bedroom"]);
    }

    #[test]
    fn hidden_layers_are_out_of_reach() {
        let (items, project, level, figures) = drawn(&[Layer::Devices, Layer::Joinery, Layer::Zones]);
        for (x, y) in [(1200.0, 1400.0), (2500.0, 3450.0)] {
            let found = pick(items.iter(), &project, level, &figures.outlines, Point::new(x, y), 20.0);
            assert_eq!(words(&project, &found), ["Living"]);
        }
    }

    #[test]
    fn a_box_gathers_what_lies_wholly_within() {
        let (items, project, level, _) = drawn(&[]);
        let lamps = pick_box(items.iter(), &project, level, Rect::new(900.0, 1100.0, 3300.0, 3100.0));
        assert_eq!(words(&project, &lamps), ["DL-12", "DL-13", "DL-14", "DL-15"]);
        let all = pick_box(items.iter(), &project, level, Rect::new(-500.0, -500.0, 9000.0, 5000.0));
        assert_eq!(all.len(), 16 + 4 + 3 + 5);
        let half_a_lamp = pick_box(items.iter(), &project, level, Rect::new(900.0, 1100.0, 1210.0, 1500.0));
        assert!(half_a_lamp.is_empty());
    }
}
