//! The tables that go with the drawings: one table a file, all of one [`Table`] shape.
//!
//! Rows run from the lowest level up, then by room, then by tag, so that the same plan always gives the same
//! table. What should be there and is not is a [`Cell::Missing`], never a guess.

pub mod alarms;
pub mod batteries;
pub mod cameras;
pub mod coverage;
pub mod devices;
pub mod intrusion;
pub mod kit_list;
pub mod order;
pub mod plates;
pub mod points;
pub mod rooms;
pub mod rules;
pub mod table;
pub mod zones;

pub use table::{Cell, Column, Table};

use crate::project::Project;

/// Every schedule of a house, in the order in which they are issued.
pub fn all_tables(project: &Project) -> Vec<Table> {
    let order = order::WalkingOrder::of(project);
    vec![
        devices::devices(project, &order),
        zones::zones(project, &order),
        rules::rules(project, &order),
        plates::plates(project, &order),
        points::points(project, &order),
        batteries::batteries(project, &order),
        kit_list::kit_list(project),
        rooms::rooms(project, &order),
        coverage::coverage(project, &order),
        cameras::cameras(project, &order),
        alarms::alarms_check(project, &order),
        intrusion::intrusion_list(project, &order),
    ]
}

/// Columns from titles and units.
fn columns(titles: &[(&'static str, &'static str)]) -> Vec<Column> {
    titles.iter().map(|(title, unit)| Column { title, unit }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::{Family, Kind, MountKind, Supply};
    use crate::small_house::{camera_outdoors, plain_kind, small_house};

    #[test]
    fn every_row_has_as_many_cells_as_there_are_columns() {
        let mut house = small_house();
        camera_outdoors(&mut house, 2600.0, 15.0);
        let contact = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
        let contact = house.put(Kind { supply: Supply::Battery, ..contact });
        house.place(contact, house.on_wall(1, 1000.0), Some(2000.0));
        for table in all_tables(&house.project) {
            assert!(!table.rows.is_empty(), "{}", table.name);
            for row in &table.rows {
                assert_eq!(row.len(), table.columns.len(), "{}", table.name);
            }
        }
    }

    #[test]
    fn an_empty_house_has_empty_tables_and_no_total_but_nought() {
        for table in all_tables(&Project::new()) {
            let expected = usize::from(table.name == "kit-list");
            assert_eq!(table.rows.len(), expected, "{}", table.name);
        }
    }
}
