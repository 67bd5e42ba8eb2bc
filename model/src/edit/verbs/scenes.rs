//! Add scenes and house modes, rewrite and rename them, remove them.

use super::draft::Draft;
use super::edit_plan::named;
use super::words::gone;
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::project::Project;
use crate::systems::{Mode, Scene};

/// Adds a scene.
///
/// # Errors
/// A sentence, where it has no name or sets something that is not there.
pub fn add_scene(project: &Project, scene: Scene) -> Result<Change, String> {
    let scene = Scene { name: named("scene", &scene.name)?, ..scene };
    let label = format!("Add scene {}", scene.name);
    let mut draft = Draft::of(project);
    draft.add(scene);
    draft.finish(label)
}

/// Puts a rewritten scene in place of the former.
///
/// # Errors
/// A sentence, where it is gone, would have no name or sets something that is not there.
pub fn edit_scene(project: &Project, id: Id<Scene>, scene: Scene) -> Result<Change, String> {
    if !project.scenes.contains(id) {
        return Err(gone("scene"));
    }
    let scene = Scene { name: named("scene", &scene.name)?, ..scene };
    let label = format!("Change scene {}", scene.name);
    let mut draft = Draft::of(project);
    draft.put(id, scene);
    draft.finish(label)
}

/// Removes a scene.
///
/// # Errors
/// A sentence, where it is gone or a rule runs it.
pub fn remove_scene(project: &Project, id: Id<Scene>) -> Result<Change, String> {
    super::remove_things(project, &[Subject::Scene(id)])
}

/// Adds a house mode.
///
/// # Errors
/// A sentence, where it has no name or the name is taken.
pub fn add_mode(project: &Project, name: &str) -> Result<Change, String> {
    let name = free_name(project, None, name)?;
    let label = format!("Add house mode {name}");
    let mut draft = Draft::of(project);
    draft.add(Mode { name });
    draft.finish(label)
}

/// Gives a house mode another name.
///
/// # Errors
/// A sentence, where it is gone, would have no name or the name is taken.
pub fn rename_mode(project: &Project, id: Id<Mode>, name: &str) -> Result<Change, String> {
    if !project.modes.contains(id) {
        return Err(gone("mode"));
    }
    let name = free_name(project, Some(id), name)?;
    let label = format!("Rename house mode {name}");
    let mut draft = Draft::of(project);
    draft.put(id, Mode { name });
    draft.finish(label)
}

/// Removes a house mode.
///
/// # Errors
/// A sentence, where it is gone or a rule speaks of it.
pub fn remove_mode(project: &Project, id: Id<Mode>) -> Result<Change, String> {
    super::remove_things(project, &[Subject::Mode(id)])
}

/// A name that no other mode has; `At home` is every house's own.
fn free_name(project: &Project, itself: Option<Id<Mode>>, name: &str) -> Result<String, String> {
    let name = named("mode", name)?;
    let same = |other: &str| other.to_lowercase() == name.to_lowercase();
    let taken = project.modes.iter().any(|(id, mode)| Some(id) != itself && same(&mode.name));
    if taken || same("At home") {
        return Err(format!("there is already a house mode “{name}”: type another name"));
    }
    Ok(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::add_rule;
    use crate::small_house::small_house;
    use crate::systems::{
        Action, Condition, Deed, HouseMode, Rule, RuleBody, Setting, Target, Trigger, Value,
    };
    use crate::units::{Seconds, TimeOfDay};

    #[test]
    fn what_a_rule_runs_or_speaks_of_stays_until_the_rule_goes() {
        let house = small_house();
        let (zone, _) = house.project.zones.iter().next().unwrap();
        let (mut project, mut history) = (house.project.clone(), History::default());
        let mut apply = |project: &mut Project, change: Result<Change, String>| {
            history.apply(project, change.unwrap()).unwrap();
        };
        let settings = vec![Setting { target: Target::Zone(zone), value: Value::On, fade: Seconds::ZERO }];
        let film = Scene { name: " Film ".to_owned(), room: None, settings };
        let change = add_scene(&project, film);
        apply(&mut project, change);
        let change = add_mode(&project, "Night");
        apply(&mut project, change);
        let (scene, kept) = project.scenes.iter().map(|(id, kept)| (id, kept.clone())).next().unwrap();
        let mode = project.modes.ids().next().unwrap();
        assert_eq!(kept.name, "Film");
        let body = RuleBody::When {
            trigger: Trigger::Time(TimeOfDay { minutes: 1200 }),
            conditions: vec![Condition::Mode(HouseMode::Named(mode))],
            actions: vec![Action::new(None, Deed::RunScene(scene))],
        };
        let rule = Rule {
            name: "Film at eight".to_owned(),
            room: None,
            enabled: true,
            comment: String::new(),
            body,
        };
        let change = add_rule(&project, rule);
        apply(&mut project, change);
        let rule = project.rules.ids().last().unwrap();
        for refused in [remove_scene(&project, scene), remove_mode(&project, mode)] {
            assert!(refused.unwrap_err().contains("is used by the rule “Film at eight”"));
        }
        let zone_refused = super::super::remove_things(&project, &[Subject::Zone(zone)]).unwrap_err();
        assert!(zone_refused.contains("is set by the scene “Film”"), "{zone_refused}");
        assert!(add_mode(&project, "night").is_err());
        assert!(add_mode(&project, "at home").is_err());
        let change = rename_mode(&project, mode, "Asleep");
        apply(&mut project, change);
        let change = edit_scene(&project, scene, Scene { name: "Cinema".to_owned(), ..kept });
        apply(&mut project, change);
        let all = [Subject::Rule(rule), Subject::Scene(scene), Subject::Mode(mode)];
        let change = super::super::remove_things(&project, &all);
        apply(&mut project, change);
        assert!(project.scenes.is_empty() && project.modes.is_empty());
    }
}
