//! Draw walls: one along each leg of a polyline.

use kurbo::{Point, Rect};

use super::draft::Draft;
use super::wall_ends::{NewEnds, put_ends};
use super::words::{counted, gone};
use crate::edit::Change;
use crate::edit::invariant::SHORTEST_WALL_MM;
use crate::id::Id;
use crate::plan::{Hand, Level, MakeUp, Wall};
use crate::project::Project;
use crate::units::{Length, round_point};

/// What the walls about to be drawn have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallSpec {
    /// From face to face.
    pub thickness: Length,
    /// From finished floor to top.
    pub height: Length,
    /// What they are made of.
    pub make_up: MakeUp,
}

/// Draws a wall along each leg of a polyline, axis on the line. Legs shorter than a wall may be are left out,
/// as a double click makes them.
///
/// # Errors
/// A sentence, where no leg is long enough or a figure is out of bounds.
pub fn draw_walls(
    project: &Project,
    level: Id<Level>,
    points: &[Point],
    spec: WallSpec,
) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    let count = put_walls(&mut draft, level, points, spec)?;
    let label = if count == 1 { "Draw wall".to_owned() } else { format!("Draw {}", counted(count, "wall")) };
    draft.finish(label)
}

/// Draws one wall of a chain that is drawn by its faces: the walls before it are taken to the corner that it makes
/// with them, so that a chain of walls of any thickness stays closed. One step of undo.
///
/// # Errors
/// A sentence, where the wall has no length, a wall to be joined is gone, or something on it would no longer fit.
pub fn draw_wall_joined(
    project: &Project,
    level: Id<Level>,
    (start, end): (Point, Point),
    spec: WallSpec,
    joined: &[(Id<Wall>, Hand, Point)],
) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    for (id, which, to) in joined {
        let wall = draft.now().walls.get(*id).ok_or_else(|| gone("wall"))?;
        let to = round_point(*to);
        let ends = match which {
            Hand::Start => (to, wall.end),
            Hand::End => (wall.start, to),
        };
        put_ends(&mut draft, &NewEnds::from([(*id, ends)]));
    }
    put_walls(&mut draft, level, &[start, end], spec)?;
    draft.finish("Draw wall")
}

/// Draws the four walls of a room, their axes on the rectangle's sides, anticlockwise from the lower left.
///
/// # Errors
/// A sentence, where the rectangle has no width or no depth or a figure is out of bounds.
pub fn draw_room(project: &Project, level: Id<Level>, rect: Rect, spec: WallSpec) -> Result<Change, String> {
    let rect = rect.abs();
    if rect.width() < SHORTEST_WALL_MM || rect.height() < SHORTEST_WALL_MM {
        return Err("the room has no width or no depth: pick two opposite corners".to_owned());
    }
    let corners = [
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
        Point::new(rect.x0, rect.y0),
    ];
    let mut draft = Draft::of(project);
    put_walls(&mut draft, level, &corners, spec)?;
    draft.finish("Draw room")
}

fn put_walls(draft: &mut Draft, level: Id<Level>, points: &[Point], spec: WallSpec) -> Result<usize, String> {
    if !draft.now().levels.contains(level) {
        return Err(gone("level"));
    }
    let WallSpec { thickness, height, make_up } = spec;
    let mut count = 0;
    let mut points = points.iter().map(|point| round_point(*point));
    let Some(mut start) = points.next() else { return Err(no_length()) };
    for end in points {
        if (end - start).hypot() < SHORTEST_WALL_MM {
            continue;
        }
        draft.add(Wall {
            level,
            start,
            end,
            thickness: thickness.rounded(),
            height: height.rounded(),
            make_up,
        });
        start = end;
        count += 1;
    }
    if count == 0 { Err(no_length()) } else { Ok(count) }
}

fn no_length() -> String {
    "the wall has no length: pick two points that lie apart".to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;

    const SPEC: WallSpec =
        WallSpec { thickness: Length::mm(100.0), height: Length::mm(2400.0), make_up: MakeUp::Stud };

    fn ground(project: &Project) -> Id<Level> {
        project.levels.ids().next().unwrap()
    }

    #[test]
    fn each_leg_of_a_polyline_is_a_wall_and_slips_are_left_out() {
        let project = Project::new();
        let at = Point::new;
        for (points, walls) in [
            (vec![at(0.0, 0.0), at(1000.0, 0.0)], Ok(1)),
            (vec![at(0.0, 0.0), at(1000.0, 0.0), at(1000.0, 0.4), at(1000.0, 900.0)], Ok(2)),
            (vec![at(0.0, 0.0), at(0.3, 0.3)], Err(())),
            (vec![at(0.0, 0.0)], Err(())),
            (vec![], Err(())),
            (vec![at(0.0, 0.0), at(f64::NAN, 0.0)], Err(())),
            (vec![at(0.0, 0.0), at(1e9, 0.0)], Err(())),
        ] {
            let drawn = draw_walls(&project, ground(&project), &points, SPEC);
            assert_eq!(drawn.map(|change| change.ops.len()).map_err(|_| ()), walls, "{points:?}");
        }
    }

    #[test]
    fn a_wall_of_a_chain_takes_the_one_before_it_to_their_corner() {
        let mut project = Project::new();
        let at = Point::new;
        let level = ground(&project);
        let first = draw_walls(&project, level, &[at(0.0, 50.0), at(3000.0, 50.0)], SPEC).unwrap();
        History::default().apply(&mut project, first).unwrap();
        let id = project.walls.ids().next().unwrap();
        let leg = (at(2950.0, 50.0), at(2950.0, 2000.0));
        let second =
            draw_wall_joined(&project, level, leg, SPEC, &[(id, Hand::End, at(2950.0, 50.0))]).unwrap();
        assert_eq!((second.label.as_str(), second.ops.len()), ("Draw wall", 2));
        let mut history = History::default();
        history.apply(&mut project, second).unwrap();
        assert_eq!(project.walls.get(id).unwrap().end, at(2950.0, 50.0));
        history.undo(&mut project);
        assert_eq!(project.walls.get(id).unwrap().end, at(3000.0, 50.0));
        assert_eq!(project.walls.len(), 1);
        let none = Id::from_number(99);
        assert!(draw_wall_joined(&project, level, leg, SPEC, &[(none, Hand::End, leg.0)]).is_err());
    }

    #[test]
    fn a_room_has_four_walls_that_meet() {
        let mut project = Project::new();
        let rect = Rect::new(4000.04, 3000.0, 0.0, 0.0);
        let change = draw_room(&project, ground(&project), rect, SPEC).unwrap();
        assert_eq!(change.label, "Draw room");
        History::default().apply(&mut project, change).unwrap();
        let walls: Vec<&Wall> = project.walls.iter().map(|(_, wall)| wall).collect();
        assert_eq!(walls.len(), 4);
        for (index, wall) in walls.iter().enumerate() {
            assert_eq!(wall.end, walls[(index + 1) % 4].start);
        }
        assert_eq!(walls[0].end, Point::new(4000.0, 0.0));
    }
}
