//! Fire alarms: how far the farthest point of each room is from the nearest of them, which category they reach, and
//! how loud they are where people sleep.
//!
//! All of it is a check for the designer who is competent in fire alarms (BS 5839-6), never a design; whoever prints
//! it says so with [`CAUTION`]. Siting, alarm by alarm, is asked by the checks.

mod category;
mod corridor;
mod doors;
mod loudness;
mod reach;
mod space;

use crate::building::Whereabouts;
use crate::id::Id;
use crate::plan::Room;
use crate::project::Project;

pub use category::{FireCover, Lacking, Need, accepts};
pub use corridor::{centre_lines, spacing_along_centre_line};
pub use doors::DoorReach;
pub use loudness::{BedHeadSound, level_at};
pub use reach::AlarmReach;
pub use space::FireSpaces;

/// What goes with every figure and finding about fire alarms, on screen and on paper.
pub const CAUTION: &str = "A check for the designer who is competent in fire alarms, never a design.";

/// What the study of fire alarms answers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Report {
    /// By room and sense, rooms in order of id: the farthest point from the nearest alarm.
    pub reaches: Vec<AlarmReach>,
    /// Which category the layout reaches, and what the next one lacks.
    pub cover: FireCover,
    /// How loud it is at each bedhead.
    pub bedheads: Vec<BedHeadSound>,
    /// Bedrooms in which no bedhead is marked.
    pub bedrooms_without_bedhead: Vec<Id<Room>>,
    /// How far the doors of bedrooms and habitable rooms are from the nearest alarm.
    pub doors: Vec<DoorReach>,
}

/// Studies the fire alarms of the whole house.
pub fn alarms(project: &Project, whereabouts: &Whereabouts) -> Report {
    let spaces: Vec<FireSpaces> =
        project.levels_upwards().into_iter().map(|(level, _)| FireSpaces::of_level(project, level)).collect();
    let reaches = reach::reaches(project, whereabouts, &spaces);
    let bedheads = loudness::bedheads(project);
    let cover = category::cover(project, &reaches, &spaces);
    Report {
        cover,
        reaches,
        bedrooms_without_bedhead: loudness::bedrooms_without_bedhead(project, &bedheads),
        bedheads,
        doors: doors::door_reaches(project, &spaces),
    }
}
