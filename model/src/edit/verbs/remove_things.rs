//! Remove things, and what can't stand without them.
//!
//! A wall takes its openings along; devices on a removed wall or piece of joinery stay where they were, loose,
//! so that nobody loses a tag without being told. What a rule speaks of is not removed from under it.

use std::collections::BTreeSet;

use super::draft::Draft;
use super::move_things::host_of;
use super::words::{label, listed, name_of, picked};
use crate::edit::{Change, Subject};
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::Walk;
use crate::project::Project;

/// Removes things.
///
/// # Errors
/// A sentence that names the rules, devices or levels because of which something must stay.
pub fn remove_things(project: &Project, subjects: &[Subject]) -> Result<Change, String> {
    let mut things = picked(project, subjects)?;
    things.retain(|thing| *thing != Subject::Site);
    if things.is_empty() {
        return Err("the site itself can't be removed: pick something on the plan".to_owned());
    }
    let mut draft = Draft::of(project);
    let label = label(project, "Remove", &things);
    remove_in(&mut draft, &things)?;
    draft.finish(label)
}

/// Removes things within a draft.
pub(super) fn remove_in(draft: &mut Draft, things: &[Subject]) -> Result<(), String> {
    let going = with_what_stands_on(draft.now(), things);
    refuse_if_used(draft.now(), &going)?;
    loosen_devices(draft, &going);
    take_out_of_zones(draft, &going);
    take_rooms_out_of_rules(draft, &going);
    for subject in going {
        draft.remove(subject);
    }
    Ok(())
}

/// The things with all that goes along: everything on a level, the openings of a wall.
fn with_what_stands_on(project: &Project, things: &[Subject]) -> BTreeSet<Subject> {
    let mut going: BTreeSet<Subject> = things.iter().copied().collect();
    let on_level = |level| things.contains(&Subject::Level(level));
    going.extend(project.walls.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Wall(id)));
    going.extend(project.rooms.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Room(id)));
    going.extend(
        project.joinery.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Joinery(id)),
    );
    going.extend(
        project.underlays.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Underlay(id)),
    );
    going.extend(
        project.devices.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Device(id)),
    );
    going.extend(
        project.room_lines.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::RoomLine(id)),
    );
    going.extend(project.spots.iter().filter(|(_, it)| on_level(it.level)).map(|(id, _)| Subject::Spot(id)));
    // A walk through a storey that goes cannot be walked any more.
    let through = |walk: &Walk| walk.points.iter().any(|point| on_level(point.level));
    going.extend(project.walks.iter().filter(|(_, it)| through(it)).map(|(id, _)| Subject::Walk(id)));
    let openings: Vec<Subject> = project
        .openings
        .iter()
        .filter(|(_, opening)| going.contains(&Subject::Wall(opening.wall)))
        .map(|(id, _)| Subject::Opening(id))
        .collect();
    going.extend(openings);
    going
}

fn refuse_if_used(project: &Project, going: &BTreeSet<Subject>) -> Result<(), String> {
    for subject in going {
        match *subject {
            Subject::Device(_)
            | Subject::Zone(_)
            | Subject::Scene(_)
            | Subject::Mode(_)
            | Subject::Rule(_) => {
                let scenes = scenes_that_use(project, *subject, going);
                if !scenes.is_empty() {
                    return Err(format!(
                        "{} is set by the scene {}: change the scene first",
                        name_of(project, *subject),
                        listed(&scenes)
                    ));
                }
                let rules = rules_that_use(project, *subject, going);
                if !rules.is_empty() {
                    let (sort, them) =
                        if rules.len() == 1 { ("rule", "the rule") } else { ("rules", "the rules") };
                    return Err(format!(
                        "{} is used by the {sort} {}: change {them} first",
                        name_of(project, *subject),
                        listed(&rules)
                    ));
                }
            }
            Subject::Kind(kind) => {
                let tags: Vec<String> = project
                    .devices
                    .iter()
                    .filter(|(id, device)| device.kind == kind && !going.contains(&Subject::Device(*id)))
                    .map(|(_, device)| device.tag.to_string())
                    .collect();
                if let Some(first) = tags.first() {
                    let more =
                        if tags.len() > 1 { format!(" and {} more", tags.len() - 1) } else { String::new() };
                    return Err(format!(
                        "the kind “{}” is used by {first}{more}: remove the devices first",
                        name_of(project, *subject)
                    ));
                }
            }
            Subject::Level(_) if project.levels.ids().all(|id| going.contains(&Subject::Level(id))) => {
                return Err("a house needs at least one level: add another level first".to_owned());
            }
            _ => {}
        }
    }
    Ok(())
}

