//! Place many: rows and columns of one kind, as downlights are set out.
//!
//! Spacing S between devices and S/2 to the walls, so that each lights a like share of the room: common
//! practice, as makers' arrangement pages give it.

use kurbo::{Point, Rect};

use super::draft::Draft;
use super::place_device::{Placing, put_device};
use super::words::{counted, gone};
use crate::edit::Change;
use crate::edit::snap::host::joinery_at;
use crate::geometry::Shape;
use crate::kit::{Mount, MountKind};
use crate::project::Project;

/// No array holds more devices than this: more is a slip of the hand.
pub const MOST_IN_AN_ARRAY: u32 = 400;

/// The points of an array within a rectangle, row by row from the lower left, half a spacing off its sides.
/// An array without rows or columns, or above [`MOST_IN_AN_ARRAY`], has no points.
pub fn array_points(rect: Rect, rows: u32, columns: u32) -> Vec<Point> {
    if rows == 0 || columns == 0 || rows.saturating_mul(columns) > MOST_IN_AN_ARRAY {
        return Vec::new();
    }
    let rect = rect.abs();
    let (across, up) = (rect.width() / f64::from(columns), rect.height() / f64::from(rows));
    (0..rows)
        .flat_map(|row| (0..columns).map(move |column| (row, column)))
        .map(|(row, column)| {
            let from_corner =
                kurbo::Vec2::new(across * (f64::from(column) + 0.5), up * (f64::from(row) + 0.5));
            crate::units::round_point(rect.origin() + from_corner)
        })
        .collect()
}

/// The points of an array within the outline of a room: those of its bounding rectangle that lie inside.
pub fn array_points_in(outline: &Shape, rows: u32, columns: u32) -> Vec<Point> {
    let Some(rect) = outline.outer.bounds() else { return Vec::new() };
    let mut points = array_points(rect, rows, columns);
    points.retain(|point| outline.contains(*point));
    points
}

/// Places one device of a kind at each point. A name is numbered from 1 where there are several.
///
/// # Errors
/// A sentence, where there are no points or too many, or where the kind can't be fixed there.
pub fn place_many(
    project: &Project,
    placing: Placing,
    points: &[Point],
    name: &str,
) -> Result<Change, String> {
    let kind = project.kinds.get(placing.kind).ok_or_else(|| gone("kind"))?;
    if points.is_empty() || points.len() > MOST_IN_AN_ARRAY as usize {
        return Err(format!("an array holds 1 to {MOST_IN_AN_ARRAY} devices: change its rows or columns"));
    }
    let mut draft = Draft::of(project);
    for (index, at) in points.iter().copied().enumerate() {
        let mount = match kind.mount {
            MountKind::Ceiling => Mount::Ceiling { at },
            MountKind::Floor => Mount::Floor { at },
            MountKind::Outdoors => Mount::Outdoors { at },
            MountKind::Wall => {
                return Err(format!("a {} goes on a wall: place each one by itself", kind.name));
            }
            MountKind::Joinery => match joinery_at(project, placing.level, at, 0.0) {
                Some((joinery, offset)) => Mount::Joinery { joinery, offset },
                None => {
                    return Err(format!("a {} goes on joinery: keep the array within one piece", kind.name));
                }
            },
        };
        let own_name = match name.trim() {
            "" => String::new(),
            name if points.len() == 1 => name.to_owned(),
            name => format!("{name} {}", index + 1),
        };
        put_device(&mut draft, placing, mount, own_name)?;
    }
    draft.finish(format!("Place {}", counted(points.len(), "device")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spacing_is_halved_at_the_walls() {
        let rect = Rect::new(0.0, 0.0, 3000.0, 4000.0);
        let at = Point::new;
        for (rows, columns, points) in [
            (1, 1, vec![at(1500.0, 2000.0)]),
            (2, 1, vec![at(1500.0, 1000.0), at(1500.0, 3000.0)]),
            (1, 3, vec![at(500.0, 2000.0), at(1500.0, 2000.0), at(2500.0, 2000.0)]),
            (0, 3, vec![]),
            (100, 100, vec![]),
        ] {
            assert_eq!(array_points(rect, rows, columns), points, "{rows} × {columns}");
        }
    }

    #[test]
    fn points_outside_an_outline_are_left_out() {
        use crate::geometry::Ring;
        let corner_room = Shape::from_ring(Ring::new(vec![
            Point::new(0.0, 0.0),
            Point::new(4000.0, 0.0),
            Point::new(4000.0, 2000.0),
            Point::new(2000.0, 2000.0),
            Point::new(2000.0, 4000.0),
            Point::new(0.0, 4000.0),
        ]));
        let points = array_points_in(&corner_room, 2, 2);
        assert_eq!(
            points,
            [Point::new(1000.0, 1000.0), Point::new(3000.0, 1000.0), Point::new(1000.0, 3000.0)]
        );
    }
}
