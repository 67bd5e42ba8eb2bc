//! Close the hairlines between walls that a drawing shows as one piece.
//!
//! Walls of different thickness that run on in line, or end at a face, meet without their axes meeting. Kept to the
//! tenth of a millimetre such faces no longer touch, and rooms run into each other through the gap; so an end that
//! faces another wall's body is drawn a little into it.

use kurbo::{Point, Vec2};

use super::draft::Draft;
use super::wall_ends::SAME_CORNER_MM;
use crate::building::outline::WallSolid;
use crate::id::Id;
use crate::plan::{Level, Wall};
use crate::units::round_point;

/// How far such an end is drawn out, mm: more than rounding takes, less than anyone sees on a sheet.
const INTO_THE_OTHER_MM: f64 = 5.0;

/// Draws out those ends of these walls that lie at the body of another wall of the level, not at its axis.
pub(super) fn close_joints(draft: &mut Draft, level: Id<Level>, walls: &[Id<Wall>]) {
    if walls.is_empty() {
        return;
    }
    let solid = WallSolid::of_level(draft.now(), level, |_, _| true).region();
    let now = draft.now().clone();
    let is_at_an_axis = |id: Id<Wall>, end: Point| {
        now.walls_on(level)
            .any(|(other, wall)| other != id && wall.distance_to_axis(end).as_mm() <= SAME_CORNER_MM)
    };
    // Beyond its own end face there is only what belongs to another wall.
    let drawn_out = |id: Id<Wall>, end: Point, outwards: Vec2| {
        let beyond = end + outwards * INTO_THE_OTHER_MM;
        let faces_another = !is_at_an_axis(id, end) && solid.contains(beyond);
        if faces_another { round_point(beyond) } else { end }
    };
    for id in walls {
        let Some(wall) = now.walls.get(*id) else { continue };
        let along = wall.direction();
        let (start, end) = (drawn_out(*id, wall.start, -along), drawn_out(*id, wall.end, along));
        if (start, end) != (wall.start, wall.end) {
            draft.put(*id, Wall { start, end, ..wall.clone() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::building::outline::enclosed_spaces;
    use crate::plan::MakeUp;
    use crate::project::Project;
    use crate::units::Length;

    /// Two rooms side by side: the wall between them is of two thicknesses, flush on one side, with so much of a gap.
    fn two_rooms(gap: f64) -> (Draft, Id<Level>, Vec<Id<Wall>>) {
        let project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut draft = Draft::of(&project);
        let lines = [
            ((0.0, 0.0), (8000.0, 0.0), 200.0),
            ((8000.0, 0.0), (8000.0, 5000.0), 200.0),
            ((8000.0, 5000.0), (0.0, 5000.0), 200.0),
            ((0.0, 5000.0), (0.0, 0.0), 200.0),
            ((4000.0, 0.0), (4000.0, 2500.0 - gap), 60.0),
            ((3950.0, 5000.0), (3950.0, 2500.0), 160.0),
        ];
        let walls = lines.into_iter().map(|(start, end, thickness)| {
            draft.add(Wall {
                level,
                start: start.into(),
                end: end.into(),
                thickness: Length::mm(thickness),
                height: Length::mm(2400.0),
                make_up: MakeUp::Stud,
            })
        });
        let walls = walls.collect();
        (draft, level, walls)
    }

    #[test]
    fn walls_that_a_hairline_parts_are_closed_and_true_gaps_are_kept() {
        for (gap, rooms_before, rooms_after) in [(0.1, 1, 2), (3.0, 1, 2), (700.0, 1, 1)] {
            let (mut draft, level, walls) = two_rooms(gap);
            assert_eq!(enclosed_spaces(draft.now(), level).len(), rooms_before, "{gap}");
            let before: Vec<Wall> =
                walls.iter().filter_map(|id| draft.now().walls.get(*id).cloned()).collect();
            close_joints(&mut draft, level, &walls);
            assert_eq!(enclosed_spaces(draft.now(), level).len(), rooms_after, "{gap}");
            // What meets axis to axis stays as it is.
            for (id, before) in walls.iter().zip(&before).take(4) {
                assert_eq!(draft.now().walls.get(*id), Some(before), "{gap}");
            }
        }
    }
}
