//! Line things up, and space them evenly.
//!
//! Devices count by their centres, joinery by its footprint. A device on a wall slides along it as far as that
//! brings it into line; on a wall across the line it stays.

use kurbo::{Point, Rect, Vec2};

use super::draft::Draft;
use super::move_things::{host_of, move_in};
use super::words::{label, picked};
use crate::edit::{Change, Subject};
use crate::kit::Mount;
use crate::project::Project;

/// What is brought into line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// Left sides, with the leftmost.
    Left,
    /// Right sides, with the rightmost.
    Right,
    /// Upper sides, with the uppermost.
    Top,
    /// Lower sides, with the lowest.
    Bottom,
    /// Centres, into one column half way between the outermost.
    CentreX,
    /// Centres, into one row half way between the outermost.
    CentreY,
}

/// Along which things are spaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Axis {
    /// From left to right.
    X,
    /// From bottom to top.
    Y,
}

/// A wall that runs at less than this to the axis (as a cosine) can't bring a device into line along it.
const TOO_STEEP: f64 = 0.1;

/// Brings things into line.
///
/// # Errors
/// A sentence, where there are not two devices or pieces of joinery.
pub fn align(project: &Project, subjects: &[Subject], edge: Edge) -> Result<Change, String> {
    let boxes = boxes_of(project, subjects, 2)?;
    let whole = boxes.iter().skip(1).fold(boxes[0].1, |whole, (_, rect)| whole.union(*rect));
    let mut draft = Draft::of(project);
    for (thing, rect) in &boxes {
        let by = match edge {
            Edge::Left => Vec2::new(whole.x0 - rect.x0, 0.0),
            Edge::Right => Vec2::new(whole.x1 - rect.x1, 0.0),
            Edge::Bottom => Vec2::new(0.0, whole.y0 - rect.y0),
            Edge::Top => Vec2::new(0.0, whole.y1 - rect.y1),
            Edge::CentreX => Vec2::new(middle(&boxes, |at| at.x) - rect.center().x, 0.0),
            Edge::CentreY => Vec2::new(0.0, middle(&boxes, |at| at.y) - rect.center().y),
        };
        bring(&mut draft, *thing, by);
    }
    draft.finish(label(project, "Align", &things_of(&boxes)))
}

/// Spaces things evenly from centre to centre between the outermost two.
///
/// # Errors
/// A sentence, where there are not three devices or pieces of joinery.
pub fn distribute(project: &Project, subjects: &[Subject], axis: Axis) -> Result<Change, String> {
    let mut boxes = boxes_of(project, subjects, 3)?;
    let along = |rect: &Rect| match axis {
        Axis::X => rect.center().x,
        Axis::Y => rect.center().y,
    };
    boxes.sort_by(|(_, a), (_, b)| along(a).total_cmp(&along(b)));
    let first = along(&boxes[0].1);
    let spacing = (along(&boxes[boxes.len() - 1].1) - first) / (boxes.len() - 1) as f64;
    let mut draft = Draft::of(project);
    for (index, (thing, rect)) in boxes.iter().enumerate() {
        let by = first + spacing * index as f64 - along(rect);
        let by = match axis {
            Axis::X => Vec2::new(by, 0.0),
            Axis::Y => Vec2::new(0.0, by),
        };
        bring(&mut draft, *thing, by);
    }
    draft.finish(format!("{} evenly", label(project, "Space", &things_of(&boxes))))
}

fn things_of(boxes: &[(Subject, Rect)]) -> Vec<Subject> {
    boxes.iter().map(|(thing, _)| *thing).collect()
}

fn middle(boxes: &[(Subject, Rect)], of: impl Fn(Point) -> f64) -> f64 {
    let centres = || boxes.iter().map(|(_, rect)| of(rect.center()));
    (centres().fold(f64::INFINITY, f64::min) + centres().fold(f64::NEG_INFINITY, f64::max)) / 2.0
}

/// Devices and joinery among the picked with the rectangles around them; at least `least` of them.
fn boxes_of(project: &Project, subjects: &[Subject], least: usize) -> Result<Vec<(Subject, Rect)>, String> {
    let things = picked(project, subjects)?;
    let boxes: Vec<(Subject, Rect)> = things
        .iter()
        .filter_map(|thing| match *thing {
            Subject::Device(id) => {
                let device = project.devices.get(id)?;
                if host_of(device).is_some_and(|host| things.contains(&host)) {
                    return None;
                }
                let at = project.position_of(device)?;
                Some((*thing, Rect::from_points(at, at)))
            }
            Subject::Joinery(id) => {
                let [first, rest @ ..] = project.joinery.get(id)?.corners();
                let around = rest.iter().fold(Rect::from_points(first, first), |rect, at| rect.union_pt(*at));
                Some((*thing, around))
            }
            _ => None,
        })
        .collect();
    if boxes.len() < least {
        let number = if least == 2 { "two" } else { "three" };
        return Err(format!("this needs at least {number} devices or pieces of joinery: pick more"));
    }
    Ok(boxes)
}

/// Moves one thing so that it comes to lie where the vector points, along its wall if it is on one.
fn bring(draft: &mut Draft, thing: Subject, by: Vec2) {
    let mut by = by;
    if let Subject::Device(id) = thing
        && let Some(device) = draft.now().devices.get(id)
        && let Mount::WallFace { wall, .. } = device.mount
        && let Some(wall) = draft.now().walls.get(wall)
    {
        let along = wall.direction();
        let component = if by.x == 0.0 { along.y } else { along.x };
        if component.abs() < TOO_STEEP {
            return;
        }
        by = along * ((by.x + by.y) / component);
    }
    if by != Vec2::ZERO {
        move_in(draft, &[thing], by);
    }
}
