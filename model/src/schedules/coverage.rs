//! The coverage table: what the sensors see of each room, the largest part they do not, and the worst way in.

use std::collections::BTreeMap;

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::id::Id;
use crate::plan::{Room, RoomUse};
use crate::project::Project;
use crate::studies::coverage::rooms::{Entry, Way};
use crate::studies::coverage::{Options, RoomCoverage, coverage as study};

/// Every room, in walking order, with doors as drawn.
pub fn coverage(project: &Project, order: &WalkingOrder) -> Table {
    let report = study(project, Options::default());
    let answers: BTreeMap<Id<Room>, &RoomCoverage> =
        report.rooms.iter().map(|answer| (answer.room, answer)).collect();
    let rows = order
        .rooms(project)
        .into_iter()
        .map(|(id, room)| {
            let level = project.levels.get(room.level).map(|level| level.name.clone());
            let mut row = vec![
                level.map_or(Cell::Missing("level"), Cell::text),
                if room.name.trim().is_empty() {
                    Cell::Missing("name")
                } else {
                    Cell::text(room.name.clone())
                },
            ];
            row.extend(match answers.get(&id) {
                Some(answer) => answered(project, answer),
                None => unanswered(room),
            });
            row
        })
        .collect();
    Table {
        name: "coverage",
        title: "Coverage",
        columns: columns(&[
            ("Level", ""),
            ("Room", ""),
            ("Clear floor area", "m²"),
            ("Covered", "share of the floor"),
            ("Largest blind area", "m²"),
            ("Light by", ""),
            ("Worst way in", "from"),
            ("First seen after", "m"),
            ("That is", "s"),
            ("First seen by", ""),
        ]),
        rows,
    }
}

/// A room without an outline has no figures; one outdoors needs none.
fn unanswered(room: &Room) -> Vec<Cell> {
    let area = if room.room_use == RoomUse::Outside { Cell::Empty } else { Cell::Missing("outline") };
    std::iter::once(area).chain(std::iter::repeat_n(Cell::Empty, 7)).collect()
}

fn answered(project: &Project, answer: &RoomCoverage) -> Vec<Cell> {
    let shares: Vec<String> = answer
        .floor
        .shares
        .iter()
        .map(|(sense, share)| format!("{} {:.0} %", sense.name(), share * 100.0))
        .collect();
    let tag = |device| project.devices.get(device).map_or_else(String::new, |found| found.tag.to_string());
    let lit_by: Vec<String> = answer
        .lighters
        .iter()
        .filter(|lighter| lighter.rule.is_some())
        .map(|lighter| tag(lighter.device))
        .collect();
    let worst = answer.entries.first();
    let seen = worst.and_then(Entry::first_seen);
    let never =
        if worst.is_some() && !answer.lighters.is_empty() { Cell::text("never") } else { Cell::Empty };
    vec![
        Cell::Number { value: answer.area.as_m2(), decimals: 2 },
        Cell::text(shares.join(", ")),
        Cell::Number { value: answer.floor.blind.largest().as_m2(), decimals: 2 },
        Cell::text(lit_by.join(", ")),
        worst.map_or(Cell::Empty, |entry| Cell::text(from(project, entry))),
        seen.map_or(never, |seen| Cell::Number { value: seen.after.as_m(), decimals: 2 }),
        worst.and_then(Entry::time).map_or(Cell::Empty, |time| Cell::Number { value: time.0, decimals: 1 }),
        seen.map_or(Cell::Empty, |seen| Cell::text(tag(seen.by))),
    ]
}

fn from(project: &Project, entry: &Entry) -> String {
    let room = entry.way_in.from.and_then(|room| project.rooms.get(room)).map(|room| room.name.as_str());
    let storey = match entry.way_in.way {
        Way::Stair(level) => project.levels.get(level).map(|level| level.name.as_str()),
        Way::Door(_) | Way::Gap(_) | Way::Over(_) => None,
    };
    format!("{} ({})", room.or(storey).unwrap_or("outside"), entry.way_in.way.name())
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::kit::Mount;
    use crate::plan::{OpeningForm, Sense};
    use crate::small_house::small_house;
    use crate::studies::coverage::rooms::small_rooms::{detector, lit_by_motion, two_rooms};

    fn shown(project: &Project) -> Vec<String> {
        let table = coverage(project, &WalkingOrder::of(project));
        table.rows.iter().map(|row| row.iter().map(Cell::shown).collect::<Vec<_>>().join("|")).collect()
    }

    #[test]
    fn rooms_without_sensors_or_outlines_say_so() {
        assert_eq!(
            shown(&small_house().project),
            [
                "Cellar|Wine|outline missing|||||||",
                "Ground floor|Kitchen|11.31||11.31|||||",
                "Ground floor|Terrace||||||||",
            ]
        );
    }

    #[test]
    fn the_worst_way_in_stands_with_its_figures() {
        // A circle of 1 m radius about (1500, 1500): 3.14 m² of 11.31, seen from x = 2500 on, 1450 mm from the way in.
        let mut rooms = two_rooms();
        rooms.way(1500.0, OpeningForm::Plain);
        let kind = rooms.house.put(detector(Sense::Microwave, 1000.0));
        let mount = Mount::Ceiling { at: Point::new(1500.0, 1500.0) };
        let sensor = rooms.house.place(kind, mount, Some(2000.0));
        let lamp = rooms.lamp(2000.0, 2500.0);
        rooms.house.put(lit_by_motion(sensor, lamp, 60.0));
        assert_eq!(
            shown(&rooms.house.project),
            [
                "Ground floor|Hall|5.51||5.51||Kitchen (opening)|||",
                "Ground floor|Kitchen|11.31|microwave 28 %|8.17|PD-01|Hall (opening)|1.45|1.1|PD-01",
            ]
        );
    }
}
