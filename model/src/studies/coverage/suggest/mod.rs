//! Suggest a place: tries positions and turns of a kind in a room and ranks them by what is wished.
//!
//! Places are spread along the faces of the room's walls or over its ceiling ([`places`]), each is tried with some
//! turns, and each pose is judged alone, as if nothing else were placed ([`worth`]). The answer names what was ranked
//! by and how many poses were tried; it is a search over those and no proof that nothing is better.

mod places;
mod worth;

#[cfg(test)]
mod tests;

use kurbo::Point;

use self::places::Wanted;
use self::worth::Judge;
use crate::building::Whereabouts;
use crate::geometry::Region;
use crate::id::Id;
use crate::kit::{Device, Kind, Mount, MountKind, Pattern, PlateLegend, Tag};
use crate::plan::{DoorsAs, Opening, Room, Spot};
use crate::project::{Op, Project};
use crate::units::{Angle, Length};

/// What a device is wished to do in a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wish {
    /// Put the light on for whoever comes in.
    LightByMotion,
    /// Notice somebody who sits there with small movements.
    Sitting,
    /// Notice an intruder.
    Intrusion,
    /// Show a spot well.
    Camera(Id<Spot>),
}

impl Wish {
    /// What poses are ranked by, as a sentence for people.
    pub const fn ranked_by(self) -> &'static str {
        match self {
            Self::LightByMotion => {
                "Ranked by the share of the floor covered, less a tenth for each metre that somebody walks in by the worst \
                 way before being seen (5 m where never), less a tenth for each window or warm thing it faces."
            }
            Self::Sitting => {
                "Ranked by the share of desks, seats and basins at which small movements are noticed, plus half the share \
                 of the floor where they are, less a tenth for each window or warm thing it faces."
            }
            Self::Intrusion => {
                "Ranked by the share of the floor where somebody walking towards it is noticed, plus the share of doors \
                 and windows whose inside it sees, less a tenth for each window or warm thing it faces."
            }
            Self::Camera(_) => {
                "Ranked by pixels to a metre on what is to be seen, up to 250 counting as one, less a hundredth for each \
                 degree that it is looked down on beyond 13°."
            }
        }
    }
}

/// What a camera gives of the spot that it is to show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShownBy {
    /// Pixels to a metre at the spot, the camera aimed at it.
    pub px_per_m: f64,
    /// How far it looks down on the spot.
    pub down: Angle,
}

/// A pose with its numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// What it is fixed to, and where.
    pub mount: Mount,
    /// Its turn, as a device has it.
    pub turn: Angle,
    /// Its tilt down.
    pub tilt: Angle,
    /// Its height above the finished floor; `None` on a ceiling.
    pub height_affl: Option<Length>,
    /// Where that is on the plan, mm.
    pub at: Point,
    /// The direction it looks.
    pub facing: Angle,
    /// What it sees, plan mm.
    pub view: Region,
    /// How much of the room's floor that is, 0 to 1.
    pub share: f64,
    /// How far somebody walks in by the worst way before it sees them; `None` where by some way they are never seen, or
    /// the room has no way in.
    pub first_seen: Option<Length>,
    /// How many ways in it never sees anybody by.
    pub ways_unseen: usize,
    /// At how many of the desks, seats and basins it notices small movements; of how many.
    pub dwelt_in: (usize, usize),
    /// Of how many of the doors and windows it sees the inside; of how many.
    pub openings: (usize, usize),
    /// Windows that it looks at, if it minds.
    pub windows_faced: Vec<Id<Opening>>,
    /// Radiators and warm-air outlets that it looks at or hangs over, if it minds.
    pub warm_spots: Vec<Id<Spot>>,
    /// What it gives of the spot that it is to show, for a camera.
    pub shown: Option<ShownBy>,
    /// What it was ranked by.
    pub score: f64,
}

/// The best poses found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Suggestion {
    /// How many poses were tried.
    pub tried: usize,
    /// What they were ranked by, and what was left out of account; or why none could be tried.
    pub said: String,
    /// The best, at most three, the best first, each at least 1 m from the others.
    pub best: Vec<Pose>,
}

/// At most so many poses are tried.
pub const MOST_POSES: usize = 200;

/// So many are returned at most.
const BEST: usize = 3;

/// Poses nearer to each other than this are neighbours, mm.
const APART_MM: f64 = 1000.0;

