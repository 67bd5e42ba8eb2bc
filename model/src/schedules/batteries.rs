//! How long batteries last, estimated from how often the plan's scripts make their devices speak.
//!
//! The scripts are taken as the scenes of one day, each of which happens once; a script that runs over several days
//! counts by the day. A device speaks once each time it reports something and each time it is told to do something.
//! Figures of batteries are those of the kind, invented until the maker's are put in, and a device that no script
//! touches is said to be not played.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::order::WalkingOrder;
use super::{Cell, Table, columns};
use crate::id::Id;
use crate::kit::{Battery, Device, PointRole, Supply};
use crate::project::Project;
use crate::studies::rehearsal::script::{play, read_script};
use crate::studies::rehearsal::{Incoming, RuleBook, What};
use crate::systems::{PointRef, Script};
use crate::world::{world_of, world_without_walks};

/// Milliseconds to a day.
const MS_PER_DAY: i64 = 86_400_000;

/// How long the battery of a device lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BatteryLife {
    /// The device.
    pub device: Id<Device>,
    /// The battery; `None` where the kind has no figures of it.
    pub battery: Option<Battery>,
    /// How often it speaks in a day; `None` where no script touches it.
    pub messages_a_day: Option<f64>,
}

impl BatteryLife {
    /// The estimate, years; `None` where figures are missing or no script touches it.
    pub fn years(&self) -> Option<f64> {
        self.battery?.years(self.messages_a_day?)
    }

    /// How long it would last if it never spoke, years: no estimate is longer.
    pub fn years_at_most(&self) -> Option<f64> {
        self.battery?.years(0.0)
    }
}

/// Every device that a battery feeds, by id.
pub fn battery_lives(project: &Project) -> BTreeMap<Id<Device>, BatteryLife> {
    let fed: Vec<(Id<Device>, Option<Battery>)> = project
        .devices
        .iter()
        .filter_map(|(id, device)| {
            let kind = project.kinds.get(device.kind)?;
            (kind.supply == Supply::Battery).then_some((id, kind.battery))
        })
        .collect();
    if fed.is_empty() {
        return BTreeMap::new();
    }
    let spoken = messages_a_day(project);
    fed.into_iter()
        .map(|(device, battery)| {
            let messages_a_day = spoken.get(&device).copied();
            (device, BatteryLife { device, battery, messages_a_day })
        })
        .collect()
}

/// How often each device speaks in a day on which every script happens once; devices that no script touches are left
/// out, and scripts that cannot be read or begun are passed over (a finding tells of them).
pub fn messages_a_day(project: &Project) -> BTreeMap<Id<Device>, f64> {
    let mut spoken = BTreeMap::new();
    if project.scripts.is_empty() {
        return spoken;
    }
    let walks = |script: &Script| script.lines.iter().any(|line| line.trim_start().starts_with("walk "));
    let somebody_walks = project.scripts.iter().any(|(_, script)| walks(script));
    let world = if somebody_walks { world_of(project) } else { world_without_walks(project) };
    let book = Arc::new(RuleBook::of(project));
    for (_, script) in project.scripts.iter() {
        let Ok(steps) = read_script(project, &script.lines) else { continue };
        let Ok(played) = play(project, &book, &steps, &world) else { continue };
        let entries = played.run.journal().entries();
        let Some(first) = entries.first() else { continue };
        let lasted = played.run.now().ms - first.at.ms;
        let days = (lasted + MS_PER_DAY - 1).div_euclid(MS_PER_DAY).max(1) as f64;
        for entry in entries {
            if let Some(device) = speaker(project, &book, entry.what) {
                *spoken.entry(device).or_insert(0.0) += 1.0 / days;
            }
        }
    }
    spoken
}

/// The device that speaks at an entry of the journal, if one does: it reports, or it is told and answers.
fn speaker(project: &Project, book: &RuleBook, what: What) -> Option<Id<Device>> {
    let (point, role) = match what {
        What::CameIn(Incoming::Gesture { point, .. } | Incoming::Value { point, .. }) => {
            (point, PointRole::Reports)
        }
        What::Changed { point, .. } | What::Happened(point) => (point, PointRole::Does),
        _ => return None,
    };
    let PointRef { device, point } = book.name(point)?;
    let kind = project.kinds.get(project.devices.get(*device)?.kind)?;
    (kind.point(point)?.role == role).then_some(*device)
}

