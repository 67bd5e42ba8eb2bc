//! Give walls new ends and bring along what stands on them.
//!
//! Things on a wall keep their distance from the end that stays; where both ends go, from the start. Ends of
//! other walls at the same corner follow, so that rooms stay closed.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};

use super::draft::Draft;
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::{Level, Opening, Wall};
use crate::project::Project;
use crate::units::{Length, round_point};

/// Wall ends nearer to each other than this are one corner, mm; as in the outlines.
pub(super) const SAME_CORNER_MM: f64 = 1.0;

/// Ends kept to the tenth make a turned wall longer or shorter by no more than this, mm.
const ROUNDING_MM: f64 = 0.5;

/// The new ends of walls.
pub(super) type NewEnds = BTreeMap<Id<Wall>, (Point, Point)>;

/// New ends for walls moved by a vector and for the ends of other walls that meet them.
pub(super) fn ends_moved_with_corners(project: &Project, walls: &[Id<Wall>], by: Vec2) -> NewEnds {
    let mut corners: Vec<(Id<Level>, Point)> = Vec::new();
    for wall in walls.iter().filter_map(|id| project.walls.get(*id)) {
        corners.extend([(wall.level, wall.start), (wall.level, wall.end)]);
    }
    project
        .walls
        .iter()
        .filter_map(|(id, wall)| {
            let whole = walls.contains(&id);
            let goes = |end: Point| {
                whole
                    || corners.iter().any(|(level, corner)| {
                        *level == wall.level && (*corner - end).hypot() <= SAME_CORNER_MM
                    })
            };
            let new_end = |end: Point| if goes(end) { round_point(end + by) } else { end };
            let ends = (new_end(wall.start), new_end(wall.end));
            (ends != (wall.start, wall.end)).then_some((id, ends))
        })
        .collect()
}

/// Puts walls with new ends, and what stands on them, into a draft.
pub(super) fn put_ends(draft: &mut Draft, ends: &NewEnds) {
    for (id, (start, end)) in ends {
        let Some(former) = draft.now().walls.get(*id).cloned() else { continue };
        let wall = Wall { start: *start, end: *end, ..former.clone() };
        let shift = if former.start != wall.start && former.end == wall.end {
            wall.length() - former.length()
        } else {
            Length::ZERO
        };
        draft.put(*id, wall);
        settle_along(draft, *id, shift);
    }
}

/// Shifts everything on a wall along it, and draws in what rounding left a hair beyond its end.
fn settle_along(draft: &mut Draft, id: Id<Wall>, shift: Length) {
    let now = draft.now().clone();
    let Some(length) = now.walls.get(id).map(|wall| (wall.length().as_mm() * 10.0).floor() / 10.0) else {
        return;
    };
    let settled = |place: Length, half: f64| {
        let (wanted, first, last) = ((place + shift).rounded().as_mm(), half, length - half);
        let drawn_in = wanted.min(last).max(first);
        Length::mm(if (drawn_in - wanted).abs() <= ROUNDING_MM { drawn_in } else { wanted }).rounded()
    };
    for (opening_id, opening) in now.openings.iter().filter(|(_, opening)| opening.wall == id) {
        let centre = settled(opening.centre, opening.width.as_mm() / 2.0);
        if centre != opening.centre {
            draft.put(opening_id, Opening { centre, ..opening.clone() });
        }
    }
    for (device_id, device) in now.devices.iter() {
        if let Mount::WallFace { wall, side, along: former } = device.mount
            && wall == id
        {
            let along = settled(former, 0.0);
            if along != former {
                draft.put(
                    device_id,
                    Device { mount: Mount::WallFace { wall, side, along }, ..device.clone() },
                );
            }
        }
    }
}
