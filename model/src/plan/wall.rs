//! Walls, along their axes.

use kurbo::{Point, Vec2};

use super::Level;
use crate::id::Id;
use crate::units::{Angle, Length};

/// What a wall is made of, as far as fixing a box and stopping a sense go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MakeUp {
    /// Brick or stone.
    Masonry,
    /// Concrete or aggregate block.
    Block,
    /// Timber or metal studs with boards.
    Stud,
    /// A glazed screen: light passes, body heat does not.
    Glazed,
}

impl MakeUp {
    /// Every make-up, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Masonry, Self::Block, Self::Stud, Self::Glazed];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Masonry => "masonry",
            Self::Block => "block",
            Self::Stud => "stud",
            Self::Glazed => "glazed",
        }
    }
}

/// A side of a wall, seen walking from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// The face on the left hand.
    Left,
    /// The face on the right hand.
    Right,
}

impl Side {
    /// The other face.
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// A straight wall: its axis runs down the middle of its thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// The storey it stands on.
    pub level: Id<Level>,
    /// One end of the axis, mm.
    pub start: Point,
    /// The other end of the axis, mm.
    pub end: Point,
    /// From face to face.
    pub thickness: Length,
    /// From finished floor to its top.
    pub height: Length,
    /// What it is made of.
    pub make_up: MakeUp,
}

impl Wall {
    /// Length of the axis.
    pub fn length(&self) -> Length {
        Length::mm((self.end - self.start).hypot())
    }

    /// Unit vector from start to end; +x for a wall of no length, which no project accepts.
    pub fn direction(&self) -> Vec2 {
        let along = self.end - self.start;
        let length = along.hypot();
        if length > 0.0 { along / length } else { Vec2::new(1.0, 0.0) }
    }

    /// Unit vector out of the face on that side.
    pub fn normal(&self, side: Side) -> Vec2 {
        let along = self.direction();
        match side {
            Side::Left => Vec2::new(-along.y, along.x),
            Side::Right => Vec2::new(along.y, -along.x),
        }
    }

    /// The direction that face looks.
    pub fn facing(&self, side: Side) -> Angle {
        Angle::of(self.normal(side))
    }

    /// A point on the axis, so far from the start.
    pub fn on_axis(&self, along: Length) -> Point {
        self.start + self.direction() * along.as_mm()
    }

    /// A point on a face, so far from the start of the axis.
    pub fn on_face(&self, along: Length, side: Side) -> Point {
        self.on_axis(along) + self.normal(side) * (self.thickness.as_mm() / 2.0)
    }

    /// How far along the axis the foot of the perpendicular from `point` lies; may fall beyond either end.
    pub fn along_of(&self, point: Point) -> Length {
        Length::mm((point - self.start).dot(self.direction()))
    }

    /// The side of the axis on which `point` lies; left for a point on the axis.
    pub fn side_of(&self, point: Point) -> Side {
        if (point - self.start).dot(self.normal(Side::Left)) >= 0.0 { Side::Left } else { Side::Right }
    }

    /// Distance from `point` to the nearest point of the axis between its ends.
    pub fn distance_to_axis(&self, point: Point) -> Length {
        let along = self.along_of(point).as_mm().clamp(0.0, self.length().as_mm());
        Length::mm((point - self.on_axis(Length::mm(along))).hypot())
    }
}