/// The estimate for every device that a battery feeds, in walking order.
pub fn batteries(project: &Project, order: &WalkingOrder) -> Table {
    let lives = battery_lives(project);
    let number = |value: f64, decimals| Cell::Number { value, decimals };
    let rows = order
        .devices(project)
        .iter()
        .filter_map(|placed| {
            let life = lives.get(&placed.id)?;
            let mut row = vec![
                Cell::text(placed.device.tag.to_string()),
                Cell::text(placed.device.name.clone()),
                Cell::text(placed.kind.name.clone()),
                Cell::text(placed.level.name.clone()),
                placed.room.map_or(Cell::Empty, |(_, room)| Cell::text(room.name.clone())),
                life.messages_a_day.map_or(Cell::text("not played"), |messages| number(messages, 1)),
            ];
            match life.battery {
                Some(battery) => row.extend([
                    number(battery.capacity_mah, 0),
                    number(battery.speaking_ma, 1),
                    number(battery.message.0, 2),
                    number(battery.standby_ua, 1),
                    number(battery.self_discharge_percent, 1),
                ]),
                None => {
                    row.extend([
                        Cell::Missing("figures of the battery"),
                        Cell::Empty,
                        Cell::Empty,
                        Cell::Empty,
                        Cell::Empty,
                    ]);
                }
            }
            row.push(match (life.years(), life.messages_a_day) {
                (Some(years), _) => number(years, 1),
                (None, None) => Cell::text("not played"),
                (None, Some(_)) => Cell::Empty,
            });
            row.push(life.years_at_most().map_or(Cell::Empty, |years| number(years, 1)));
            Some(row)
        })
        .collect();
    Table {
        name: "batteries",
        title: "Battery life, estimated by the figures of the kind and the plan's scripts",
        columns: columns(&[
            ("Tag", ""),
            ("Name", ""),
            ("Kind", ""),
            ("Level", ""),
            ("Room", ""),
            ("Speaks", "times a day, by the scripts"),
            ("Battery", "mAh, invented until put in"),
            ("While it speaks", "mA"),
            ("A message", "s"),
            ("Standby", "µA"),
            ("Loss by itself", "% a year"),
            ("Estimate", "years"),
            ("If it never spoke", "years"),
        ]),
        rows,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{Family, Kind, MountKind};
    use crate::small_house::{SmallHouse, bare_house, plain_kind};

    /// A kitchen with a contact on a battery that no rule listens to, and a script.
    fn with_script(lines: &[&str]) -> (SmallHouse, Id<Device>) {
        let mut house = bare_house();
        let contact = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
        let contact =
            house.put(Kind { supply: Supply::Battery, battery: Some(Battery::INVENTED), ..contact });
        let device = house.place(contact, house.on_wall(0, 1000.0), Some(2000.0));
        let lines = lines.iter().map(|line| (*line).to_owned()).collect();
        house.put(Script { name: "Door".to_owned(), lines });
        (house, device)
    }

    #[test]
    fn what_a_script_reports_is_counted_by_the_day() {
        let opened = "report MC-01 open on";
        let shut = "report MC-01 open off";
        for (lines, messages) in [
            (&["start 2026-01-15 08:00", opened, shut, "after 1 min", opened, shut][..], Some(4.0)),
            (&["start 2026-01-15 08:00", opened, "after 48 h", shut], Some(1.0)),
            (&["start 2026-01-15 08:00", "after 1 h"], None),
            (&["start 2026-01-15 08:00", "this cannot be read"], None),
        ] {
            let (house, device) = with_script(lines);
            let life = battery_lives(&house.project)[&device];
            assert_eq!(life.messages_a_day, messages, "{lines:?}");
            let expected = messages.and_then(|messages| Battery::INVENTED.years(messages));
            assert_eq!(
                (life.years(), life.years_at_most()),
                (expected, Battery::INVENTED.years(0.0)),
                "{lines:?}"
            );
        }
    }

    #[test]
    fn the_table_says_what_was_not_played_and_what_is_missing() {
        let (mut house, device) = with_script(&["start 2026-01-15 08:00"]);
        let shown = |house: &SmallHouse| -> Vec<String> {
            let table = batteries(&house.project, &WalkingOrder::of(&house.project));
            table.rows[0].iter().map(Cell::shown).collect()
        };
        assert_eq!(
            shown(&house)[5..],
            ["not played", "1200", "15.0", "0.10", "10.0", "2.0", "not played", "10.8"]
        );
        let kind_id = house.project.devices.get(device).unwrap().kind;
        let kind = Kind { battery: None, ..house.project.kinds.get(kind_id).unwrap().clone() };
        let change = crate::edit::verbs::edit_kind(&house.project, kind_id, kind, &[]).unwrap();
        crate::edit::History::default().apply(&mut house.project, change).unwrap();
        assert_eq!(shown(&house)[6], "figures of the battery missing");
    }
}
