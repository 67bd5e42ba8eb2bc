//! Room names and areas, at a place in the room where nothing else stands.
//!
//! A name that finds no clear place in its room at full height is lettered smaller, then broken into two lines,
//! then goes without its area, and last goes elsewhere with a leader. It never lies over a wall or a symbol.

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Size, Vec2};

use crate::building::outline::RoomOutline;
use crate::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use crate::edit::Subject;
use crate::geometry::{Ring, label_point};
use crate::id::Id;
use crate::plan::{Level, Room, SlopingCeiling};
use crate::project::Project;
use crate::units::{Angle, Length};

use super::ground::{Ground, halo, leader_items};

/// Heights of a room's name, mm on paper (ISO 3098 series): the usual one, and that for small rooms.
const NAME_HEIGHTS_MM: [f64; 2] = [2.5, 1.8];

/// Height of its area, mm on paper (ISO 3098 series).
const AREA_HEIGHT_MM: f64 = 1.8;

/// Between the lines of the lettering, mm on paper.
const GAP_MM: f64 = 1.2;

/// Clear margin around names, mm on paper.
const MARGIN_MM: f64 = 0.8;

/// How many places along each half axis of a room are tried for its name.
const TRIED_PER_AXIS: i32 = 24;

/// Names and areas of the rooms of a level, clear of the dimensions and the marks of spots among the items already drawn. A room whose
/// walls do not close shows its name at its seed and says that it is open.
pub fn room_items(
    project: &Project,
    level: Id<Level>,
    outlines: &BTreeMap<Id<Room>, RoomOutline>,
    scale: f64,
    drawn: &[Item],
) -> Vec<Item> {
    let mut ground = Ground::of_level(project, level, scale);
    ground.keep_off(drawn);
    let rings: Vec<&Ring> = outlines.values().map(|outline| &outline.shape.outer).collect();
    let mut items = Vec::new();
    let mut homeless = Vec::new();
    for (id, room) in project.rooms_on(level) {
        let Some(outline) = outlines.get(&id) else {
            let block = Block::new(&[&room.name], NAME_HEIGHTS_MM[0], &["walls do not close"], Role::Missing);
            items.extend(block.items(id, room.seed, scale));
            continue;
        };
        let forms = forms_of(&room.name, &outline.area().to_string(), room.ceiling.as_ref());
        match in_room(outline, &forms, &ground, scale) {
            Some((block, centre)) => {
                ground.boxes.push(Rect::from_center_size(centre, block.size(scale)));
                items.extend(block.items(id, centre, scale));
            }
            None => homeless.push((id, outline, forms)),
        }
    }
    for (id, outline, forms) in homeless {
        let home = middle_of(outline);
        // In full, but small: with a leader there is room for all of it.
        let block = &forms[1];
        let Some(place) = ground.elsewhere(home, block.size(scale), &rings) else {
            items.extend(block.items(id, home, scale));
            continue;
        };
        ground.boxes.push(place);
        items.extend(leader_items(Layer::Rooms, Some(Subject::Room(id)), place, home, scale));
        items.extend(block.items(id, place.center(), scale));
    }
    items
}

/// The lettering of one room: its lines, from the top.
#[derive(Clone, Debug, PartialEq)]
struct Block {
    lines: Vec<BlockLine>,
}

#[derive(Clone, Debug, PartialEq)]
struct BlockLine {
    words: String,
    height_mm: f64,
    weight: Weight,
    role: Role,
}

impl Block {
    fn new(name: &[&str], height_mm: f64, notes: &[&str], note_role: Role) -> Self {
        let mut lines: Vec<BlockLine> = name
            .iter()
            .map(|words| BlockLine {
                words: (*words).to_owned(),
                height_mm,
                weight: Weight::SemiBold,
                role: Role::RoomName,
            })
            .collect();
        lines.extend(notes.iter().map(|note| BlockLine {
            words: (*note).to_owned(),
            height_mm: AREA_HEIGHT_MM,
            weight: Weight::Regular,
            role: note_role,
        }));
        Self { lines }
    }

