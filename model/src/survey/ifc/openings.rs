//! Holes in walls: where their bodies cut the wall's axis, and what fills them.
//!
//! The body of the hole is what is cut from the wall, so it gives width, sill and head; where it has none that
//! is understood, the overall width and height of the door or window do.

use kurbo::{Point, Vec2};

use super::frame::Frame;
use super::reading::Reading;
use super::relations::Relations;
use super::step::Record;
use super::strip::reach;
use super::walls::{FoundWall, Line};
use crate::geometry::Segment;
use crate::plan::{Hand, Side};
use crate::survey::proposal::{ProposedDoor, ProposedForm};

/// A hole must lie over its wall by at least this, mm.
const LEAST_OVERLAP: f64 = 10.0;

/// Doors and windows are placed on a face of their wall or a little before it, mm.
const BEFORE_THE_FACE: f64 = 100.0;

/// Differences below this are rounding, mm.
const ROUNDING: f64 = 1.0;

/// Doors, in every schema.
pub(super) const DOORS: [&str; 2] = ["IFCDOOR", "IFCDOORSTANDARDCASE"];

/// Windows, in every schema.
pub(super) const WINDOWS: [&str; 2] = ["IFCWINDOW", "IFCWINDOWSTANDARDCASE"];

/// A hole in a found wall, in the building's frame.
#[derive(Clone, Debug)]
pub(super) struct FoundHole {
    /// Which straight piece of its wall it is in.
    pub(super) line: usize,
    /// From the start of that piece to its middle, mm.
    pub(super) centre: f64,
    /// Along the wall, mm.
    pub(super) width: f64,
    /// Its lower and upper edge above the building's datum, mm.
    pub(super) heights: (f64, f64),
    /// What fills it.
    pub(super) form: ProposedForm,
}

/// What is known of a hole before it is laid on its wall.
struct Hole {
    number: u64,
    corners: Vec<Point>,
    heights: (f64, f64),
    /// How far it may lie before the wall's face and still be in the wall, mm.
    may_stand_before: f64,
}

/// Reads a hole that the file cuts into a wall; what stands in the way is noted.
pub(super) fn read_hole(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    wall: &FoundWall,
    number: u64,
) -> Option<FoundHole> {
    let Some(record) = reading.file.record(number) else {
        reading.note("holes that cannot be read", number);
        return None;
    };
    if record.word_at(8) == Some("RECESS") {
        reading.leave_out("niches in walls", number);
        return None;
    }
    let filling = relations.filling(number).and_then(|filling| reading.file.record(filling));
    let Some(hole) =
        cut_of(reading, building, &record).or_else(|| size_of(reading, building, filling.as_ref()?))
    else {
        reading.note("holes without a body and without a door or window of known size", number);
        return None;
    };
    laid_on(reading, relations, building, wall, &hole, filling.as_ref())
}

/// Reads a door that is itself a part of a glazed wall.
pub(super) fn read_door_in_glazing(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    wall: &FoundWall,
    door: u64,
) -> Option<FoundHole> {
    let record = reading.file.record(door)?;
    let Some(hole) =
        cut_of(reading, building, &record).or_else(|| size_of(reading, building, Some(&record)?))
    else {
        reading.note("doors in glazed walls without a body and a size", door);
        return None;
    };
    laid_on(reading, relations, building, wall, &hole, Some(&record))
}

fn cut_of(reading: &Reading<'_>, building: &Frame, record: &Record<'_>) -> Option<Hole> {
    let body = reading.body(record, &building.then(&reading.stands(record)?))?;
    Some(Hole {
        number: record.number,
        corners: body.corners_on_plan(),
        heights: body.heights()?,
        may_stand_before: -ROUNDING,
    })
}

/// A door or window stands at its lower corner, its x axis along the wall.
fn size_of(reading: &Reading<'_>, building: &Frame, filling: &Record<'_>) -> Option<Hole> {
    let is_one = DOORS.contains(&filling.entity) || WINDOWS.contains(&filling.entity);
    let (height, width) = (filling.number_at(8)? * reading.mm, filling.number_at(9)? * reading.mm);
    let stands = building.then(&reading.stands(filling)?);
    let ends = [stands.origin, stands.place([width, 0.0, 0.0])];
    let corners = ends.map(|[x, y, _]| Point::new(x, y)).to_vec();
    let foot = stands.origin[2];
    (is_one && width > 0.0 && height > 0.0).then_some(Hole {
        number: filling.number,
        corners,
        heights: (foot, foot + height),
        may_stand_before: BEFORE_THE_FACE,
    })
}

