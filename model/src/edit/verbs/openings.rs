//! Doors, windows and plain openings: cut one, slide it along its wall, change it.
//!
//! Openings of one wall never overlap. A slid one stops at the next reveal; a typed one that does not fit is
//! refused.

use kurbo::Vec2;

use super::draft::Draft;
use super::words::gone;
use crate::edit::Change;
use crate::id::Id;
use crate::plan::{Opening, OpeningForm, Wall};
use crate::project::Project;
use crate::units::{Length, round_to_tenth};

/// Cuts an opening into its wall.
///
/// # Errors
/// A sentence, where it does not fit into the wall or overlaps another opening.
pub fn add_opening(project: &Project, opening: Opening) -> Result<Change, String> {
    if !project.walls.contains(opening.wall) {
        return Err(gone("wall"));
    }
    let opening = rounded(opening);
    refuse_overlap(project, None, &opening)?;
    let label = format!("Add {}", opening.name());
    let mut draft = Draft::of(project);
    draft.add(opening);
    draft.finish(label)
}

/// Slides an opening along its wall to a new centre, or as near to it as its neighbours allow.
///
/// # Errors
/// A sentence, where the opening is gone or has no room on its wall.
pub fn slide_opening(project: &Project, id: Id<Opening>, centre: Length) -> Result<Change, String> {
    let found = project.openings.get(id).ok_or_else(|| gone("opening"))?;
    let centre = nearest_room(project, Some(id), found.wall, found.width, centre)
        .ok_or_else(|| format!("the wall has no room for the {}: narrow it first", found.name()))?;
    let mut draft = Draft::of(project);
    draft.put(id, Opening { centre, ..found.clone() });
    draft.finish(format!("Slide {}", found.name()))
}

/// Changes an opening: its width, sill, head, hinge, swing or how it stands.
///
/// # Errors
/// A sentence, where it would no longer fit or would overlap another.
pub fn edit_opening(project: &Project, id: Id<Opening>, opening: Opening) -> Result<Change, String> {
    if !project.openings.contains(id) {
        return Err(gone("opening"));
    }
    let opening = rounded(opening);
    refuse_overlap(project, Some(id), &opening)?;
    let label = format!("Change {}", opening.name());
    let mut draft = Draft::of(project);
    draft.put(id, opening);
    draft.finish(label)
}

/// Hangs a door on its other jamb.
///
/// # Errors
/// A sentence, where it is no door.
pub fn flip_hinge(project: &Project, id: Id<Opening>) -> Result<Change, String> {
    flip(project, id, "Hang door on its other side", |form| {
        if let OpeningForm::Door { hinge, .. } = form {
            *hinge = hinge.other();
        }
    })
}

/// Makes a door swing to the other side of its wall.
///
/// # Errors
/// A sentence, where it is no door.
pub fn flip_swing(project: &Project, id: Id<Opening>) -> Result<Change, String> {
    flip(project, id, "Swing door the other way", |form| {
        if let OpeningForm::Door { swing, .. } = form {
            *swing = swing.other();
        }
    })
}

fn flip(
    project: &Project,
    id: Id<Opening>,
    label: &str,
    turn: impl Fn(&mut OpeningForm),
) -> Result<Change, String> {
    let mut opening = project.openings.get(id).ok_or_else(|| gone("door"))?.clone();
    if !matches!(opening.form, OpeningForm::Door { .. }) {
        return Err(format!("a {} has no hinges: pick a door", opening.name()));
    }
    turn(&mut opening.form);
    let mut draft = Draft::of(project);
    draft.put(id, opening);
    draft.finish(label)
}

fn rounded(opening: Opening) -> Opening {
    let form = match opening.form {
        OpeningForm::Window { sill } => OpeningForm::Window { sill: sill.rounded() },
        other => other,
    };
    Opening {
        centre: opening.centre.rounded(),
        width: opening.width.rounded(),
        head: opening.head.rounded(),
        form,
        ..opening
    }
}

/// An opening slid along its wall by a vector of the plan; `None` where there is no room.
pub(super) fn slid_by(project: &Project, id: Id<Opening>, by: Vec2) -> Option<Opening> {
    let opening = project.openings.get(id)?;
    let wall = project.walls.get(opening.wall)?;
    let wanted = opening.centre + Length::mm(by.dot(wall.direction()));
    let centre = nearest_room(project, Some(id), opening.wall, opening.width, wanted)?;
    Some(Opening { centre, ..opening.clone() })
}

/// The centre nearest to `wanted` at which an opening of that width fits into a wall and overlaps no other
/// than itself; `None` where there is no room.
pub fn nearest_room(
    project: &Project,
    itself: Option<Id<Opening>>,
    wall: Id<Wall>,
    width: Length,
    wanted: Length,
) -> Option<Length> {
    let length = project.walls.get(wall)?.length().as_mm();
    let half = width.as_mm() / 2.0;
    let others: Vec<(f64, f64)> = others_of(project, itself, wall)
        .map(|other| (other.from().as_mm() - half, other.to().as_mm() + half))
        .collect();
    // Kept to the tenth, and never rounded beyond an end of the wall.
    let first = (half * 10.0 - 1e-6).ceil() / 10.0;
    let last = ((length - half) * 10.0 + 1e-6).floor() / 10.0;
    if !wanted.as_mm().is_finite() || last < first {
        return None;
    }
    let wanted = wanted.as_mm().clamp(first, last);
    let is_free = |centre: f64| {
        (first..=last).contains(&centre)
            && !others.iter().any(|(from, to)| centre > from + 0.1 && centre < to - 0.1)
    };
    std::iter::once(wanted)
        .chain(others.iter().flat_map(|(from, to)| [*from, *to]))
        .map(round_to_tenth)
        .filter(|centre| is_free(*centre))
        .min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
        .map(Length::mm)
}

fn others_of(
    project: &Project,
    itself: Option<Id<Opening>>,
    wall: Id<Wall>,
) -> impl Iterator<Item = &Opening> {
    project
        .openings
        .iter()
        .filter(move |(id, other)| other.wall == wall && Some(*id) != itself)
        .map(|(_, other)| other)
}

fn refuse_overlap(project: &Project, itself: Option<Id<Opening>>, opening: &Opening) -> Result<(), String> {
    let overlaps = |other: &&Opening| {
        opening.from().as_mm() < other.to().as_mm() - 0.2 && opening.to().as_mm() > other.from().as_mm() + 0.2
    };
    match others_of(project, itself, opening.wall).find(overlaps) {
        Some(other) => Err(format!(
            "the {} would overlap a {} in the same wall: move or narrow it",
            opening.name(),
            other.name()
        )),
        None => Ok(()),
    }
}
