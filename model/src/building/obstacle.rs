//! What blocks which sense, as segments on the plan.
//!
//! Walls block by their faces, cut open where an opening lets the sense through; a door leaf blocks where it
//! stands; joinery blocks where it crosses the height at which people are sensed.

use kurbo::Point;

use crate::geometry::Segment;
use crate::id::Id;
use crate::plan::{DoorState, DoorsAs, Level, MakeUp, OpeningForm, Sense};
use crate::project::Project;
use crate::units::Length;

/// Height above the floor at which a person is sensed, and at which joinery is taken to stand in the way if
/// it crosses it: breast height of a standing adult. Common practice, no published source.
pub const SENSED_HEIGHT: Length = Length::mm(1300.0);

/// Every segment on a level that stops a sense.
pub fn obstacles(project: &Project, level: Id<Level>, sense: Sense, doors: DoorsAs) -> Vec<Segment> {
    let mut segments = Vec::new();
    let solid = super::outline::WallSolid::of_level(project, level, |wall, opening| {
        let Some(opening) = opening else {
            return match wall.make_up {
                MakeUp::Glazed => !sense.passes_glass(),
                MakeUp::Stud => !sense.passes_stud(),
                MakeUp::Masonry | MakeUp::Block => true,
            };
        };
        match opening.form {
            OpeningForm::Door { .. } | OpeningForm::Plain => false,
            OpeningForm::Window { .. } => !sense.passes_glass(),
        }
    });
    for ring in solid.region().rings() {
        segments.extend(ring.edges());
    }
    for (_, opening, wall) in project.openings_on(level) {
        let OpeningForm::Door { state, .. } = opening.form else { continue };
        let stands = match doors {
            DoorsAs::Drawn => state,
            DoorsAs::Open => DoorState::Open(crate::units::Angle::degrees(90.0)),
            DoorsAs::Shut => DoorState::Shut,
        };
        if let Some((hinge, free)) = opening.leaf(wall, stands) {
            segments.push(Segment { a: hinge, b: free });
        }
    }
    for (_, piece) in project.joinery_on(level) {
        if piece.base <= SENSED_HEIGHT && SENSED_HEIGHT <= piece.top {
            let corners: [Point; 4] = piece.corners();
            for index in 0..4 {
                segments.push(Segment { a: corners[index], b: corners[(index + 1) % 4] });
            }
        }
    }
    segments
}
