//! The room list: name, use and clear floor area.

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::plan::RoomUse;
use crate::project::Project;

/// Every room, in walking order.
pub fn rooms(project: &Project, order: &WalkingOrder) -> Table {
    let rows = order
        .rooms(project)
        .into_iter()
        .map(|(id, room)| {
            let level = project.levels.get(room.level).map(|level| level.name.clone());
            let area = match order.whereabouts.outline(project, id) {
                Some(outline) => Cell::Number { value: outline.area().as_m2(), decimals: 2 },
                None if room.room_use == RoomUse::Outside => Cell::Empty,
                None => Cell::Missing("outline"),
            };
            vec![
                level.map_or(Cell::Missing("level"), Cell::text),
                if room.name.trim().is_empty() {
                    Cell::Missing("name")
                } else {
                    Cell::text(room.name.clone())
                },
                Cell::text(room.room_use.name()),
                area,
            ]
        })
        .collect();
    Table {
        name: "rooms",
        title: "Rooms",
        columns: columns(&[("Level", ""), ("Room", ""), ("Use", ""), ("Clear floor area", "m²")]),
        rows,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn rooms_are_measured_and_an_open_one_is_missing_its_outline() {
        let house = small_house();
        let table = rooms(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> =
            table.rows.iter().map(|row| row.iter().map(Cell::shown).collect::<Vec<_>>().join("|")).collect();
        assert_eq!(
            shown,
            [
                "Cellar|Wine|store|outline missing",
                "Ground floor|Kitchen|kitchen|11.31",
                "Ground floor|Terrace|outside|",
            ]
        );
    }
}
