//! The point list for whoever programs the house: every point of every device, what travels over it and which way, the
//! zones it is in and the rules that use it. It says nothing of any protocol.

use std::collections::{BTreeMap, BTreeSet};

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::id::Id;
use crate::kit::{PointRole, PointType};
use crate::project::Project;
use crate::sentence::keys::unit_of;
use crate::systems::{PointRef, Rule, Scene, Zone};

/// A point with all that a programmer asks about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointLine {
    /// The tag of its device.
    pub tag: String,
    /// What the family calls the device; empty where the tag does.
    pub name: String,
    /// Its kind.
    pub kind: String,
    /// Its storey.
    pub level: String,
    /// Its room; `None` where it is in none.
    pub room: Option<String>,
    /// The point.
    pub point: String,
    /// What travels over it.
    pub point_type: PointType,
    /// The unit of its figures; empty where it has none.
    pub unit: &'static str,
    /// Whether the device reports it or does it.
    pub role: PointRole,
    /// Names of the zones it is in.
    pub zones: Vec<String>,
    /// Names of the rules that use it, by itself, by a zone or by a scene, and whether each is on.
    pub rules: Vec<(String, bool)>,
}

/// The words for which way a point goes.
pub const fn direction_words(role: PointRole) -> &'static str {
    match role {
        PointRole::Reports => "to the hub",
        PointRole::Does => "from the hub",
    }
}

/// Every point of every device, in walking order.
pub fn point_lines(project: &Project, order: &WalkingOrder) -> Vec<PointLine> {
    let rules = rules_by_point(project);
    let mut zones: BTreeMap<&PointRef, Vec<String>> = BTreeMap::new();
    for (_, zone) in project.zones.iter() {
        for point in &zone.points {
            zones.entry(point).or_default().push(zone.name.clone());
        }
    }
    let mut lines = Vec::new();
    for placed in order.devices(project) {
        for point in &placed.kind.points {
            let of = PointRef::new(placed.id, point.name.as_str());
            let by = rules.get(&of).into_iter().flatten().filter_map(|rule| project.rules.get(*rule));
            lines.push(PointLine {
                tag: placed.device.tag.to_string(),
                name: placed.device.name.clone(),
                kind: placed.kind.name.clone(),
                level: placed.level.name.clone(),
                room: placed.room.map(|(_, room)| room.name.clone()),
                point: point.name.clone(),
                point_type: point.point_type,
                unit: unit_of(&point.name),
                role: point.role,
                zones: zones.get(&of).cloned().unwrap_or_default(),
                rules: by.map(|rule| (rule.name.clone(), rule.enabled)).collect(),
            });
        }
    }
    lines
}

/// The rules that use each point: named in the rule, in a zone of it, or set by a scene that it runs.
fn rules_by_point(project: &Project) -> BTreeMap<PointRef, BTreeSet<Id<Rule>>> {
    let mut found: BTreeMap<PointRef, BTreeSet<Id<Rule>>> = BTreeMap::new();
    let of_zone = |zone: Id<Zone>| project.zones.get(zone).map_or(&[][..], |zone| zone.points.as_slice());
    for (id, rule) in project.rules.iter() {
        let scenes: Vec<&Scene> =
            rule.scenes().into_iter().filter_map(|scene| project.scenes.get(scene)).collect();
        let by_scene = scenes.iter().flat_map(|scene| scene.points());
        let zones = rule.zones().into_iter().chain(scenes.iter().flat_map(|scene| scene.zones()));
        for point in rule.points().into_iter().chain(by_scene).chain(zones.flat_map(of_zone)) {
            found.entry(point.clone()).or_default().insert(id);
        }
    }
    found
}

/// The point list.
pub fn points(project: &Project, order: &WalkingOrder) -> Table {
    let row = |line: PointLine| {
        let rules: Vec<String> = line
            .rules
            .iter()
            .map(|(name, on)| if *on { name.clone() } else { format!("{name} (off)") })
            .collect();
        vec![
            Cell::text(line.tag),
            Cell::text(line.name),
            Cell::text(line.kind),
            Cell::text(line.level),
            line.room.map_or(Cell::Empty, Cell::text),
            Cell::text(line.point),
            Cell::text(line.point_type.name()),
            Cell::text(line.unit),
            Cell::text(direction_words(line.role)),
            Cell::text(line.zones.join("; ")),
            Cell::text(rules.join("; ")),
        ]
    };
    Table {
        name: "points",
        title: "Point list",
        columns: columns(&[
            ("Tag", ""),
            ("Name", ""),
            ("Kind", ""),
            ("Level", ""),
            ("Room", ""),
            ("Point", ""),
            ("Type", ""),
            ("Unit", ""),
            ("Direction", ""),
            ("Zones", ""),
            ("Rules", ""),
        ]),
        rows: point_lines(project, order).into_iter().map(row).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn each_point_has_a_line_with_its_zones_and_rules() {
        let house = small_house();
        let table = points(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> =
            table.rows.iter().map(|row| row.iter().map(Cell::shown).collect::<Vec<_>>().join("|")).collect();
        for expected in [
            "PL-01||Plate, two keys|Ground floor|Kitchen|key 1|event||to the hub||Kitchen light",
            "PL-01||Plate, two keys|Ground floor|Kitchen|key 2|event||to the hub||Evening (off)",
            "DL-01||Downlight|Ground floor|Kitchen|level|number|%|from the hub|Kitchen ceiling|Kitchen light; Evening \
             (off)",
        ] {
            assert!(shown.iter().any(|row| row == expected), "{expected} is not in {shown:#?}");
        }
        let points: usize = house
            .project
            .devices
            .iter()
            .filter_map(|(_, device)| house.project.kinds.get(device.kind))
            .map(|kind| kind.points.len())
            .sum();
        assert_eq!(table.rows.len(), points);
    }
}
