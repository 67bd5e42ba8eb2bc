//! What watches each door and window that can be reached from the ground, and each roof light within reach.
//!
//! A contact of the full set on the opening, a movement detector of it that sees the floor just inside with all doors
//! shut, or, for a pane, a glass-break detector of its room within reach that no wall parts from it.

use kurbo::Point;

use super::sets::{Sets, watchers};
use crate::building::Whereabouts;
use crate::building::outline::{RoomOutline, room_at, room_outlines};
use crate::geometry::Floor;
use crate::id::Id;
use crate::kit::{Device, Family, Mount};
use crate::limits::limits;
use crate::plan::{DoorsAs, Level, Opening, OpeningForm, Room, RoomUse, Sense, Side, Spot, SpotUse, Wall};
use crate::project::Project;

/// A storey whose floor lies no deeper than this below the datum is no cellar, mm. Common practice, no published source.
const CELLAR_MM: f64 = -1000.0;

/// A detector reaches the inside of an opening where it sees the floor this far before its middle, mm. Common practice,
/// no published source.
const INSIDE_MM: f64 = 300.0;

/// A contact belongs to a roof light where it is no farther from it than this, mm. Common practice, no published source.
const AT_ROOF_LIGHT_MM: f64 = 1000.0;

/// How far from a face a point is looked for in a room, mm.
const OFF_FACE_MM: f64 = 1.0;

/// An opening of an outside wall, and what watches it.
#[derive(Clone, Debug, PartialEq)]
pub struct OpeningCover {
    /// The door, window or plain opening.
    pub opening: Id<Opening>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// The room it opens into.
    pub room: Id<Room>,
    /// A point just inside, mm.
    pub inside: Point,
    /// Contacts on it, of the full set.
    pub contacts: Vec<Id<Device>>,
    /// Movement detectors of the full set that see its inside.
    pub detectors: Vec<Id<Device>>,
    /// Glass-break detectors of the full set that hear its pane.
    pub glass_break: Vec<Id<Device>>,
    /// Whether anything of these is in the part set too.
    pub in_part_set: bool,
}

impl OpeningCover {
    /// Everything that watches it.
    pub fn by(&self) -> impl Iterator<Item = Id<Device>> + '_ {
        self.contacts.iter().chain(&self.detectors).chain(&self.glass_break).copied()
    }

    /// Whether anything does.
    pub fn is_watched(&self) -> bool {
        self.by().next().is_some()
    }
}

/// A roof light within reach, and what watches it.
#[derive(Clone, Debug, PartialEq)]
pub struct RoofLightCover {
    /// The roof light.
    pub spot: Id<Spot>,
    /// What watches it.
    pub by: Vec<Id<Device>>,
}

/// Storeys that can be reached from the ground: the lowest that is no cellar, and all beneath it.
fn within_reach(project: &Project) -> Vec<Id<Level>> {
    let levels = project.levels_upwards();
    let ground = levels.iter().position(|(_, level)| level.floor_above_datum.as_mm() >= CELLAR_MM);
    let last = ground.unwrap_or(levels.len().saturating_sub(1));
    levels.iter().take(last + 1).map(|(id, _)| *id).collect()
}

/// The room inside and the side of the wall it lies on, where the other side is outdoors.
pub(super) fn inside_of(
    project: &Project,
    outlines: &std::collections::BTreeMap<Id<Room>, RoomOutline>,
    opening: &Opening,
    wall: &Wall,
) -> Option<(Id<Room>, Side)> {
    let room_on = |side: Side| {
        let at = wall.on_face(opening.centre, side) + wall.normal(side) * OFF_FACE_MM;
        let indoors =
            |room: &Id<Room>| project.rooms.get(*room).is_some_and(|room| room.room_use != RoomUse::Outside);
        room_at(outlines, at).filter(indoors)
    };
    match (room_on(Side::Left), room_on(Side::Right)) {
        (Some(room), None) => Some((room, Side::Left)),
        (None, Some(room)) => Some((room, Side::Right)),
        _ => None,
    }
}

pub(super) fn openings(project: &Project, sets: &Sets) -> Vec<OpeningCover> {
    let mut found = Vec::new();
    for level in within_reach(project) {
        let outlines = room_outlines(project, level);
        let seen = watchers(project, level, &sets.full, DoorsAs::Shut);
        for (id, opening, wall) in project.openings_on(level) {
            let Some((room, side)) = inside_of(project, &outlines, opening, wall) else { continue };
            let inside = wall.on_face(opening.centre, side) + wall.normal(side) * INSIDE_MM;
            let pane = wall.on_face(opening.centre, side) + wall.normal(side) * OFF_FACE_MM;
            let contacts = contacts_on(project, sets, opening);
            let detectors: Vec<_> = seen
                .iter()
                .filter(|watcher| watcher.region.contains(inside))
                .map(|watcher| watcher.device)
                .collect();
            let glass_break = match opening.form {
                OpeningForm::Window { .. } => {
                    let floor = outlines.get(&room).and_then(|outline| Floor::new(&outline.shape));
                    listeners(project, level, sets, pane, floor.as_ref())
                }
                _ => Vec::new(),
            };
            let mut cover = OpeningCover {
                opening: id,
                level,
                room,
                inside,
                contacts,
                detectors,
                glass_break,
                in_part_set: false,
            };
            let in_part_set = cover.by().any(|device| sets.part.contains(&device));
            cover.in_part_set = in_part_set;
            found.push(cover);
        }
    }
    found
}

