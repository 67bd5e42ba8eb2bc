//! Walks: the ways people take through the house, drawn by a person.
//!
//! A walk goes from point to point; where two points lie on different storeys, it climbs a stair between them. Along it
//! a study tells how far somebody goes before a light comes on, and an intrusion design which detectors they cross.

use kurbo::Point;

use super::Level;
use crate::id::Id;

/// What a walk is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WalkPurpose {
    /// An everyday way: from the door to the kitchen, up the stair to bed.
    Daily,
    /// From a way in to a keypad, before the alarm is unset.
    EntryRoute,
    /// From a keypad to a way out, after the alarm is set.
    ExitRoute,
    /// At night, from bed to the bathroom.
    Night,
}

impl WalkPurpose {
    /// Every purpose, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Daily, Self::EntryRoute, Self::ExitRoute, Self::Night];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Daily => "everyday way",
            Self::EntryRoute => "entry route",
            Self::ExitRoute => "exit route",
            Self::Night => "at night",
        }
    }
}

/// A point of a walk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkPoint {
    /// The storey it is on.
    pub level: Id<Level>,
    /// Where, mm.
    pub at: Point,
}

/// A way that people take.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    /// What the family calls it (`front door to kitchen`).
    pub name: String,
    /// What it is for.
    pub purpose: WalkPurpose,
    /// At least two points, in the order they are walked.
    pub points: Vec<WalkPoint>,
}
