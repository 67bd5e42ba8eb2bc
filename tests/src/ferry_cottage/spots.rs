//! Places that matter to what the house senses, named by the family.

use pattress_model::id::Id;
use pattress_model::plan::{Level, SpotUse};

use crate::builder::House;

pub(super) fn mark(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    house.work_on(ground);
    to_be_seen(house);
    house.spot("Hall radiator", SpotUse::Radiator, (4300.0, 4700.0));
    house.work_on(first);
    house.spot("Bedroom 1 radiator", SpotUse::Radiator, (13_400.0, 7000.0));
    house.spot("Bedroom 2 radiator", SpotUse::Radiator, (2600.0, 200.0));
    house.work_on(ground);
}

/// What the cameras are there for: who comes through the gate and who stands at a door.
fn to_be_seen(house: &mut House) {
    for (name, at) in [
        ("Front gate", (1500.0, -2300.0)),
        ("Face at the door station", (5700.0, -900.0)),
        ("Face at the side door", (13_000.0, -200.0)),
        ("Face at the garden door", (11_150.0, 8000.0)),
    ] {
        house.spot(name, SpotUse::ToBeSeen, at);
    }
}
