//! The plates: key by key, what is written on it and what each way of using it does.

use std::collections::BTreeMap;

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::id::Id;
use crate::kit::Device;
use crate::project::Project;
use crate::sentence::keys::{Plate, PlateKey, legend_of, plates as plates_of};

/// Every way of using every key of every plate, in walking order. A key that does nothing has a line that says so.
pub fn plates(project: &Project, order: &WalkingOrder) -> Table {
    let plates: BTreeMap<Id<Device>, Plate> =
        plates_of(project).into_iter().map(|plate| (plate.device, plate)).collect();
    let mut rows = Vec::new();
    for placed in order.devices(project) {
        let Some(plate) = plates.get(&placed.id) else { continue };
        let legend = &placed.device.legend;
        for key in &plate.keys {
            let words = legend_of(project, placed.id, key, placed.room.map(|(room, _)| room)).words;
            let words = words.join(" ");
            let start = [
                Cell::text(placed.device.tag.to_string()),
                Cell::text(placed.device.name.clone()),
                placed.room.map_or(Cell::Missing("room"), |(_, room)| Cell::text(room.name.clone())),
                Cell::text(key.key.clone()),
                Cell::text(words.trim()),
                Cell::text(if legend.is_final { "final" } else { "provisional" }),
            ];
            rows.extend(
                deeds(project, key).into_iter().map(|deed| start.iter().cloned().chain(deed).collect()),
            );
        }
    }
    Table {
        name: "plates",
        title: "Plates, key by key",
        columns: columns(&[
            ("Plate", ""),
            ("Name", ""),
            ("Room", ""),
            ("Key", ""),
            ("Legend", ""),
            ("Legend is", ""),
            ("Gesture", ""),
            ("Does", ""),
            ("Only if", ""),
            ("Rule", ""),
        ]),
        rows,
    }
}

/// Gesture, what is done, under which conditions, by which rule.
fn deeds(project: &Project, key: &PlateKey) -> Vec<[Cell; 4]> {
    if key.deeds.is_empty() {
        return vec![[
            Cell::Empty,
            Cell::text("nothing: no rule that is on listens to it"),
            Cell::Empty,
            Cell::Empty,
        ]];
    }
    key.deeds
        .iter()
        .map(|deed| {
            let rule = project.rules.get(deed.rule).map_or("", |rule| rule.name.as_str());
            [
                Cell::text(deed.used.words()),
                Cell::text(deed.does.clone()),
                Cell::text(deed.only_if.clone()),
                Cell::text(rule),
            ]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn each_gesture_has_a_line_and_a_dead_key_says_so() {
        let house = small_house();
        let table = plates(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> =
            table.rows.iter().map(|row| row.iter().map(Cell::shown).collect::<Vec<_>>().join("|")).collect();
        assert_eq!(
            shown,
            [
                "PL-01||Kitchen|key 1|Ceiling|provisional|one press|turn Kitchen ceiling lights on or off||Kitchen \
                 light",
                "PL-01||Kitchen|key 2||provisional||nothing: no rule that is on listens to it||",
            ]
        );
    }
}
