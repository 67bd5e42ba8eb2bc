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

/// Thickness of a floor, from the ceiling below to the finished floor above, until the survey says better.
/// Common practice, no published source.
pub const FLOOR_BUILD_UP: Length = Length::mm(300.0);

/// From the floor of a storey to its ceiling, until the survey says better. Common practice, no published source.
pub const STOREY_HEIGHT: Length = Length::mm(2400.0);

/// A storey for the top of the house, as high as the one below; it is not in the plan yet.
pub fn level_on_top(project: &Project) -> Level {
    let levels = project.levels_upwards();
    let name = match levels.len() {
        0 => "Ground floor".to_owned(),
        1 => "First floor".to_owned(),
        2 => "Second floor".to_owned(),
        count => format!("Level {count}"),
    };
    match levels.last() {
        Some((_, top)) => Level {
            name,
            floor_above_datum: top.floor_above_datum + top.ceiling_affl + FLOOR_BUILD_UP,
            ceiling_affl: top.ceiling_affl,
        },
        None => Level { name, floor_above_datum: Length::ZERO, ceiling_affl: STOREY_HEIGHT },
    }
}

/// Whether two names are of one storey, whatever their case and the blanks about them.
pub fn same_storey(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// The storey of that name.
pub fn level_named(project: &Project, name: &str) -> Option<Id<Level>> {
    project.levels.iter().find(|(_, level)| same_storey(&level.name, name)).map(|(id, _)| id)
}

/// The only storey of a plan on which nothing is drawn, placed or laid yet.
pub fn lone_empty_level(project: &Project) -> Option<Id<Level>> {
    let empty = project.walls.is_empty()
        && project.devices.is_empty()
        && project.joinery.is_empty()
        && project.underlays.is_empty();
    project.levels.ids().next().filter(|_| empty && project.levels.len() == 1)
}

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

/// Whether the openings of copied walls are copied with them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CopiedOpenings {
    /// With the walls.
    With,
    /// The copies have no holes.
    Without,
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

pub(super) fn tidy(level: Level) -> Result<Level, String> {
    Ok(Level {
        name: named("level", &level.name)?,
        floor_above_datum: level.floor_above_datum.rounded(),
        ceiling_affl: level.ceiling_affl.rounded(),
    })
}
