//! What blocks which sense, as segments on the plan.
//!
//! Walls block by their faces, cut open where an opening lets the sense through; a door leaf blocks where it
//! stands; joinery blocks where it crosses the height at which people are sensed.

use kurbo::Point;

use super::{DoorState, Level, MakeUp, OpeningForm};
use crate::geometry::Segment;
use crate::id::Id;
use crate::project::Project;
use crate::units::Length;

/// A way of sensing; what stops it differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sense {
    /// Body heat (passive infrared): glass stops it.
    BodyHeat,
    /// Microwave or millimetre waves. Boards let it through with a loss; here only its drawn reach is used.
    Microwave,
    /// Body heat and microwave together: both must see, so glass stops it.
    Dual,
    /// Light, as a camera takes it: glass lets it through.
    Camera,
    /// Sound, as a glass-break detector or a microphone hears it.
    Sound,
    /// Smoke, heat or gas that must reach the device.
    FireOrGas,
}

impl Sense {
    /// Every sense, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::BodyHeat, Self::Microwave, Self::Dual, Self::Camera, Self::Sound, Self::FireOrGas];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::BodyHeat => "body heat",
            Self::Microwave => "microwave",
            Self::Dual => "body heat and microwave",
            Self::Camera => "camera",
            Self::Sound => "sound",
            Self::FireOrGas => "fire or gas",
        }
    }

    /// Whether clear glass lets it through (maker guidance for body heat; plain optics for cameras).
    pub const fn passes_glass(self) -> bool {
        matches!(self, Self::Camera | Self::Microwave)
    }

    /// Whether stud partitions let it through (maker guidance for millimetre-wave sensors).
    pub const fn passes_stud(self) -> bool {
        matches!(self, Self::Microwave)
    }
}

/// How doors are taken by a study.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DoorsAs {
    /// As each is drawn.
    #[default]
    Drawn,
    /// All open by 90°.
    Open,
    /// All shut.
    Shut,
}

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
