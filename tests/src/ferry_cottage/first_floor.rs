//! The first floor as the architect drew it: FFL +2,700, ceilings at 2,400.
//!
//! The landing runs beside the stairwell and then through to the wing. Three bedrooms and the bathroom lie in
//! the old house; the wing is the main bedroom with dressing room and shower room.

use pattress_model::id::Id;
use pattress_model::plan::{DoorState, Joinery, JoineryForm, MakeUp, RoomUse};

use super::{INNER_MM, OUTER_MM};
use crate::builder::{House, Way};

/// Height and thickness of the balustrade about the stairwell, mm.
const BALUSTRADE_MM: (f64, f64) = (1000.0, 50.0);

/// Joinery that devices are fixed to.
pub(super) struct Fitted {
    pub(super) bedroom_4_wardrobe: Id<Joinery>,
    pub(super) dressing_wardrobe: Id<Joinery>,
}

pub(super) fn draw(house: &mut House) -> Fitted {
    walls(house);
    openings(house);
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
    // The chimney breast of the hearth below.
    house.walls(500.0, masonry, &[(350.0, 1400.0), (350.0, 3100.0)]);
    let stud = MakeUp::Stud;
    house.walls(INNER_MM, stud, &[(4200.0, 0.0), (4200.0, 7200.0)]);
    house.walls(INNER_MM, stud, &[(0.0, 3700.0), (4200.0, 3700.0)]);
    house.walls(INNER_MM, stud, &[(4200.0, 1500.0), (6600.0, 1500.0)]);
    house.walls(INNER_MM, stud, &[(6600.0, 0.0), (6600.0, 4200.0), (10200.0, 4200.0)]);
    house.walls(INNER_MM, stud, &[(6600.0, 7200.0), (6600.0, 5300.0), (10200.0, 5300.0)]);
    house.walls(INNER_MM, stud, &[(10200.0, 3000.0), (14700.0, 3000.0)]);
    house.walls(INNER_MM, stud, &[(12400.0, 600.0), (12400.0, 3000.0)]);
    let (height, thickness) = BALUSTRADE_MM;
    house.walls_of_height(height, thickness, stud, &[(5600.0, 1500.0), (5600.0, 4200.0), (6600.0, 4200.0)]);
}

fn openings(house: &mut House) {
    let shut = DoorState::Shut;
    house.door((4200.0, 3150.0), 762.0, Way::Up, Way::Left); // bedroom 2
    house.door((4200.0, 4250.0), 762.0, Way::Down, Way::Left); // bedroom 3
    house.door((7250.0, 4200.0), 762.0, Way::Left, Way::Down); // bedroom 4
    house.door((10200.0, 4750.0), 762.0, Way::Down, Way::Right); // bedroom 1
    house.door((11000.0, 3000.0), 762.0, Way::Left, Way::Down); // dressing room
    house.door_that_stands((7250.0, 5300.0), 762.0, Way::Left, Way::Up, shut); // bathroom
    house.door_that_stands((12400.0, 2300.0), 762.0, Way::Up, Way::Right, shut); // shower room
    house.door_that_stands((4900.0, 1500.0), 686.0, Way::Left, Way::Down, shut); // controls
    house.gap((6085.0, 4200.0), 860.0, 2400.0); // the head of the stair
    for (at, width, sill) in [
        ((2100.0, 0.0), 1200.0, 900.0),     // bedroom 2
        ((2100.0, 7200.0), 1200.0, 900.0),  // bedroom 3
        ((5400.0, 7200.0), 900.0, 900.0),   // landing
        ((8150.0, 0.0), 1200.0, 900.0),     // bedroom 4
        ((7050.0, 7200.0), 600.0, 1300.0),  // bathroom
        ((12400.0, 7200.0), 1800.0, 800.0), // bedroom 1
        ((14700.0, 1850.0), 500.0, 1400.0), // shower room
    ] {
        house.window(at, width, sill, 2100.0);
    }
}

fn rooms(house: &mut House) {
    house.room("Landing", RoomUse::Circulation, (5000.0, 5700.0));
    house.room("Stairwell", RoomUse::Stair, (6100.0, 2600.0));
    house.room("Controls", RoomUse::Plant, (5400.0, 700.0));
    house.room("Bedroom 1", RoomUse::Bedroom, (12400.0, 4600.0));
    house.room("Bedroom 2", RoomUse::Bedroom, (2150.0, 2400.0));
    house.room("Bedroom 3", RoomUse::Bedroom, (2150.0, 4900.0));
    house.room("Bedroom 4", RoomUse::Bedroom, (8050.0, 2600.0));
    house.room("Bathroom", RoomUse::Bathroom, (8000.0, 5700.0));
    house.room("Dressing room", RoomUse::Store, (11400.0, 1700.0));
    house.room("Shower room", RoomUse::Bathroom, (13300.0, 1500.0));
}

fn joinery(house: &mut House) -> Fitted {
    let wardrobe = (0.0, 2200.0);
    let doors = [("left door", false), ("right door", false)];
    let form = JoineryForm::Wardrobe;
    house.joinery("Wardrobe, bedroom 2", form, [150.0, 150.0, 750.0, 1350.0], Way::Right, wardrobe);
    house.joinery("Wardrobe, bedroom 3", form, [150.0, 3750.0, 750.0, 5550.0], Way::Right, wardrobe);
    let bedroom_4_wardrobe = house.joinery_that_opens(
        "Wardrobe, bedroom 4",
        form,
        [9450.0, 1700.0, 10050.0, 4150.0],
        Way::Left,
        wardrobe,
        &doors,
    );
    let dressing_wardrobe = house.joinery_that_opens(
        "Wardrobe, dressing room",
        form,
        [10350.0, 750.0, 12350.0, 1350.0],
        Way::Up,
        wardrobe,
        &doors,
    );
    let ware = JoineryForm::Sanitary;
    house.joinery("Bath", ware, [9350.0, 5350.0, 10050.0, 7050.0], Way::Left, (0.0, 560.0));
    house.joinery("Bathroom WC", ware, [8650.0, 6370.0, 9050.0, 7050.0], Way::Down, (0.0, 420.0));
    house.joinery("Bathroom basin", ware, [7600.0, 6590.0, 8200.0, 7050.0], Way::Down, (700.0, 850.0));
    house.joinery("Shower tray", ware, [13650.0, 750.0, 14550.0, 1650.0], Way::Up, (0.0, 40.0));
    house.joinery("Shower room WC", ware, [13870.0, 2150.0, 14550.0, 2550.0], Way::Left, (0.0, 420.0));
    house.joinery("Shower room basin", ware, [12650.0, 750.0, 13200.0, 1200.0], Way::Up, (700.0, 850.0));
    Fitted { bedroom_4_wardrobe, dressing_wardrobe }
}