/// Names of the rules that stay and speak of a thing, in quotation marks.
fn rules_that_use(project: &Project, subject: Subject, going: &BTreeSet<Subject>) -> Vec<String> {
    project
        .rules
        .iter()
        .filter(|(id, _)| !going.contains(&Subject::Rule(*id)))
        .filter(|(_, rule)| match subject {
            Subject::Device(device) => rule.devices().contains(&device),
            Subject::Zone(zone) => rule.zones().contains(&zone),
            Subject::Scene(scene) => rule.scenes().contains(&scene),
            Subject::Mode(mode) => rule.modes().contains(&mode),
            Subject::Rule(other) => rule.rules().contains(&other),
            _ => false,
        })
        .map(|(_, rule)| format!("“{}”", rule.name))
        .collect()
}

/// Names of the scenes that stay and set a device or a zone, in quotation marks.
fn scenes_that_use(project: &Project, subject: Subject, going: &BTreeSet<Subject>) -> Vec<String> {
    project
        .scenes
        .iter()
        .filter(|(id, _)| !going.contains(&Subject::Scene(*id)))
        .filter(|(_, scene)| match subject {
            Subject::Device(device) => scene.points().any(|point| point.device == device),
            Subject::Zone(zone) => scene.zones().any(|set| set == zone),
            _ => false,
        })
        .map(|(_, scene)| format!("“{}”", scene.name))
        .collect()
}

/// Devices that stay though their host goes become loose at their last place, looking where they looked.
fn loosen_devices(draft: &mut Draft, going: &BTreeSet<Subject>) {
    let now = draft.now().clone();
    for (id, device) in now.devices.iter() {
        let hostless = host_of(device).is_some_and(|host| going.contains(&host));
        if !hostless || going.contains(&Subject::Device(id)) {
            continue;
        }
        if let Some(loose) = loosened(&now, device) {
            draft.put(id, loose);
        }
    }
}

/// A device at its place with no host.
pub(super) fn loosened(project: &Project, device: &Device) -> Option<Device> {
    let at = crate::units::round_point(project.position_of(device)?);
    let turn = project.facing_of(device).wrapped();
    Some(Device { mount: Mount::Loose { at }, turn, ..device.clone() })
}

fn take_out_of_zones(draft: &mut Draft, going: &BTreeSet<Subject>) {
    let goes = |device: Id<Device>| going.contains(&Subject::Device(device));
    let now = draft.now().clone();
    for (id, zone) in now.zones.iter() {
        if zone.points.iter().any(|point| goes(point.device)) {
            let mut zone = zone.clone();
            zone.points.retain(|point| !goes(point.device));
            draft.put(id, zone);
        }
    }
}

fn take_rooms_out_of_rules(draft: &mut Draft, going: &BTreeSet<Subject>) {
    let now = draft.now().clone();
    for (id, rule) in now.rules.iter() {
        if rule.room.is_some_and(|room| going.contains(&Subject::Room(room))) {
            let mut rule = rule.clone();
            rule.room = None;
            draft.put(id, rule);
        }
    }
    for (id, scene) in now.scenes.iter() {
        if scene.room.is_some_and(|room| going.contains(&Subject::Room(room))) {
            let mut scene = scene.clone();
            scene.room = None;
            draft.put(id, scene);
        }
    }
}
