//! The ways the family takes, and where they sit and wash.

use pattress_model::id::Id;
use pattress_model::plan::{Level, SpotUse, WalkPurpose};

use crate::builder::House;

pub(super) fn draw(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    house.work_on(ground);
    for (name, spot_use, at) in [
        ("Sofa", SpotUse::Seat, (2300.0, 4700.0)),
        ("Armchair", SpotUse::Seat, (1500.0, 4300.0)),
        ("Dining table", SpotUse::Desk, (8400.0, 5100.0)),
        ("Writing desk", SpotUse::Desk, (9300.0, 1300.0)),
        ("Cloakroom basin", SpotUse::Basin, (4600.0, 6450.0)),
    ] {
        house.spot(name, spot_use, at);
    }
    house.work_on(first);
    house.spot("Bathroom basin", SpotUse::Basin, (7900.0, 6350.0));
    house.spot("Shower room basin", SpotUse::Basin, (12_950.0, 1450.0));
    house.work_on(ground);
    let front_door = (ground, 5000.0, 300.0);
    house.walk(
        "In with the shopping",
        WalkPurpose::Daily,
        &[
            front_door,
            (ground, 4950.0, 3000.0),
            (ground, 5100.0, 5050.0),
            (ground, 8400.0, 4750.0),
            (ground, 10_800.0, 4900.0),
        ],
    );
    house.walk(
        "Up to bed",
        WalkPurpose::Daily,
        &[
            (ground, 4900.0, 1100.0),
            (ground, 6100.0, 1000.0),
            (ground, 6100.0, 1550.0),
            (first, 6085.0, 4150.0),
            (first, 5900.0, 4700.0),
            (first, 9000.0, 4750.0),
            (first, 11_200.0, 4750.0),
        ],
    );
    house.walk(
        "To the bathroom at night",
        WalkPurpose::Night,
        &[(first, 3600.0, 6000.0), (first, 3700.0, 4650.0), (first, 7250.0, 4750.0), (first, 7300.0, 5700.0)],
    );
}
