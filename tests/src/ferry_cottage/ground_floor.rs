//! The ground floor as the architect drew it: FFL 0, ceilings at 2,400.
//!
//! Axes: the old house lies between x 0 and 10,200 and y 0 and 7,200, its front at the bottom of the sheet; the
//! wing stands from x 10,200 to 14,700, set back by 600. The hall runs from front to back beside the stair.

use pattress_model::id::Id;
use pattress_model::plan::{DoorState, Joinery, JoineryForm, MakeUp, RoomUse};

use super::{INNER_MM, OUTER_MM};
use crate::builder::{House, Way};

/// Joinery that devices are fixed to.
pub(super) struct Fitted {
    pub(super) hob_run: Id<Joinery>,
    pub(super) wall_units: Id<Joinery>,
}

pub(super) fn draw(house: &mut House) -> Fitted {
    walls(house);
    doors(house);
    windows(house);
    rooms(house);
    joinery(house)
}

fn walls(house: &mut House) {
    let masonry = MakeUp::Masonry;
    house.walls(
        OUTER_MM,
        masonry,
        &[(10200.0, 600.0), (10200.0, 0.0), (0.0, 0.0), (0.0, 7200.0), (10200.0, 7200.0)],
    );
    house.walls(OUTER_MM, masonry, &[(10200.0, 7200.0), (10200.0, 600.0)]);
    house.walls(
        OUTER_MM,
        masonry,
        &[(10200.0, 600.0), (14700.0, 600.0), (14700.0, 7200.0), (10200.0, 7200.0)],
    );
    // Two piers of the old chimney make the hearth nook of the living room.
    house.walls(OUTER_MM, masonry, &[(0.0, 1550.0), (600.0, 1550.0)]);
    house.walls(OUTER_MM, masonry, &[(0.0, 2950.0), (600.0, 2950.0)]);
    let block = MakeUp::Block;
    house.walls(INNER_MM, block, &[(4200.0, 0.0), (4200.0, 7200.0)]);
    house.walls(INNER_MM, block, &[(6600.0, 0.0), (6600.0, 7200.0)]);
    house.walls(INNER_MM, block, &[(6600.0, 3000.0), (10200.0, 3000.0)]);
    // Cloakroom and coats at the back of the hall.
    house.walls(INNER_MM, block, &[(4200.0, 5600.0), (6600.0, 5600.0)]);
    house.walls(INNER_MM, block, &[(5600.0, 5600.0), (5600.0, 7200.0)]);
    // Larder and utility at the front of the wing.
    house.walls(INNER_MM, block, &[(10200.0, 3000.0), (14700.0, 3000.0)]);
    house.walls(INNER_MM, block, &[(11900.0, 600.0), (11900.0, 3000.0)]);
    // The stair between studs, and the cupboard beneath its upper half.
    let stud = MakeUp::Stud;
    house.walls(INNER_MM, stud, &[(6600.0, 1500.0), (5600.0, 1500.0), (5600.0, 4500.0), (6600.0, 4500.0)]);
    house.walls(INNER_MM, stud, &[(5600.0, 3300.0), (6600.0, 3300.0)]);
}

fn doors(house: &mut House) {
    let shut = DoorState::Shut;
    // Doors to the outside, drawn shut.
    house.door_that_stands((5000.0, 0.0), 926.0, Way::Left, Way::Up, shut);
    house.door_that_stands((1300.0, 7200.0), 838.0, Way::Left, Way::Down, shut);
    house.door_that_stands((11150.0, 7200.0), 926.0, Way::Right, Way::Down, shut);
    house.door_that_stands((13000.0, 600.0), 838.0, Way::Right, Way::Up, shut);
    // Cupboards and cloakroom, drawn shut.
    house.door_that_stands((5600.0, 3900.0), 610.0, Way::Up, Way::Left, shut);
    house.door_that_stands((4750.0, 5600.0), 762.0, Way::Left, Way::Up, shut);
    house.door_that_stands((6100.0, 5600.0), 686.0, Way::Right, Way::Up, shut);
    house.door_that_stands((11300.0, 3000.0), 762.0, Way::Right, Way::Down, shut);
    // Rooms, drawn open.
    house.door((4200.0, 2000.0), 838.0, Way::Down, Way::Left);
    house.door((6600.0, 650.0), 762.0, Way::Down, Way::Right);
    house.door((6600.0, 5050.0), 762.0, Way::Up, Way::Right);
    house.door((12500.0, 3000.0), 762.0, Way::Left, Way::Down);
    // The foot of the stair, and the wide opening made where the wing was joined on.
    house.gap((6100.0, 1500.0), 860.0, 2400.0);
    house.gap((10200.0, 4900.0), 1800.0, 2100.0);
}

