//! Which plan and which storey of it a drawing goes into.

use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;
use pattress_model::units::Length;

use super::{SurveyArguments, Surveyed};
use crate::commands::Stop;

/// Ceiling of a storey until someone says how high it is, and the floor between it and the next: common practice
/// in houses, no published source.
const CEILING: Length = Length::mm(2400.0);
const FLOOR: Length = Length::mm(300.0);

/// The plan that is there, or an empty one.
pub fn plan_to_add_to(arguments: &SurveyArguments) -> Result<Surveyed, Stop> {
    if !crate::files::is_there(&arguments.out) {
        return Ok(Surveyed::default());
    }
    let plan = crate::files::read(&arguments.out).map_err(Stop::unreadable)?;
    if arguments.storey.is_empty() {
        return Err(Stop::unreadable(format!(
            "“{}” is there already: name the storey that it gains with --storey, or write to another --out",
            arguments.out.display()
        )));
    }
    Ok(Surveyed { project: plan.project, media: plan.media, told: Vec::new() })
}

/// The storey of that name; one on top of the others where there is none.
pub fn storey_named(plan: &mut Surveyed, name: Option<&String>) -> Result<Id<Level>, Stop> {
    let levels = plan.project.levels_upwards();
    let there = levels.iter().find(|(_, level)| name.is_some_and(|name| same(name, &level.name)));
    if let Some((id, _)) = there {
        return Ok(*id);
    }
    let floor_above_datum = levels.last().map_or(Length::ZERO, |(_, top)| {
        Length::mm(top.floor_above_datum.as_mm() + top.ceiling_affl.as_mm() + FLOOR.as_mm())
    });
    let name = name.cloned().unwrap_or_else(|| "Ground floor".to_owned());
    add(plan, Level { name, floor_above_datum, ceiling_affl: CEILING })
}

/// Adds a storey; gives its id.
pub fn add(plan: &mut Surveyed, level: Level) -> Result<Id<Level>, Stop> {
    let change = verbs::add_level(&plan.project, level).map_err(Stop::not_done)?;
    let id = new_level(&plan.project, &change);
    plan.take_in(change)?;
    id.ok_or_else(|| Stop::not_done("the storey could not be added: write to a new plan"))
}

fn new_level(project: &Project, change: &pattress_model::edit::Change) -> Option<Id<Level>> {
    verbs::new_things(project, change).into_iter().find_map(|subject| match subject {
        Subject::Level(id) => Some(id),
        _ => None,
    })
}

/// Whether two names of storeys are the same but for case and blanks about them.
pub fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}
