//! Which plan and which storey of it a drawing goes into.

use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::project::Project;

use super::{SurveyArguments, Surveyed};
use crate::commands::Stop;

/// The plan that is there, or an empty one.
pub fn plan_to_add_to(arguments: &SurveyArguments) -> Result<Surveyed, Stop> {
    if !crate::files::is_there(&arguments.out) {
        return Ok(Surveyed { project: Project::new(), ..Surveyed::default() });
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

/// The storey of that name, or one on top of the others, which is given as well, for it is not in the plan yet; the
/// only storey of an empty plan takes the name.
pub fn storey_for(plan: &mut Surveyed, name: Option<&String>) -> Result<(Id<Level>, Option<Level>), Stop> {
    let project = &plan.project;
    if let Some(there) = name.and_then(|name| verbs::level_named(project, name)) {
        return Ok((there, None));
    }
    let Some(only) = verbs::lone_empty_level(project) else {
        let on_top = verbs::level_on_top(project);
        let level = Level { name: name.cloned().unwrap_or(on_top.name), ..on_top };
        return Ok((project.fresh_ids().issue(), Some(level)));
    };
    if let (Some(name), Some(level)) = (name, project.levels.get(only)) {
        let renamed = Level { name: name.clone(), ..level.clone() };
        let change = verbs::edit_level(project, only, renamed).map_err(Stop::not_done)?;
        plan.take_in(change)?;
    }
    Ok((only, None))
}
