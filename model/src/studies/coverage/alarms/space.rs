//! Where smoke and hot gas spread beneath a ceiling: the spaces between what reaches up to it.
//!
//! A wall stops them, and so does a beam over an opening or a piece of joinery that reaches the ceiling, where it is
//! deeper than a tenth of the ceiling's height; a balustrade does not. Doors and windows are taken as shut. An opening
//! without a leaf lets them through where what is left above it is no deeper than that.

use kurbo::Point;

use crate::building::Whereabouts;
use crate::building::outline::{WallSolid, spaces_within};
use crate::geometry::{Floor, Region, Ring, union_of_regions, union_of_rings};
use crate::id::Id;
use crate::kit::{Device, FireAlarm};
use crate::limits::limits;
use crate::plan::{Level, OpeningForm};
use crate::project::Project;
use crate::units::Length;

/// A wall as high as this is taken to reach the ceiling; lower ones are balustrades and half-height walls. Common
/// practice, no published source.
const LOWEST_FULL_WALL: Length = Length::mm(2000.0);

/// Joinery this near the ceiling reaches it, mm.
const REACHES_CEILING_MM: f64 = 1.0;

/// The spaces of a storey, with the alarms in them.
pub struct FireSpaces {
    /// The storey.
    pub level: Id<Level>,
    /// Each space, in which one goes about as smoke does.
    pub floors: Vec<Floor>,
    alarms: Vec<(Id<Device>, FireAlarm, Point)>,
}

impl FireSpaces {
    /// The spaces of a storey.
    pub fn of_level(project: &Project, level: Id<Level>) -> Self {
        let solid = stopping(project, level);
        let floors = spaces_within(&solid).iter().filter_map(|space| Floor::new(&space.shape)).collect();
        let alarms = project
            .devices_on(level)
            .filter_map(|(id, device, kind)| Some((id, kind.fire?, Whereabouts::stands_at(project, device)?)))
            .collect();
        Self { level, floors, alarms }
    }

    /// The space in which a point lies.
    pub fn space_at(&self, point: Point) -> Option<&Floor> {
        self.floors.iter().find(|floor| floor.contains(point))
    }

    /// Where the alarms in a space stand that are of this sort.
    pub fn alarms_in(&self, space: &Floor, is_meant: impl Fn(&FireAlarm) -> bool) -> Vec<Point> {
        let meant = self.alarms.iter().filter(|(_, alarm, at)| is_meant(alarm) && space.contains(*at));
        meant.map(|(_, _, at)| *at).collect()
    }
}

/// All that stops smoke beneath the ceiling of a storey.
fn stopping(project: &Project, level: Id<Level>) -> Region {
    let ceiling = project.levels.get(level).map(|level| level.ceiling_affl).unwrap_or_default();
    let deepest_beam =
        limits().get("beam_that_acts_as_wall").map_or(Length::ZERO, |limit| ceiling * (limit.value / 100.0));
    let walls = WallSolid::of_level(project, level, |wall, opening| match opening {
        None => wall.height >= LOWEST_FULL_WALL,
        Some(opening) => !matches!(opening.form, OpeningForm::Plain) || ceiling - opening.head > deepest_beam,
    });
    let mut solid = walls.region();
    let joinery: Vec<Ring> = project
        .joinery_on(level)
        .filter(|(_, piece)| {
            ceiling.as_mm() - piece.top.as_mm() <= REACHES_CEILING_MM && ceiling - piece.base > deepest_beam
        })
        .map(|(_, piece)| Ring::new(piece.corners().to_vec()))
        .collect();
    if !joinery.is_empty() {
        solid = union_of_regions(&[&solid, &union_of_rings(&joinery)]);
    }
    solid
}
