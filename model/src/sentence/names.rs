//! What things are called in a sentence, so that no two are called the same.

use super::words;
use crate::id::Id;
use crate::kit::{Device, Kind};
use crate::project::{Project, Table};
use crate::systems::{HouseMode, PointRef, Zone, ZonePurpose};

const MISSING: &str = "(missing)";

/// What a device is called in a sentence: its own name, with its tag where another is called the same; else its tag.
pub fn device_words(project: &Project, device: Id<Device>) -> String {
    match project.devices.get(device) {
        None => MISSING.to_owned(),
        Some(found) if found.name.is_empty() => found.tag.to_string(),
        Some(found) => {
            let is_shared =
                project.devices.iter().any(|(id, other)| id != device && other.name == found.name)
                    || project.zones.iter().any(|(_, zone)| {
                        found
                            .name
                            .strip_prefix(zone.name.as_str())
                            .is_some_and(|rest| matches!(rest, "" | " lights"))
                    });
            if is_shared { format!("{} ({})", found.name, found.tag) } else { found.name.clone() }
        }
    }
}

/// What a zone is called: its name, with a number where another is called the same.
pub(super) fn zone_words(project: &Project, zone: Id<Zone>) -> String {
    told_apart(&project.zones, zone, |zone| &zone.name)
}

/// What a house mode is called.
pub fn mode_words(project: &Project, mode: HouseMode) -> String {
    match mode {
        HouseMode::AtHome => "At home".to_owned(),
        HouseMode::Named(id) => told_apart(&project.modes, id, |mode| &mode.name),
    }
}

/// The name of a thing; where several share it, with its place among them.
pub(super) fn told_apart<T>(table: &Table<T>, id: Id<T>, name: impl Fn(&T) -> &str) -> String {
    let Some(found) = table.get(id) else { return MISSING.to_owned() };
    let mut same = table.iter().filter(|(_, other)| name(other) == name(found));
    let place = same.position(|(other, _)| other == id).unwrap_or_default();
    if place > 0 || same.next().is_some() {
        format!("{} (no. {})", name(found), place + 1)
    } else {
        name(found).to_owned()
    }
}

/// Words in quotation marks; a closing mark within them stands twice.
pub(super) fn quoted(words: &str) -> String {
    format!("“{}”", words.replace('”', "””"))
}

/// The name of the points of a zone, where all have the same but for numbers.
pub(super) fn point_of_zone(project: &Project, zone: Id<Zone>) -> String {
    let Some(found) = project.zones.get(zone) else { return String::new() };
    let mut names = found.points.iter().map(|point| words::base_of(&point.point));
    let first = names.next().unwrap_or_default();
    // A zone of lamps that dim and lamps that only switch is spoken of as one that dims.
    let is_mixed_light = |name: &str| matches!(name, "level" | "on");
    if names.clone().all(|name| name == first) {
        first.to_owned()
    } else if is_mixed_light(first) && names.all(is_mixed_light) {
        "level".to_owned()
    } else {
        String::new()
    }
}

/// Whether the name of a zone leaves unsaid that it is the lights of a place.
pub(super) fn wants_lights(project: &Project, zone: Id<Zone>) -> bool {
    project.zones.get(zone).is_some_and(|zone| {
        let name = zone.name.to_lowercase();
        zone.purpose == ZonePurpose::Lighting
            && !["light", "lamp", "lantern", "lit"].iter().any(|word| name.contains(word))
    })
}

/// The kind of a device.
pub(super) fn kind_of(project: &Project, device: Id<Device>) -> Option<&Kind> {
    project.kinds.get(project.devices.get(device)?.kind)
}

/// Whether the device's name is enough, because what is said of it can be meant of no other of its points.
pub(super) fn device_says_it(
    project: &Project,
    point: &PointRef,
    said: impl Fn(&str) -> words::Around,
) -> bool {
    let pair =
        |a: &str, b: &str, other: &str| (point.point == a && other == b) || (point.point == b && other == a);
    // Two points that can be told the same thing are told apart by name, whatever they are told.
    let confused = |other: &str| {
        said(other) == said(&point.point) || pair("on", "level", other) || pair("open", "position", other)
    };
    words::goes_without_saying(&point.point)
        && kind_of(project, point.device).is_some_and(|kind| {
            let others = kind.points.iter().filter(|other| other.name != point.point);
            !others.filter(|other| words::goes_without_saying(&other.name)).any(|other| confused(&other.name))
        })
}

/// Whether the same verb tells of an event of the device, so that the name of a point must be said.
pub(super) fn is_an_event_too(project: &Project, point: &PointRef, verb: &str) -> bool {
    let tells = |name: &str| name != point.point && words::event_words(name) == Some(verb);
    kind_of(project, point.device).is_some_and(|kind| kind.points.iter().any(|other| tells(&other.name)))
}
