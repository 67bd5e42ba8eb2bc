//! What a trace or a model of a building proposes for a level, in plan millimetres (x right, y up).
//!
//! A proposal is a ghost over the drawing: each part says how sure it is, and nothing enters the plan until
//! someone accepts it.

use kurbo::Point;

use crate::plan::{Hand, MakeUp, RoomUse, Side};
use crate::units::Length;

/// A straight wall that the drawing seems to show. It runs on through its doors and windows.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedWall {
    /// One end of its axis, plan mm.
    pub start: Point,
    /// The other end.
    pub end: Point,
    /// From face to face.
    pub thickness: Length,
    /// From finished floor to its top, where the source says.
    pub height: Option<Length>,
    /// What it is made of, where the source says.
    pub make_up: Option<MakeUp>,
    /// 0 (a guess) to 1 (certain).
    pub confidence: f64,
}

/// Which way a door is hung.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ProposedDoor {
    /// Where the hinges are, along the wall from its start.
    pub hinge: Hand,
    /// The side of the wall into which the leaf swings.
    pub swing: Side,
}

/// What a hole in a wall seems to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProposedForm {
    /// A door, with its hanging where the drawing shows it.
    Door(Option<ProposedDoor>),
    /// A window.
    Window,
    /// A hole with nothing in it.
    Plain,
}

/// A hole in a proposed wall.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedOpening {
    /// Index of its wall in [`Proposal::walls`].
    pub wall: usize,
    /// From the wall's start, along the axis, to the middle of the hole.
    pub centre: Length,
    /// Clear width.
    pub width: Length,
    /// Height of its sill above the finished floor, where the source says.
    pub sill: Option<Length>,
    /// Height of its head above the finished floor, where the source says.
    pub head: Option<Length>,
    /// Door, window or plain.
    pub form: ProposedForm,
    /// 0 (a guess) to 1 (certain).
    pub confidence: f64,
}

/// A room that the drawing seems to show.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedRoom {
    /// What is written in it; empty where nothing can be read.
    pub name: String,
    /// What it is for, where its name tells.
    pub room_use: Option<RoomUse>,
    /// A point well within it, plan mm.
    pub seed: Point,
    /// Its outline, plan mm, anticlockwise, without the first point again at the end.
    pub outline: Vec<Point>,
    /// 0 (a guess) to 1 (certain).
    pub confidence: f64,
}

/// Walls, openings and rooms for one level.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proposal {
    /// Walls.
    pub walls: Vec<ProposedWall>,
    /// Holes in those walls.
    pub openings: Vec<ProposedOpening>,
    /// Rooms between those walls.
    pub rooms: Vec<ProposedRoom>,
}

/// A part of a proposal: an index into its walls, openings or rooms.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// A wall.
    Wall(usize),
    /// An opening.
    Opening(usize),
    /// A room.
    Room(usize),
}

impl ProposedWall {
    /// Length of its axis.
    pub fn length(&self) -> Length {
        Length::mm((self.end - self.start).hypot())
    }
}
