//! What a drag with the pointer tool does: move things, take the end of a wall elsewhere, turn something.

use kurbo::{Point, Vec2};
use pattress_model::edit::snap::SnapReason;
use pattress_model::edit::{Change, Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::{Device, Kind, Mount, MountKind};
use pattress_model::plan::{Hand, Opening, Wall};
use pattress_model::project::Project;
use pattress_model::units::{Angle, Length};

use super::figures::measured;
use super::{Around, Ghost, faces, opening, place, preview};

/// A turned thing comes to rest at multiples of this, degrees, unless snapping is let go.
const TURN_STEP_DEGREES: f64 = 15.0;

/// Walls nearer than this at an end share the corner, mm; as in the outlines.
const SAME_CORNER_MM: f64 = 1.0;

/// Lengths of so many walls are shown while they change.
const MOST_LENGTHS: usize = 6;

/// What is being dragged.
#[derive(Clone, Debug, PartialEq)]
pub enum Moving {
    /// Things, by one of them.
    Things {
        /// All that move.
        things: Vec<Subject>,
        /// The one that was grabbed.
        grabbed: Subject,
    },
    /// The end of a wall.
    WallEnd(Id<Wall>, Hand),
    /// The ring about a device or a piece of joinery.
    Turn(Subject),
}

/// What a drag comes to.
pub struct Moved {
    /// The change it would be.
    pub change: Result<Change, String>,
    /// Why there, for the status line.
    pub why: String,
    /// The line that shows why.
    pub guide: Option<(Point, Point)>,
}

impl Moving {
    /// What a drag from one point to another comes to.
    pub fn moved(&self, from: Point, at: Point, around: &mut Around<'_>) -> Moved {
        match self {
            Self::WallEnd(wall, hand) => wall_end(*wall, *hand, at, around),
            Self::Turn(subject) => turned(*subject, at, around),
            Self::Things { things, grabbed } => match things.as_slice() {
                [Subject::Device(id)] => device_moved(*id, at - from, around),
                [Subject::Opening(id)] => opening_slid(*id, at - from, around),
                [Subject::Wall(id)] => wall_pushed(*id, at - from, around),
                _ => things_moved(things, *grabbed, from, at, around),
            },
        }
    }

    /// Shows what the drag comes to.
    pub fn show(&self, ghost: &mut Ghost, moved: &Moved, around: &mut Around<'_>) {
        ghost.guides.extend(moved.guide);
        let Ok(change) = &moved.change else { return };
        let Some(after) = preview::show(ghost, around, change) else { return };
        match self {
            Self::Things { things, .. } => match things.as_slice() {
                [Subject::Device(id)] => preview::show_setting_out(ghost, &after, *id),
                [Subject::Opening(id)] => {
                    if let Some(found) = after.openings.get(*id) {
                        opening::show_distances(ghost, &after, found, None);
                    }
                }
                _ => show_lengths(ghost, &after, change),
            },
            Self::WallEnd(..) => show_lengths(ghost, &after, change),
            Self::Turn(subject) => {
                if let Some((ring, about)) = turner(&after, *subject, around.mm_per_point, around.scale) {
                    ghost.turner = Some((ring, about));
                    ghost.notes.push((ring, moved.why.clone()));
                }
            }
        }
    }
}

fn show_lengths(ghost: &mut Ghost, after: &Project, change: &Change) {
    let walls = change.ops.iter().filter_map(|op| match op.subject() {
        Subject::Wall(id) => after.walls.get(id),
        _ => None,
    });
    ghost.measures.extend(walls.take(MOST_LENGTHS).map(|wall| measured(wall.start, wall.end)));
}

fn gone() -> Moved {
    Moved { change: Err("what was dragged is gone".to_owned()), why: String::new(), guide: None }
}

fn device_moved(id: Id<Device>, by: Vec2, around: &mut Around<'_>) -> Moved {
    let project = around.project();
    let Some(device) = project.devices.get(id) else { return gone() };
    let (Some(kind), Some(stands)) = (project.kinds.get(device.kind), project.position_of(device)) else {
        return gone();
    };
    // It looks for what it is fixed to now, whatever its kind usually is.
    let kind = Kind { mount: sort_of(device.mount).unwrap_or(kind.mount), ..kind.clone() };
    let landing = place::land(&kind, device.height_affl, stands + by, around, &[Subject::Device(id)]);
    let why = match landing.why {
        SnapReason::NoHost => "Nothing to fix it to here: it would be reported as missing".to_owned(),
        why => why.words().to_owned(),
    };
    Moved { change: verbs::rehost_device(project, id, landing.at), why, guide: landing.guide }
}

const fn sort_of(mount: Mount) -> Option<MountKind> {
    Some(match mount {
        Mount::WallFace { .. } => MountKind::Wall,
        Mount::Ceiling { .. } => MountKind::Ceiling,
        Mount::Floor { .. } => MountKind::Floor,
        Mount::Joinery { .. } => MountKind::Joinery,
        Mount::Outdoors { .. } => MountKind::Outdoors,
        Mount::Loose { .. } => return None,
    })
}

fn opening_slid(id: Id<Opening>, by: Vec2, around: &Around<'_>) -> Moved {
    let project = around.project();
    let Some(found) = project.openings.get(id) else { return gone() };
    let Some(wall) = project.walls.get(found.wall) else { return gone() };
    let wanted = found.centre + Length::mm(by.dot(wall.direction()));
    let (centre, why) = opening::settle(project, found, wanted, around);
    Moved { change: verbs::slide_opening(project, id, centre), why: why.to_owned(), guide: None }
}

/// A single wall goes sideways, so that the walls at its ends keep their direction.
fn wall_pushed(id: Id<Wall>, by: Vec2, around: &mut Around<'_>) -> Moved {
    let project = around.project();
    let Some(wall) = project.walls.get(id) else { return gone() };
    let across = wall.normal(pattress_model::plan::Side::Left);
    let push = across * around.stepped(by.dot(across));
    let wanted = wall.start.midpoint(wall.end) + across * by.dot(across);
    let caught = around.snap(wanted, None, &corner_walls(project, &[wall.start, wall.end], id));
    let (push, why) = if caught.why == SnapReason::InLineWithCorner {
        let onto = across * (caught.at - wall.start.midpoint(wall.end)).dot(across);
        (onto, caught.why.words())
    } else {
        (push, "sideways")
    };
    Moved {
        change: verbs::move_things(project, &[Subject::Wall(id)], push),
        why: why.to_owned(),
        guide: caught.guide,
    }
}

/// The walls that meet at corners, none of which is to be caught while they move.
fn corner_walls(project: &Project, corners: &[Point], id: Id<Wall>) -> Vec<Subject> {
    let Some(level) = project.walls.get(id).map(|wall| wall.level) else { return Vec::new() };
    let meets = |end: Point| corners.iter().any(|corner| (*corner - end).hypot() <= SAME_CORNER_MM);
    project
        .walls_on(level)
        .filter(|(other, wall)| *other == id || meets(wall.start) || meets(wall.end))
        .map(|(other, _)| Subject::Wall(other))
        .collect()
}

fn wall_end(id: Id<Wall>, hand: Hand, at: Point, around: &mut Around<'_>) -> Moved {
    let project = around.project();
    let Some(wall) = project.walls.get(id) else { return gone() };
    let (end, stays) = match hand {
        Hand::Start => (wall.start, wall.end),
        Hand::End => (wall.end, wall.start),
    };
    let caught = around.snap(at, Some(stays), &corner_walls(project, &[end], id));
    Moved {
        change: verbs::move_wall_end(project, id, hand, caught.at),
        why: caught.why.words().to_owned(),
        guide: caught.guide,
    }
}

fn things_moved(
    things: &[Subject],
    grabbed: Subject,
    from: Point,
    at: Point,
    around: &mut Around<'_>,
) -> Moved {
    let project = around.project();
    let by = at - from;
    let stepped = Vec2::new(around.stepped(by.x), around.stepped(by.y));
    let (by, why, guide) = match (grabbed, spot_of(project, grabbed, from)) {
        (Subject::Joinery(id), _) if around.snapping => {
            let corners = project.joinery.get(id).map(|piece| piece.corners().map(|corner| corner + by));
            let shift = corners
                .and_then(|corners| faces::shift_against(project, around.level(), &corners, around.reach()));
            shift.map_or((stepped, "10 mm steps", None), |shift| (by + shift, "against wall", None))
        }
        (Subject::Wall(_), Some(spot)) => {
            let caught = around.snap(spot + by, None, things);
            (caught.at - spot, caught.why.words(), caught.guide)
        }
        _ => (stepped, if around.snapping { "10 mm steps" } else { "free" }, None),
    };
    Moved { change: verbs::move_things(project, things, by), why: why.to_owned(), guide }
}

/// The spot of a wall that is held to what it catches: the end nearer to where it was grabbed.
fn spot_of(project: &Project, grabbed: Subject, from: Point) -> Option<Point> {
    let Subject::Wall(id) = grabbed else { return None };
    let wall = project.walls.get(id)?;
    Some(if (wall.start - from).hypot() <= (wall.end - from).hypot() { wall.start } else { wall.end })
}

fn turned(subject: Subject, at: Point, around: &Around<'_>) -> Moved {
    let project = around.project();
    let step = |angle: Angle| {
        let degrees = angle.as_degrees();
        let steps = (degrees / TURN_STEP_DEGREES).round() * TURN_STEP_DEGREES;
        // Kept to the tenth of a degree, as finely as anyone turns a detector by hand.
        Angle::degrees(if around.snapping { steps } else { (degrees * 10.0).round() / 10.0 }).wrapped()
    };
    let (change, turn) = match subject {
        Subject::Device(id) => {
            let Some(device) = project.devices.get(id) else { return gone() };
            let Some(stands) = project.position_of(device) else { return gone() };
            let base = project.facing_of(device) - device.turn;
            let turn = step((Angle::of(at - stands) - base).wrapped());
            (verbs::set_turn(project, &[subject], turn), turn)
        }
        Subject::Joinery(id) => {
            let Some(piece) = project.joinery.get(id) else { return gone() };
            let turn = step(Angle::of(at - piece.centre));
            (verbs::turn_things(project, &[subject], turn - piece.turn, piece.centre), turn)
        }
        _ => return gone(),
    };
    Moved { change, why: format!("{:.0}°", turn.as_degrees()), guide: None }
}

/// Where the ring to turn a thing by is, and what it turns about; `None` for what is not turned by hand.
pub fn turner(project: &Project, subject: Subject, mm_per_point: f64, scale: f64) -> Option<(Point, Point)> {
    let off = (44.0 * mm_per_point).max(10.0 * scale);
    match subject {
        Subject::Device(id) => {
            let device = project.devices.get(id)?;
            let senses = project.kinds.get(device.kind)?.senses().is_some();
            if !senses && matches!(device.mount, Mount::WallFace { .. }) {
                return None;
            }
            let stands = project.position_of(device)?;
            Some((stands + project.facing_of(device).direction() * off, stands))
        }
        Subject::Joinery(id) => {
            let piece = project.joinery.get(id)?;
            let off = off.max(piece.width.as_mm() / 2.0 + 20.0 * mm_per_point);
            Some((piece.centre + piece.turn.direction() * off, piece.centre))
        }
        _ => None,
    }
}
