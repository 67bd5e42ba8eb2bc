//! Scripts of the garden flat: help that comes when it is called, and a night on which nobody stumbles.

use crate::builder::House;

/// Writes them.
pub fn write(house: &mut House) {
    house.script(
        "Help is called from the chair",
        &[
            "start 2026-02-03 15:00",
            "happens {Chair call button} pressed",
            "expect message “Help is asked for in the living room.” within 1 s",
        ],
    );
    house.script(
        "Water under the sink",
        &[
            "start 2026-02-03 04:00",
            "given {Stop valve} open on",
            "report {Sink leak} leak on",
            "expect {Stop valve} open is off",
        ],
    );
    house.script(
        "Up at night",
        &[
            "start 2026-02-03 02:30",
            "report {Bedroom motion} motion on",
            "expect {zone: Night path} level is above 0 within 4 s",
            "after 30 s",
            "report {Bedroom motion} motion off",
            "expect {zone: Night path} level is 0 within 30 min",
        ],
    );
}
