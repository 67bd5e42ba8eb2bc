//! Part an open space into rooms by a line, where no wall does.

use kurbo::Point;

use super::draft::Draft;
use crate::edit::Change;
use crate::id::Id;
use crate::plan::{Level, RoomLine};
use crate::project::Project;
use crate::units::round_point;

/// Draws room lines from point to point.
///
/// # Errors
/// A sentence, where there are no two points that differ, or the level is gone.
pub fn draw_room_lines(project: &Project, level: Id<Level>, points: &[Point]) -> Result<Change, String> {
    let mut points: Vec<Point> = points.iter().copied().map(round_point).collect();
    points.dedup();
    if points.len() < 2 {
        return Err("a room line needs two points: draw it from wall to wall".to_owned());
    }
    let mut draft = Draft::of(project);
    for pair in points.windows(2) {
        draft.add(RoomLine { level, start: pair[0], end: pair[1] });
    }
    draft.finish("Draw a room line")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;

    #[test]
    fn a_line_with_a_corner_is_two_lines_and_one_step() {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let at = |x: f64, y: f64| Point::new(x, y);
        let mut history = History::default();
        let points = [at(0.0, 0.0), at(0.0, 0.0), at(900.04, 0.0), at(900.0, 700.0)];
        let change = draw_room_lines(&project, level, &points).unwrap();
        history.apply(&mut project, change).unwrap();
        let ends: Vec<[Point; 2]> =
            project.room_lines.iter().map(|(_, line)| [line.start, line.end]).collect();
        assert_eq!(ends, [[at(0.0, 0.0), at(900.0, 0.0)], [at(900.0, 0.0), at(900.0, 700.0)]]);
        history.undo(&mut project);
        assert!(project.room_lines.is_empty());
        assert!(draw_room_lines(&project, level, &points[..2]).is_err());
    }
}
