//! Rooms between the proposed walls, with what is written in them.

use kurbo::{Affine, Point};

use crate::building::outline::spaces_between_walls;
use crate::geometry::{Ring, label_point};
use crate::id::Id;
use crate::plan::{MakeUp, Wall};
use crate::survey::room_names::room_use_of;
use crate::survey::{Page, ProposedRoom, ProposedWall, Writing};
use crate::units::Length;

/// What is smaller than this is a duct or a slip between walls, mm².
const SMALLEST_ROOM_MM2: f64 = 0.8e6;

/// And what is narrower than this at its widest, mm.
const NARROWEST_ROOM_MM: f64 = 400.0;

/// Longer lettering is a note, not a name.
const LONGEST_NAME: usize = 40;

/// Lines of one name follow each other within so many heights of their letters.
const NEXT_LINE: f64 = 2.2;

/// The rooms that the walls enclose, largest first.
pub(super) fn rooms_between(
    walls: &[ProposedWall],
    page: &Page,
    plan_from_drawing: Affine,
) -> Vec<ProposedRoom> {
    let stand_in = |wall: &ProposedWall| Wall {
        level: Id::from_number(0),
        start: wall.start,
        end: wall.end,
        thickness: wall.thickness,
        height: Length::mm(1.0),
        make_up: MakeUp::Masonry,
    };
    let walls: Vec<Wall> = walls.iter().map(stand_in).collect();
    let names: Vec<(Point, &Writing)> = page
        .writings
        .iter()
        .filter(|writing| looks_like_a_name(&writing.text))
        .map(|writing| (plan_from_drawing * writing.centre(), writing))
        .collect();
    let mut rooms = Vec::new();
    for space in spaces_between_walls(&walls.iter().collect::<Vec<_>>()) {
        let outline = space.shape.outer.without_collinear_points(0.5);
        let Some((seed, clearance)) = label_point(&outline, 20.0) else { continue };
        if space.shape.area() < SMALLEST_ROOM_MM2 || 2.0 * clearance < NARROWEST_ROOM_MM {
            continue;
        }
        let seed =
            if space.shape.contains(seed) { seed } else { free_point(&space.shape.outer, &names, seed) };
        let written: Vec<&Writing> =
            names.iter().filter(|(at, _)| space.shape.contains(*at)).map(|(_, writing)| *writing).collect();
        let name = name_of(&written);
        let confidence = if name.is_empty() { 0.6 } else { 0.9 };
        rooms.push(ProposedRoom {
            room_use: room_use_of(&name),
            name,
            seed,
            outline: outline.anticlockwise().into_points(),
            confidence,
        });
    }
    rooms.sort_by(|a, b| area_of(b).total_cmp(&area_of(a)));
    rooms
}

fn area_of(room: &ProposedRoom) -> f64 {
    Ring::new(room.outline.clone()).area()
}

/// Where a pier stands on the best place, the first place of lettering inside, or else the best place.
fn free_point(outer: &Ring, names: &[(Point, &Writing)], best: Point) -> Point {
    names.iter().map(|(at, _)| *at).find(|at| outer.contains(*at)).unwrap_or(best)
}

/// The name of a room from all that is written in it: lines of one label are put together; several labels are
/// listed, those that say what the room is for before all others.
fn name_of(written: &[&Writing]) -> String {
    let labels = labels_of(written);
    let telling: Vec<&String> = labels.iter().filter(|label| room_use_of(label).is_some()).collect();
    let chosen: Vec<&String> = if telling.is_empty() { labels.iter().take(1).collect() } else { telling };
    let mut listed: Vec<&str> = Vec::new();
    for label in chosen {
        if !listed.contains(&label.as_str()) && listed.len() < 4 {
            listed.push(label);
        }
    }
    listed.join(", ")
}

/// Lettering gathered into labels, the largest letters first.
fn labels_of(written: &[&Writing]) -> Vec<String> {
    let mut lines: Vec<&Writing> = written.to_vec();
    lines.sort_by(|a, b| {
        b.height.total_cmp(&a.height).then(a.at.y.total_cmp(&b.at.y)).then(a.at.x.total_cmp(&b.at.x))
    });
    let mut labels: Vec<Vec<&Writing>> = Vec::new();
    for line in lines {
        match labels.iter_mut().find(|label| label.last().is_some_and(|last| follows(last, line))) {
            Some(label) => label.push(line),
            None => labels.push(vec![line]),
        }
    }
    let text = |label: &Vec<&Writing>| {
        label.iter().flat_map(|line| line.text.split_whitespace()).collect::<Vec<_>>().join(" ")
    };
    labels.iter().map(text).collect()
}

