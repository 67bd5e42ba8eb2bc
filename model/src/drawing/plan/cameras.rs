//! What a camera shows, with its levels of detail: hatched closer where detail is finer, and a line where each level
//! ends, with the level's name and figure along it.
//!
//! Names keep apart from one another: each slides along its line to where it is free, and is left out where it never
//! is.

use kurbo::{BezPath, Line, PathEl, Point, Rect};

use crate::drawing::labels::{readable, stretch_within, text_bounds};
use crate::drawing::lettering::width;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
use crate::edit::Subject;
use crate::geometry::intersection;
use crate::project::Project;
use crate::studies::coverage::{CameraCoverage, LevelReach};
use crate::units::Angle;

/// Height of the lettering along the lines, mm on paper (ISO 3098 series).
const LETTERS_MM: f64 = 1.8;

/// From the line to the foot of its lettering, mm on paper.
const OFF_LINE_MM: f64 = 0.6;

/// Pixels to a metre from which detail is hatched closer, and closest.
const MIDDLE_AND_FINE: [(f64, Role); 2] = [(62.5, Role::CameraBandMiddle), (250.0, Role::CameraBandFine)];

/// Where along its line a name is tried, as shares of it: the middle first.
const TRIED: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];

/// The items of one camera; `written` are the boxes of lettering to keep off, plan mm, and gains its own.
pub fn camera_items(
    project: &Project,
    camera: &CameraCoverage,
    scale: f64,
    written: &mut Vec<Rect>,
) -> Vec<Item> {
    if camera.seen.is_empty() || !project.devices.contains(camera.device) {
        return Vec::new();
    }
    let subject = Some(Subject::Device(camera.device));
    let area = |role, path| Item::path(Layer::Coverage, role, subject, path);
    let mut items = vec![area(Role::CoverageCamera, camera.seen.to_path())];
    for (px_per_m, role) in MIDDLE_AND_FINE {
        let Some(reach) = camera.levels.iter().find(|reach| reach.level.px_per_m >= px_per_m) else {
            continue;
        };
        let band = intersection(&reach.band, &camera.seen);
        if !band.is_empty() {
            items.push(area(role, band.to_path()));
        }
    }
    for reach in &camera.levels {
        for end in &reach.ends {
            items.push(Item::line(Layer::Coverage, Role::CameraLevelLine, subject, end.p0, end.p1));
            items.extend(name_along(*end, words(reach), subject, scale, written));
        }
    }
    items
}

/// `recognise 125`: the level and its pixels to a metre.
fn words(reach: &LevelReach) -> String {
    format!("{} {}", reach.level.name, reach.level.px_per_m)
}

/// The name along a line, where it finds room.
fn name_along(
    line: Line,
    text: String,
    subject: Option<Subject>,
    scale: f64,
    written: &mut Vec<Rect>,
) -> Option<Item> {
    let along = line.p1 - line.p0;
    let needed = width(&text, LETTERS_MM, Weight::Regular) * scale;
    if along.hypot() < needed {
        return None;
    }
    let turn = readable(Angle::of(along));
    let up = kurbo::Vec2::new(-turn.direction().y, turn.direction().x);
    for share in TRIED {
        let half = needed / 2.0 / along.hypot();
        let at = line.p0 + along * share.clamp(half, 1.0 - half) + up * (OFF_LINE_MM * scale);
        let shape = Shape::Text {
            at,
            text: text.clone(),
            height_mm: LETTERS_MM,
            weight: Weight::Regular,
            anchor: Anchor::Middle,
            turn,
        };
        let Some(bounds) = text_bounds(&shape, scale) else { continue };
        if written.iter().any(|other| other.overlaps(bounds)) {
            continue;
        }
        written.push(bounds);
        return Some(Item { layer: Layer::Coverage, role: Role::CameraLevelName, subject, shape });
    }
    None
}