/// Tries poses of a kind in a room and returns the best three that differ, with doors as drawn.
pub fn suggest(project: &Project, room: Id<Room>, kind: &Kind, wish: Wish) -> Suggestion {
    let none = |why: &str| Suggestion { said: why.to_owned(), ..Suggestion::default() };
    let Some(level) = project.rooms.get(room).map(|room| room.level) else {
        return none("There is no such room.");
    };
    let whereabouts = Whereabouts::of(project);
    let Some(outline) = whereabouts.outline(project, room) else {
        return none("The walls of this room do not close: draw them first.");
    };
    let Some(detection) = kind.senses() else { return none("This kind senses nothing.") };
    let ceiling = project.levels.get(level).map_or(Length::ZERO, |level| level.ceiling_affl);
    let height = match kind.mount {
        MountKind::Ceiling => ceiling,
        MountKind::Wall => match kind.default_height {
            Some(height) => height,
            None => return none("This kind has no usual height on a wall: give it one first."),
        },
        _ => return none("Places are sought on walls and ceilings only."),
    };
    // A copy in which the kind is known, so that whatever asks for it by its id finds it.
    let (mut house, mut ids) = (project.clone(), project.fresh_ids());
    let (kind_id, device_id) = (ids.issue(), ids.issue());
    house.perform(Op::put(kind_id, kind.clone()));
    let device = |mount| Device {
        kind: kind_id,
        level,
        tag: Tag { code: kind.code.clone(), number: 0 },
        name: String::new(),
        mount,
        height_affl: (kind.mount == MountKind::Wall).then_some(height),
        turn: Angle::ZERO,
        tilt: Angle::ZERO,
        note: String::new(),
        legend: PlateLegend::default(),
    };
    let turns = turns(kind, detection.pattern, wish);
    let wanted = Wanted { project: &house, level, outline, kind, height };
    let places: Vec<Device> = match kind.mount {
        MountKind::Ceiling => {
            places::on_ceiling(&wanted, MOST_POSES / turns.len()).into_iter().map(device).collect()
        }
        _ => places::on_walls(&wanted, MOST_POSES / turns.len(), device),
    };
    let poses =
        places.iter().flat_map(|place| turns.iter().map(|turn| Device { turn: *turn, ..place.clone() }));
    let Some(mut judge) = Judge::new(&house, &whereabouts, (room, outline), kind, device_id, wish) else {
        return none("What it should show is not on this storey, or this kind is no camera.");
    };
    let (mut tried, mut found) = (0, Vec::new());
    for pose in poses {
        tried += 1;
        found.extend(judge.pose(&pose));
    }
    // A stable order: of equals the one tried first.
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    Suggestion { tried, said: said(wish, tried), best: that_differ(found) }
}

fn said(wish: Wish, tried: usize) -> String {
    if tried == 0 {
        return "No place in this room is clear of openings, door leaves and joinery at the kind's height."
            .to_owned();
    }
    format!(
        "{} Each pose was judged alone, with doors as drawn; {tried} were tried, so a better one may lie between.",
        wish.ranked_by()
    )
}

/// The turns that are tried at each place: a camera is aimed, what looks all round needs none.
fn turns(kind: &Kind, pattern: Pattern, wish: Wish) -> Vec<Angle> {
    let degrees: &[f64] = match (wish, pattern.angle().as_degrees()) {
        (Wish::Camera(_), _) => &[0.0],
        (_, angle) if angle >= 180.0 => &[0.0],
        _ if kind.mount == MountKind::Ceiling => &[0.0, 90.0, 180.0, 270.0],
        (_, angle) if angle >= 60.0 => &[0.0, -45.0, 45.0],
        _ => &[0.0, -30.0, 30.0, -60.0, 60.0],
    };
    degrees.iter().map(|turn| Angle::degrees(*turn)).collect()
}

/// The best poses of a ranked list that are not neighbours.
fn that_differ(ranked: Vec<Pose>) -> Vec<Pose> {
    let mut best: Vec<Pose> = Vec::new();
    for pose in ranked {
        if best.len() == BEST {
            break;
        }
        if best.iter().all(|other| other.at.distance(pose.at) >= APART_MM) {
            best.push(pose);
        }
    }
    best
}

/// How doors are taken.
const DOORS: DoorsAs = DoorsAs::Drawn;
