//! Room lines: where one room ends and the next begins without a wall, as a kitchen runs into a living room.
//!
//! A room line parts floors and names only. It stops no sense, no smoke and nobody on foot; the open standard for
//! models of buildings has the same thing as a virtual element (ISO 16739-1, `IfcVirtualElement`).

use kurbo::Point;

use super::Level;
use crate::id::Id;
use crate::units::Length;

/// A straight line that parts the floor of one open space into rooms. It counts where it leads from wall to wall, or
/// from line to line.
#[derive(Clone, Debug, PartialEq)]
pub struct RoomLine {
    /// The storey it is on.
    pub level: Id<Level>,
    /// One end, mm.
    pub start: Point,
    /// The other end, mm.
    pub end: Point,
}

impl RoomLine {
    /// From end to end.
    pub fn length(&self) -> Length {
        Length::mm(self.start.distance(self.end))
    }
}
