//! The distances that someone with a tape would measure to set a device out.
//!
//! On a wall they run along the face to the corner or reveal on either hand; on a ceiling or floor to the
//! nearest wall in each of four directions. Walls drawn in pieces count as one where their faces run on.

use kurbo::{Point, Vec2};

use super::host::{Fixing, covered, share_within};
use crate::id::Id;
use crate::kit::Mount;
use crate::plan::{Level, Side, Wall};
use crate::project::Project;
use crate::units::Length;

/// No tape is longer than this, mm.
const LONGEST_TAPE_MM: f64 = 50_000.0;

/// Wall ends nearer to each other than this are one corner, mm; as in the outlines.
const SAME_CORNER_MM: f64 = 1.0;

/// A corner sharper than this many thicknesses from the axis end is not measured to.
const FARTHEST_CORNER: f64 = 4.0;

/// One distance, from what is measured to the device.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distance {
    /// The corner, reveal or wall, mm.
    pub from: Point,
    /// The device, mm.
    pub to: Point,
    /// How far.
    pub length: Length,
}

impl Distance {
    fn between(from: Point, to: Point) -> Self {
        Self { from, to, length: Length::mm((to - from).hypot()).rounded() }
    }
}

/// What a stretch of a wall face ends at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StretchEnd {
    /// A corner of the room or of the house, or the free end of a wall.
    Corner,
    /// The reveal of an opening.
    Reveal,
}

/// The stretch of a wall face on which a place lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceStretch {
    /// The end nearer the wall's start, mm, and what is there.
    pub start: (Point, StretchEnd),
    /// The end nearer the wall's end, mm, and what is there.
    pub end: (Point, StretchEnd),
}

/// The distances to show beside a device mounted so, at that height.
pub fn distances_for(
    project: &Project,
    level: Id<Level>,
    mount: Mount,
    height: Option<Length>,
) -> Vec<Distance> {
    match mount {
        Mount::WallFace { wall: id, side, along } => {
            let Some(wall) = project.walls.get(id) else { return Vec::new() };
            let at = wall.on_face(along, side);
            let fixing = Fixing { height, sits_in_openings: false };
            face_stretch(project, id, side, along, fixing)
                .map(|stretch| [stretch.start.0, stretch.end.0])
                .into_iter()
                .flatten()
                .map(|from| Distance::between(from, at))
                .collect()
        }
        Mount::Ceiling { at } | Mount::Floor { at } => to_walls(project, level, at),
        Mount::Joinery { .. } | Mount::Outdoors { .. } | Mount::Loose { .. } => Vec::new(),
    }
}

fn to_walls(project: &Project, level: Id<Level>, at: Point) -> Vec<Distance> {
    let directions = [Vec2::new(-1.0, 0.0), Vec2::new(1.0, 0.0), Vec2::new(0.0, -1.0), Vec2::new(0.0, 1.0)];
    directions
        .into_iter()
        .filter_map(|direction| {
            let far = at + direction * LONGEST_TAPE_MM;
            let nearest = project
                .walls_on(level)
                .filter_map(|(_, wall)| share_within(at, far, wall))
                .map(|(enter, _)| enter)
                .min_by(f64::total_cmp)?;
            (nearest > 0.0).then(|| Distance::between(at + direction * (nearest * LONGEST_TAPE_MM), at))
        })
        .collect()
}

/// The stretch of a wall face on which a place lies, openings that a device passes at its height left out.
/// A place within an opening lies between its reveals.
pub fn face_stretch(
    project: &Project,
    wall_id: Id<Wall>,
    side: Side,
    along: Length,
    fixing: Fixing,
) -> Option<FaceStretch> {
    let own = project.walls.get(wall_id)?;
    let run = Run::of(project, wall_id, own);
    let place = run.wall.along_of(own.on_axis(along)).as_mm();
    let (first, last) = run.corners(project, side);
    let mut edges = vec![(first, StretchEnd::Corner), (last, StretchEnd::Corner)];
    for (from, to) in covered(project, &run.members, &run.wall, side) {
        edges.extend([(from, StretchEnd::Corner), (to, StretchEnd::Corner)]);
    }
    for (_, opening) in project.openings.iter().filter(|(_, opening)| run.members.contains(&opening.wall)) {
        let Some(host) = project.walls.get(opening.wall) else { continue };
        if fixing.meets(opening) {
            let reveal = |at: Length| run.wall.along_of(host.on_axis(at)).as_mm();
            edges.extend([
                (reveal(opening.from()), StretchEnd::Reveal),
                (reveal(opening.to()), StretchEnd::Reveal),
            ]);
        }
    }
    let point = |at: f64| run.wall.on_face(Length::mm(at), side);
    let before = edges.iter().filter(|(at, _)| *at <= place + 0.1).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let after = edges
        .iter()
        .filter(|(at, _)| *at >= place - 0.1 && *at > before.0 + 0.1)
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(FaceStretch { start: (point(before.0), before.1), end: (point(after.0), after.1) })
}

/// Walls in one line that join end to end with one thickness, as one wall.
struct Run {
    wall: Wall,
    members: Vec<Id<Wall>>,
}

impl Run {
    fn of(project: &Project, id: Id<Wall>, own: &Wall) -> Self {
        let mut run = Self { wall: own.clone(), members: vec![id] };
        let along = own.direction();
        // Each round takes in one more wall, so the walls of the level bound the rounds.
        while let Some((next, start, end)) = project.walls_on(own.level).find_map(|(next, other)| {
            let goes_on = !run.members.contains(&next)
                && other.direction().cross(along).abs() < 1e-4
                && (other.thickness - own.thickness).as_mm().abs() < 0.05;
            let (near, far) = if other.direction().dot(along) > 0.0 {
                (other.start, other.end)
            } else {
                (other.end, other.start)
            };
            let meets = |a: Point, b: Point| goes_on && (a - b).hypot() <= SAME_CORNER_MM;
            if meets(near, run.wall.end) {
                Some((next, run.wall.start, far))
            } else if meets(far, run.wall.start) {
                Some((next, near, run.wall.end))
            } else {
                None
            }
        }) {
            run.members.push(next);
            (run.wall.start, run.wall.end) = (start, end);
        }
        run
    }

    /// Where the face ends along the axis: at an outer corner beyond the axis, else at the axis end.
    fn corners(&self, project: &Project, side: Side) -> (f64, f64) {
        let (length, along, out) =
            (self.wall.length().as_mm(), self.wall.direction(), self.wall.normal(side));
        let half = self.wall.thickness.as_mm() / 2.0;
        let beyond = |corner: Point, outwards: Vec2| {
            project
                .walls_on(self.wall.level)
                .filter(|(id, _)| !self.members.contains(id))
                .filter_map(|(_, other)| {
                    let away = if (other.start - corner).hypot() <= SAME_CORNER_MM {
                        other.direction()
                    } else if (other.end - corner).hypot() <= SAME_CORNER_MM {
                        -other.direction()
                    } else {
                        return None;
                    };
                    // Only a wall that leaves from behind this face makes an outer corner with it.
                    let behind = -away.dot(out);
                    if behind < 1e-3 {
                        return None;
                    }
                    // The other's outer face, seen from the corner, crosses the line of this face here.
                    let other_half = other.thickness.as_mm() / 2.0;
                    let reach = (other_half - half * away.dot(outwards)) / behind;
                    (reach > 0.0 && reach <= FARTHEST_CORNER * half.max(other_half)).then_some(reach)
                })
                .fold(0.0, f64::max)
        };
        (-beyond(self.wall.start, -along), length + beyond(self.wall.end, along))
    }
}