/// Whether a line of lettering goes on from another, beside or below it.
fn follows(first: &Writing, then: &Writing) -> bool {
    let height = first.height.max(1e-9);
    let alike =
        (first.height - then.height).abs() <= 0.15 * height && first.direction.dot(then.direction) > 0.99;
    let step = then.centre() - first.centre();
    let along = step.dot(first.direction).abs();
    let down = step.cross(first.direction).abs();
    let beside = down < 0.4 * height && along - (first.length + then.length) / 2.0 < height;
    let below = down < NEXT_LINE * height && along < (first.length + then.length) / 2.0;
    alike && (beside || below)
}

/// Whether lettering may be the name of a room rather than a size, a level or a note.
fn looks_like_a_name(text: &str) -> bool {
    let text = text.trim();
    let letters = text.chars().filter(|letter| letter.is_alphabetic()).count();
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let is_measure = text.contains(['²', '±', '+', '×', '=', '"', '°', '%']) || {
        let low = text.to_lowercase();
        ["m2", "sqm", "sq m", "sq.", "qm", "mm", " x ", "ffl", "1:"].iter().any(|unit| low.contains(unit))
            && digits > 0
    };
    letters >= 2 && letters > digits && text.chars().count() <= LONGEST_NAME && !is_measure
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    fn writing(text: &str, x: f64, y: f64, height: f64) -> Writing {
        let length = text.chars().count() as f64 * height * 0.6;
        Writing { text: text.into(), at: Point::new(x, y), direction: Vec2::new(1.0, 0.0), length, height }
    }

    fn wall(x0: f64, y0: f64, x1: f64, y1: f64) -> ProposedWall {
        ProposedWall {
            start: Point::new(x0, y0),
            end: Point::new(x1, y1),
            thickness: Length::mm(100.0),
            height: None,
            make_up: None,
            confidence: 1.0,
        }
    }

    #[test]
    fn a_room_has_the_name_written_in_it() {
        let walls = [
            wall(0., 0., 4000., 0.),
            wall(4000., 0., 4000., -3000.),
            wall(4000., -3000., 0., -3000.),
            wall(0., -3000., 0., 0.),
        ];
        let page = Page {
            writings: vec![
                writing("Master", 20.0, 20.0, 3.0),
                writing("Bedroom", 20.0, 24.0, 3.0),
                writing("18.60 m²", 20.0, 28.0, 3.0),
                writing("outside it all", 200.0, 20.0, 3.0),
            ],
            ..Page::default()
        };
        let rooms = rooms_between(&walls, &page, Affine::scale_non_uniform(50.0, -50.0));
        assert_eq!(rooms.len(), 1);
        assert_eq!(rooms[0].name, "Master Bedroom");
        assert_eq!(rooms[0].room_use, Some(crate::plan::RoomUse::Bedroom));
        assert!((area_of(&rooms[0]) - 3900.0 * 2900.0).abs() < 1.0);
    }

    #[test]
    fn several_labels_are_listed() {
        let all =
            [writing("Living", 0., 0., 3.), writing("Kitchen", 90., 0., 3.), writing("sofa", 50., 50., 3.)];
        assert_eq!(name_of(&all.iter().collect::<Vec<_>>()), "Living, Kitchen");
        assert_eq!(name_of(&[]), "");
    }

    #[test]
    fn sizes_and_notes_are_no_names() {
        for text in ["Bad", "Raum 1", "WC", "Living Room", "Salle d'eau"] {
            assert!(looks_like_a_name(text), "{text}");
        }
        let long = "All dimensions to be checked on site before work starts";
        for text in ["18.60 m²", "12.5", "3.2 x 4.1", "FFL +0.15", "1:50", "A", "", long, "4200 mm"] {
            assert!(!looks_like_a_name(text), "{text}");
        }
    }
}