fn windows(house: &mut House) {
    for (at, width, sill) in [
        ((2100.0, 0.0), 1500.0, 800.0),      // living room, front
        ((3200.0, 7200.0), 1200.0, 800.0),   // living room, garden
        ((8400.0, 0.0), 1200.0, 900.0),      // study
        ((8400.0, 7200.0), 1800.0, 800.0),   // dining room
        ((13300.0, 7200.0), 1500.0, 1050.0), // kitchen, over the sink
        ((4900.0, 7200.0), 600.0, 1300.0),   // cloakroom
        ((11100.0, 600.0), 600.0, 1400.0),   // larder
        ((14100.0, 600.0), 600.0, 1100.0),   // utility
    ] {
        house.window(at, width, sill, 2100.0);
    }
}

fn rooms(house: &mut House) {
    house.room("Living room", RoomUse::Living, (2150.0, 5300.0));
    house.room("Hall", RoomUse::Circulation, (4900.0, 4200.0));
    house.room("Stair", RoomUse::Stair, (6100.0, 2400.0));
    house.room("Cupboard", RoomUse::Store, (6100.0, 3900.0));
    house.room("Cloakroom", RoomUse::Cloakroom, (4700.0, 6300.0));
    house.room("Coats", RoomUse::Store, (6100.0, 6300.0));
    house.room("Study", RoomUse::Study, (8350.0, 1200.0));
    house.room("Dining room", RoomUse::Dining, (8350.0, 4600.0));
    house.room("Kitchen", RoomUse::Kitchen, (11200.0, 5600.0));
    house.room("Larder", RoomUse::Store, (11200.0, 1500.0));
    house.room("Utility", RoomUse::Utility, (13000.0, 1500.0));
}

fn joinery(house: &mut House) -> Fitted {
    let worktop = (0.0, 900.0);
    house.joinery("Sink run", JoineryForm::Worktop, [12150.0, 6450.0, 14550.0, 7050.0], Way::Down, worktop);
    let hob_run = house.joinery_that_opens(
        "Hob run",
        JoineryForm::Worktop,
        [13950.0, 3650.0, 14550.0, 6450.0],
        Way::Left,
        worktop,
        &[("pan drawer", true), ("oven", false)],
    );
    let wall_units = house.joinery(
        "Wall units",
        JoineryForm::WallUnit,
        [14200.0, 3700.0, 14550.0, 5900.0],
        Way::Left,
        (1400.0, 2150.0),
    );
    house.joinery_that_opens(
        "Fridge",
        JoineryForm::Wardrobe,
        [13950.0, 3050.0, 14550.0, 3650.0],
        Way::Left,
        (0.0, 2150.0),
        &[("fridge", false)],
    );
    house.joinery_that_opens(
        "Island",
        JoineryForm::Island,
        [11950.0, 3950.0, 12950.0, 5450.0],
        Way::Left,
        worktop,
        &[("cutlery drawer", true), ("bin drawer", true)],
    );
    house.joinery(
        "Laundry worktop",
        JoineryForm::Worktop,
        [13950.0, 750.0, 14550.0, 2950.0],
        Way::Left,
        worktop,
    );
    house.joinery(
        "Rack cabinet",
        JoineryForm::Wardrobe,
        [11950.0, 750.0, 12450.0, 1350.0],
        Way::Up,
        (0.0, 2000.0),
    );
    house.joinery(
        "Larder shelves",
        JoineryForm::Shelves,
        [10350.0, 750.0, 10700.0, 2950.0],
        Way::Right,
        (0.0, 2000.0),
    );
    house.joinery(
        "Bookshelves",
        JoineryForm::Shelves,
        [7000.0, 2650.0, 9700.0, 2950.0],
        Way::Down,
        (0.0, 2100.0),
    );
    house.joinery(
        "Cloakroom basin",
        JoineryForm::Sanitary,
        [4350.0, 6690.0, 4850.0, 7050.0],
        Way::Down,
        (700.0, 850.0),
    );
    house.joinery(
        "Cloakroom WC",
        JoineryForm::Sanitary,
        [5000.0, 6370.0, 5400.0, 7050.0],
        Way::Down,
        (0.0, 420.0),
    );
    Fitted { hob_run, wall_units }
}
