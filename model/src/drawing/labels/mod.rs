//! Where lettering goes: how much room a text takes, and a place for every device's tag.
//!
//! A device's label says its tag, then the height of its centre above the finished floor in millimetres, or in
//! red what is missing. [`place_labels`] finds the places; nothing is ever written over anything.

mod placing;
mod spot_names;

use kurbo::{Affine, Point, Rect, Size};

use super::plan::{device_bounds, halo, mark_box, segments_of};
use super::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::building::outline::WallSolid;
use crate::edit::Subject;
use crate::geometry::Segment;
use crate::id::Id;
use crate::kit::{Device, Mount};
use crate::plan::Level;
use crate::project::Project;
use crate::units::Angle;

pub use placing::{LabelRequest, LineToAvoid, PlacedLabel, place_labels};
pub use spot_names::spot_name_items;

/// Height of the lines of a label, mm on paper: the smallest of the ISO 3098 series.
const LINE_HEIGHT_MM: f64 = 1.8;

/// From one base line of a label to the next, mm on paper.
const LINE_PITCH_MM: f64 = 2.7;

/// Room kept above the capitals, as a share of their height: accents and ascenders.
const ABOVE_CAPITALS: f64 = 0.15;

/// Room kept below the base line, as a share of the capitals' height: descenders.
const BELOW_BASE: f64 = 0.30;

/// The upright rectangle, plan mm, that a text takes at a scale. `None` for shapes that are no text.
pub fn text_bounds(shape: &Shape, scale: f64) -> Option<Rect> {
    let Shape::Text { at, text, height_mm, weight, anchor, turn } = shape else { return None };
    let width = lettering::width(text, *height_mm, *weight);
    let start = lettering::start_from_anchor(*anchor, width, *height_mm);
    let (low, high) = (start.y - BELOW_BASE * height_mm, start.y + (1.0 + ABOVE_CAPITALS) * height_mm);
    let on_paper = Rect::new(start.x, low, start.x + width, high);
    let place = Affine::translate(at.to_vec2()) * Affine::rotate(turn.as_radians()) * Affine::scale(scale);
    Some(place.transform_rect_bbox(on_paper))
}

/// The same line turned so that it reads from the bottom or from the right of the sheet (ISO 129-1).
pub fn readable(turn: Angle) -> Angle {
    // A text that reads straight down counts as read from the left and is turned over; a hundredth of a degree
    // keeps vertical texts from flickering between the two.
    let degrees = turn.as_degrees().rem_euclid(360.0);
    if degrees > 90.01 && degrees <= 270.01 {
        Angle::degrees(degrees - 180.0)
    } else {
        Angle::degrees(degrees)
    }
}

/// The stretch of a straight line within a rectangle, as shares of its length (C. K. Liang and B. A. Barsky,
/// "A new concept and method for line clipping", 1984). `None` where they do not meet.
pub(crate) fn stretch_within(from: Point, to: Point, rect: Rect) -> Option<(f64, f64)> {
    let along = to - from;
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (step, gap_low, gap_high) in
        [(along.x, rect.x0 - from.x, rect.x1 - from.x), (along.y, rect.y0 - from.y, rect.y1 - from.y)]
    {
        if step == 0.0 {
            if gap_low > 0.0 || gap_high < 0.0 {
                return None;
            }
        } else {
            let (a, b) = (gap_low / step, gap_high / step);
            enters = enters.max(a.min(b));
            leaves = leaves.min(a.max(b));
        }
    }
    (enters <= leaves).then_some((enters, leaves))
}

/// Whether a straight line has a piece within a rectangle.
pub(crate) fn line_crosses(from: Point, to: Point, rect: Rect) -> bool {
    stretch_within(from, to, rect).is_some()
}

/// One line of a label.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLine {
    /// The words.
    pub text: String,
    /// What it is: tag, note or something missing.
    pub role: Role,
}

/// What a device's label says: its tag, the height of its centre above the finished floor, and what is missing.
pub fn label_lines(device: &Device) -> Vec<LabelLine> {
    let line = |text: String, role: Role| LabelLine { text, role };
    let mut lines = vec![line(device.tag.to_string(), Role::Tag)];
    match device.height_affl {
        Some(height) => lines.push(line(height.to_string(), Role::TagNote)),
        None => lines.push(line("height missing".to_owned(), Role::Missing)),
    }
    if matches!(device.mount, Mount::Loose { .. }) {
        lines.push(line("host missing".to_owned(), Role::Missing));
    }
    lines
}

