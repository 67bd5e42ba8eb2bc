//! Along a drawn walk: how far somebody goes in each room before its light comes on, and where it goes out again.
//!
//! The walk is cut where it enters a room. A room's light comes on when a sensor that lights it sees the walker, also
//! from the room before, and stays on as its rules say; where no rule says so, to the end of the walk. What lies
//! between two rooms in the thickness of a wall belongs to the room that is entered.

use std::collections::BTreeMap;

use super::lighters::{Lighter, StaysOn};
use super::route::Route;
use crate::building::Whereabouts;
use crate::geometry::{Region, Segment};
use crate::id::Id;
use crate::kit::Device;
use crate::plan::{Level, Room, Walk};
use crate::project::Project;
use crate::studies::coverage::SensorCoverage;
use crate::units::{Length, Seconds};

/// How the light is along a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Light {
    /// It is on.
    On,
    /// No sensor that lights the room has seen the walker yet.
    NotYet,
    /// It went out, and nothing has seen the walker since.
    GoneOut,
    /// No sensor lights the room.
    Unlit,
    /// Outside every room.
    NoRoom,
}

impl Light {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::On => "on",
            Self::NotYet => "not yet",
            Self::GoneOut => "gone out",
            Self::Unlit => "no sensor lights it",
            Self::NoRoom => "in no room",
        }
    }

    /// Whether the walker waits for a light that a sensor should have put on.
    pub const fn is_dark(self) -> bool {
        matches!(self, Self::NotYet | Self::GoneOut)
    }
}

/// A part of a walk through which the light stays as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// From so far along the walk.
    pub from: Length,
    /// To so far along the walk.
    pub to: Length,
    /// The storey on which it starts.
    pub level: Id<Level>,
    /// The room it is in, if any.
    pub room: Option<Id<Room>>,
    /// How the light is.
    pub light: Light,
    /// The sensor whose sight of the walker put the light on.
    pub seen_by: Option<Id<Device>>,
    /// Whether rules say how long that light stays on; else it is taken to stay on.
    pub stays_on_is_said: bool,
}

/// What a walk answers.
#[derive(Clone, Debug, PartialEq)]
pub struct WalkAnswer {
    /// The walk.
    pub walk: Id<Walk>,
    /// How long it is on the plan, stairs measured horizontally.
    pub length: Length,
    /// How long it takes.
    pub time: Seconds,
    /// Its stretches, in the order in which they are walked.
    pub stretches: Vec<Stretch>,
}

/// A gap between two rooms up to this long is the thickness of a wall, mm.
const THICKEST_WALL_MM: f64 = 700.0;

/// Stretches shorter than this are rounding, mm.
const SHORTEST_MM: f64 = 1.0;

/// What every walk answers, by id.
pub fn walks(
    project: &Project,
    whereabouts: &Whereabouts,
    lighters: &BTreeMap<Id<Room>, Vec<Lighter>>,
    sensors: &[SensorCoverage],
) -> Vec<WalkAnswer> {
    let answer = |(id, walk): (Id<Walk>, &Walk)| {
        let route = Route::of(walk);
        let stretches = rooms_along(project, whereabouts, &route)
            .into_iter()
            .flat_map(|part| light_along(project, &route, part, lighters, sensors))
            .collect();
        WalkAnswer {
            walk: id,
            length: Length::mm(route.length_mm()),
            time: Seconds(route.seconds()),
            stretches,
        }
    };
    project.walks.iter().map(answer).collect()
}

/// A part of a route in one room, or in none.
#[derive(Clone, Copy)]
struct Part {
    from: f64,
    to: f64,
    level: Id<Level>,
    room: Option<Id<Room>>,
}

fn rooms_along(project: &Project, whereabouts: &Whereabouts, route: &Route) -> Vec<Part> {
    let mut within: Vec<Part> = Vec::new();
    for level in project.levels.ids() {
        for (room, outline) in whereabouts.rooms_on(level) {
            let region = Region { shapes: vec![outline.shape.clone()] };
            for (from, to) in route.within(level, &region) {
                within.push(Part { from, to, level, room: Some(room) });
            }
        }
    }
    within.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut parts: Vec<Part> = Vec::new();
    let mut done = 0.0;
    for mut part in within {
        if part.to - done < SHORTEST_MM {
            continue;
        }
        // Two rooms may share one space; the first has it.
        part.from = part.from.max(done);
        if part.from - done > THICKEST_WALL_MM {
            parts.push(Part {
                from: done,
                to: part.from,
                level: level_at(route, done, part.level),
                room: None,
            });
        } else {
            part.from = done;
        }
        done = part.to;
        match parts.last_mut() {
            Some(last) if last.room == part.room => last.to = part.to,
            _ => parts.push(part),
        }
    }
    close(&mut parts, done, route);
    parts
}

