//! Scripts of Ferry Cottage: what was shown to the family at the table, and is gone through again at hand-over.

use crate::builder::House;

/// Writes them. A name in braces stands for the tag of that device, `{zone: …}` for that of the first of a zone.
pub fn write(house: &mut House) {
    house.script(
        "Hall by motion",
        &[
            "start 2026-01-15 20:00",
            "report {Hall motion} motion on",
            "expect {zone: Hall} level is 70 within 2 s",
            "after 40 s",
            "report {Hall motion} motion off",
            "after 2 min",
            "# Somebody comes back before the light goes out: it stays on.",
            "report {Hall motion} motion on",
            "after 10 s",
            "report {Hall motion} motion off",
            "expect {zone: Hall} level stays 70 for 179 s",
            "expect {zone: Hall} level is 0 within 182 s",
        ],
    );
    house.script(
        "Hall at night",
        &[
            "start 2026-01-15 23:30",
            "report {Hall motion} motion on",
            "expect {zone: Hall} level is 8 within 4 s",
            "after 20 s",
            "report {Hall motion} motion off",
            "expect {zone: Hall} level is 0 within 95 s",
        ],
    );
    house.script(
        "Film",
        &[
            "start 2026-01-15 20:00",
            "given {Living room front curtains} position 100",
            "given {zone: Living room soft light} level 50",
            "at 20:10",
            "press {Living room plate} key 3",
            "expect {Living room front curtains} position is 0 within 30 s",
            "expect {zone: Living room soft light} level is 15 within 6 s",
            "expect {Television} on is on",
        ],
    );
    house.script(
        "Light in the larder",
        &[
            "start 2026-06-01 12:00",
            "report {Larder door} open on",
            "expect {zone: Larder light} level is 100 within 1 s",
            "after 30 s",
            "report {Larder door} open off",
            "expect {zone: Larder light} level stays 100 for 4 s",
            "expect {zone: Larder light} level is 0 within 7 s",
        ],
    );
    house.script(
        "Somebody rings after dark",
        &[
            "start 2026-01-15 21:00",
            "happens {Front door station} ring",
            "expect message “Someone is at the front door.”",
            "expect {zone: Front lanterns} level is 100",
            "expect {zone: Front lanterns} level is 40 within 306 s",
        ],
    );
    house.script(
        "Water on the bathroom floor",
        &[
            "start 2026-03-10 03:00",
            "given {Water stop valve} open on",
            "report {Bath leak} leak on",
            "expect {Water stop valve} open is off",
            "expect message “Water on the floor: bathroom.” within 1 s",
        ],
    );
    house.script(
        "Goodnight",
        &[
            "start 2026-01-15 22:50",
            "given {zone: Living room ceiling} level 80",
            "press {Bedroom 1 left bedside} key 4",
            "expect {zone: Living room ceiling} level is 0 within 11 s",
        ],
    );
    house.script(
        "Wake",
        &[
            "start 2026-01-15 06:30",
            "at 06:45",
            "expect {zone: Bedroom 1 soft light} level is 60 within 15 min",
            "expect {Bedroom 1 curtains} position is 40 within 16 min",
        ],
    );
    house.script(
        "The hub restarts while somebody is in the hall",
        &[
            "start 2026-01-15 20:00",
            "report {Hall motion} motion on",
            "after 5 s",
            "hub restarts",
            "expect {zone: Hall} level is 70 within 2 s",
        ],
    );
}
