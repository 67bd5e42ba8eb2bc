//! Lamps of a room to which no key is wired: while the hub is down nobody can light them by hand.
//!
//! A key counts as wired where a *wired* rule that is on says so: the key's own contact goes to the input of the
//! lamp's dimmer or relay. Rooms are told, not single lamps, for that is how one goes through a house; a room in which
//! one lamp is wired is left alone, for one lamp is enough to leave it by. Common practice, no published source.

use std::collections::{BTreeMap, BTreeSet};

use super::house::COMMON_PRACTICE;
use super::rules_disagree::points;
use super::{Check, Finding, House, Severity};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::Room;
use crate::systems::RuleBody;

pub(super) const CHECK: Check = Check { name: "no-wired-key", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let wired: BTreeSet<Id<Device>> = project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled)
        .filter_map(|(_, rule)| match &rule.body {
            RuleBody::Wired { target, .. } => Some(points(project, target)),
            _ => None,
        })
        .flatten()
        .map(|point| point.device)
        .collect();
    let worked: BTreeSet<Id<Device>> = project
        .rules
        .iter()
        .filter(|(_, rule)| rule.enabled)
        .flat_map(|(_, rule)| super::life_safety_rule::targets(house, rule))
        .collect();
    let mut lamps: BTreeMap<Id<Room>, Vec<(Id<Device>, &Device)>> = BTreeMap::new();
    for (id, device, kind) in house.devices() {
        // A lamp that no rule works is on a switch of its own, as far as the plan tells.
        if kind.lamp.is_some()
            && worked.contains(&id)
            && let Some((room, _)) = house.room_of(device)
        {
            lamps.entry(room).or_default().push((id, device));
        }
    }
    for (room, lamps) in lamps {
        let Some(named) = project.rooms.get(room) else { continue };
        if lamps.iter().any(|(id, _)| wired.contains(id)) {
            continue;
        }
        let tags: Vec<String> = lamps.iter().map(|(_, device)| device.tag.to_string()).collect();
        let sentence = format!(
            "{}: no key is wired to {}, so that nobody can light the room while the hub is down: wire a key to a \
             dimmer or relay there.",
            named.name,
            tags.join(", ")
        );
        found.push(house.of_room((room, named), Severity::Note, CHECK.name, sentence, COMMON_PRACTICE));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, Lamp, Mount, MountKind};
    use crate::small_house::{bare_house, key_rule, plain_kind};
    use crate::systems::{PointRef, Rule, Target};
    use crate::units::Lumens;

    #[test]
    fn a_room_whose_lamps_only_rules_work_is_found_until_a_key_is_wired_to_one() {
        let mut house = bare_house();
        let mut lamp = plain_kind("Lamp", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]);
        lamp.lamp = Some(Lamp { flux: Lumens(650.0), beam: None, colour_temperature_k: 2700, dims: true });
        let lamp = house.put(lamp);
        let [first, _] =
            [1000.0, 3000.0].map(|x| house.place(lamp, Mount::Ceiling { at: (x, 1500.0).into() }, None));
        let plate = plain_kind("Plate", Family::Plates, "PL", MountKind::Wall, &["key 1"]);
        let plate = house.put(plate);
        let plate = house.place(plate, house.on_wall(0, 1000.0), Some(1050.0));
        assert!(found(CHECK, &house.project).is_empty());
        let target = Target::Point(PointRef::new(first, "level"));
        let rule = house.put(key_rule("Key", None, plate, "key 1", target.clone()));
        let told = found(CHECK, &house.project);
        assert_eq!(told.len(), 1);
        assert!(told[0].sentence.starts_with("Kitchen: no key is wired to DL-01,"), "{}", told[0].sentence);
        let body = RuleBody::Wired { key: PointRef::new(plate, "key 1"), target };
        house.put(Rule { body, ..house.project.rules.get(rule).unwrap().clone() });
        assert!(found(CHECK, &house.project).is_empty());
    }
}
