//! What is asked of a sensor: whom it should notice, how they move, how doors stand, how warm the room is.
//!
//! A target is a height: it stands at every point of the floor in turn, and the sensor notices it there if a straight
//! line of sight reaches that height. The default question is that of a walk test with the doors as drawn.

use crate::building::obstacle::SENSED_HEIGHT;
use crate::kit::Movement;
use crate::plan::DoorsAs;
use crate::units::Length;

/// What is to be noticed, as a height above the finished floor.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Target {
    /// Somebody who walks, at breast height: 1.30 m (common practice, no published source).
    #[default]
    Walking,
    /// Somebody who sits, at the height of a desk: 0.80 m, at which makers state seated reach.
    Seated,
    /// The floor itself.
    Floor,
    /// A face at eye level: 1.60 m (from memory).
    Face,
    /// Anything else at this height.
    At(Length),
}

impl Target {
    /// Height above the finished floor.
    pub const fn height(self) -> Length {
        match self {
            Self::Walking => SENSED_HEIGHT,
            Self::Seated => Length::mm(800.0),
            Self::Floor => Length::ZERO,
            Self::Face => Length::mm(1600.0),
            Self::At(height) => height,
        }
    }

    /// The words for it; a height of its own is said beside them.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Walking => "somebody walking",
            Self::Seated => "somebody sitting",
            Self::Floor => "the floor",
            Self::Face => "a face",
            Self::At(_) => "what is at that height",
        }
    }
}

/// A question to a sensor. The default one: somebody walks across the fan at breast height, doors stand as they are
/// drawn, and the room is not so warm that a body hardly differs from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Question {
    /// Whom or what it should notice.
    pub target: Target,
    /// How they move.
    pub movement: Movement,
    /// How doors stand.
    pub doors: DoorsAs,
    /// Whether the room is as warm as a body, nearly.
    pub warm: bool,
}

impl Default for Question {
    fn default() -> Self {
        Self { target: Target::Walking, movement: Movement::Across, doors: DoorsAs::Drawn, warm: false }
    }
}

impl Question {
    /// The default question with doors taken so.
    pub fn with_doors(doors: DoorsAs) -> Self {
        Self { doors, ..Self::default() }
    }

    /// Somebody who sits and moves a hand.
    pub fn of_seated() -> Self {
        Self { target: Target::Seated, movement: Movement::Still, ..Self::default() }
    }
}
