//! The tools there are, by name; [`super::canvas::tools`] makes them.

use pattress_model::kit::Kind;
use pattress_model::plan::JoineryForm;

/// What is put into a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpeningChoice {
    /// A door.
    Door,
    /// A window.
    Window,
    /// A plain opening.
    Plain,
}

/// The tools there are.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum ToolChoice {
    /// Select, move, turn.
    #[default]
    Pointer,
    /// Walls by clicking.
    Wall,
    /// Four walls by two corners.
    FourWalls,
    /// Something in a wall.
    Opening(OpeningChoice),
    /// A name for a space between walls.
    NameRoom,
    /// A line between rooms that no wall parts.
    RoomLine,
    /// A piece of joinery by two corners.
    Joinery(JoineryForm),
    /// A spot that matters to what the house senses.
    MarkSpot,
    /// A way that people take.
    DrawWalk,
    /// The boundary of the site.
    DrawBoundary,
    /// One of the places that are suggested.
    TakePlace,
    /// A distance between two points.
    Tape,
    /// Two points of this drawing, brought over the same ones of the level below.
    AlignStorey,
    /// What is proposed, let into the plan by its ghost.
    Accept,
    /// Two points of the drawing beneath and the length between.
    ScaleDrawing,
    /// A length printed on the drawing beneath.
    ScalePrinted,
    /// Two other points of the drawing, to check its scale by.
    CheckScale,
    /// A line of the drawing that is to lie level.
    LevelLine,
    /// Four corners of a photograph that are to be a rectangle's.
    FourCorners,
    /// Keys pressed, doors opened and people led about while the rules are played.
    Rehearse,
    /// A device of a kind.
    Place(Box<Kind>),
}

impl ToolChoice {
    /// What it is called.
    pub fn name(&self) -> String {
        match self {
            Self::Pointer => "Pointer".to_owned(),
            Self::Wall => "Wall".to_owned(),
            Self::FourWalls => "Four walls".to_owned(),
            Self::Opening(OpeningChoice::Door) => "Door".to_owned(),
            Self::Opening(OpeningChoice::Window) => "Window".to_owned(),
            Self::Opening(OpeningChoice::Plain) => "Plain opening".to_owned(),
            Self::NameRoom => "Name a room".to_owned(),
            Self::RoomLine => "Room line".to_owned(),
            Self::Joinery(form) => format!("Joinery: {}", form.name()),
            Self::MarkSpot => "Mark a spot".to_owned(),
            Self::DrawWalk => "Draw a walk".to_owned(),
            Self::DrawBoundary => "Boundary of the site".to_owned(),
            Self::TakePlace => "Take a suggested place".to_owned(),
            Self::Tape => "Tape".to_owned(),
            Self::AlignStorey => "Align with the level below".to_owned(),
            Self::Accept => "Accept".to_owned(),
            Self::ScaleDrawing => "Scale by two points".to_owned(),
            Self::ScalePrinted => "Scale by a printed length".to_owned(),
            Self::CheckScale => "Check a second length".to_owned(),
            Self::LevelLine => "Level by a line".to_owned(),
            Self::FourCorners => "Square up by four corners".to_owned(),
            Self::Rehearse => "Rehearse".to_owned(),
            Self::Place(kind) => kind.name.clone(),
        }
    }
}
