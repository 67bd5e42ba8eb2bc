//! Rooms: a name and a use at a point.
//!
//! The outline is never stored: it follows from the walls around the point (see [`crate::building::outline`]).

use kurbo::Point;

use super::Level;
use crate::id::Id;
use crate::units::Length;

/// What a room is for; checks and defaults follow from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RoomUse {
    /// Sitting, living.
    Living,
    /// Dining.
    Dining,
    /// Kitchen.
    Kitchen,
    /// Utility, laundry.
    Utility,
    /// Bedroom.
    Bedroom,
    /// Bathroom or shower room.
    Bathroom,
    /// A room with a WC and basin only.
    Cloakroom,
    /// Hall, landing, corridor.
    Circulation,
    /// Stair.
    Stair,
    /// Study, office.
    Study,
    /// Store, larder, cupboard.
    Store,
    /// Plant or equipment.
    Plant,
    /// Garage.
    Garage,
    /// Porch, terrace, garden.
    Outside,
    /// Nobody has said yet: its lettering told nothing that is known here.
    Unsaid,
}

impl RoomUse {
    /// Every use, in the order they are offered.
    pub const ALL: [Self; 15] = [
        Self::Living,
        Self::Dining,
        Self::Kitchen,
        Self::Utility,
        Self::Bedroom,
        Self::Bathroom,
        Self::Cloakroom,
        Self::Circulation,
        Self::Stair,
        Self::Study,
        Self::Store,
        Self::Plant,
        Self::Garage,
        Self::Outside,
        Self::Unsaid,
    ];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Living => "living",
            Self::Dining => "dining",
            Self::Kitchen => "kitchen",
            Self::Utility => "utility",
            Self::Bedroom => "bedroom",
            Self::Bathroom => "bathroom",
            Self::Cloakroom => "cloakroom",
            Self::Circulation => "circulation",
            Self::Stair => "stair",
            Self::Study => "study",
            Self::Store => "store",
            Self::Plant => "plant",
            Self::Garage => "garage",
            Self::Outside => "outside",
            Self::Unsaid => "not said",
        }
    }
}

/// A room: the outline is derived from the walls around `seed`.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// The storey it is on.
    pub level: Id<Level>,
    /// What the family calls it.
    pub name: String,
    /// What it is for.
    pub room_use: RoomUse,
    /// Any point within its walls, mm.
    pub seed: Point,
    /// Its ceiling, where it slopes; else it is as high as the level says.
    pub ceiling: Option<SlopingCeiling>,
}

/// A ceiling that slopes, as a note on its room: whoever fits something to it must know how high it is, and figures
/// of the room are those of the level until someone says where it slopes.
#[derive(Clone, Debug, PartialEq)]
pub struct SlopingCeiling {
    /// Where it is lowest, above the finished floor.
    pub low: Length,
    /// Where it is highest, above the finished floor.
    pub high: Length,
    /// Where it slopes (`falls to the eaves at the north wall`); may be empty.
    pub note: String,
}
