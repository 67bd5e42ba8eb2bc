//! The zone list: what acts together, where, and how much it draws.

use std::collections::BTreeSet;

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::project::Project;
use crate::systems::Zone;
use crate::units::Watts;

/// Every zone, by purpose and name.
pub fn zones(project: &Project, order: &WalkingOrder) -> Table {
    let mut listed: Vec<_> = project.zones.iter().collect();
    listed.sort_by(|(first, a), (second, b)| (a.purpose, &a.name, first).cmp(&(b.purpose, &b.name, second)));
    Table {
        name: "zones",
        title: "Zones",
        columns: columns(&[("Zone", ""), ("Purpose", ""), ("Rooms", ""), ("Points", ""), ("Load", "W")]),
        rows: listed.iter().map(|(_, zone)| row(project, order, zone)).collect(),
    }
}

fn row(project: &Project, order: &WalkingOrder, zone: &Zone) -> Vec<Cell> {
    let points: Vec<String> = zone.points.iter().map(|point| point_words(project, point)).collect();
    vec![
        if zone.name.trim().is_empty() { Cell::Missing("name") } else { Cell::text(zone.name.clone()) },
        Cell::text(zone.purpose.name()),
        Cell::text(rooms(project, order, zone).join(", ")),
        if points.is_empty() { Cell::Missing("points") } else { Cell::text(points.join(", ")) },
        Cell::Number { value: load_of(project, zone).0, decimals: 1 },
    ]
}

/// `DL-03`, with the point's name where the device has more than one to put into a zone.
fn point_words(project: &Project, point: &crate::systems::PointRef) -> String {
    let Some(device) = project.devices.get(point.device) else { return "(missing)".to_owned() };
    let alone = project.kinds.get(device.kind).is_some_and(|kind| kind.points.len() <= 1);
    if alone { device.tag.to_string() } else { format!("{} {}", device.tag, point.point) }
}

/// The names of the rooms its devices are in, in walking order, each once.
fn rooms(project: &Project, order: &WalkingOrder, zone: &Zone) -> Vec<String> {
    let mut names = Vec::new();
    for placed in order.devices(project) {
        if let Some((_, room)) = placed.room
            && zone.points.iter().any(|point| point.device == placed.id)
            && !names.contains(&room.name)
        {
            names.push(room.name.clone());
        }
    }
    names
}

/// What the devices of a zone draw together, each counted once however many of its points are in it.
pub fn load_of(project: &Project, zone: &Zone) -> Watts {
    let devices: BTreeSet<_> = zone.points.iter().map(|point| point.device).collect();
    let load = |id: &_| project.kinds.get(project.devices.get(*id)?.kind).map(|kind| kind.load.0);
    Watts(devices.iter().filter_map(load).sum())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn a_zone_lists_its_points_and_adds_up_its_load() {
        let house = small_house();
        let table = zones(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> = table.rows[0].iter().map(Cell::shown).collect();
        assert_eq!(shown, ["Kitchen ceiling", "lighting", "Kitchen", "DL-01, DL-02", "18.0"]);
    }

    #[test]
    fn a_device_with_two_points_in_a_zone_draws_its_load_once() {
        let house = small_house();
        let (_, zone) = house.project.zones.iter().next().unwrap();
        let mut doubled = zone.clone();
        doubled.points.push(zone.points[0].clone());
        assert_eq!(load_of(&house.project, &doubled), Watts(18.0));
    }
}
