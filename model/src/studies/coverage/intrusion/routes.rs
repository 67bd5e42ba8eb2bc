//! Entry and exit routes with their times, and what somebody crosses on them or at night.
//!
//! A way in is an outside door with a contact in an entry-route zone, or one at which a drawn entry route starts. Its
//! route is the drawn walk; where none is drawn, the shortest way through the doors of the storey to a keypad that can
//! unset. Detectors off the route see doors as they are drawn.

use kurbo::Point;

use super::PACE_M_PER_S;
use super::keypads::KeypadPowers;
use super::openings::inside_of;
use super::sets::{Sets, Watcher, watchers};
use crate::building::outline::room_outlines;
use crate::geometry::Segment;
use crate::id::Id;
use crate::kit::{Device, Family, Mount};
use crate::limits::limits;
use crate::plan::{DoorsAs, Level, Opening, OpeningForm, Room, RoomUse, SpotUse, Walk, WalkPurpose};
use crate::project::Project;
use crate::studies::coverage::ways::StoreyWays;
use crate::units::{Length, Seconds};

/// A drawn route starts or ends at a door or a keypad that is no farther from it than this, mm. Common practice, no
/// published source.
const AT_PLACE_MM: f64 = 1500.0;

/// How far before its wall a way starts from a door, mm.
const OFF_FACE_MM: f64 = 1.0;

/// Points of a walk are looked at so far apart, mm.
const STEP_MM: f64 = 100.0;

/// Which way a route is gone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RouteWay {
    /// From a way in to a keypad.
    Entry,
    /// From a keypad out.
    Exit,
}

/// Where a walk first meets what a detector sees.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// The detector.
    pub detector: Id<Device>,
    /// How far along the walk.
    pub after: Length,
    /// Where, mm.
    pub at: Point,
}

/// A route between a way in and a keypad.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// Which way.
    pub way: RouteWay,
    /// The door.
    pub door: Id<Opening>,
    /// The storey the door is on.
    pub level: Id<Level>,
    /// The room the door opens into.
    pub room: Id<Room>,
    /// The keypad at its end; `None` where none that can unset is reached.
    pub keypad: Option<Id<Device>>,
    /// Whether a keypad that can unset is in the room the door opens into.
    pub keypad_in_room: bool,
    /// How long it is; `None` where there is no keypad.
    pub length: Option<Length>,
    /// How long it takes at walking pace, with the time for door and code.
    pub time: Option<Seconds>,
    /// Detectors of the full set off the route that see somebody on it.
    pub crossings: Vec<Crossing>,
}

/// A walk at night.
#[derive(Clone, Debug, PartialEq)]
pub struct NightWalk {
    /// The drawn walk; `None` where it is the shortest way from a bedroom to a bathroom.
    pub walk: Option<Id<Walk>>,
    /// The bedroom it starts from, where it is not drawn.
    pub bedroom: Option<Id<Room>>,
    /// The storey it starts on.
    pub level: Id<Level>,
    /// Movement detectors of the part set that see somebody on it.
    pub crossings: Vec<Crossing>,
}

pub(super) fn routes(project: &Project, sets: &Sets, keypads: &[KeypadPowers]) -> Vec<Route> {
    let mut found = Vec::new();
    let off_route = sets.full.difference(&sets.entry).copied().collect();
    for level in project.levels.ids() {
        let outlines = room_outlines(project, level);
        let mut seen: Option<(Vec<Watcher>, StoreyWays)> = None;
        for (id, opening, wall) in project.openings_on(level) {
            let Some((room, side)) = inside_of(project, &outlines, opening, wall) else { continue };
            let inside = wall.on_face(opening.centre, side) + wall.normal(side) * OFF_FACE_MM;
            if !is_way_in(project, sets, opening, level, inside) {
                continue;
            }
            let (watching, ways) = seen.get_or_insert_with(|| {
                (watchers(project, level, &off_route, DoorsAs::Drawn), StoreyWays::of_level(project, level))
            });
            for way in [RouteWay::Entry, RouteWay::Exit] {
                let gone = path(project, keypads, ways, level, inside, way);
                let keypad_in_room = keypads.iter().any(|pad| pad.can_set() && pad.room == Some(room));
                let length = gone.as_ref().map(|(_, points)| Length::mm(length_of(points)));
                found.push(Route {
                    way,
                    door: id,
                    level,
                    room,
                    keypad: gone.as_ref().map(|(keypad, _)| *keypad),
                    keypad_in_room,
                    length,
                    time: length.map(time_for),
                    crossings: gone.map_or_else(Vec::new, |(_, points)| crossings(watching, &points)),
                });
            }
        }
    }
    found
}

/// At walking pace, and what is allowed for door and code.
fn time_for(length: Length) -> Seconds {
    let allowance = limits().get("time_for_door_and_code").map_or(0.0, |limit| limit.value);
    Seconds(length.as_m() / PACE_M_PER_S + allowance)
}

fn is_way_in(project: &Project, sets: &Sets, opening: &Opening, level: Id<Level>, inside: Point) -> bool {
    if matches!(opening.form, OpeningForm::Window { .. }) {
        return false;
    }
    let has_contact = project.devices.iter().any(|(id, device)| {
        let on_it = matches!(device.mount, Mount::WallFace { wall, along, .. }
            if wall == opening.wall && opening.from() <= along && along <= opening.to());
        let contact = project.kinds.get(device.kind).is_some_and(|kind| kind.family == Family::Contacts);
        on_it && contact && sets.entry.contains(&id)
    });
    has_contact || drawn(project, WalkPurpose::EntryRoute, level, inside).is_some()
}

