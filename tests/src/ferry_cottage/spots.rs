//! Places that matter to what the house senses, named by the family.

use pattress_model::id::Id;
use pattress_model::plan::{Level, SpotUse};

use crate::builder::House;

pub(super) fn mark(house: &mut House, ground: Id<Level>, first: Id<Level>) {
    house.work_on(ground);
    to_be_seen(house);
    house.spot("Hall radiator", SpotUse::Radiator, (4300.0, 4700.0));
    for_the_alarms(house);
    house.work_on(first);
    for (bed, at) in [
        ("Bed 1", (14_300.0, 5000.0)),
        ("Bed 2", (3900.0, 1250.0)),
        ("Bed 3", (3800.0, 6100.0)),
        ("Bed 4", (6900.0, 1800.0)),
    ] {
        house.spot(bed, SpotUse::BedHead, at);
    }
    house.spot("Bath waste", SpotUse::WaterRisk, (9700.0, 5600.0));
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

/// What burns and what may leak on the ground floor.
fn for_the_alarms(house: &mut House) {
    house.spot("Hearth", SpotUse::FuelAppliance, (500.0, 2250.0));
    house.spot("Boiler", SpotUse::FuelAppliance, (14_400.0, 1900.0));
    house.spot("Hob", SpotUse::Cooker, (14_250.0, 5000.0));
    house.spot("Sink", SpotUse::Sink, (13_700.0, 6900.0));
    house.spot("Washing machine", SpotUse::WaterRisk, (14_250.0, 1200.0));
}
