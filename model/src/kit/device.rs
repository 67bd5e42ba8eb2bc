//! A device: one of a kind, placed.

use std::fmt;

use kurbo::Point;

use super::{Kind, PlateLegend};
use crate::id::Id;
use crate::plan::{Joinery, Level, Side, Wall};
use crate::units::{Angle, Length};

/// What a device is called on paper and on both ends of its cable. Once issued it never changes meaning, so
/// it keeps the code it was given even if its kind is given another.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tag {
    /// The letter code.
    pub code: String,
    /// The number, one count for each code; never given twice.
    pub number: u32,
}

/// `PIR-03`: two figures at least, so that lists line up.
impl fmt::Display for Tag {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}-{:02}", self.code, self.number)
    }
}

/// What a device is fixed to, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mount {
    /// A wall face. It moves and turns with the wall.
    WallFace {
        /// The wall.
        wall: Id<Wall>,
        /// The face.
        side: Side,
        /// From the wall's start along its axis to the centre of the box.
        along: Length,
    },
    /// The ceiling.
    Ceiling {
        /// Where, mm.
        at: Point,
    },
    /// The floor.
    Floor {
        /// Where, mm.
        at: Point,
    },
    /// A piece of joinery. It moves with it.
    Joinery {
        /// The piece.
        joinery: Id<Joinery>,
        /// From its centre, in its own directions (x along its front, y to its back), mm.
        offset: Point,
    },
    /// Outdoors, on a post or on the ground.
    Outdoors {
        /// Where, mm.
        at: Point,
    },
    /// Meant for a wall, a ceiling or joinery that is not there: reported as missing, never guessed.
    Loose {
        /// Where, mm.
        at: Point,
    },
}

impl Mount {
    /// The words for it.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::WallFace { .. } => "wall face",
            Self::Ceiling { .. } => "ceiling",
            Self::Floor { .. } => "floor",
            Self::Joinery { .. } => "joinery",
            Self::Outdoors { .. } => "outdoors",
            Self::Loose { .. } => "host missing",
        }
    }
}

/// A device on the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Device {
    /// What it is.
    pub kind: Id<Kind>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// What it is called on paper.
    pub tag: Tag,
    /// What the family calls it; empty where the tag does.
    pub name: String,
    /// What it is fixed to, and where.
    pub mount: Mount,
    /// Height of its centre above the finished floor; `None` where it is not decided, which is a finding.
    pub height_affl: Option<Length>,
    /// Turned by this from the wall's normal if it is on a wall or from +x if it is not.
    pub turn: Angle,
    /// How far it is tilted down from level; of use to detectors and cameras.
    pub tilt: Angle,
    /// A remark for whoever fits it.
    pub note: String,
    /// What is written on its keys, if it is a plate.
    pub legend: PlateLegend,
}
