//! The rule list: each rule as one plain sentence, for the client to read and the engineer to commission.

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::id::Id;
use crate::project::Project;
use crate::sentence::sentence_text;
use crate::systems::Rule;

/// Every rule: those of the whole house first, then room by room in walking order, then as they were made.
pub fn rules(project: &Project, order: &WalkingOrder) -> Table {
    Table {
        name: "rules",
        title: "Rules",
        columns: columns(&[
            ("No.", ""),
            ("Name", ""),
            ("Room", ""),
            ("State", ""),
            ("What it does", ""),
            ("Comment", ""),
        ]),
        rows: in_order(project, order)
            .iter()
            .enumerate()
            .map(|(index, (_, rule))| row(project, index + 1, rule))
            .collect(),
    }
}

fn in_order<'a>(project: &'a Project, order: &WalkingOrder) -> Vec<(Id<Rule>, &'a Rule)> {
    let rooms: Vec<_> = order.rooms(project).into_iter().map(|(id, _)| id).collect();
    let rank = |rule: &Rule| rule.room.map(|room| rooms.iter().position(|listed| *listed == room));
    let mut listed: Vec<_> = project.rules.iter().collect();
    listed.sort_by_key(|(id, rule)| (rank(rule), *id));
    listed
}

fn row(project: &Project, number: usize, rule: &Rule) -> Vec<Cell> {
    let room = match rule.room {
        None => Cell::text("whole house"),
        Some(id) => project.rooms.get(id).map_or(Cell::Missing("room"), |room| Cell::text(room.name.clone())),
    };
    vec![
        Cell::whole(number as f64),
        if rule.name.trim().is_empty() { Cell::Missing("name") } else { Cell::text(rule.name.clone()) },
        room,
        Cell::text(if rule.enabled { "on" } else { "off" }),
        Cell::text(sentence_text(project, rule)),
        Cell::text(rule.comment.clone()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::small_house;

    #[test]
    fn whole_house_rules_come_first_and_read_as_sentences() {
        let house = small_house();
        let table = rules(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<Vec<String>> =
            table.rows.iter().map(|row| row.iter().map(Cell::shown).collect()).collect();
        assert_eq!(shown[0][..4], ["1", "Evening", "whole house", "off"]);
        assert_eq!(shown[1][..4], ["2", "Kitchen light", "Kitchen", "on"]);
        assert_eq!(shown[1][4], "When PL-01 key 1 is pressed: turn Kitchen ceiling lights on or off.");
    }
}
