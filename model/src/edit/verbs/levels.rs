//! Add a storey, change it, and copy walls from one storey to another.

use std::collections::BTreeMap;

use super::draft::Draft;
use super::edit_plan::named;
use super::words::{counted, gone};
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::plan::{Level, Opening, Wall};
use crate::project::Project;
use crate::units::Length;

/// Adds a storey.
///
/// # Errors
/// A sentence, where it has no name or its ceiling is not above its floor.
pub fn add_level(project: &Project, level: Level) -> Result<Change, String> {
    let level = tidy(level)?;
    let label = format!("Add level {}", level.name);
    let mut draft = Draft::of(project);
    draft.add(level);
    draft.finish(label)
}

/// Changes a storey's name, floor height or ceiling height.
///
/// # Errors
/// A sentence, where it is gone, would have no name or its ceiling would not be above its floor.
pub fn edit_level(project: &Project, id: Id<Level>, level: Level) -> Result<Change, String> {
    if !project.levels.contains(id) {
        return Err(gone("level"));
    }
    let level = tidy(level)?;
    let label = format!("Change level {}", level.name);
    let mut draft = Draft::of(project);
    draft.put(id, level);
    draft.finish(label)
}

/// Removes a storey with everything on it.
///
/// # Errors
/// A sentence, where it is the last one or a rule speaks of a device on it.
pub fn remove_level(project: &Project, id: Id<Level>) -> Result<Change, String> {
    super::remove_things(project, &[Subject::Level(id)])
}

/// Sets how high a storey's floor lies above the site datum and its ceiling above its floor.
///
/// # Errors
/// A sentence, where it is gone or its ceiling would not be above its floor.
pub fn set_level_heights(
    project: &Project,
    id: Id<Level>,
    floor_above_datum: Length,
    ceiling_affl: Length,
) -> Result<Change, String> {
    let level = project.levels.get(id).ok_or_else(|| gone("level"))?;
    edit_level(project, id, Level { floor_above_datum, ceiling_affl, ..level.clone() })
}

/// Whether the openings of copied walls are copied with them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CopiedOpenings {
    /// With the walls.
    With,
    /// The copies have no holes.
    Without,
}

/// The storey next above another, by the heights of their floors.
pub fn level_above(project: &Project, id: Id<Level>) -> Option<Id<Level>> {
    let levels = project.levels_upwards();
    let place = levels.iter().position(|(other, _)| *other == id)?;
    levels.get(place + 1).map(|(above, _)| *above)
}

/// Copies the walls of one storey, with their openings, onto another.
///
/// # Errors
/// A sentence, where there is nothing to copy or a storey is gone.
pub fn copy_walls_up(project: &Project, from: Id<Level>, to: Id<Level>) -> Result<Change, String> {
    copy_walls_to(project, from, to, CopiedOpenings::With)
}

/// Copies the walls of one storey onto another. Walls as high as the storey they come from become as high as the
/// one they go to.
///
/// # Errors
/// A sentence, where there is nothing to copy or a storey is gone.
pub fn copy_walls_to(
    project: &Project,
    from: Id<Level>,
    to: Id<Level>,
    openings: CopiedOpenings,
) -> Result<Change, String> {
    let upper = project.levels.get(to).ok_or_else(|| gone("level"))?;
    let lower = project.levels.get(from).ok_or_else(|| gone("level"))?;
    if from == to {
        return Err("the walls are already on this level: pick another level".to_owned());
    }
    let mut draft = Draft::of(project);
    let mut copies: BTreeMap<Id<Wall>, Id<Wall>> = BTreeMap::new();
    for (id, wall) in project.walls_on(from) {
        let height = if wall.height == lower.ceiling_affl { upper.ceiling_affl } else { wall.height };
        copies.insert(id, draft.add(Wall { level: to, height, ..wall.clone() }));
    }
    if copies.is_empty() {
        return Err("there are no walls on that level: draw some first".to_owned());
    }
    let copied = project.openings_on(from).filter(|_| openings == CopiedOpenings::With);
    for (_, opening, _) in copied {
        if let Some(wall) = copies.get(&opening.wall) {
            draft.add(Opening { wall: *wall, ..opening.clone() });
        }
    }
    draft.finish(format!("Copy {} to {}", counted(copies.len(), "wall"), upper.name))
}

fn tidy(level: Level) -> Result<Level, String> {
    Ok(Level {
        name: named("level", &level.name)?,
        floor_above_datum: level.floor_above_datum.rounded(),
        ceiling_affl: level.ceiling_affl.rounded(),
    })
}