/// The lines of levels cut to a rectangle, and their names moved to where they show; `written` are the boxes of all
/// other lettering. Everything else is left as it is.
pub(crate) fn lines_within(items: Vec<Item>, edge: Rect, scale: f64, mut written: Vec<Rect>) -> Vec<Item> {
    let mut kept = Vec::with_capacity(items.len());
    let mut shortened = None;
    for item in items {
        match (item.role, &item.shape) {
            (Role::CameraLevelLine, Shape::Path(path)) => {
                shortened = line_of(path).and_then(|line| Some((line, cut(line, edge)?)));
                if let Some((_, line)) = shortened {
                    kept.push(Item::line(item.layer, item.role, item.subject, line.p0, line.p1));
                }
            }
            (Role::CameraLevelName, Shape::Text { text, .. }) => {
                let Some((whole, line)) = shortened else { continue };
                if whole == line {
                    kept.push(item);
                } else {
                    kept.extend(name_along(line, text.clone(), item.subject, scale, &mut written));
                }
            }
            _ => kept.push(item),
        }
    }
    kept
}

/// The part of a line within a rectangle.
pub(super) fn cut(line: Line, edge: Rect) -> Option<Line> {
    let (from, to) = stretch_within(line.p0, line.p1, edge)?;
    let at = |share: f64| line.p0 + (line.p1 - line.p0) * share;
    Some(Line::new(at(from), at(to)))
}

/// The one line of a path.
fn line_of(path: &BezPath) -> Option<Line> {
    let point = |element: &PathEl| -> Option<Point> { element.end_point() };
    match path.elements() {
        [from, to] => Some(Line::new(point(from)?, point(to)?)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::CameraEdition;
    use crate::small_house::{bare_house, camera_outdoors, edit_site};
    use crate::studies::coverage::{Options, cameras};

    fn drawn() -> Vec<Item> {
        let mut house = bare_house();
        camera_outdoors(&mut house, 2600.0, 0.0);
        camera_outdoors(&mut house, 2600.0, 0.0);
        edit_site(&mut house, |site| site.camera_levels = CameraEdition::Of2014);
        let mut written = Vec::new();
        let found = cameras(&house.project, Options::default());
        found.iter().flat_map(|camera| camera_items(&house.project, camera, 50.0, &mut written)).collect()
    }

    fn names(items: &[Item]) -> Vec<(String, Rect)> {
        let named = items.iter().filter(|item| item.role == Role::CameraLevelName);
        named
            .filter_map(|item| match &item.shape {
                Shape::Text { text, .. } => Some((text.clone(), text_bounds(&item.shape, 50.0)?)),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn each_line_bears_its_level_and_no_two_names_meet() {
        let items = drawn();
        let lines = items.iter().filter(|item| item.role == Role::CameraLevelLine).count();
        // Within 12 m of each of the two: observe at 8 m and recognise at 4 m; identify, at 2 m, begins with the picture.
        assert!(lines >= 4, "{lines}");
        let names = names(&items);
        for word in ["observe 62.5", "recognise 125"] {
            assert_eq!(names.iter().filter(|(text, _)| text == word).count(), 2, "{word} {names:?}");
        }
        for (index, (_, bounds)) in names.iter().enumerate() {
            assert!(names[index + 1..].iter().all(|(_, other)| !other.overlaps(*bounds)), "{names:?}");
        }
        assert!(items.iter().any(|item| item.role == Role::CameraBandMiddle));
    }

    #[test]
    fn a_line_that_the_sheet_cuts_keeps_its_name_on_the_sheet() {
        let edge = Rect::new(2500.0, -30_000.0, 30_000.0, 30_000.0);
        let items = lines_within(drawn(), edge, 50.0, Vec::new());
        let names = names(&items);
        assert!(names.iter().any(|(text, _)| text == "observe 62.5"), "{names:?}");
        assert!(names.iter().all(|(_, bounds)| bounds.x0 >= 2500.0 - 1.0), "{names:?}");
        let gone = lines_within(drawn(), Rect::new(0.0, 20_000.0, 1.0, 20_001.0), 50.0, Vec::new());
        assert!(gone.iter().all(|item| !matches!(item.role, Role::CameraLevelLine | Role::CameraLevelName)));
    }
}
