//! What the joiner fixes: islands, worktops, wall units, wardrobes, shelves.

use kurbo::{Point, Vec2};

use super::Level;
use crate::id::Id;
use crate::units::{Angle, Length};

/// What a piece of joinery is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JoineryForm {
    /// A kitchen island.
    Island,
    /// Base units with a worktop.
    Worktop,
    /// Units hung on the wall.
    WallUnit,
    /// A tall unit or wardrobe.
    Wardrobe,
    /// Open shelves.
    Shelves,
    /// A bath, basin or shower tray.
    Sanitary,
}

impl JoineryForm {
    /// Every form, in the order they are offered.
    pub const ALL: [Self; 6] =
        [Self::Island, Self::Worktop, Self::WallUnit, Self::Wardrobe, Self::Shelves, Self::Sanitary];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Island => "island",
            Self::Worktop => "worktop",
            Self::WallUnit => "wall unit",
            Self::Wardrobe => "wardrobe",
            Self::Shelves => "shelves",
            Self::Sanitary => "sanitary ware",
        }
    }
}

/// A door or a drawer that opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// What it is called (`top drawer`).
    pub name: String,
    /// A drawer slides, a door swings.
    pub slides: bool,
}

/// A rectangular piece of joinery.
#[derive(Clone, Debug, PartialEq)]
pub struct Joinery {
    /// The storey it stands on.
    pub level: Id<Level>,
    /// What the family calls it.
    pub name: String,
    /// What it is.
    pub form: JoineryForm,
    /// Centre of the footprint, mm.
    pub centre: Point,
    /// Size along its front.
    pub width: Length,
    /// Size from front to back.
    pub depth: Length,
    /// Direction of its width from +x.
    pub turn: Angle,
    /// Height of its underside above the finished floor.
    pub base: Length,
    /// Height of its top above the finished floor.
    pub top: Length,
    /// What of it opens.
    pub leaves: Vec<Leaf>,
}

impl Joinery {
    /// The four corners of the footprint, anticlockwise, front left first.
    pub fn corners(&self) -> [Point; 4] {
        let across = self.turn.direction() * (self.width.as_mm() / 2.0);
        let direction = self.turn.direction();
        let back = Vec2::new(-direction.y, direction.x) * (self.depth.as_mm() / 2.0);
        [
            self.centre - across - back,
            self.centre + across - back,
            self.centre + across + back,
            self.centre - across + back,
        ]
    }
}
