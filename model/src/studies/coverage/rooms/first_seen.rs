//! How far somebody walks into a room before a sensor that lights it notices them.
//!
//! From each way in they are walked along two straight lines: straight in, and towards the middle of the room (the
//! point within it that is farthest from its walls). Each line ends where it first meets the room's outline. The
//! longer of the two distances counts; on each, the sensor that sees first. What it sees is its polygon of this
//! study; a contact that lights the room sees whoever comes in by its door at once. Joinery is walked through, for nobody knows which way round it they go.

use kurbo::{Point, Vec2};

use super::lighters::Lighter;
use super::ways_in::{Way, WayIn};
use crate::building::outline::RoomOutline;
use crate::geometry::{Region, Segment, label_point, stretches_inside};
use crate::id::Id;
use crate::kit::Device;
use crate::units::{Length, Seconds};

/// How fast somebody walks on the level, mm/s: 1.3 m/s, within the comfortable gait of 1.27 to 1.46 m/s that R. W.
/// Bohannon found (1997).
pub const WALKING_MM_PER_S: f64 = 1300.0;

/// A line is followed at most so far, mm; no room is larger.
const FARTHEST_MM: f64 = 1.0e6;

/// A line must start on or within the outline, to within this, mm.
const AT_ONCE_MM: f64 = 1.0;

/// A stretch of view shorter than this is no view: it is what lies between two edges that meet, mm.
const LEAST_VIEW_MM: f64 = 1.0;

/// How well the middle of a room is known, mm.
const MIDDLE_WITHIN_MM: f64 = 1.0;

/// A sensor, and where it notices somebody.
pub type View<'a> = (Id<Device>, &'a Region);

/// Where on a line somebody is first seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// How far they have walked.
    pub after: Length,
    /// The sensor that sees them.
    pub by: Id<Device>,
}

/// A straight line into a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// How far it can be walked before it meets the room's outline.
    pub length: Length,
    /// Where somebody on it is first seen; `None` where nobody is.
    pub seen: Option<Seen>,
}

/// What a way into a room answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// The way in.
    pub way_in: WayIn,
    /// Straight in; `None` where a stair stands on one point.
    pub straight: Option<Line>,
    /// Towards the middle of the room; `None` where a corner hides it from the way in.
    pub to_middle: Option<Line>,
    /// Whether a sensor lights the room at all, by rule or standing in for one.
    pub is_lit: bool,
}

impl Entry {
    /// Where somebody is first seen, on the line on which they walk farther; `None` where nobody is on either.
    pub fn first_seen(&self) -> Option<Seen> {
        self.lines().filter_map(|line| line.seen).max_by(|a, b| a.after.as_mm().total_cmp(&b.after.as_mm()))
    }

    /// The longer of the lines that are walked to their end without being seen.
    pub fn unseen(&self) -> Option<Length> {
        let unseen = self.lines().filter(|line| line.seen.is_none()).map(|line| line.length);
        unseen.max_by(|a, b| a.as_mm().total_cmp(&b.as_mm()))
    }

    /// How long they walk until they are first seen.
    pub fn time(&self) -> Option<Seconds> {
        self.first_seen().map(|seen| Seconds(seen.after.as_mm() / WALKING_MM_PER_S))
    }

    /// Why nobody is ever seen; `None` where somebody is.
    pub fn reason(&self) -> Option<&'static str> {
        match (self.first_seen(), self.is_lit) {
            (Some(_), _) => None,
            (None, false) => Some("no sensor lights this room"),
            (None, true) => Some("no sensor that lights this room sees somebody who comes in here"),
        }
    }

    fn lines(&self) -> impl Iterator<Item = Line> {
        [self.straight, self.to_middle].into_iter().flatten()
    }
}

/// The middle of a room: the point within its outer outline that is farthest from it.
pub fn middle_of(outline: &RoomOutline) -> Option<Point> {
    label_point(&outline.shape.outer, MIDDLE_WITHIN_MM).map(|(middle, _)| middle)
}

/// What each way into a room with that middle answers under the sensors of its level, the worst first: those by
/// which nobody is seen, then by the distance walked.
pub fn entries(
    ways: &[WayIn],
    (outline, middle): (&RoomOutline, Option<Point>),
    lighters: &[Lighter],
    sensors: &[View<'_>],
) -> Vec<Entry> {
    let room = Region { shapes: vec![outline.shape.clone()] };
    let views: Vec<View<'_>> = sensors
        .iter()
        .copied()
        .filter(|(sensor, _)| lighters.iter().any(|lighter| lighter.device == *sensor))
        .collect();
    let mut entries: Vec<Entry> = ways
        .iter()
        .map(|way| {
            let at_door = opened(way, lighters);
            let line = |direction: Vec2| {
                let line = walked(&room, &views, way.at, direction)?;
                Some(Line { seen: at_door.or(line.seen), ..line })
            };
            let to_middle = middle.map(|middle| middle - way.at).filter(|to| to.hypot() > AT_ONCE_MM);
            Entry {
                way_in: *way,
                straight: way.inwards.and_then(line),
                to_middle: to_middle.and_then(|to| line(to / to.hypot())),
                is_lit: !lighters.is_empty(),
            }
        })
        .collect();
    let walked_mm = |entry: &Entry| entry.first_seen().map_or(f64::INFINITY, |seen| seen.after.as_mm());
    entries.sort_by(|a, b| walked_mm(b).total_cmp(&walked_mm(a)));
    entries
}

/// The contact that lights the room as its door is opened, if somebody comes in by that door.
fn opened(way: &WayIn, lighters: &[Lighter]) -> Option<Seen> {
    let Way::Door(door) = way.way else { return None };
    let contact = lighters.iter().find(|lighter| lighter.door == Some(door))?;
    Some(Seen { after: Length::ZERO, by: contact.device })
}

/// A line from a point in a direction, and where somebody on it is first seen; `None` where it leaves the room at
/// once.
fn walked(room: &Region, views: &[View<'_>], from: Point, direction: Vec2) -> Option<Line> {
    let ray = Segment::new(from, from + direction * FARTHEST_MM);
    let (start, end) = *stretches_inside(room, &ray).first()?;
    if start > AT_ONCE_MM {
        return None;
    }
    let line = Segment::new(from, from + direction * end);
    let seen = views
        .iter()
        .filter_map(|(sensor, view)| {
            let after = first_inside(view, &line)?;
            Some(Seen { after: Length::mm(after), by: *sensor })
        })
        .min_by(|a, b| a.after.as_mm().total_cmp(&b.after.as_mm()));
    Some(Line { length: Length::mm(end), seen })
}

/// Where a line first runs inside a region for long enough to be seen, mm from its start.
fn first_inside(region: &Region, line: &Segment) -> Option<f64> {
    stretches_inside(region, line)
        .into_iter()
        .find(|(from, to)| to - from >= LEAST_VIEW_MM)
        .map(|(from, _)| from)
}