    /// Width and height of the lettering, mm on paper.
    fn lettering_mm(&self) -> Size {
        let width = self
            .lines
            .iter()
            .map(|line| lettering::width(&line.words, line.height_mm, line.weight))
            .fold(0.0, f64::max);
        let heights: f64 = self.lines.iter().map(|line| line.height_mm).sum();
        Size::new(width, heights + GAP_MM * self.lines.len().saturating_sub(1) as f64)
    }

    /// Width and height with the clear margin, plan mm.
    fn size(&self, scale: f64) -> Size {
        let size = self.lettering_mm();
        Size::new(size.width + 2.0 * MARGIN_MM, size.height + 2.0 * MARGIN_MM) * scale
    }

    fn items(&self, id: Id<Room>, centre: Point, scale: f64) -> Vec<Item> {
        let subject = Some(Subject::Room(id));
        let margin = 0.75 * MARGIN_MM * scale;
        let patch = Rect::from_center_size(centre, self.size(scale)).inset(-margin);
        let mut items = vec![halo(Layer::Rooms, subject, patch, scale)];
        let mut base = centre.y + self.lettering_mm().height / 2.0 * scale;
        for line in &self.lines {
            base -= line.height_mm * scale;
            let shape = Shape::Text {
                at: Point::new(centre.x, base),
                text: line.words.clone(),
                height_mm: line.height_mm,
                weight: line.weight,
                anchor: Anchor::Middle,
                turn: Angle::ZERO,
            };
            items.push(Item { layer: Layer::Rooms, role: line.role, subject, shape });
            base -= GAP_MM * scale;
        }
        items
    }
}

/// The forms in which a room is lettered, the best first: full height, small, in two lines, without the note on
/// its sloping ceiling, without its area.
fn forms_of(name: &str, area: &str, ceiling: Option<&SlopingCeiling>) -> Vec<Block> {
    let [usual, small] = NAME_HEIGHTS_MM;
    let sloping = ceiling.map(|ceiling| {
        let [high, low] = [ceiling.high, ceiling.low].map(with_thousands);
        [format!("ceiling {high}"), format!("falling to {low}")]
    });
    let mut notes: Vec<Vec<&str>> = Vec::new();
    let in_one_line = sloping.as_ref().map(|halves| halves.join(" "));
    if let (Some(whole), Some([high, low])) = (&in_one_line, &sloping) {
        notes.extend([vec![area, whole], vec![area, high, low]]);
    }
    notes.push(vec![area]);
    let halves = in_two_lines(name);
    let mut forms = Vec::new();
    for notes in &notes {
        let block = |name: &[&str], height| Block::new(name, height, notes, Role::RoomNote);
        forms.extend([usual, small].map(|height| block(&[name], height)));
        if let Some((first, second)) = halves {
            forms.extend([usual, small].map(|height| block(&[first, second], height)));
        }
    }
    forms.push(Block::new(&[name], small, &[], Role::RoomNote));
    if let Some((first, second)) = halves {
        forms.push(Block::new(&[first, second], small, &[], Role::RoomNote));
    }
    forms
}

/// Whole millimetres with thousands apart, as heights are lettered: `2,400`.
fn with_thousands(length: Length) -> String {
    let whole = length.as_mm().round() as i64;
    if whole.abs() < 1000 { whole.to_string() } else { format!("{},{:03}", whole / 1000, whole.abs() % 1000) }
}

/// A name broken at the space nearest its middle; `None` where it has none.
fn in_two_lines(name: &str) -> Option<(&str, &str)> {
    let middle = name.len() / 2;
    let (at, _) = name.match_indices(' ').min_by_key(|(at, _)| at.abs_diff(middle))?;
    let (first, second) = (name[..at].trim(), name[at..].trim());
    (!first.is_empty() && !second.is_empty()).then_some((first, second))
}

/// The point farthest from a room's walls.
fn middle_of(outline: &RoomOutline) -> Point {
    let ring = &outline.shape.outer;
    let bounds = ring.bounds().unwrap_or(Rect::ZERO);
    label_point(ring, 10.0).map_or(bounds.center(), |(point, _)| point)
}

