//! The device schedule: one line a device, with all that first fix and second fix need to know of it.

use super::order::{Placed, WalkingOrder};
use super::{Cell, Table, columns};
use crate::kit::{Device, Kind, Mount, MountKind};
use crate::plan::{Side, Whereabouts};
use crate::project::Project;

/// Every device, in walking order.
pub fn devices(project: &Project, order: &WalkingOrder) -> Table {
    Table {
        name: "devices",
        title: "Device schedule",
        columns: columns(&[
            ("Tag", ""),
            ("Name", ""),
            ("Kind", ""),
            ("Level", ""),
            ("Room", ""),
            ("Fixed to", ""),
            ("Along the wall", "mm"),
            ("Height to centre", "mm AFFL"),
            ("Back box", "gangs × mm"),
            ("Supply", ""),
            ("Load", "W"),
            ("Zones", ""),
            ("Note", ""),
        ]),
        rows: order.devices(project).iter().map(|placed| row(project, placed)).collect(),
    }
}

fn row(project: &Project, placed: &Placed<'_>) -> Vec<Cell> {
    let Placed { device, kind, level, .. } = placed;
    vec![
        Cell::text(device.tag.to_string()),
        Cell::text(device.name.clone()),
        Cell::text(kind.name.clone()),
        Cell::text(level.name.clone()),
        room(placed),
        fixed_to(&device.mount),
        along(&device.mount),
        height(project, device),
        back_box(kind),
        Cell::text(kind.supply.name()),
        Cell::Number { value: kind.load.0, decimals: 1 },
        zones(project, placed),
        Cell::text(device.note.clone()),
    ]
}

fn room(placed: &Placed<'_>) -> Cell {
    match placed.room {
        Some((_, room)) if room.name.trim().is_empty() => Cell::Missing("room name"),
        Some((_, room)) => Cell::text(room.name.clone()),
        None if matches!(placed.device.mount, Mount::Outdoors { .. }) => Cell::text("outdoors"),
        None if placed.kind.mount == MountKind::Outdoors => Cell::text("outdoors"),
        None => Cell::Missing("room"),
    }
}

fn fixed_to(mount: &Mount) -> Cell {
    match mount {
        Mount::Loose { .. } => Cell::Missing("host"),
        Mount::WallFace { wall, side, .. } => {
            let side = match side {
                Side::Left => "left",
                Side::Right => "right",
            };
            Cell::text(format!("wall {}, {side} face", wall.number()))
        }
        other => Cell::text(other.name()),
    }
}

fn along(mount: &Mount) -> Cell {
    match mount {
        Mount::WallFace { along, .. } => Cell::whole(along.as_mm()),
        _ => Cell::Empty,
    }
}

fn height(project: &Project, device: &Device) -> Cell {
    Whereabouts::height_of(project, device)
        .map_or(Cell::Missing("height"), |height| Cell::whole(height.as_mm()))
}

fn back_box(kind: &Kind) -> Cell {
    match kind.back_box {
        Some(needed) => Cell::text(format!("{} × {}", needed.gangs, needed.depth)),
        None if kind.needs_back_box() => Cell::Missing("box"),
        None => Cell::Empty,
    }
}

fn zones(project: &Project, placed: &Placed<'_>) -> Cell {
    let names: Vec<&str> = project
        .zones
        .iter()
        .filter(|(_, zone)| zone.points.iter().any(|point| point.device == placed.id))
        .map(|(_, zone)| zone.name.as_str())
        .collect();
    Cell::text(names.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::small_house::small_house;

    fn shown(table: &Table, tag: &str, column: &str) -> String {
        let at = table.columns.iter().position(|found| found.title == column).unwrap();
        let row = table.rows.iter().find(|row| row[0].shown() == tag).unwrap();
        row[at].shown()
    }

    #[test]
    fn each_device_is_on_one_line_with_its_figures() {
        let house = small_house();
        let table = devices(&house.project, &WalkingOrder::of(&house.project));
        for (tag, column, words) in [
            ("PL-01", "Room", "Kitchen"),
            ("PL-01", "Height to centre", "1050"),
            ("PL-01", "Back box", "1 × 35"),
            ("PL-01", "Supply", "24 V d.c."),
            ("DL-01", "Height to centre", "2400"),
            ("DL-01", "Zones", "Kitchen ceiling"),
            ("DL-01", "Load", "9.0"),
            ("PIR-01", "Height to centre", "height missing"),
            ("PIR-01", "Fixed to", "host missing"),
        ] {
            assert_eq!(shown(&table, tag, column), words, "{tag} {column}");
        }
    }

    #[test]
    fn lines_run_by_level_then_room_then_tag() {
        let house = small_house();
        let table = devices(&house.project, &WalkingOrder::of(&house.project));
        let tags: Vec<String> = table.rows.iter().map(|row| row[0].shown()).collect();
        assert_eq!(tags, ["PIR-01", "DL-01", "DL-02", "PL-01"]);
    }
}
