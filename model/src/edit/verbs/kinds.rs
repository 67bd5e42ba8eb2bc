//! Bring kinds into the project, copy them and change them.
//!
//! A point that gets another name gets it in every zone and rule that speaks of it.

use super::draft::Draft;
use super::edit_plan::named;
use super::words::gone;
use crate::edit::{Change, Op};
use crate::id::Id;
use crate::kit::Kind;
use crate::project::Project;
use crate::systems::PointRef;

/// The project's own kind of that name, or a fresh id and the op that brings the kind in.
pub fn import_kind(project: &Project, kind: &Kind) -> (Id<Kind>, Option<Op>) {
    match project.kinds.iter().find(|(_, own)| own.name == kind.name) {
        Some((id, _)) => (id, None),
        None => {
            let id = project.fresh_ids().issue();
            (id, Some(Op::put(id, kind.clone())))
        }
    }
}

/// Brings a kind in if need be and does something with it, all in one change.
///
/// # Errors
/// The sentence with which the verb refuses.
pub fn with_kind(
    project: &Project,
    kind: &Kind,
    verb: impl FnOnce(&Project, Id<Kind>) -> Result<Change, String>,
) -> Result<Change, String> {
    let (id, op) = import_kind(project, kind);
    let Some(op) = op else { return verb(project, id) };
    let mut with_it = project.clone();
    let _ = with_it.perform(op.clone());
    let mut change = verb(&with_it, id)?;
    change.ops.insert(0, op);
    Ok(change)
}

/// Copies a kind under another name, so that the copy can be changed.
///
/// # Errors
/// A sentence, where the kind is gone or the name is taken.
pub fn copy_kind(project: &Project, id: Id<Kind>, name: &str) -> Result<Change, String> {
    let kind = project.kinds.get(id).ok_or_else(|| gone("kind"))?;
    let name = named("kind", name)?;
    refuse_taken_name(project, None, &name)?;
    let label = format!("Copy kind {}", kind.name);
    let mut draft = Draft::of(project);
    draft.add(Kind { name, ..kind.clone() });
    draft.finish(label)
}

/// Changes a kind. `renamed` lists the points that have another name now, the former name first.
///
/// # Errors
/// A sentence, where the kind is gone, the name is taken, a figure is out of bounds or a rule or a zone speaks
/// of a point that the kind would no longer have.
pub fn edit_kind(
    project: &Project,
    id: Id<Kind>,
    kind: Kind,
    renamed: &[(String, String)],
) -> Result<Change, String> {
    if !project.kinds.contains(id) {
        return Err(gone("kind"));
    }
    let name = named("kind", &kind.name)?;
    refuse_taken_name(project, Some(id), &name)?;
    let label = format!("Change kind {name}");
    let mut draft = Draft::of(project);
    draft.put(id, Kind { name, ..kind });
    let rename = |point: &PointRef| {
        let of_kind = project.devices.get(point.device).is_some_and(|device| device.kind == id);
        let new_name = renamed.iter().find(|(former, _)| *former == point.point).map(|(_, new)| new);
        match new_name {
            Some(new_name) if of_kind => PointRef::new(point.device, new_name.as_str()),
            _ => point.clone(),
        }
    };
    for (zone_id, zone) in project.zones.iter() {
        let mut changed = zone.clone();
        changed.points = zone.points.iter().map(rename).collect();
        if changed != *zone {
            draft.put(zone_id, changed);
        }
    }
    draft_legends(&mut draft, project, id, renamed);
    for (rule_id, rule) in project.rules.iter() {
        let changed = rule.with_points(&rename);
        if changed != *rule {
            draft.put(rule_id, changed);
        }
    }
    for (scene_id, scene) in project.scenes.iter() {
        let changed = scene.with_points(&rename);
        if changed != *scene {
            draft.put(scene_id, changed);
        }
    }
    draft.finish(label)
}

/// Words on keys go with keys that have another name, and go away with keys that are gone.
fn draft_legends(draft: &mut Draft, project: &Project, id: Id<Kind>, renamed: &[(String, String)]) {
    let Some(kind) = draft.now().kinds.get(id).cloned() else { return };
    for (device_id, device) in project.devices.iter().filter(|(_, device)| device.kind == id) {
        let mut changed = device.clone();
        for legend in &mut changed.legend.keys {
            if let Some((_, new)) = renamed.iter().find(|(former, _)| *former == legend.key) {
                legend.key.clone_from(new);
            }
        }
        changed.legend.keys.retain(|legend| kind.point(&legend.key).is_some());
        if changed != *device {
            draft.put(device_id, changed);
        }
    }
}

fn refuse_taken_name(project: &Project, itself: Option<Id<Kind>>, name: &str) -> Result<(), String> {
    if project.kinds.iter().any(|(id, other)| Some(id) != itself && other.name == name) {
        return Err(format!("there is already a kind called “{name}”: type another name"));
    }
    Ok(())
}