/// Contacts of the full set fixed to the opening's wall within its width.
fn contacts_on(project: &Project, sets: &Sets, opening: &Opening) -> Vec<Id<Device>> {
    let on_it = |mount: Mount| {
        matches!(mount, Mount::WallFace { wall, along, .. }
            if wall == opening.wall && opening.from() <= along && along <= opening.to())
    };
    project
        .devices
        .iter()
        .filter(|(id, device)| sets.full.contains(id) && on_it(device.mount) && is_contact(project, device))
        .map(|(id, _)| id)
        .collect()
}

fn is_contact(project: &Project, device: &Device) -> bool {
    project
        .kinds
        .get(device.kind)
        .is_some_and(|kind| kind.family == Family::Contacts && kind.point("open").is_some())
}

/// Glass-break detectors of the full set in the room of a pane, near enough to it, with no wall between.
fn listeners(
    project: &Project,
    level: Id<Level>,
    sets: &Sets,
    pane: Point,
    floor: Option<&Floor>,
) -> Vec<Id<Device>> {
    let Some(limit) = limits().get("glass_break_reach") else { return Vec::new() };
    project
        .devices_on(level)
        .filter(|(id, device, kind)| {
            let Some(detection) = kind.detection.as_ref().filter(|of| of.sense == Sense::Sound) else {
                return false;
            };
            let reach = detection.pattern.range().as_mm().min(limit.value);
            Whereabouts::stands_at(project, device).is_some_and(|at| {
                sets.full.contains(id)
                    && at.distance(pane) <= reach
                    && floor.is_some_and(|floor| floor.contains(at) && floor.is_straight(at, pane))
            })
        })
        .map(|(id, _, _)| id)
        .collect()
}

pub(super) fn roof_lights(project: &Project, sets: &Sets) -> Vec<RoofLightCover> {
    let mut found = Vec::new();
    for level in project.levels.ids() {
        let lights: Vec<_> = project
            .spots_on(level)
            .filter(|(_, spot)| spot.spot_use == SpotUse::ReachableRoofLight)
            .collect();
        if lights.is_empty() {
            continue;
        }
        let seen = watchers(project, level, &sets.full, DoorsAs::Shut);
        for (id, spot) in lights {
            let mut by: Vec<_> = project
                .devices_on(level)
                .filter(|(device, of, _)| {
                    sets.full.contains(device)
                        && is_contact(project, of)
                        && project.position_of(of).is_some_and(|at| at.distance(spot.at) <= AT_ROOF_LIGHT_MM)
                })
                .map(|(device, _, _)| device)
                .collect();
            let watching = seen.iter().filter(|watcher| watcher.region.contains(spot.at));
            by.extend(watching.map(|watcher| watcher.device));
            found.push(RoofLightCover { spot: id, by });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::super::intrusion;
    use crate::kit::{Detection, Family, MountKind, Pattern};
    use crate::plan::{Sense, Side};
    use crate::small_house::drawn_rooms::{ceiling, face};
    use crate::small_house::{bare_house, plain_kind};
    use crate::systems::ZonePurpose;
    use crate::units::{Angle, Length};

    #[test]
    fn an_opening_is_watched_by_what_is_on_it_sees_it_or_hears_it() {
        // A window in the north wall from 1400 to 2600 along it; x runs from 2600 down to 1400.
        for (sort, expected) in [
            ("nothing", [0, 0, 0]),
            ("contact on it", [1, 0, 0]),
            ("contact beside it", [0, 0, 0]),
            ("contact in no set", [0, 0, 0]),
            ("detector", [0, 1, 0]),
            ("glass break", [0, 0, 1]),
            ("glass break behind a wall", [0, 0, 0]),
        ] {
            let mut house = bare_house();
            let north = house.walls[2];
            house.window(north, 2000.0);
            let contact = plain_kind("Contact", Family::Contacts, "MC", MountKind::Wall, &["open"]);
            let mut detector = plain_kind("Detector", Family::Intrusion, "PIR", MountKind::Wall, &["alarm"]);
            let fan = Pattern::Fan { angle: Angle::degrees(90.0), range: Length::m(12.0) };
            detector.detection = Some(Detection::plain(Sense::BodyHeat, fan));
            let mut listener = plain_kind("Glass", Family::Intrusion, "GB", MountKind::Ceiling, &["alarm"]);
            let round = Pattern::Round { radius: Length::m(6.0) };
            listener.detection = Some(Detection::plain(Sense::Sound, round));
            // Something is in the full set, or nothing would be studied.
            let other = house.place_new(contact.clone(), house.on_wall(0, 2000.0), Some(2000.0));
            let (device, point) = match sort {
                "contact on it" | "contact in no set" => {
                    (Some(house.place_new(contact, face(north, Side::Left, 1500.0), Some(2000.0))), "open")
                }
                "contact beside it" => {
                    (Some(house.place_new(contact, face(north, Side::Left, 1300.0), Some(2000.0))), "open")
                }
                "detector" => {
                    (Some(house.place_new(detector, house.on_wall(0, 2000.0), Some(2200.0))), "alarm")
                }
                "glass break" => (Some(house.place_new(listener, ceiling(2000.0, 1000.0), None)), "alarm"),
                "glass break behind a wall" => {
                    (Some(house.place_new(listener, ceiling(2000.0, -1000.0), None)), "alarm")
                }
                _ => (None, ""),
            };
            let mut members = vec![(other, "open")];
            members.extend(device.filter(|_| sort != "contact in no set").map(|device| (device, point)));
            house.zone(ZonePurpose::FullSet, &members);
            let openings = intrusion(&house.project).openings;
            assert_eq!(openings.len(), 1);
            let found = &openings[0];
            let counts = [found.contacts.len(), found.detectors.len(), found.glass_break.len()];
            assert_eq!(counts, expected, "{sort}");
        }
    }
}
