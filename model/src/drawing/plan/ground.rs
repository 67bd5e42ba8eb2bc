//! The ground that names of rooms and zones are lettered on: what of a level they keep off.
//!
//! Symbols, lettering of joinery, walls, leaves and edges of joinery are never written over; the sweep of a
//! door and the top of a worktop only where a room has no better place. A name that finds no place where it
//! belongs goes elsewhere, with a leader.

use kurbo::{Circle, PathEl, Point, Rect, Shape as _, Size, Vec2};

use crate::building::outline::WallSolid;
use crate::drawing::labels::{line_crosses, text_bounds};
use crate::drawing::{Item, Layer, Role, Shape};
use crate::edit::Subject;
use crate::geometry::{Region, Ring, Segment};
use crate::id::Id;
use crate::plan::Level;
use crate::project::Project;

use super::devices::device_bounds;
use super::{building_items, joinery_items};

/// How far a flattened curve may lie off itself, mm on paper.
const LINE_TOLERANCE_MM: f64 = 0.2;

/// A name that goes elsewhere stands off so far at first, and so much farther with each ring, mm on paper.
const RING_MM: f64 = 2.0;

/// So many rings are tried.
const RINGS: u32 = 100;

/// For so many rings at once, what lies about is picked out of all that lies on the level.
const RINGS_AT_ONCE: u32 = 10;

/// Directions tried on each ring.
const DIRECTIONS: u32 = 32;

/// A name had rather go so much farther than into a room that is not its own, mm on paper.
const COST_OF_FOREIGN_ROOM_MM: f64 = 30.0;

/// The dot with which a leader ends within an area (ISO 128-2), mm on paper.
const DOT_MM: f64 = 0.5;

/// What lies on a level where names might go.
pub(super) struct Ground {
    /// Symbols and lettering.
    pub boxes: Vec<Rect>,
    /// Lines that are never written over.
    firm: Vec<Segment>,
    /// Lines of which that is a pity.
    soft: Vec<Segment>,
    /// Outlines of joinery below the cut.
    pieces: Vec<Rect>,
    /// The walls with their openings filled.
    pub walls: Region,
    scale: f64,
}

/// The rectangles that the symbols of a level take.
pub(crate) fn symbol_boxes(project: &Project, level: Id<Level>, scale: f64) -> Vec<Rect> {
    project
        .devices_on(level)
        .filter_map(|(_, device, kind)| device_bounds(project, device, kind, scale))
        .collect()
}

/// The rectangles that the lettering of some items takes, and the marks of spots.
pub(super) fn lettering_boxes(items: &[Item], scale: f64) -> Vec<Rect> {
    items.iter().filter_map(|item| text_bounds(&item.shape, scale).or_else(|| mark_box(item))).collect()
}

/// The rectangle that the mark of a spot takes.
pub(crate) fn mark_box(item: &Item) -> Option<Rect> {
    match &item.shape {
        Shape::Path(path) if item.role == Role::Spot => Some(path.bounding_box()),
        _ => None,
    }
}

impl Ground {
    /// All that lies on a level.
    pub fn of_level(project: &Project, level: Id<Level>, scale: f64) -> Self {
        let joinery = joinery_items(project, level, scale);
        let mut boxes = symbol_boxes(project, level, scale);
        boxes.extend(lettering_boxes(&joinery, scale));
        let walls = WallSolid::of_level(project, level, |_, _| true).region();
        let mut firm: Vec<Segment> =
            walls.rings().flat_map(|ring| ring.edges().collect::<Vec<_>>()).collect();
        let mut soft = Vec::new();
        let mut pieces = Vec::new();
        for item in joinery.iter().chain(&building_items(project, level)) {
            match item.role {
                Role::DoorSwing => soft.extend(segments_of(item, scale)),
                Role::DoorLeaf | Role::WindowLine | Role::JoineryHigh => {
                    firm.extend(segments_of(item, scale))
                }
                Role::JoineryLow => {
                    firm.extend(segments_of(item, scale));
                    pieces.extend(bounds_of(item));
                }
                _ => {}
            }
        }
        Self { boxes, firm, soft, pieces, walls, scale }
    }

    /// Lines and figures of dimensions and the marks of spots are not written over either; ways of people only where
    /// there is no other room.
    pub fn keep_off(&mut self, drawn: &[Item]) {
        self.boxes.extend(drawn.iter().filter_map(mark_box));
        for item in drawn.iter().filter(|item| item.role == Role::Walk) {
            self.soft.extend(segments_of(item, self.scale));
        }
        let dimensions = drawn.iter().filter(|item| item.layer == Layer::Dimensions);
        for item in dimensions {
            self.boxes.extend(text_bounds(&item.shape, self.scale));
            if item.role != Role::Halo {
                self.firm.extend(segments_of(item, self.scale));
            }
        }
    }

    /// The part of the ground within a rectangle, to look at more closely.
    pub fn part(&self, bounds: Rect) -> Self {
        let boxes = |all: &[Rect]| all.iter().copied().filter(|rect| rect.overlaps(bounds)).collect();
        let lines = |all: &[Segment]| {
            all.iter().copied().filter(|line| line_crosses(line.a, line.b, bounds)).collect()
        };
        Self {
            boxes: boxes(&self.boxes),
            firm: lines(&self.firm),
            soft: lines(&self.soft),
            pieces: boxes(&self.pieces),
            walls: self.walls.clone(),
            scale: self.scale,
        }
    }

