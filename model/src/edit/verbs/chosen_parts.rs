//! Which parts of a proposal are taken: all, those within an area, or those someone chose, with the walls they need.

use std::collections::BTreeSet;

use kurbo::Point;

use crate::geometry::Region;
use crate::survey::{Part, Proposal, ProposedOpening, ProposedRoom, ProposedWall};

/// The parts of a proposal that lie within an area of the plan: walls by more than half of their length, openings
/// and rooms by their middles.
pub fn parts_within(proposal: &Proposal, area: &Region) -> Vec<Part> {
    const POINTS: usize = 9;
    let is_within = |wall: &ProposedWall| {
        let at = |index: usize| wall.start.lerp(wall.end, (index as f64 + 0.5) / POINTS as f64);
        2 * (0..POINTS).filter(|index| area.contains(at(*index))).count() > POINTS
    };
    let walls = proposal.walls.iter().enumerate();
    let walls = walls.filter(|(_, wall)| is_within(wall)).map(|(index, _)| Part::Wall(index));
    let openings = proposal.openings.iter().enumerate();
    let openings = openings
        .filter(|(_, opening)| middle_of(proposal, opening).is_some_and(|middle| area.contains(middle)))
        .map(|(index, _)| Part::Opening(index));
    let rooms = proposal.rooms.iter().enumerate();
    let rooms = rooms.filter(|(_, room)| area.contains(room.seed)).map(|(index, _)| Part::Room(index));
    walls.chain(openings).chain(rooms).collect()
}

/// The middle of a proposed opening on the axis of its wall; `None` where a figure of it is no number.
pub(super) fn middle_of(proposal: &Proposal, opening: &ProposedOpening) -> Option<Point> {
    let wall = proposal.walls.get(opening.wall)?;
    let length = wall.length().as_mm();
    let middle = wall.start.lerp(wall.end, opening.centre.as_mm() / length);
    (length > 0.0 && middle.is_finite() && opening.width.as_mm().is_finite()).then_some(middle)
}

/// What is chosen of a proposal, each once and only what is there.
pub(super) struct Chosen<'a> {
    /// Indices of walls, in their order.
    pub walls: Vec<usize>,
    /// Openings, the surest first.
    pub openings: Vec<&'a ProposedOpening>,
    /// Rooms.
    pub rooms: Vec<&'a ProposedRoom>,
}

/// What is chosen, with the walls of chosen openings; `None` chooses all.
pub(super) fn chosen_parts<'a>(proposal: &'a Proposal, chosen: Option<&[Part]>) -> Chosen<'a> {
    let (mut walls, mut openings, mut rooms) = (Vec::new(), Vec::new(), Vec::new());
    for part in with_their_walls(proposal, chosen) {
        match part {
            Part::Wall(index) => walls.extend((index < proposal.walls.len()).then_some(index)),
            Part::Opening(index) => openings.extend(proposal.openings.get(index)),
            Part::Room(index) => rooms.extend(proposal.rooms.get(index)),
        }
    }
    openings.sort_by(|a, b| b.confidence.total_cmp(&a.confidence));
    Chosen { walls, openings, rooms }
}

fn with_their_walls(proposal: &Proposal, chosen: Option<&[Part]>) -> BTreeSet<Part> {
    let mut parts: BTreeSet<Part> = match chosen {
        Some(chosen) => chosen.iter().copied().collect(),
        None => {
            let walls = (0..proposal.walls.len()).map(Part::Wall);
            let openings = (0..proposal.openings.len()).map(Part::Opening);
            walls.chain(openings).chain((0..proposal.rooms.len()).map(Part::Room)).collect()
        }
    };
    let hosts: Vec<Part> = parts
        .iter()
        .filter_map(|part| match part {
            Part::Opening(index) => Some(Part::Wall(proposal.openings.get(*index)?.wall)),
            _ => None,
        })
        .collect();
    parts.extend(hosts);
    parts
}

#[cfg(test)]
mod tests {
    use kurbo::Rect;

    use super::*;
    use crate::geometry::Ring;
    use crate::survey::ProposedForm;
    use crate::units::Length;

    #[test]
    fn an_area_chooses_what_lies_within_it() {
        let wall = |from: (f64, f64), to: (f64, f64)| ProposedWall {
            start: from.into(),
            end: to.into(),
            thickness: Length::mm(100.0),
            height: None,
            make_up: None,
            confidence: 0.9,
        };
        let opening = |wall, centre| ProposedOpening {
            wall,
            centre: Length::mm(centre),
            width: Length::mm(800.0),
            sill: None,
            head: None,
            form: ProposedForm::Plain,
            confidence: 0.8,
        };
        let room = |seed: (f64, f64)| ProposedRoom {
            name: String::new(),
            room_use: None,
            seed: seed.into(),
            outline: Vec::new(),
            confidence: 0.7,
        };
        let proposal = Proposal {
            walls: vec![
                wall((0.0, 0.0), (4000.0, 0.0)),
                wall((4000.0, 0.0), (4000.0, 3000.0)),
                wall((4000.0, 3000.0), (7000.0, 3000.0)),
            ],
            openings: vec![opening(0, 1000.0), opening(1, 2000.0)],
            rooms: vec![room((2000.0, 1500.0)), room((5500.0, 1500.0))],
        };
        let within = |rect| parts_within(&proposal, &Region::from_ring(Ring::from_rect(rect)));
        assert_eq!(within(Rect::new(-100.0, -100.0, 4100.0, 1000.0)), [Part::Wall(0), Part::Opening(0)]);
        assert_eq!(within(Rect::new(4100.0, 1000.0, 8000.0, 3100.0)), [Part::Wall(2), Part::Room(1)]);
        assert_eq!(within(Rect::new(-1e4, -1e4, 1e4, 1e4)).len(), 7);
        assert!(within(Rect::new(100.0, 100.0, 200.0, 200.0)).is_empty());
    }
}