/// Gives what is left at the end of a route to its last room, or to none.
fn close(parts: &mut Vec<Part>, done: f64, route: &Route) {
    let (end, last_leg) = (route.length_mm(), route.legs.last());
    let Some(leg) = last_leg.filter(|_| end - done >= SHORTEST_MM) else { return };
    match parts.last_mut() {
        Some(last) if end - done <= THICKEST_WALL_MM => last.to = end,
        _ => parts.push(Part { from: done, to: end, level: level_at(route, done, leg.level), room: None }),
    }
}

fn level_at(route: &Route, at_mm: f64, otherwise: Id<Level>) -> Id<Level> {
    route.legs.iter().find(|leg| at_mm < leg.to_mm()).map_or(otherwise, |leg| leg.level)
}

/// A time during which a room's light is on, in seconds after setting out.
#[derive(Clone, Copy)]
struct On {
    from: f64,
    to: f64,
    by: Id<Device>,
    said: bool,
}

fn light_along(
    project: &Project,
    route: &Route,
    part: Part,
    lighters: &BTreeMap<Id<Room>, Vec<Lighter>>,
    sensors: &[SensorCoverage],
) -> Vec<Stretch> {
    let whole = |light| Stretch {
        from: Length::mm(part.from),
        to: Length::mm(part.to),
        level: part.level,
        room: part.room,
        light,
        seen_by: None,
        stays_on_is_said: false,
    };
    let Some(room) = part.room else { return vec![whole(Light::NoRoom)] };
    let Some(lighters) = lighters.get(&room) else { return vec![whole(Light::Unlit)] };
    let mut stretches = Vec::new();
    let mut done = part.from;
    for on in times_on(project, route, lighters, sensors) {
        let from = route.where_at(on.from).max(done);
        let to = if on.to.is_finite() { route.where_at(on.to).min(part.to) } else { part.to };
        if to - from < SHORTEST_MM || from >= part.to {
            continue;
        }
        if from - done >= SHORTEST_MM {
            stretches.push(between(&whole, done, from, stretches.is_empty()));
        } else if stretches.is_empty() {
            done = part.from;
        }
        let from = if from - done < SHORTEST_MM { done } else { from };
        stretches.push(Stretch {
            from: Length::mm(from),
            to: Length::mm(to),
            seen_by: Some(on.by),
            stays_on_is_said: on.said,
            ..whole(Light::On)
        });
        done = to;
    }
    if part.to - done >= SHORTEST_MM {
        stretches.push(between(&whole, done, part.to, stretches.is_empty()));
    }
    stretches
}

/// A dark stretch: before the light first came on in the room, or after it went out.
fn between(whole: &impl Fn(Light) -> Stretch, from: f64, to: f64, is_first: bool) -> Stretch {
    let light = if is_first { Light::NotYet } else { Light::GoneOut };
    Stretch { from: Length::mm(from), to: Length::mm(to), ..whole(light) }
}

/// When the light of a room is on along a route: in order, apart from each other.
fn times_on(project: &Project, route: &Route, lighters: &[Lighter], sensors: &[SensorCoverage]) -> Vec<On> {
    let mut times: Vec<On> = Vec::new();
    for lighter in lighters {
        // A door that was opened is taken to stay so.
        times.extend(opened_at(project, route, lighter).map(|from| On {
            from,
            to: f64::INFINITY,
            by: lighter.device,
            said: false,
        }));
        for sensor in sensors.iter().filter(|sensor| sensor.device == lighter.device) {
            for (from, to) in route.within(sensor.level, &sensor.polygon) {
                let (seen_from, seen_to) = (route.when(from), route.when(to));
                let (until, said) = match lighter.stays_on {
                    StaysOn::AfterLast(time) => (seen_to + time.0, true),
                    StaysOn::AfterFirst(time) => (seen_from + time.0, true),
                    StaysOn::Unsaid => (f64::INFINITY, false),
                };
                times.push(On { from: seen_from, to: until, by: lighter.device, said });
            }
        }
    }
    times.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut joined: Vec<On> = Vec::new();
    for time in times {
        match joined.last_mut() {
            Some(last) if time.from <= last.to => last.to = last.to.max(time.to),
            _ => joined.push(time),
        }
    }
    joined
}

/// When somebody first passes through the door of a contact, seconds after setting out.
fn opened_at(project: &Project, route: &Route, lighter: &Lighter) -> Option<f64> {
    let opening = project.openings.get(lighter.door?)?;
    let wall = project.walls.get(opening.wall)?;
    let across = Segment::new(wall.on_axis(opening.from()), wall.on_axis(opening.to()));
    route.first_across(wall.level, &across).map(|at_mm| route.when(at_mm))
}
