//! The circuit-by-circuit list of the intruder alarm: number, attribute, device, position, coverage, as a system design
//! proposal lists them.

use std::collections::BTreeMap;

use super::order::{Placed, WalkingOrder};
use super::{Cell, Table, columns};
use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Family};
use crate::project::Project;
use crate::studies::coverage::intrusion::{Sets, intrusion};

/// Every device of a set, and what belongs to the family of intrusion without being in one, in walking order.
pub fn intrusion_list(project: &Project, order: &WalkingOrder) -> Table {
    let sets = Sets::of(project);
    let watched = watched(project);
    let listed = order.devices(project).into_iter().filter(|placed| {
        placed.kind.family == Family::Intrusion
            || sets.full.contains(&placed.id)
            || sets.part.contains(&placed.id)
    });
    let rows =
        listed.enumerate().map(|(index, placed)| row(project, &sets, &watched, index + 1, &placed)).collect();
    Table {
        name: "intrusion",
        title: "Intruder alarm, circuit by circuit",
        columns: columns(&[
            ("Number", ""),
            ("Attribute", ""),
            ("Tag", ""),
            ("Device", ""),
            ("Level", ""),
            ("Room", ""),
            ("Height", "mm AFFL"),
            ("Grade", ""),
            ("Covers", ""),
        ]),
        rows,
    }
}

/// By device, the doors and windows of outside walls it watches, in words.
fn watched(project: &Project) -> BTreeMap<Id<Device>, Vec<String>> {
    let mut watched: BTreeMap<Id<Device>, Vec<String>> = BTreeMap::new();
    for cover in intrusion(project).openings {
        let name = project.openings.get(cover.opening).map_or("opening", |opening| opening.name());
        let room = project.rooms.get(cover.room).map_or("", |room| room.name.as_str());
        for device in cover.by() {
            let words = format!("{name} of {room}");
            let known = watched.entry(device).or_default();
            if !known.contains(&words) {
                known.push(words);
            }
        }
    }
    watched
}

fn row(
    project: &Project,
    sets: &Sets,
    watched: &BTreeMap<Id<Device>, Vec<String>>,
    number: usize,
    placed: &Placed<'_>,
) -> Vec<Cell> {
    let id = placed.id;
    let mut attributes = Vec::new();
    if sets.entry.contains(&id) {
        attributes.push("entry route");
    }
    attributes.push(match (sets.full.contains(&id), sets.part.contains(&id)) {
        (true, true) => "full and part set",
        (true, false) => "full set",
        (false, true) => "part set",
        (false, false) => "in no set",
    });
    let movement =
        placed.kind.detection.as_ref().map(|detection| {
            format!("{}, {:.1} m", detection.sense.name(), detection.pattern.range().as_m())
        });
    let covers: Vec<String> =
        movement.into_iter().chain(watched.get(&id).into_iter().flatten().cloned()).collect();
    vec![
        Cell::whole(number as f64),
        Cell::text(attributes.join(", ")),
        Cell::text(placed.device.tag.to_string()),
        Cell::text(placed.kind.name.clone()),
        Cell::text(placed.level.name.clone()),
        Cell::text(placed.room.map_or("outdoors", |(_, room)| room.name.as_str())),
        Whereabouts::height_of(project, placed.device)
            .map_or(Cell::Missing("height"), |height| Cell::whole(height.as_mm())),
        placed.kind.security_grade.map_or(Cell::Missing("grade"), |grade| Cell::whole(f64::from(grade))),
        Cell::text(covers.join(", ")),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::MountKind;
    use crate::plan::Side;
    use crate::small_house::drawn_rooms::face;
    use crate::small_house::{bare_house, plain_kind};
    use crate::systems::ZonePurpose;

    #[test]
    fn a_contact_lists_its_set_and_the_window_it_watches() {
        let mut house = bare_house();
        let north = house.walls[2];
        house.window(north, 2000.0);
        let mut kind = plain_kind("Window contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
        kind.security_grade = Some(2);
        let contact = house.place_new(kind, face(north, Side::Left, 2000.0), Some(2130.0));
        house.zone(ZonePurpose::FullSet, &[(contact, "open")]);
        let table = intrusion_list(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> = table.rows[0].iter().map(Cell::shown).collect();
        let expected = [
            "1",
            "full set",
            "MC-01",
            "Window contact",
            "Ground floor",
            "Kitchen",
            "2130",
            "2",
            "window of Kitchen",
        ];
        assert_eq!(shown, expected);
    }
}
