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
    /// A piece of joinery by two corners.
    Joinery(JoineryForm),
    /// A distance between two points.
    Tape,
    /// Two points of the picture and the length between.
    ScaleUnderlay,
    /// Two points of this drawing, brought over the same ones of the level below.
    AlignStorey,
    /// What is proposed, let into the plan by its ghost.
    Accept,
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
            Self::Joinery(form) => format!("Joinery: {}", form.name()),
            Self::Tape => "Tape".to_owned(),
            Self::ScaleUnderlay => "Scale the picture".to_owned(),
            Self::AlignStorey => "Align with the level below".to_owned(),
            Self::Accept => "Accept".to_owned(),
            Self::Place(kind) => kind.name.clone(),
        }
    }
}
