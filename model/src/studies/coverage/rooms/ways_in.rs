//! The ways into a room: each door and plain opening, each line that parts it from the next room without a wall, and each
//! stair that a drawn walk climbs.
//!
//! A way starts at the middle of the opening, on the face of the wall that looks into the room, and leads straight
//! in, at a right angle to the wall. Over a room line it starts at the middle of the stretch that two rooms share. A stair is known only from walks: it arrives at the walk's point on the storey
//! of the room, in the direction in which it was climbed, and it is used both ways.

use kurbo::{Point, Vec2};

use crate::building::Whereabouts;
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, Segment, stretches_inside};
use crate::id::Id;
use crate::plan::{Level, Opening, OpeningForm, Room, RoomLine, Side};
use crate::project::Project;
use crate::units::Length;

/// What somebody comes in by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// A door.
    Door(Id<Opening>),
    /// A plain opening.
    Gap(Id<Opening>),
    /// A line to a room that no wall parts from this one.
    Over(Id<RoomLine>),
    /// A stair, from another storey.
    Stair(Id<Level>),
}

impl Way {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Door(_) => "door",
            Self::Gap(_) => "opening",
            Self::Over(_) => "room line",
            Self::Stair(_) => "stair",
        }
    }
}

/// A way into a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WayIn {
    /// What somebody comes in by.
    pub way: Way,
    /// The room they come from; `None` from outside, or from a space that is no room.
    pub from: Option<Id<Room>>,
    /// Where they are as they come in, plan mm.
    pub at: Point,
    /// The direction straight in; `None` for a stair that stands on one point.
    pub inwards: Option<Vec2>,
}

/// How far beyond a wall's face it is asked which room lies there, mm.
const BEYOND_FACE_MM: f64 = 1.0;

/// Over a shorter stretch of a room line nobody walks, mm.
const NARROWEST_MM: f64 = 300.0;

/// Two arrivals from one storey nearer to each other than this are one stair, mm: less than a stair is wide.
const SAME_STAIR_MM: f64 = 300.0;

/// Every way into a room: its doors and openings by id, then its room lines, then its stairs.
pub fn ways_into(
    project: &Project,
    whereabouts: &Whereabouts,
    (room, level): (Id<Room>, Id<Level>),
    outline: &RoomOutline,
) -> Vec<WayIn> {
    let mut ways = Vec::new();
    for (id, opening, wall) in project.openings_on(level) {
        let way = match opening.form {
            OpeningForm::Door { .. } => Way::Door(id),
            OpeningForm::Plain => Way::Gap(id),
            OpeningForm::Window { .. } => continue,
        };
        for side in [Side::Left, Side::Right] {
            let (at, inwards) = (wall.on_face(opening.centre, side), wall.normal(side));
            if !outline.contains(at + inwards * BEYOND_FACE_MM) {
                continue;
            }
            let behind = wall.on_face(opening.centre, side.other()) - inwards * BEYOND_FACE_MM;
            let from = whereabouts.room_at(level, behind).filter(|from| *from != room);
            ways.push(WayIn { way, from, at, inwards: Some(inwards) });
        }
    }
    ways.extend(over_lines(project, whereabouts, (room, level), outline));
    ways.extend(stairs_into(project, whereabouts, level, outline));
    ways
}

/// The stretches of room lines that somebody steps over into the room.
fn over_lines(
    project: &Project,
    whereabouts: &Whereabouts,
    (room, level): (Id<Room>, Id<Level>),
    outline: &RoomOutline,
) -> Vec<WayIn> {
    let region = Region { shapes: vec![outline.shape.clone()] };
    let mut ways = Vec::new();
    for (id, line) in project.room_lines_on(level) {
        let drawn = Segment::new(line.start, line.end);
        let Some(along) = drawn.direction() else { continue };
        for inwards in [along.turn_90(), -along.turn_90()] {
            let inside = drawn.translate(inwards * BEYOND_FACE_MM);
            for (from, to) in stretches_inside(&region, &inside) {
                let at = line.start + along * f64::midpoint(from, to);
                let behind = whereabouts.room_at(level, at - inwards * BEYOND_FACE_MM);
                if to - from >= NARROWEST_MM && behind.is_some_and(|behind| behind != room) {
                    ways.push(WayIn { way: Way::Over(id), from: behind, at, inwards: Some(inwards) });
                }
            }
        }
    }
    ways
}

fn stairs_into(
    project: &Project,
    whereabouts: &Whereabouts,
    level: Id<Level>,
    outline: &RoomOutline,
) -> Vec<WayIn> {
    let mut stairs: Vec<WayIn> = Vec::new();
    for (_, walk) in project.walks.iter() {
        for pair in walk.points.windows(2).filter(|pair| pair[0].level != pair[1].level) {
            for (foot, arrival) in [(pair[0], pair[1]), (pair[1], pair[0])] {
                if arrival.level != level || !outline.contains(arrival.at) {
                    continue;
                }
                let way = Way::Stair(foot.level);
                let known = stairs
                    .iter()
                    .any(|stair| stair.way == way && stair.at.distance(arrival.at) < SAME_STAIR_MM);
                if known {
                    continue;
                }
                let climbed = arrival.at - foot.at;
                let length = climbed.hypot();
                stairs.push(WayIn {
                    way,
                    from: whereabouts.room_at(foot.level, foot.at),
                    at: arrival.at,
                    inwards: (Length::mm(length) > Length::ZERO).then(|| climbed / length),
                });
            }
        }
    }
    stairs
}
