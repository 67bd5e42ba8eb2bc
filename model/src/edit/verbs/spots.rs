//! Mark spots, draw walks, draw the boundary of the site: what a study needs to know of the house's life.

use kurbo::Point;

use super::draft::Draft;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::plan::{Spot, Walk};
use crate::project::Project;
use crate::units::round_point;

/// Marks a spot.
///
/// # Errors
/// A sentence, where its level is gone or its place is no sound figure.
pub fn mark_spot(project: &Project, spot: Spot) -> Result<Change, String> {
    let spot = tidy_spot(spot);
    let label = format!("Mark {}", called(&spot));
    let mut draft = Draft::of(project);
    draft.add(spot);
    draft.finish(label)
}

/// Gives a spot another name, use, place or height.
///
/// # Errors
/// A sentence, where the spot is gone or a figure is not sound.
pub fn edit_spot(project: &Project, id: Id<Spot>, spot: Spot) -> Result<Change, String> {
    if !project.spots.contains(id) {
        return Err(gone("spot"));
    }
    let spot = tidy_spot(spot);
    let label = format!("Change {}", called(&spot));
    let mut draft = Draft::of(project);
    draft.put(id, spot);
    draft.finish(label)
}

/// Draws a walk.
///
/// # Errors
/// A sentence, where it has fewer than two points or a level of it is gone.
pub fn draw_walk(project: &Project, walk: Walk) -> Result<Change, String> {
    let mut draft = Draft::of(project);
    draft.add(tidy_walk(walk));
    draft.finish("Draw a walk")
}

/// Gives a walk another name, purpose or course.
///
/// # Errors
/// A sentence, where the walk is gone, or as for [`draw_walk`].
pub fn edit_walk(project: &Project, id: Id<Walk>, walk: Walk) -> Result<Change, String> {
    if !project.walks.contains(id) {
        return Err(gone("walk"));
    }
    let mut draft = Draft::of(project);
    draft.put(id, tidy_walk(walk));
    draft.finish("Change a walk")
}

/// Draws the boundary of the site, or takes it away where no corner is given.
///
/// # Errors
/// A sentence, where it has one or two corners or a corner is no sound figure.
pub fn draw_boundary(project: &Project, corners: Vec<Point>) -> Result<Change, String> {
    let label = if corners.is_empty() { "Take the boundary away" } else { "Draw the boundary of the site" };
    let mut site = project.site.as_ref().clone();
    site.boundary = corners.into_iter().map(round_point).collect();
    let mut draft = Draft::of(project);
    draft.put_site(site);
    draft.finish(label)
}

fn called(spot: &Spot) -> String {
    if spot.name.is_empty() { spot.spot_use.name().to_owned() } else { spot.name.clone() }
}

fn tidy_spot(spot: Spot) -> Spot {
    Spot {
        name: spot.name.trim().to_owned(),
        at: round_point(spot.at),
        height_affl: spot.height_affl.rounded(),
        ..spot
    }
}

/// Without points that lie on the one before them, as a double click leaves them.
fn tidy_walk(mut walk: Walk) -> Walk {
    walk.name = walk.name.trim().to_owned();
    for point in &mut walk.points {
        point.at = round_point(point.at);
    }
    walk.points.dedup();
    walk
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;
    use crate::plan::{SpotUse, WalkPoint, WalkPurpose};
    use crate::units::Length;

    fn house() -> (Project, Id<crate::plan::Level>) {
        let project = Project::new();
        let level = project.levels.ids().next().unwrap();
        (project, level)
    }

    #[test]
    fn a_spot_is_marked_changed_and_undone() {
        let (mut project, level) = house();
        let mut history = History::default();
        let spot = Spot {
            level,
            name: "  desk ".to_owned(),
            spot_use: SpotUse::Desk,
            at: Point::new(1.23, 4.56),
            height_affl: SpotUse::Desk.usual_height(),
        };
        let change = mark_spot(&project, spot).unwrap();
        history.apply(&mut project, change).unwrap();
        let (id, marked) = project.spots.iter().next().map(|(id, spot)| (id, spot.clone())).unwrap();
        assert_eq!((marked.name.as_str(), marked.at), ("desk", Point::new(1.2, 4.6)));
        let higher = Spot { height_affl: Length::mm(900.0), ..marked };
        let change = edit_spot(&project, id, higher).unwrap();
        history.apply(&mut project, change).unwrap();
        assert_eq!(project.spots.get(id).unwrap().height_affl, Length::mm(900.0));
        history.undo(&mut project);
        history.undo(&mut project);
        assert!(project.spots.is_empty());
    }

    #[test]
    fn a_walk_needs_two_points_that_differ() {
        let (project, level) = house();
        let at = |x: f64| WalkPoint { level, at: Point::new(x, 0.0) };
        let walk = |points| Walk { name: String::new(), purpose: WalkPurpose::Daily, points };
        for (points, drawn) in [
            (vec![at(0.0), at(0.0)], false),
            (vec![at(0.0)], false),
            (vec![at(0.0), at(900.0), at(900.0)], true),
        ] {
            assert_eq!(draw_walk(&project, walk(points)).is_ok(), drawn);
        }
    }

    #[test]
    fn a_boundary_has_three_corners_or_none() {
        let (project, _) = house();
        let corner = |x: f64| Point::new(x, x * x);
        assert!(draw_boundary(&project, vec![corner(0.0), corner(1.0)]).is_err());
        assert!(draw_boundary(&project, vec![corner(0.0), corner(1.0), corner(2.0)]).is_ok());
        assert!(draw_boundary(&project, Vec::new()).is_ok());
    }
}