    /// Whether a rectangle lies off all that is never written over.
    pub fn is_clear(&self, rect: Rect) -> bool {
        !self.boxes.iter().any(|other| other.overlaps(rect)) && !crossed(&self.firm, rect)
    }

    /// What a rectangle covers that had better be seen: 0 for nothing, 1 for the sweep of a door, 2 and more for
    /// joinery.
    pub fn pity(&self, rect: Rect) -> u32 {
        let sweeps = u32::from(crossed(&self.soft, rect));
        sweeps + 2 * u32::from(self.pieces.iter().any(|piece| piece.overlaps(rect)))
    }

    /// A clear place for a name that finds none about `belongs_to`: near it, but in none of the rooms given if
    /// it can be helped. `None` where all the ground about is taken.
    pub fn elsewhere(&self, belongs_to: Point, size: Size, rooms: &[&Ring]) -> Option<Rect> {
        let mut best: Option<(f64, Rect)> = None;
        let mut about = None;
        for ring in 1..=RINGS {
            let off_mm = RING_MM * f64::from(ring);
            if best.is_some_and(|(cost, _)| cost <= off_mm) {
                break;
            }
            if (ring - 1).is_multiple_of(RINGS_AT_ONCE) {
                let farthest = RING_MM * f64::from(ring + RINGS_AT_ONCE) * self.scale;
                let reach = size + Size::new(farthest, farthest);
                about = Some(self.part(Rect::from_center_size(belongs_to, reach * 2.0)));
            }
            let about = about.as_ref().unwrap_or(self);
            for direction in 0..DIRECTIONS {
                let turn = std::f64::consts::TAU * f64::from(direction) / f64::from(DIRECTIONS);
                let off = Vec2::from_angle(turn);
                let clear_of_point = size.width / 2.0 * off.x.abs() + size.height / 2.0 * off.y.abs();
                let at = belongs_to + off * (off_mm * self.scale + clear_of_point);
                let rect = Rect::from_center_size(at, size);
                if !about.is_clear(rect) || self.walls.contains(at) {
                    continue;
                }
                let foreign = rooms.iter().any(|room| room.contains(at));
                let cost = off_mm + if foreign { COST_OF_FOREIGN_ROOM_MM } else { 0.0 };
                if best.is_none_or(|(lowest, _)| cost < lowest - 1e-9) {
                    best = Some((cost, rect));
                }
            }
        }
        best.map(|(_, rect)| rect)
    }
}

/// A leader from a name to where it belongs, ending in a dot.
pub(super) fn leader_items(
    layer: Layer,
    subject: Option<Subject>,
    name: Rect,
    to: Point,
    scale: f64,
) -> Vec<Item> {
    let from = Point::new(to.x.clamp(name.x0, name.x1), to.y.clamp(name.y0, name.y1));
    // From half-way up where it leaves sideways, so that it does not seem to underline.
    let sideways = to.x < name.x0 || to.x > name.x1;
    let from = if sideways { Point::new(from.x, name.center().y) } else { from };
    let dot = Circle::new(to, DOT_MM * scale).to_path(LINE_TOLERANCE_MM * scale);
    vec![Item::line(layer, Role::Leader, subject, from, to), Item::path(layer, Role::Solid, subject, dot)]
}

/// A patch of paper beneath lettering, so that hatches and lines under it do not run through the words.
pub(crate) fn halo(layer: Layer, subject: Option<Subject>, around: Rect, scale: f64) -> Item {
    let patch = around.inflate(HALO_MM * scale, HALO_MM * scale);
    let rounded = patch.to_rounded_rect(HALO_ROUNDING_MM * scale);
    Item::path(layer, Role::Halo, subject, rounded.to_path(HALO_MM * scale))
}

/// How far a patch of paper reaches beyond its lettering, mm on paper: less than labels keep from symbols.
const HALO_MM: f64 = 0.2;

/// Radius of its corners, mm on paper.
const HALO_ROUNDING_MM: f64 = 0.5;

fn crossed(lines: &[Segment], rect: Rect) -> bool {
    lines.iter().any(|line| line_crosses(line.a, line.b, rect))
}

fn bounds_of(item: &Item) -> Option<Rect> {
    match &item.shape {
        Shape::Path(path) => Some(path.bounding_box()),
        _ => None,
    }
}

/// The straight pieces of an item's lines, curves flattened.
pub(crate) fn segments_of(item: &Item, scale: f64) -> Vec<Segment> {
    let Shape::Path(path) = &item.shape else { return Vec::new() };
    let mut lines = Vec::new();
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path, LINE_TOLERANCE_MM * scale, |element| match element {
        PathEl::MoveTo(to) => (start, last) = (to, to),
        PathEl::LineTo(to) => {
            lines.push(Segment::new(last, to));
            last = to;
        }
        _ => {
            lines.push(Segment::new(last, start));
            last = start;
        }
    });
    lines
}