/// The drawn walk of a purpose at whose first point (for an exit: last) a door lies, and its points on that storey from
/// the door on.
fn drawn(project: &Project, purpose: WalkPurpose, level: Id<Level>, door: Point) -> Option<Vec<Point>> {
    project.walks.iter().filter(|(_, walk)| walk.purpose == purpose).find_map(|(_, walk)| {
        let mut points = walk.points.clone();
        if purpose == WalkPurpose::ExitRoute {
            points.reverse();
        }
        let first = points.first()?;
        let starts = first.level == level && first.at.distance(door) <= AT_PLACE_MM;
        let on_level = points.iter().take_while(|point| point.level == level).map(|point| point.at);
        starts.then(|| on_level.collect())
    })
}

/// The keypad of a route, and its points in the order in which they are walked.
fn path(
    project: &Project,
    keypads: &[KeypadPowers],
    ways: &StoreyWays,
    level: Id<Level>,
    inside: Point,
    way: RouteWay,
) -> Option<(Id<Device>, Vec<Point>)> {
    let usable = || keypads.iter().filter(|pad| pad.level == level && pad.can_set());
    let purpose = match way {
        RouteWay::Entry => WalkPurpose::EntryRoute,
        RouteWay::Exit => WalkPurpose::ExitRoute,
    };
    let as_drawn = drawn(project, purpose, level, inside)
        .or_else(|| drawn(project, WalkPurpose::EntryRoute, level, inside));
    let (keypad, mut points) = match as_drawn {
        Some(points) => {
            let end = *points.last()?;
            let pad = usable().min_by(|a, b| a.at.distance(end).total_cmp(&b.at.distance(end)))?;
            (pad.at.distance(end) <= AT_PLACE_MM).then_some((pad.device, points))?
        }
        None => {
            let each = usable().filter_map(|pad| Some((pad.device, ways.shortest(inside, pad.at)?)));
            let nearest = each.min_by(|a, b| a.1.length.total_cmp(&b.1.length))?;
            (nearest.0, nearest.1.points)
        }
    };
    if way == RouteWay::Exit {
        points.reverse();
    }
    Some((keypad, points))
}

fn length_of(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// Where each detector first sees somebody who walks along these points.
fn crossings(watching: &[Watcher], points: &[Point]) -> Vec<Crossing> {
    let first_seen = |watcher: &Watcher| {
        let mut gone = 0.0;
        for pair in points.windows(2) {
            let leg = Segment::new(pair[0], pair[1]);
            let steps = (leg.length() / STEP_MM).ceil().max(1.0) as usize;
            for step in 0..=steps {
                let part = step as f64 / steps as f64;
                let at = leg.point_at(part);
                if watcher.region.contains(at) {
                    let after = Length::mm(gone + leg.length() * part);
                    return Some(Crossing { detector: watcher.device, after, at });
                }
            }
            gone += leg.length();
        }
        None
    };
    watching.iter().filter_map(first_seen).collect()
}

pub(super) fn night_walks(project: &Project, sets: &Sets) -> Vec<NightWalk> {
    let mut found = Vec::new();
    for (id, walk) in project.walks.iter().filter(|(_, walk)| walk.purpose == WalkPurpose::Night) {
        let Some(first) = walk.points.first() else { continue };
        let mut met = Vec::new();
        let mut gone = 0.0;
        for stretch in walk.points.chunk_by(|a, b| a.level == b.level) {
            let watching = watchers(project, stretch[0].level, &sets.part, DoorsAs::Drawn);
            let points: Vec<Point> = stretch.iter().map(|point| point.at).collect();
            let later =
                |crossing: Crossing| Crossing { after: crossing.after + Length::mm(gone), ..crossing };
            met.extend(crossings(&watching, &points).into_iter().map(later));
            gone += length_of(&points);
        }
        found.push(NightWalk { walk: Some(id), bedroom: None, level: first.level, crossings: met });
    }
    for level in project.levels.ids() {
        found.extend(to_bathrooms(project, sets, level));
    }
    found
}

/// From each bedroom of a storey to the nearest bathroom or toilet on it.
fn to_bathrooms(project: &Project, sets: &Sets, level: Id<Level>) -> Vec<NightWalk> {
    let ways = StoreyWays::of_level(project, level);
    let bathrooms: Vec<Point> = project
        .rooms_on(level)
        .filter(|(_, room)| matches!(room.room_use, RoomUse::Bathroom | RoomUse::Cloakroom))
        .map(|(_, room)| room.seed)
        .collect();
    if bathrooms.is_empty() {
        return Vec::new();
    }
    let watching = watchers(project, level, &sets.part, DoorsAs::Drawn);
    let bedrooms = project.rooms_on(level).filter(|(_, room)| room.room_use == RoomUse::Bedroom);
    bedrooms
        .filter_map(|(id, room)| {
            let head = project
                .spots_on(level)
                .find(|(_, spot)| spot.spot_use == SpotUse::BedHead && ways.room_at(spot.at) == Some(id));
            let from = head.map_or(room.seed, |(_, spot)| spot.at);
            let each = bathrooms.iter().filter_map(|to| ways.shortest(from, *to));
            let way = each.min_by(|a, b| a.length.total_cmp(&b.length))?;
            let crossings = crossings(&watching, &way.points);
            Some(NightWalk { walk: None, bedroom: Some(id), level, crossings })
        })
        .collect()
}
