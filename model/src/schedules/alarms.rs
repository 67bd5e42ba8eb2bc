//! The check of fire and carbon monoxide alarms, room by room: for the competent designer, never a design.

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::kit::FireSense;
use crate::plan::RoomUse;
use crate::project::Project;
use crate::studies::coverage::alarms::{accepts, alarms};

/// Every room indoors, in walking order: what suits it, what it has, and how far its farthest point is.
pub fn alarms_check(project: &Project, order: &WalkingOrder) -> Table {
    let report = alarms(project, &order.whereabouts);
    let devices = order.devices(project);
    let mut rows = Vec::new();
    for (id, room) in order.rooms(project) {
        if room.room_use == RoomUse::Outside {
            continue;
        }
        let within: Vec<_> = devices
            .iter()
            .filter(|placed| placed.room.is_some_and(|(of, _)| of == id))
            .filter_map(|placed| Some((placed, placed.kind.fire?)))
            .collect();
        let tags = |of_co: bool| -> String {
            let meant = within
                .iter()
                .filter(|(_, alarm)| (alarm.notices == FireSense::CarbonMonoxide) == of_co)
                .map(|(placed, _)| placed.device.tag.to_string());
            meant.collect::<Vec<_>>().join(", ")
        };
        let reach = report
            .reaches
            .iter()
            .filter(|reach| {
                reach.room == id && accepts(room.room_use).is_none_or(|(_, need)| need.is_met_by(reach.sense))
            })
            .min_by(|a, b| {
                let beyond = |reach: &crate::studies::coverage::alarms::AlarmReach| {
                    (reach.farthest - reach.limit).as_mm()
                };
                beyond(a).total_cmp(&beyond(b))
            });
        let level = project.levels.get(room.level).map(|level| level.name.clone()).unwrap_or_default();
        rows.push(vec![
            Cell::text(level),
            Cell::text(room.name.clone()),
            Cell::text(accepts(room.room_use).map_or("none", |(_, need)| need.name())),
            Cell::text(tags(false)),
            reach.map_or(Cell::Empty, |reach| Cell::whole(reach.farthest.as_mm().round())),
            reach.map_or(Cell::Empty, |reach| Cell::whole(reach.limit.as_mm())),
            Cell::text(tags(true)),
        ]);
    }
    Table {
        name: "alarms",
        title: "Fire and CO alarms: a check for the competent designer, never a design",
        columns: columns(&[
            ("Level", ""),
            ("Room", ""),
            ("Suits", ""),
            ("Fire alarms", ""),
            ("Farthest point", "mm"),
            ("At most", "mm"),
            ("CO alarms", ""),
        ]),
        rows,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::small_house::drawn_rooms::ceiling;
    use crate::small_house::{bare_house, fire_alarm};

    #[test]
    fn a_room_lists_its_alarms_and_its_farthest_point() {
        let mut house = bare_house();
        house.place_new(fire_alarm(FireSense::Heat), ceiling(2000.0, 1500.0), None);
        let table = alarms_check(&house.project, &WalkingOrder::of(&house.project));
        let shown: Vec<String> = table.rows[0].iter().map(Cell::shown).collect();
        // From the middle of 3.9 m by 2.9 m to a corner: 2,430 mm.
        assert_eq!(shown, ["Ground floor", "Kitchen", "a heat alarm", "SD-01", "2430", "5300", ""]);
        assert!(table.title.contains("never a design"));
    }
}