fn laid_on(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    wall: &FoundWall,
    hole: &Hole,
    filling: Option<&Record<'_>>,
) -> Option<FoundHole> {
    let middle = middle_of(&hole.corners)?;
    let (index, line) = nearest_line(&wall.lines, middle)?;
    let length = (line.end - line.start).hypot();
    let along = (line.end - line.start) / length;
    let (near, far) = reach(&hole.corners, line.start, Vec2::new(-along.y, along.x));
    let (from, to) = reach(&hole.corners, line.start, along);
    let face = wall.thickness / 2.0 + hole.may_stand_before;
    let beside = near > face || far < -face;
    let (cut_from, cut_to) = (from.max(0.0), to.min(length));
    let overlaps = cut_to - cut_from >= LEAST_OVERLAP;
    if beside || !overlaps {
        reading.note("holes that lie outside the wall they are cut from", hole.number);
        return None;
    }
    if cut_from - from > ROUNDING || to - cut_to > ROUNDING {
        reading.note("holes that run past the end of their wall: kept as far as the wall goes", hole.number);
    }
    let (sill, head) = hole.heights;
    if wall.heights.is_some_and(|(foot, top)| sill <= foot + LEAST_OVERLAP && head >= top - LEAST_OVERLAP) {
        reading.note("holes as high as their wall: kept as openings up to its top", hole.number);
    }
    let form = form_of(reading, relations, building, filling, along);
    Some(FoundHole {
        line: index,
        centre: (cut_from + cut_to) / 2.0,
        width: cut_to - cut_from,
        heights: (sill, wall.heights.map_or(head, |(_, top)| head.min(top.max(sill)))),
        form,
    })
}

fn middle_of(corners: &[Point]) -> Option<Point> {
    let first = corners.first()?;
    let (left, right) = reach(corners, *first, Vec2::new(1.0, 0.0));
    let (low, high) = reach(corners, *first, Vec2::new(0.0, 1.0));
    let middle = *first + Vec2::new((left + right) / 2.0, (low + high) / 2.0);
    middle.is_finite().then_some(middle)
}

fn nearest_line(lines: &[Line], point: Point) -> Option<(usize, Line)> {
    let distance = |line: &Line| Segment::new(line.start, line.end).distance_to(point);
    let nearest = lines.iter().enumerate().min_by(|(_, a), (_, b)| distance(a).total_cmp(&distance(b)));
    nearest.map(|(index, line)| (index, *line))
}

fn form_of(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    filling: Option<&Record<'_>>,
    along: Vec2,
) -> ProposedForm {
    let Some(filling) = filling else { return ProposedForm::Plain };
    if DOORS.contains(&filling.entity) {
        return ProposedForm::Door(hanging(reading, relations, building, filling, along));
    }
    if WINDOWS.contains(&filling.entity) {
        return ProposedForm::Window;
    }
    reading.note(format!("holes filled by {}: kept as plain openings", filling.entity), filling.number);
    ProposedForm::Plain
}

/// How a door is hung. By the standard its leaf opens towards the y axis of its placement, and left and right
/// are as seen looking along that axis.
fn hanging(
    reading: &Reading<'_>,
    relations: &Relations,
    building: &Frame,
    door: &Record<'_>,
    along: Vec2,
) -> Option<ProposedDoor> {
    let of_type = || {
        let kind = reading.file.record(relations.kind(door.number)?)?;
        match kind.entity {
            "IFCDOORSTYLE" => kind.word_at(8),
            "IFCDOORTYPE" => kind.word_at(10),
            _ => None,
        }
    };
    let operation = door.word_at(11).filter(|word| *word != "NOTDEFINED").or_else(of_type)?;
    let hinged_left = match operation {
        "SINGLE_SWING_LEFT" | "DOUBLE_SWING_LEFT" => true,
        "SINGLE_SWING_RIGHT" | "DOUBLE_SWING_RIGHT" => false,
        _ => return None,
    };
    let stands = building.then(&reading.stands(door)?);
    let on_plan = |[x, y, _]: [f64; 3]| Vec2::new(x, y);
    let (x, y) = (on_plan(stands.x).dot(along), on_plan(stands.y).dot(Vec2::new(-along.y, along.x)));
    // A door that does not stand along its wall says nothing about its hinges.
    let stands_along = x.abs() > 0.7 && y.abs() > 0.7;
    stands_along.then_some(ProposedDoor {
        hinge: if hinged_left == (x > 0.0) { Hand::Start } else { Hand::End },
        swing: if y > 0.0 { Side::Left } else { Side::Right },
    })
}
