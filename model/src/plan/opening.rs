//! Doors, windows and plain openings in walls.

use super::Wall;
use crate::id::Id;
use crate::plan::Side;
use crate::units::{Angle, Length};

/// On which end of the opening the hinges are, along the wall’s own direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hand {
    /// Hinged at the end nearer the wall's start.
    Start,
    /// Hinged at the end nearer the wall's end.
    End,
}

impl Hand {
    /// The other end.
    pub const fn other(self) -> Self {
        match self {
            Self::Start => Self::End,
            Self::End => Self::Start,
        }
    }
}

/// How a door stands in the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DoorState {
    /// Shut.
    Shut,
    /// Open by this angle from shut.
    Open(Angle),
}

/// What kind of hole it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OpeningForm {
    /// A hinged door.
    Door {
        /// Where the hinges are.
        hinge: Hand,
        /// The side of the wall into which the leaf swings.
        swing: Side,
        /// How it is drawn, and taken by studies that use doors as drawn.
        state: DoorState,
    },
    /// A window, or a glazed door that is not used as a way through.
    Window {
        /// Height of the sill above the finished floor.
        sill: Length,
    },
    /// A plain opening.
    Plain,
}

/// A hole in a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// The wall it is in.
    pub wall: Id<Wall>,
    /// From the wall's start, along the axis, to the centre of the hole.
    pub centre: Length,
    /// Clear width between reveals.
    pub width: Length,
    /// Height of its head above the finished floor.
    pub head: Length,
    /// Door, window or plain.
    pub form: OpeningForm,
}

impl Opening {
    /// Where the hole starts along the wall's axis.
    pub fn from(&self) -> Length {
        self.centre - self.width / 2.0
    }

    /// Where the hole ends along the wall's axis.
    pub fn to(&self) -> Length {
        self.centre + self.width / 2.0
    }

    /// The word for it.
    pub const fn name(&self) -> &'static str {
        match self.form {
            OpeningForm::Door { .. } => "door",
            OpeningForm::Window { .. } => "window",
            OpeningForm::Plain => "opening",
        }
    }

    /// Height of the sill: zero for doors and plain openings.
    pub const fn sill(&self) -> Length {
        match self.form {
            OpeningForm::Window { sill } => sill,
            _ => Length::ZERO,
        }
    }

    /// Two ends of a door leaf as it stands: hinge and free edge. `None` where there is no leaf. Both points
    /// lie on the face into which the door swings.
    pub fn leaf(&self, wall: &Wall, stands: DoorState) -> Option<(kurbo::Point, kurbo::Point)> {
        let OpeningForm::Door { hinge, swing, .. } = self.form else { return None };
        let (hinge_along, to_latch) = match hinge {
            Hand::Start => (self.from(), wall.direction()),
            Hand::End => (self.to(), -wall.direction()),
        };
        let pivot = wall.on_face(hinge_along, swing);
        let turn = match stands {
            DoorState::Shut => 0.0,
            DoorState::Open(angle) => angle.as_radians(),
        };
        let outward = wall.normal(swing);
        let leaf = to_latch * turn.cos() + outward * turn.sin();
        Some((pivot, pivot + leaf * self.width.as_mm()))
    }
}
