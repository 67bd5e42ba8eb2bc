//! The device schedule: one line a device, with all that first fix and second fix need to know of it.

use super::order::{Placed, WalkingOrder};
use super::{Cell, Table, columns};
use crate::building::Whereabouts;
use crate::drawing::dimensions::{SettingOut, SettingOutFrom, setting_out};
use crate::kit::{Device, Kind, Mount, MountKind};
use crate::plan::Side;
use crate::project::Project;

/// Every device, in walking order.
pub fn devices(project: &Project, order: &WalkingOrder) -> Table {
    let set_out: Vec<SettingOut> =
        project.levels.ids().flat_map(|level| setting_out(project, level)).collect();
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
            ("Set out", "mm"),
            ("Set out from", "facing the wall"),
            ("Height to centre", "mm AFFL"),
            ("Back box", "gangs × mm"),
            ("Supply", ""),
            ("Load", "W"),
            ("Zones", ""),
            ("Note", ""),
        ]),
        rows: order
            .devices(project)
            .iter()
            .map(|placed| row(project, placed, set_out.iter().find(|found| found.device == placed.id)))
            .collect(),
    }
}

fn row(project: &Project, placed: &Placed<'_>, set_out: Option<&SettingOut>) -> Vec<Cell> {
    let Placed { device, kind, level, .. } = placed;
    let (distance, from) = set_out_cells(project, &device.mount, set_out);
    vec![
        Cell::text(device.tag.to_string()),
        Cell::text(device.name.clone()),
        Cell::text(kind.name.clone()),
        Cell::text(level.name.clone()),
        room(placed),
        fixed_to(&device.mount),
        distance,
        from,
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

/// What the tape reads along the wall's face, and what it is hooked on.
fn set_out_cells(project: &Project, mount: &Mount, set_out: Option<&SettingOut>) -> (Cell, Cell) {
    match (mount, set_out) {
        (_, Some(found)) => (Cell::whole(found.distance.as_mm()), Cell::text(hook_words(project, found))),
        (Mount::WallFace { .. }, None) => (Cell::Missing("distance"), Cell::Empty),
        (_, None) => (Cell::Empty, Cell::Empty),
    }
}

/// What the tape is hooked on, and on which hand of whoever faces the wall (`corner on the left`).
pub fn hook_words(project: &Project, set_out: &SettingOut) -> String {
    let hook = match set_out.from {
        SettingOutFrom::InternalCorner => "corner",
        SettingOutFrom::Reveal { .. } => "reveal",
        SettingOutFrom::WallEnd => "end of the wall",
    };
    let Some(wall) = project.walls.get(set_out.wall) else { return hook.to_owned() };
    let facing = -wall.normal(set_out.side);
    let to_the_right = kurbo::Vec2::new(facing.y, -facing.x);
    let is_right = (set_out.from_point - set_out.to_point).dot(to_the_right) > 0.0;
    format!("{hook} on the {}", if is_right { "right" } else { "left" })
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
    use crate::small_house::small_house;

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
            ("PL-01", "Set out", "1950"),
            ("DL-01", "Set out", ""),
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
    fn a_tape_is_hooked_on_the_nearer_corner_on_the_hand_of_whoever_faces_the_wall() {
        // The south wall, seen from inside: west is on the right.
        for (along, distance, words) in
            [(1000.0, "950", "corner on the right"), (3500.0, "450", "corner on the left")]
        {
            let mut house = small_house();
            let (kind, _) = house.project.kinds.iter().find(|(_, kind)| kind.code == "PL").unwrap();
            house.place(kind, house.on_wall(0, along), Some(1100.0));
            let table = devices(&house.project, &WalkingOrder::of(&house.project));
            assert_eq!(shown(&table, "PL-02", "Set out"), distance);
            assert_eq!(shown(&table, "PL-02", "Set out from"), words);
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
