//! Ferry Cottage: an invented cottage of two storeys with a later wing, and the plan an integrator made of it.
//!
//! The old house has a hall between a long living room and two rooms that face front and garden; the wing holds
//! kitchen, larder and utility below and the main bedroom above. Its outer walls are 300 mm of stone, what was
//! built within them is 100 mm of block downstairs and stud upstairs. House, people and place are made up.

mod first_floor;
mod first_floor_devices;
mod garden_devices;
mod ground_floor;
mod ground_floor_devices;
mod plates;
mod rules;
mod scripts;
mod spots;
mod walks;
mod wing_devices;
mod zones;

use kurbo::Point;
use pattress_model::drawing::Paper;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::project::{Place, Project, Site};
use pattress_model::units::{Angle, Money};

use crate::builder::House;

/// Thickness of the outer walls, mm.
const OUTER_MM: f64 = 300.0;

/// Thickness of the walls within, mm.
const INNER_MM: f64 = 100.0;

/// Builds the house.
pub fn ferry_cottage() -> Project {
    let mut house = House::new(site(), kind_by_key);
    let ground = house.level();
    let downstairs = ground_floor::draw(&mut house);
    house.commit("Draw the ground floor");
    let first = house.add_level("First floor", 2700.0, 2400.0);
    let upstairs = first_floor::draw(&mut house);
    house.commit("Draw the first floor");
    house.work_on(ground);
    ground_floor_devices::place(&mut house);
    wing_devices::place(&mut house, &downstairs);
    house.commit("Place the devices of the ground floor");
    house.work_on(first);
    first_floor_devices::place(&mut house, &upstairs);
    house.commit("Place the devices of the first floor");
    house.work_on(ground);
    garden_devices::place(&mut house);
    house.commit("Place the devices of the garden");
    spots::mark(&mut house, ground, first);
    house.commit("Mark the spots");
    walks::draw(&mut house, ground, first);
    house.commit("Draw the walks");
    zones::gather(&mut house, ground, first);
    house.commit("Gather the zones");
    rules::write(&mut house);
    house.commit("Write the rules");
    scripts::write(&mut house);
    house.commit("Write the scripts");
    house.finish()
}

fn site() -> Site {
    Site {
        project_name: "Ferry Cottage".to_owned(),
        address: "Ferry Cottage, Staithe Lane, Lower Wenham Quay".to_owned(),
        client: "E. and M. Harrow".to_owned(),
        legal_owner: "Saltmarsh Integration".to_owned(),
        call: "Saltmarsh Integration, 01632 960 114".to_owned(),
        creator: "J. Penhale".to_owned(),
        approver: "R. Osgood".to_owned(),
        drawing_prefix: "FC".to_owned(),
        north: Angle::degrees(112.0),
        // Open marsh; no house stands there.
        place: Some(Place { latitude: Angle::degrees(52.05), longitude: Angle::degrees(1.2) }),
        boundary: [(-3000.0, -2600.0), (18_000.0, -2600.0), (18_000.0, 21_000.0), (-3000.0, 21_000.0)]
            .map(Point::from)
            .to_vec(),
        currency: "GBP".to_owned(),
        hourly_rate: Money::whole(52),
        issue_date: "2026-03-31".to_owned(),
        // The legend needs the room: on A3 the plan would shrink below 1:50.
        paper: Paper::A2,
        ..Site::default()
    }
}
