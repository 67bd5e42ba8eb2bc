//! The garden flat: one bedroom on the ground floor, laid out for someone who walks with a frame.
//!
//! Every door is 926 mm wide and the hall 1.7 m, so that a frame can turn; the wet room opens to the hall and to
//! the bedroom, and both of its doors swing out of it, so that someone who has fallen does not bar them. Flat,
//! people and place are made up.

mod devices;
mod life;
mod scripts;
mod walks;

use pattress_model::drawing::Paper;
use pattress_model::id::Id;
use pattress_model::kit::catalogue::kind_by_key;
use pattress_model::plan::{DoorState, Joinery, JoineryForm, MakeUp, RoomUse};
use pattress_model::project::{Project, Site};
use pattress_model::units::{Angle, Money};

use crate::builder::{House, Way};

/// Width of every door, mm: 926 leaves the 850 clear that a frame and its user take.
const DOOR_MM: f64 = 926.0;

/// Builds the flat.
pub fn garden_flat() -> Project {
    let mut house = House::new(site(), kind_by_key);
    walls(&mut house);
    doors_and_windows(&mut house);
    rooms(&mut house);
    let wall_units = joinery(&mut house);
    house.commit("Draw the flat");
    devices::place(&mut house, wall_units);
    house.commit("Place the devices");
    walks::draw(&mut house);
    house.commit("Draw the walks");
    life::gather_zones(&mut house);
    house.commit("Gather the zones");
    life::write_rules(&mut house);
    house.commit("Write the rules");
    scripts::write(&mut house);
    house.commit("Write the scripts");
    house.finish()
}

fn site() -> Site {
    Site {
        project_name: "Garden Flat".to_owned(),
        address: "Garden Flat, 3 Orchard Row, Lower Wenham Quay".to_owned(),
        client: "A. Brackley".to_owned(),
        legal_owner: "Saltmarsh Integration".to_owned(),
        call: "Saltmarsh Integration, 01632 960 114".to_owned(),
        creator: "J. Penhale".to_owned(),
        approver: "R. Osgood".to_owned(),
        drawing_prefix: "GF".to_owned(),
        north: Angle::degrees(65.0),
        currency: "GBP".to_owned(),
        hourly_rate: Money::whole(52),
        issue_date: "2026-03-31".to_owned(),
        // The legend needs the room: on A3 the plan would shrink below 1:50.
        paper: Paper::A2,
        ..Site::default()
    }
}

/// Axes: the flat lies between x 0 and 10,200 and y 0 and 6,900, its front at the bottom of the sheet.
fn walls(house: &mut House) {
    let outer = [(0.0, 0.0), (0.0, 6900.0), (10200.0, 6900.0), (10200.0, 0.0), (0.0, 0.0)];
    house.walls(300.0, MakeUp::Masonry, &outer);
    for run in [
        [(4200.0, 0.0), (4200.0, 3600.0)],
        [(0.0, 3600.0), (6000.0, 3600.0)],
        [(6000.0, 0.0), (6000.0, 2400.0)],
        [(6000.0, 2400.0), (6000.0, 6900.0)],
        [(6000.0, 2400.0), (10200.0, 2400.0)],
        [(8900.0, 0.0), (8900.0, 2400.0)],
    ] {
        house.walls(100.0, MakeUp::Block, &run);
    }
}

fn doors_and_windows(house: &mut House) {
    let shut = DoorState::Shut;
    house.door_that_stands((5100.0, 0.0), DOOR_MM, Way::Left, Way::Up, shut); // front door
    house.door_that_stands((1500.0, 6900.0), DOOR_MM, Way::Left, Way::Down, shut); // garden door
    house.door_that_stands((6000.0, 1300.0), DOOR_MM, Way::Up, Way::Left, shut); // wet room, hall
    house.door_that_stands((9500.0, 2400.0), DOOR_MM, Way::Right, Way::Up, shut); // store
    house.door((4200.0, 1900.0), DOOR_MM, Way::Down, Way::Left); // kitchen
    house.door((5100.0, 3600.0), DOOR_MM, Way::Right, Way::Up); // living room
    house.door((6000.0, 3000.0), DOOR_MM, Way::Down, Way::Right); // bedroom
    house.door((8100.0, 2400.0), DOOR_MM, Way::Left, Way::Up); // wet room, bedroom
    house.gap((1800.0, 3600.0), 1200.0, 2100.0);
    for (at, width, sill) in [
        ((2000.0, 0.0), 1500.0, 1050.0),
        ((7300.0, 0.0), 600.0, 1400.0),
        ((4000.0, 6900.0), 1500.0, 600.0),
        ((8100.0, 6900.0), 1500.0, 600.0),
    ] {
        house.window(at, width, sill, 2100.0);
    }
}

fn rooms(house: &mut House) {
    house.room("Hall", RoomUse::Circulation, (5100.0, 2000.0));
    house.room("Kitchen", RoomUse::Kitchen, (2800.0, 2400.0));
    house.room("Living room", RoomUse::Living, (3000.0, 5600.0));
    house.room("Bedroom", RoomUse::Bedroom, (8350.0, 4200.0));
    house.room("Wet room", RoomUse::Bathroom, (7400.0, 1500.0));
    house.room("Store", RoomUse::Plant, (9500.0, 1600.0));
}

/// Wall units hang low, at 1,250, within reach of someone who does not stretch. Returns them.
fn joinery(house: &mut House) -> Id<Joinery> {
    let worktop = (0.0, 900.0);
    house.joinery("Sink run", JoineryForm::Worktop, [750.0, 150.0, 3100.0, 750.0], Way::Up, worktop);
    house.joinery("Hob run", JoineryForm::Worktop, [150.0, 150.0, 750.0, 3300.0], Way::Right, worktop);
    let units = [150.0, 900.0, 500.0, 3100.0];
    let wall_units = house.joinery("Wall units", JoineryForm::WallUnit, units, Way::Right, (1250.0, 1950.0));
    let wardrobe = [6050.0, 3950.0, 6650.0, 6150.0];
    house.joinery("Wardrobe", JoineryForm::Wardrobe, wardrobe, Way::Right, (0.0, 2200.0));
    let ware = JoineryForm::Sanitary;
    house.joinery("Shower area", ware, [7850.0, 150.0, 8850.0, 1150.0], Way::Up, (0.0, 20.0));
    house.joinery("WC", ware, [6950.0, 150.0, 7350.0, 850.0], Way::Up, (0.0, 480.0));
    house.joinery("Basin", ware, [6150.0, 150.0, 6700.0, 600.0], Way::Up, (700.0, 850.0));
    wall_units
}