/// The labels of every device of a level. `written` is what the drawing already holds: none of its lettering is
/// covered, and its leaders, ticks and dimension lines are crossed only where that is the lesser evil.
pub fn tag_items(project: &Project, level: Id<Level>, written: &[Item], scale: f64) -> Vec<Item> {
    let mut devices = Vec::new();
    let mut requests = Vec::new();
    for (id, device, kind) in project.devices_on(level) {
        let Some(symbol) = device_bounds(project, device, kind, scale) else { continue };
        let lines = label_lines(device);
        requests.push(LabelRequest { symbol, size: size_of(&lines, scale) });
        devices.push((id, lines));
    }
    let lozenges = written.iter().filter_map(mark_box);
    let texts = written.iter().filter_map(|item| text_bounds(&item.shape, scale));
    let texts: Vec<Rect> = texts.chain(lozenges).collect();
    let mut lines = wall_lines(project, level);
    lines.extend(written.iter().flat_map(|item| lines_of(item, scale)));
    let placed = place_labels(requests, &texts, &lines, scale);
    devices
        .into_iter()
        .zip(placed)
        .flat_map(|((id, lines), label)| label_items(Subject::Device(id), &lines, label, scale))
        .collect()
}

/// How much the face of a wall is to be avoided: a label goes farther out on a leader, through the wall if need
/// be, rather than lie on its hatch.
const WEIGHT_OF_WALL: f64 = 4.0;

/// The faces of the walls, and their axes so that no label lies within a thick wall unseen.
fn wall_lines(project: &Project, level: Id<Level>) -> Vec<LineToAvoid> {
    let solid = WallSolid::of_level(project, level, |_, opening| opening.is_none()).region();
    let faces = solid.rings().flat_map(|ring| ring.edges().collect::<Vec<_>>());
    let axes = project.walls_on(level).map(|(_, wall)| Segment::new(wall.start, wall.end));
    faces.chain(axes).map(|line| LineToAvoid { line, weight: WEIGHT_OF_WALL }).collect()
}

/// The lines of an item that a label had better not lie across.
fn lines_of(item: &Item, scale: f64) -> Vec<LineToAvoid> {
    let weight = match item.role {
        Role::DoorLeaf | Role::WindowLine => 1.5,
        Role::Dimension => 0.5,
        Role::DoorSwing | Role::JoineryLow | Role::JoineryHigh | Role::ZoneTie => 0.2,
        _ => return Vec::new(),
    };
    segments_of(item, scale).into_iter().map(|line| LineToAvoid { line, weight }).collect()
}

fn weight_of(role: Role) -> Weight {
    if role == Role::Tag { Weight::SemiBold } else { Weight::Regular }
}

fn size_of(lines: &[LabelLine], scale: f64) -> Size {
    let width = lines
        .iter()
        .map(|line| lettering::width(&line.text, LINE_HEIGHT_MM, weight_of(line.role)))
        .fold(0.0, f64::max);
    let between = LINE_PITCH_MM * lines.len().saturating_sub(1) as f64;
    Size::new(width, between + LINE_HEIGHT_MM * (1.0 + ABOVE_CAPITALS + BELOW_BASE)) * scale
}

/// A label's lines, set towards its symbol, and its leader.
fn label_items(subject: Subject, lines: &[LabelLine], label: PlacedLabel, scale: f64) -> Vec<Item> {
    let (x, anchor) = match label.beside {
        1 => (label.bounds.x0, Anchor::Start),
        -1 => (label.bounds.x1, Anchor::End),
        _ => (label.bounds.center().x, Anchor::Middle),
    };
    let first_base = label.bounds.y1 - LINE_HEIGHT_MM * (1.0 + ABOVE_CAPITALS) * scale;
    let mut items = Vec::new();
    if let Some((from, to)) = label.leader {
        items.push(Item::line(Layer::Tags, Role::Leader, Some(subject), from, to));
    }
    items.push(halo(Layer::Tags, Some(subject), label.bounds, scale));
    for (index, line) in lines.iter().enumerate() {
        let shape = Shape::Text {
            at: Point::new(x, first_base - index as f64 * LINE_PITCH_MM * scale),
            text: line.text.clone(),
            height_mm: LINE_HEIGHT_MM,
            weight: weight_of(line.role),
            anchor,
            turn: Angle::ZERO,
        };
        items.push(Item { layer: Layer::Tags, role: line.role, subject: Some(subject), shape });
    }
    items
}
