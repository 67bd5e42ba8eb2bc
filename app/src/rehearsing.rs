//! What a rehearsal is played in, and what a search of the rules starts from; see [`pattress_model::world`].

use pattress_model::calendar::Date;
use pattress_model::project::Project;
use pattress_model::studies::rehearsal::proof;

pub use pattress_model::world::{sky_of, walk_past, walks_past, what_it_reports, world_of};

/// The day whose clock and sun a search of the rules takes where the plan has no date of issue: in winter, with a dark
/// evening within everybody's waking hours.
const SEARCHED_DAY: Date = Date::new(2026, 1, 15).expect("a day of the calendar");

/// What a search of a plan's rules starts from: the site's clock and sun on the date of issue, or on a winter's day.
pub fn proof_options(project: &Project) -> proof::Options {
    let date = Date::parse(&project.site.issue_date).unwrap_or(SEARCHED_DAY);
    proof::Options { date, clock: project.site.clock, sky: sky_of(project), budget: proof::Budget::default() }
}