/// The best form of a room's lettering that has a clear place wholly within the room, and the middle of that
/// place: the one that covers least of what had better be seen, and of those the one nearest the middle.
fn in_room<'a>(
    outline: &RoomOutline,
    forms: &'a [Block],
    ground: &Ground,
    scale: f64,
) -> Option<(&'a Block, Point)> {
    let bounds = outline.shape.outer.bounds()?;
    let best = middle_of(outline);
    let near = ground.part(bounds);
    let step = Vec2::new(bounds.width(), bounds.height()) / f64::from(2 * TRIED_PER_AXIS);
    let mut places: Vec<Point> = Vec::new();
    for row in -2 * TRIED_PER_AXIS..=2 * TRIED_PER_AXIS {
        for column in -2 * TRIED_PER_AXIS..=2 * TRIED_PER_AXIS {
            let place = best + Vec2::new(step.x * f64::from(column), step.y * f64::from(row));
            if bounds.contains(place) {
                places.push(place);
            }
        }
    }
    places.sort_by(|a, b| a.distance_squared(best).total_cmp(&b.distance_squared(best)));
    forms.iter().find_map(|form| {
        let size = form.size(scale);
        let mut found: Option<(u32, Point)> = None;
        for place in &places {
            let rect = Rect::from_center_size(*place, size);
            if !near.is_clear(rect) || !lies_within(outline, rect) {
                continue;
            }
            let pity = near.pity(rect);
            if found.is_none_or(|(least, _)| pity < least) {
                found = Some((pity, *place));
            }
            if pity == 0 {
                break;
            }
        }
        found.map(|(_, place)| (form, place))
    })
}

/// Whether a rectangle lies wholly within a room: no edge of the room crosses it and its centre is inside.
fn lies_within(outline: &RoomOutline, rect: Rect) -> bool {
    outline.contains(rect.center()) && outline.shape.rings().all(|ring| !crosses(ring, rect))
}

fn crosses(ring: &Ring, rect: Rect) -> bool {
    ring.edges().any(|edge| crate::drawing::labels::line_crosses(edge.a, edge.b, rect))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_broken_near_their_middle() {
        for (name, expected) in [
            ("Cupboard under the stairs", Some(("Cupboard under", "the stairs"))),
            ("Living room", Some(("Living", "room"))),
            ("Hall", None),
            ("", None),
        ] {
            assert_eq!(in_two_lines(name), expected, "{name}");
        }
    }

    #[test]
    fn a_sloping_ceiling_is_lettered_where_there_is_room_for_it() {
        let ceiling = SlopingCeiling { low: Length::mm(900.0), high: Length::m(2.4), note: String::new() };
        let words =
            |form: &Block| -> Vec<String> { form.lines.iter().map(|line| line.words.clone()).collect() };
        let forms = forms_of("Loft", "12.0 m²", Some(&ceiling));
        assert_eq!(words(&forms[0]), ["Loft", "12.0 m²", "ceiling 2,400 falling to 900"]);
        assert_eq!(words(&forms[2]), ["Loft", "12.0 m²", "ceiling 2,400", "falling to 900"]);
        assert_eq!(words(&forms[4]), ["Loft", "12.0 m²"]);
        assert_eq!(words(forms.last().unwrap()), ["Loft"]);
        assert_eq!(with_thousands(Length::m(12.005)), "12,005");
    }

    #[test]
    fn forms_get_smaller_and_the_area_goes_last() {
        let forms = forms_of("Shower room", "3.1 m²", None);
        let widths: Vec<f64> = forms.iter().map(|form| form.lettering_mm().width).collect();
        assert!(widths[0] > widths[1] && widths[1] > widths[3]);
        assert!(forms[..4].iter().all(|form| form.lines.last().unwrap().words == "3.1 m²"));
        assert!(forms[4..].iter().all(|form| form.lines.iter().all(|line| line.role == Role::RoomName)));
    }
}
