//! What of a proposal stands in the plan already: whoever traces a drawing again decides on the rest alone.

use kurbo::Rect;

use crate::edit::Subject;
use crate::geometry::Ring;
use crate::id::Id;
use crate::plan::{Level, MakeUp, Opening, Wall};
use crate::project::Project;
use crate::survey::{Part, Proposal, ProposedWall};
use crate::units::{Length, round_point};

/// Walls run the same way where they differ by no more than this: the sine of about two degrees.
const SAME_WAY_SINE: f64 = 0.035;

/// The parts of a proposal that stand on a level, each with what it is there: walls, openings where a hole in that
/// wall holds their middle, and rooms of which one within their outline is named.
pub fn standing_parts(project: &Project, level: Id<Level>, proposal: &Proposal) -> Vec<(Part, Subject)> {
    let mut standing = Vec::new();
    let hosts: Vec<Option<(Id<Wall>, &Wall)>> = proposal
        .walls
        .iter()
        .map(|proposed| {
            let new = wall_of(proposed, level, Length::ZERO, MakeUp::Masonry);
            project.walls_on(level).find(|(_, wall)| stands_for(wall, &new))
        })
        .collect();
    for (index, host) in hosts.iter().enumerate() {
        standing.extend(host.map(|(id, _)| (Part::Wall(index), Subject::Wall(id))));
    }
    for (index, proposed) in proposal.openings.iter().enumerate() {
        let Some((host, wall)) = hosts.get(proposed.wall).copied().flatten() else { continue };
        let drawn = &proposal.walls[proposed.wall];
        let along = (drawn.end - drawn.start) / drawn.length().as_mm().max(f64::MIN_POSITIVE);
        let middle = wall.along_of(drawn.start + along * proposed.centre.as_mm());
        let holds =
            |opening: &Opening| opening.wall == host && opening.from() <= middle && middle <= opening.to();
        let there = project.openings.iter().find(|(_, opening)| holds(opening));
        standing.extend(there.map(|(id, _)| (Part::Opening(index), Subject::Opening(id))));
    }
    for (index, proposed) in proposal.rooms.iter().enumerate() {
        let outline = Ring::new(proposed.outline.clone());
        let there = project.rooms_on(level).find(|(_, room)| outline.contains(room.seed));
        standing.extend(there.map(|(id, _)| (Part::Room(index), Subject::Room(id))));
    }
    standing
}

/// The wall that a proposed one becomes, of the height and make-up given where it does not say.
pub(super) fn wall_of(proposed: &ProposedWall, level: Id<Level>, height: Length, make_up: MakeUp) -> Wall {
    Wall {
        level,
        start: round_point(proposed.start),
        end: round_point(proposed.end),
        thickness: proposed.thickness.rounded(),
        height: proposed.height.unwrap_or(height).rounded(),
        make_up: proposed.make_up.unwrap_or(make_up),
    }
}

/// Whether a wall that stands is where a new one would be: the same way, and no end of the new one beside it.
pub(super) fn stands_for(standing: &Wall, new: &Wall) -> bool {
    let half = standing.thickness.as_mm().max(new.thickness.as_mm()) / 2.0;
    let around = Rect::from_points(standing.start, standing.end).inflate(half, half);
    around.contains(new.start)
        && around.contains(new.end)
        && standing.direction().cross(new.direction()).abs() <= SAME_WAY_SINE
        && [new.start, new.end].iter().all(|end| standing.distance_to_axis(*end).as_mm() <= half)
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::edit::History;
    use crate::edit::verbs::{Defaults, accept_proposal};
    use crate::survey::{ProposedForm, ProposedOpening, ProposedRoom};

    #[test]
    fn what_was_accepted_stands_and_what_was_not_does_not() {
        let corners = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)].map(Point::from);
        let wall = |index: usize| ProposedWall {
            start: corners[index],
            end: corners[(index + 1) % 4],
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
            confidence: 0.9,
        };
        let room = ProposedRoom {
            name: "Study".to_owned(),
            room_use: None,
            seed: Point::new(2000.0, 1500.0),
            outline: corners.to_vec(),
            confidence: 0.9,
        };
        let proposal = Proposal {
            walls: (0..4).map(wall).collect(),
            openings: vec![opening(0, 1000.0), opening(1, 1500.0)],
            rooms: vec![room],
        };
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        assert!(standing_parts(&project, level, &proposal).is_empty());
        let some = [Part::Wall(0), Part::Wall(1), Part::Opening(0)];
        let change = accept_proposal(&project, level, &proposal, Some(&some), Defaults::default()).unwrap();
        History::default().apply(&mut project, change).unwrap();
        let parts = |project: &Project| -> Vec<Part> {
            standing_parts(project, level, &proposal).into_iter().map(|(part, _)| part).collect()
        };
        assert_eq!(parts(&project), some);
        let change = accept_proposal(&project, level, &proposal, None, Defaults::default()).unwrap();
        History::default().apply(&mut project, change).unwrap();
        assert_eq!(parts(&project).len(), 7);
        assert!(standing_parts(&project, level, &proposal).iter().all(|(_, thing)| thing.is_in(&project)));
    }
}
