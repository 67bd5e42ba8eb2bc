//! Heating that rules turn up in a room whose windows tell that they are open, and no rule asks them.
//!
//! A window is one whose contact sits at it: a contact of the room, on a wall, within a window or a glazed door of that
//! wall; or a contact whose kind says so in its name.

use std::collections::BTreeSet;

use super::house::COMMON_PRACTICE;
use super::life_safety_rule::targets;
use super::{Check, Finding, House, Severity};
use crate::id::Id;
use crate::kit::{Device, Family, Kind, Mount};
use crate::plan::{OpeningForm, Room};
use crate::systems::{Rule, ZonePurpose};

pub(super) const CHECK: Check = Check { name: "heating-and-open-window", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let heaters: BTreeSet<Id<Device>> = project
        .zones
        .iter()
        .filter(|(_, zone)| zone.purpose == ZonePurpose::Heating)
        .flat_map(|(_, zone)| zone.points.iter().map(|point| point.device))
        .collect();
    let heats = |rule: &Rule| targets(house, rule).iter().any(|device| heaters.contains(device));
    let heating: Vec<&Rule> =
        project.rules.iter().filter(|(_, rule)| rule.enabled && heats(rule)).map(|(_, rule)| rule).collect();
    let asked: BTreeSet<Id<Device>> = heating.iter().flat_map(|rule| heard(house, rule)).collect();
    let worked: BTreeSet<Id<Device>> = heating.iter().flat_map(|rule| targets(house, rule)).collect();
    let mut rooms: BTreeSet<Id<Room>> = BTreeSet::new();
    for heater in heaters.iter().filter(|heater| worked.contains(heater)) {
        rooms.extend(project.devices.get(*heater).and_then(|device| house.room_of(device)).map(|(id, _)| id));
    }
    for room in rooms {
        let windows: Vec<(Id<Device>, &Device)> = house
            .devices()
            .filter(|(_, device, kind)| is_window_contact(house, device, kind))
            .filter(|(_, device, _)| house.room_of(device).is_some_and(|(id, _)| id == room))
            .map(|(id, device, _)| (id, device))
            .collect();
        let Some(named) = project.rooms.get(room) else { continue };
        if windows.is_empty() || windows.iter().any(|(id, _)| asked.contains(id)) {
            continue;
        }
        let tags: Vec<String> = windows.iter().map(|(_, device)| device.tag.to_string()).collect();
        let sentence = format!(
            "{}: rules heat it and none that does asks {}, so that it is heated with a window open: let the heating \
             go down while one is.",
            named.name,
            tags.join(" or ")
        );
        found.push(house.of_room((room, named), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
    }
}

/// Devices whose points a rule listens to, zones opened out.
fn heard(house: &House<'_>, rule: &Rule) -> Vec<Id<Device>> {
    let zones = rule.zones().into_iter().filter_map(|zone| house.project.zones.get(zone));
    let by_zone = zones.flat_map(|zone| zone.points.iter().map(|point| point.device));
    rule.devices().into_iter().chain(by_zone).collect()
}

fn is_window_contact(house: &House<'_>, device: &Device, kind: &Kind) -> bool {
    if kind.family != Family::Contacts {
        return false;
    }
    let Mount::WallFace { wall, along, .. } = device.mount else {
        return kind.name.to_lowercase().contains("window");
    };
    // At the frame or just beside it: 150 mm either way, common practice, no published source.
    let beside = crate::units::Length::mm(150.0);
    kind.name.to_lowercase().contains("window")
        || house.project.openings.iter().any(|(_, opening)| {
            opening.wall == wall
                && matches!(opening.form, OpeningForm::Window { .. })
                && (opening.from() - beside..=opening.to() + beside).contains(&along)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::MountKind;
    use crate::small_house::{bare_house, key_rule, plain_kind};
    use crate::systems::{Comparison, Condition, PointRef, RuleBody, Target, Value, Zone};

    #[test]
    fn a_heated_room_with_a_window_that_no_heating_rule_asks_is_found() {
        for (contact, asks, expected) in
            [("Window contact", false, 1), ("Window contact", true, 0), ("Drawer contact", false, 0)]
        {
            let mut house = bare_house();
            let valve = plain_kind("Valve", Family::Heating, "HV", MountKind::Wall, &["level"]);
            let valve = house.put(valve);
            let valve = house.place(valve, house.on_wall(0, 1000.0), Some(300.0));
            let kind = house.put(plain_kind(contact, Family::Contacts, "MC", MountKind::Wall, &["open"]));
            let window = house.place(kind, house.on_wall(1, 1000.0), Some(1500.0));
            let zone = house.put(Zone {
                name: "Heating".to_owned(),
                purpose: ZonePurpose::Heating,
                points: vec![PointRef::new(valve, "level")],
            });
            let mut rule = key_rule("Warm", None, valve, "level", Target::Zone(zone));
            let RuleBody::When { conditions, .. } = &mut rule.body else { unreachable!() };
            if asks {
                conditions.push(Condition::Point {
                    point: PointRef::new(window, "open"),
                    comparison: Comparison::Is,
                    value: Value::Off,
                });
            }
            house.put(rule);
            assert_eq!(found(CHECK, &house.project).len(), expected, "{contact} {asks}");
        }
    }
}
