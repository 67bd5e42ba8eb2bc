//! Intrusion design: what watches each way in from the ground, how long somebody has on the way to a keypad, what
//! somebody crosses at night, and which part makes the grade.
//!
//! All of it follows from the zones a person drew: the full set, the part set and the entry route. Where there is no
//! full set there is no intruder alarm, and the report is empty.

mod grade;
mod keypads;
mod openings;
mod routes;
mod sets;

use crate::project::Project;

pub use grade::SystemGrade;
pub use keypads::KeypadPowers;
pub use openings::{OpeningCover, RoofLightCover};
pub use routes::{Crossing, NightWalk, Route, RouteWay};
pub use sets::Sets;

/// Walking pace, m/s: a comfortable gait (Bohannon 1997, 1.27 to 1.46 m/s).
pub const PACE_M_PER_S: f64 = 1.3;

/// What the study of the intruder alarm answers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// Each door and window of an outside wall that can be reached from the ground.
    pub openings: Vec<OpeningCover>,
    /// Each roof light that can be reached from outside.
    pub roof_lights: Vec<RoofLightCover>,
    /// From each way in to a keypad, and from the keypad out.
    pub routes: Vec<Route>,
    /// What somebody crosses who gets up at night.
    pub night: Vec<NightWalk>,
    /// The grade of the whole.
    pub grade: SystemGrade,
    /// What each keypad can do.
    pub keypads: Vec<KeypadPowers>,
}

/// Studies the intruder alarm; empty where no device is in a full set.
pub fn intrusion(project: &Project) -> Report {
    let sets = Sets::of(project);
    if sets.full.is_empty() {
        return Report::default();
    }
    let keypads = keypads::keypads(project);
    Report {
        openings: openings::openings(project, &sets),
        roof_lights: openings::roof_lights(project, &sets),
        routes: routes::routes(project, &sets, &keypads),
        night: routes::night_walks(project, &sets),
        grade: grade::grade(project, &sets),
        keypads,
    }
}
