//! Change a wall: take an end elsewhere, type its length, its thickness, its height or what it is made of.
//!
//! Doors, windows and devices on the wall keep their distance from the end that stays; what would no longer
//! fit is named and the change refused.

use kurbo::Point;

use super::WallSpec;
use super::draft::Draft;
use super::wall_ends::{NewEnds, SAME_CORNER_MM, put_ends};
use super::words::gone;
use crate::edit::Change;
use crate::edit::invariant::SHORTEST_WALL_MM;
use crate::id::Id;
use crate::plan::{Hand, Wall};
use crate::project::Project;
use crate::units::{Length, round_point};

/// Takes one end of a wall to a point. Ends of other walls at the same corner go with it.
///
/// # Errors
/// A sentence, where the wall would have no length or something on it would no longer fit.
pub fn move_wall_end(project: &Project, id: Id<Wall>, which: Hand, to: Point) -> Result<Change, String> {
    let wall = project.walls.get(id).ok_or_else(|| gone("wall"))?;
    let mut draft = Draft::of(project);
    put_ends(&mut draft, &corner_taken_to(project, wall, which, to));
    draft.finish("Move end of wall")
}

/// Gives a wall a typed length; its start stays and the corner at its end goes along.
///
/// # Errors
/// A sentence, where the length is not above zero or something on the wall would no longer fit.
pub fn set_wall_length(project: &Project, id: Id<Wall>, length: Length) -> Result<Change, String> {
    let wall = project.walls.get(id).ok_or_else(|| gone("wall"))?;
    if length.as_mm().is_nan() || length.as_mm() < SHORTEST_WALL_MM {
        return Err("the length of a wall must be above zero: type a length such as 3.6m".to_owned());
    }
    let mut draft = Draft::of(project);
    put_ends(&mut draft, &corner_taken_to(project, wall, Hand::End, wall.on_axis(length)));
    draft.finish("Set length of wall")
}

/// Gives walls another thickness, height or make-up.
///
/// # Errors
/// A sentence, where a wall is gone or a figure is not above zero.
pub fn edit_walls(project: &Project, walls: &[(Id<Wall>, WallSpec)]) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    for (id, spec) in walls {
        let wall = project.walls.get(*id).ok_or_else(|| gone("wall"))?;
        let WallSpec { thickness, height, make_up } = *spec;
        draft.put(
            *id,
            Wall { thickness: thickness.rounded(), height: height.rounded(), make_up, ..wall.clone() },
        );
    }
    draft.finish(if walls.len() == 1 {
        "Change wall".to_owned()
    } else {
        format!("Change {} walls", walls.len())
    })
}

fn corner_taken_to(project: &Project, wall: &Wall, which: Hand, to: Point) -> NewEnds {
    let corner = match which {
        Hand::Start => wall.start,
        Hand::End => wall.end,
    };
    let to = round_point(to);
    let new_end = |end: Point| if (end - corner).hypot() <= SAME_CORNER_MM { to } else { end };
    project
        .walls_on(wall.level)
        .map(|(id, other)| (id, (other.start, other.end), (new_end(other.start), new_end(other.end))))
        .filter(|(_, before, after)| before != after)
        .map(|(id, _, after)| (id, after))
        .collect()
}
