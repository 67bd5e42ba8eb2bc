//! Names of spots and walks, set like the labels of devices: beside what they name where there is room, else on a
//! leader, never over a symbol, a wall or other lettering.
//!
//! They come last of all lettering, for they are notes; what is written before stays where it is.

use kurbo::{Rect, Size};

use super::{
    ABOVE_CAPITALS, BELOW_BASE, LINE_HEIGHT_MM, LabelRequest, LineToAvoid, PlacedLabel, lines_of,
    place_labels, text_bounds, wall_lines,
};
use crate::drawing::plan::{LOZENGE_MM, halo, segments_of, symbol_boxes};
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{Level, Walk};
use crate::project::Project;
use crate::units::Angle;

/// A name does not hide the line of a walk where it can stand beside it.
const WEIGHT_OF_WALK: f64 = 1.0;

/// A name is taken to be as far from the line of its walk as this, mm on paper.
const BESIDE_WALK_MM: f64 = 0.6;

/// The names of the spots and walks of a level; `written` is what the drawing already holds.
pub fn spot_name_items(project: &Project, level: Id<Level>, written: &[Item], scale: f64) -> Vec<Item> {
    let square = |at, half: f64| Rect::from_center_size(at, (2.0 * half * scale, 2.0 * half * scale));
    let mut named: Vec<(Subject, &str, Rect)> = Vec::new();
    for (id, spot) in project.spots_on(level) {
        let name = if spot.name.is_empty() { spot.spot_use.name() } else { spot.name.as_str() };
        named.push((Subject::Spot(id), name, square(spot.at, LOZENGE_MM)));
    }
    for (id, walk) in project.walks.iter().filter(|(_, walk)| !walk.name.is_empty()) {
        let middle = middle_of_longest_leg(walk, level);
        named.extend(middle.map(|at| (Subject::Walk(id), walk.name.as_str(), square(at, BESIDE_WALK_MM))));
    }
    let requests = named
        .iter()
        .map(|(_, name, symbol)| LabelRequest { symbol: *symbol, size: size_of(name, scale) })
        .collect();
    let texts = written.iter().filter_map(|item| text_bounds(&item.shape, scale));
    let obstacles: Vec<Rect> = symbol_boxes(project, level, scale).into_iter().chain(texts).collect();
    let mut lines = wall_lines(project, level);
    for item in written {
        lines.extend(lines_of(item, scale));
        if matches!(item.role, Role::Walk | Role::Leader) {
            let segments = segments_of(item, scale).into_iter();
            lines.extend(segments.map(|line| LineToAvoid { line, weight: WEIGHT_OF_WALK }));
        }
    }
    let placed = place_labels(requests, &obstacles, &lines, scale);
    named
        .iter()
        .zip(placed)
        .flat_map(|((subject, name, _), label)| name_items(*subject, name, label, scale))
        .collect()
}

fn size_of(name: &str, scale: f64) -> Size {
    let width = lettering::width(name, LINE_HEIGHT_MM, Weight::Regular);
    Size::new(width * scale, LINE_HEIGHT_MM * (1.0 + ABOVE_CAPITALS + BELOW_BASE) * scale)
}

/// The middle of the longest leg of a walk that lies on a level.
fn middle_of_longest_leg(walk: &Walk, level: Id<Level>) -> Option<kurbo::Point> {
    walk.points
        .windows(2)
        .filter(|leg| leg.iter().all(|end| end.level == level))
        .max_by(|a, b| a[0].at.distance(a[1].at).total_cmp(&b[0].at.distance(b[1].at)))
        .map(|leg| leg[0].at.midpoint(leg[1].at))
}

fn name_items(subject: Subject, name: &str, label: PlacedLabel, scale: f64) -> Vec<Item> {
    let (x, anchor) = match label.beside {
        1 => (label.bounds.x0, Anchor::Start),
        -1 => (label.bounds.x1, Anchor::End),
        _ => (label.bounds.center().x, Anchor::Middle),
    };
    let mut items = Vec::new();
    if let Some((from, to)) = label.leader {
        items.push(Item::line(Layer::Spots, Role::Leader, Some(subject), from, to));
    }
    items.push(halo(Layer::Spots, Some(subject), label.bounds, scale));
    let shape = Shape::Text {
        at: kurbo::Point::new(x, label.bounds.y0 + BELOW_BASE * LINE_HEIGHT_MM * scale),
        text: name.to_owned(),
        height_mm: LINE_HEIGHT_MM,
        weight: Weight::Regular,
        anchor,
        turn: Angle::ZERO,
    };
    items.push(Item { layer: Layer::Spots, role: Role::SpotName, subject: Some(subject), shape });
    items
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::drawing::labels::tag_items;
    use crate::drawing::plan::{device_items, spot_items};
    use crate::plan::{Spot, SpotUse, WalkPoint, WalkPurpose};
    use crate::project::Op;
    use crate::small_house::small_house;

    #[test]
    fn names_lie_over_no_symbol_no_wall_and_no_other_lettering() {
        let scale = 50.0;
        let mut house = small_house();
        let level = house.ground;
        let mut ids = house.project.fresh_ids();
        // Two by a corner, three in a heap beside devices, one in a wall.
        let places = [
            (80.0, 80.0),
            (200.0, 150.0),
            (2000.0, 1500.0),
            (2050.0, 1520.0),
            (2100.0, 1480.0),
            (0.0, 900.0),
        ];
        for (index, (x, y)) in places.into_iter().enumerate() {
            let (at, name) = (Point::new(x, y), format!("Place to sit, number {index}"));
            let spot =
                Spot { level, name, spot_use: SpotUse::Seat, at, height_affl: SpotUse::Seat.usual_height() };
            let _ = house.project.perform(Op::put(ids.issue(), spot));
        }
        let leg = |x: f64| WalkPoint { level, at: Point::new(x, 1500.0) };
        let walk = Walk {
            name: "To the sink".to_owned(),
            purpose: WalkPurpose::Daily,
            points: vec![leg(500.0), leg(3000.0)],
        };
        let _ = house.project.perform(Op::put(ids.issue(), walk));
        let project = &house.project;
        let mut written: Vec<Item> = spot_items(project, level, scale);
        written.retain(|item| item.role != Role::SpotName);
        for (id, device, kind) in project.devices_on(level) {
            written.extend(device_items(project, id, device, kind, scale));
        }
        written.extend(tag_items(project, level, &written, scale));
        let names = spot_name_items(project, level, &written, scale);
        let boxes: Vec<Rect> = names.iter().filter_map(|item| text_bounds(&item.shape, scale)).collect();
        assert_eq!(boxes.len(), places.len() + 1);
        let others = written.iter().filter_map(|item| text_bounds(&item.shape, scale));
        let obstacles: Vec<Rect> = others.chain(symbol_boxes(project, level, scale)).collect();
        let inner = |rect: &Rect| rect.inset(-1.0);
        for (index, name) in boxes.iter().enumerate() {
            let covers = |other: &Rect| inner(name).overlaps(inner(other));
            assert!(!obstacles.iter().any(covers), "{index} covers something");
            assert!(!boxes[index + 1..].iter().any(covers), "{index} covers another name");
            let walls = wall_lines(project, level);
            let crosses = |line: &LineToAvoid| {
                crate::drawing::labels::line_crosses(line.line.a, line.line.b, inner(name))
            };
            assert!(!walls.iter().any(crosses), "{index} lies over a wall");
        }
    }
}
