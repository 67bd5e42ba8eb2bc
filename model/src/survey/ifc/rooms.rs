//! Rooms: the outlines and names of the spaces in a file.

use kurbo::Point;

use super::curves::Chords;
use super::frame::Frame;
use super::reading::Reading;
use super::step::Record;
use crate::geometry::{Ring, label_point};
use crate::plan::RoomUse;
use crate::survey::proposal::ProposedRoom;
use crate::survey::room_names::room_use_of;

/// Corners nearer than this to the line of their neighbours go, mm.
const STRAIGHT: f64 = 0.1;

/// No room has more corners than this.
const MOST_CORNERS: usize = 4000;

/// No room is smaller than this, mm²: a square of 100 mm.
const SMALLEST: f64 = 1.0e4;

/// How precisely the seed of a room is laid at its middle, mm.
const SEED: f64 = 20.0;

/// A space of the file, in the building's frame.
pub(super) struct FoundRoom {
    /// What is proposed of it.
    pub(super) room: ProposedRoom,
    /// Its floor and its ceiling above the building's datum, mm, where its body tells.
    pub(super) heights: Option<(f64, f64)>,
}

/// Reads one space; what stands in the way is noted.
pub(super) fn read_room(reading: &Reading<'_>, building: &Frame, number: u64) -> Option<FoundRoom> {
    let Some(record) = reading.file.record(number) else {
        reading.note("rooms that cannot be read", number);
        return None;
    };
    if record.word_at(9) == Some("GFA") {
        reading.leave_out("spaces that stand for the gross area of a floor", number);
        return None;
    }
    let Some(placed) = reading.stands(&record) else {
        reading.note("rooms that stand nowhere: their placement cannot be followed", number);
        return None;
    };
    let stands = building.then(&placed);
    let body = reading.body(&record, &stands);
    let heights = body.as_ref().and_then(|body| body.heights());
    let outline = body.and_then(|body| body.outline()).or_else(|| footprint(reading, &record, &stands));
    let outline =
        outline.filter(Ring::is_finite).map(|ring| ring.without_collinear_points(STRAIGHT).anticlockwise());
    let Some(outline) = outline.filter(|ring| ring.area() >= SMALLEST && ring.len() <= MOST_CORNERS) else {
        reading.note("rooms without an outline", number);
        return None;
    };
    let (seed, _) = label_point(&outline, SEED)?;
    let name = record.text_at(7).or_else(|| record.text_at(2)).unwrap_or_default();
    // IFC2x3 says outside in one place, later schemas in another.
    let outside = [9, 10].iter().any(|place| record.word_at(*place) == Some("EXTERNAL"));
    let room_use = room_use_of(&name).or_else(|| outside.then_some(RoomUse::Outside));
    let room = ProposedRoom { name, room_use, seed, outline: outline.into_points(), confidence: 1.0 };
    Some(FoundRoom { room, heights })
}

/// The outline that a space without a body draws on its floor.
fn footprint(reading: &Reading<'_>, record: &Record<'_>, stands: &Frame) -> Option<Ring> {
    let items = reading.items(record, |identifier, _| identifier.eq_ignore_ascii_case("footprint"));
    let mut curves = Vec::new();
    for item in items {
        let Some(inner) = reading.file.record(item) else { continue };
        match inner.entity {
            "IFCGEOMETRICCURVESET" | "IFCGEOMETRICSET" => curves.extend(inner.references_at(0)),
            "IFCANNOTATIONFILLAREA" => curves.extend(inner.reference_at(0)),
            _ => curves.push(item),
        }
    }
    let ring = |curve: u64| {
        let course = reading.course(curve, Chords { stand_off: 1.0 })?;
        let on_plan = course.into_iter().map(|point| {
            let [x, y, _] = stands.place(point);
            Point::new(x, y)
        });
        Some(Ring::new(on_plan.collect())).filter(|ring| ring.len() >= 3)
    };
    curves.into_iter().find_map(ring)
}
