//! Which wall face a device sits on, and which places of that face are free.
//!
//! A face runs from corner to corner; other walls cover parts of it and openings take bites out of it. A
//! device is set on the pointer's side of the nearest wall, beside a reveal and never in the hole.

use kurbo::{Point, Vec2};

use crate::id::Id;
use crate::kit::{Family, Kind};
use crate::plan::{Joinery, Level, Opening, Side, Wall};
use crate::project::Project;
use crate::units::{Length, round_point, round_to_tenth};

/// From the reveal of an opening to the centre of a box beside it, mm: half a box and room for an architrave
/// (common practice, no published source).
pub const BESIDE_REVEAL_MM: f64 = 75.0;

/// How far a device looks for a wall when it is dropped, mm, unless the tool says otherwise.
pub const HOST_REACH_MM: f64 = 400.0;

/// A place on a wall face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// The wall.
    pub wall: Id<Wall>,
    /// The face.
    pub side: Side,
    /// From the wall's start along its axis.
    pub along: Length,
    /// The point on the face, mm.
    pub at: Point,
    /// From the point that was asked for, mm.
    pub distance: f64,
}

/// What matters of a device when it looks for a place on a wall.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Fixing {
    /// Height of its centre; `None` where it is not decided.
    pub height: Option<Length>,
    /// Whether it belongs to the opening itself, as a contact does.
    pub sits_in_openings: bool,
}

impl Fixing {
    /// How a device of that kind is fixed at that height.
    pub fn of(kind: &Kind, height: Option<Length>) -> Self {
        Self { height, sits_in_openings: kind.family == Family::Contacts }
    }

    /// Whether an opening is in the way at that height; above its head and below its sill the wall runs on.
    pub fn meets(&self, opening: &Opening) -> bool {
        self.height.is_none_or(|height| {
            height.as_mm() > opening.sill().as_mm() && height.as_mm() < opening.head.as_mm()
        })
    }
}

/// The nearest free place on a wall face of a level within reach of a point, on the point's side of the wall.
/// Of two places equally near, the wall drawn first wins.
pub fn nearest_face(
    project: &Project,
    level: Id<Level>,
    at: Point,
    reach_mm: f64,
    fixing: Fixing,
) -> Option<Face> {
    let mut best: Option<Face> = None;
    for (id, wall) in project.walls_on(level) {
        if wall.distance_to_axis(at).as_mm() > reach_mm + wall.thickness.as_mm() / 2.0 {
            continue;
        }
        let side = wall.side_of(at);
        let Some(along) = nearest_free(project, id, side, wall.along_of(at), fixing) else { continue };
        let on_face = wall.on_face(along, side);
        let distance = (at - on_face).hypot();
        if distance <= reach_mm && best.is_none_or(|best| distance < best.distance - 1e-6) {
            best = Some(Face { wall: id, side, along, at: on_face, distance });
        }
    }
    best
}

/// The free place of a wall face nearest to `along`; `None` where no part of the face is free.
pub fn nearest_free(
    project: &Project,
    wall_id: Id<Wall>,
    side: Side,
    along: Length,
    fixing: Fixing,
) -> Option<Length> {
    let wall = project.walls.get(wall_id)?;
    let length = (wall.length().as_mm() * 10.0).floor() / 10.0;
    let mut blocks = covered(project, &[wall_id], wall, side);
    for (from, to) in &mut blocks {
        // A wall that covers the very end of this one leaves no place on that end either.
        if *from < 0.1 {
            *from = -1.0;
        }
        if *to > length - 0.1 {
            *to = length + 1.0;
        }
    }
    if !fixing.sits_in_openings {
        for (_, opening) in project.openings.iter().filter(|(_, opening)| opening.wall == wall_id) {
            if fixing.meets(opening) {
                blocks.push((
                    opening.from().as_mm() - BESIDE_REVEAL_MM,
                    opening.to().as_mm() + BESIDE_REVEAL_MM,
                ));
            }
        }
    }
    let wanted = along.as_mm().clamp(0.0, length);
    // A tenth of slack: places are kept to the tenth of a millimetre.
    let is_free = |place: f64| {
        (0.0..=length).contains(&place)
            && !blocks.iter().any(|(from, to)| place > from + 0.1 && place < to - 0.1)
    };
    std::iter::once(wanted)
        .chain(blocks.iter().flat_map(|(from, to)| [*from, *to]))
        .map(round_to_tenth)
        .filter(|place| is_free(*place))
        .min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
        .map(Length::mm)
}

/// The stretches of a face that other walls of its level cover, as places along its axis.
pub(super) fn covered(project: &Project, own: &[Id<Wall>], wall: &Wall, side: Side) -> Vec<(f64, f64)> {
    let (from, to) = (wall.on_face(Length::ZERO, side), wall.on_face(wall.length(), side));
    let length = wall.length().as_mm();
    project
        .walls_on(wall.level)
        .filter(|(id, _)| !own.contains(id))
        .filter_map(|(_, other)| share_within(from, to, other))
        .filter(|(enter, leave)| (leave - enter) * length > 0.1)
        .map(|(enter, leave)| (enter * length, leave * length))
        .collect()
}

/// Which share of a straight line, 0 to 1, runs within a wall's rectangle. A line that only touches a face
/// does not run within.
pub(super) fn share_within(from: Point, to: Point, wall: &Wall) -> Option<(f64, f64)> {
    let half = wall.thickness.as_mm() / 2.0;
    let (along, across) = (wall.direction(), wall.normal(Side::Left));
    let slabs: [(Vec2, f64, f64); 2] = [(along, 0.0, wall.length().as_mm()), (across, -half, half)];
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (axis, low, high) in slabs {
        let (start, run) = ((from - wall.start).dot(axis), (to - from).dot(axis));
        if run.abs() < 1e-6 {
            if start <= low + 0.05 || start >= high - 0.05 {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - start) / run, (high - start) / run);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    (leave > enter).then_some((enter, leave))
}

/// The joinery of a level beneath a point or within reach of it, and the point on it, drawn in to its edge;
/// the nearest, then the highest, then the one made last.
pub fn joinery_at(
    project: &Project,
    level: Id<Level>,
    at: Point,
    reach_mm: f64,
) -> Option<(Id<Joinery>, Point)> {
    let mut best: Option<(f64, f64, Id<Joinery>, Point)> = None;
    for (id, piece) in project.joinery_on(level) {
        let front = piece.turn.direction();
        let from_centre = at - piece.centre;
        let (x, y) = (from_centre.dot(front), from_centre.dot(Vec2::new(-front.y, front.x)));
        let (half_width, half_depth) = (piece.width.as_mm() / 2.0, piece.depth.as_mm() / 2.0);
        let offset = Point::new(x.clamp(-half_width, half_width), y.clamp(-half_depth, half_depth));
        let distance = (Point::new(x, y) - offset).hypot();
        let top = piece.top.as_mm();
        let better = best.is_none_or(|(so_far, highest, ..)| {
            distance < so_far - 1e-6 || ((distance - so_far).abs() <= 1e-6 && top >= highest)
        });
        if distance <= reach_mm + 1e-6 && better {
            best = Some((distance, top, id, round_point(offset)));
        }
    }
    best.map(|(_, _, id, offset)| (id, offset))
}
