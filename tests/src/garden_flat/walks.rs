//! Where the occupant sits, washes and sleeps, and the way from bed to the wet room at night.

use pattress_model::plan::{SpotUse, WalkPurpose};

use crate::builder::House;

pub(super) fn draw(house: &mut House) {
    for (name, spot_use, at) in [
        ("Armchair", SpotUse::Seat, (2400.0, 4700.0)),
        ("Table", SpotUse::Desk, (1000.0, 4700.0)),
        ("Wet room basin", SpotUse::Basin, (6400.0, 850.0)),
        ("Bed", SpotUse::BedHead, (9800.0, 4600.0)),
        ("Hob", SpotUse::Cooker, (450.0, 2000.0)),
        ("Sink", SpotUse::Sink, (2000.0, 450.0)),
    ] {
        house.spot(name, spot_use, at);
    }
    let level = house.level();
    house.walk(
        "To the wet room at night",
        WalkPurpose::Night,
        &[(level, 8700.0, 4600.0), (level, 8100.0, 2900.0), (level, 8000.0, 1900.0), (level, 7200.0, 1100.0)],
    );
    house.walk(
        "In from the front door",
        WalkPurpose::Daily,
        &[(level, 5100.0, 300.0), (level, 5100.0, 3900.0), (level, 3400.0, 5300.0)],
    );
}
