//! Tools: what a gesture on the board means. One tool a file.
//!
//! A tool previews outside the project and hands over one change when the gesture ends, so that one gesture is
//! one step of undo.

pub mod place;
pub mod pointer;

use egui::Modifiers;
use kurbo::Point;
use pattress_model::drawing::Item;
use pattress_model::edit::Subject;
use pattress_model::kit::Kind;
use pattress_model::plan::JoineryForm;
use pattress_model::studies::coverage::Scenes;

use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;

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
            Self::Place(kind) => kind.name.clone(),
        }
    }

    /// The tool, ready for its first gesture.
    pub fn take_up(&self) -> Box<dyn Tool> {
        match self {
            Self::Place(kind) => Box::new(place::Place::of(kind.as_ref().clone())),
            _ => Box::<pointer::Pointer>::default(),
        }
    }
}

/// What the pointer did on the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gesture {
    /// It moved with no button down, or rests.
    Hover,
    /// The button went down and the pointer began to move; `from` is where it went down.
    DragStart {
        /// Where the button went down, plan mm.
        from: Point,
    },
    /// It moves with the button down.
    Drag,
    /// The button was let go after a drag.
    Drop,
    /// Pressed and let go in one place.
    Click,
    /// Twice in quick succession.
    DoubleClick,
    /// The other button.
    RightClick,
}

/// The pointer on the board.
#[derive(Clone, Copy, Debug)]
pub struct Touch {
    /// Where, plan mm.
    pub at: Point,
    /// What it did.
    pub gesture: Gesture,
    /// Keys held.
    pub modifiers: Modifiers,
}

/// What a tool may look at.
pub struct Around<'a> {
    /// The plan.
    pub session: &'a Session,
    /// What was computed of it.
    pub figures: &'a Figures,
    /// Obstacles of the level, for coverage while moving; built when first asked.
    pub scenes: &'a mut Scenes,
    /// Plan mm to one screen point: a reach of ten points is `10.0 * mm_per_point`.
    pub mm_per_point: f64,
    /// Denominator of the sheet's scale: plan mm to one paper mm.
    pub scale: f64,
    /// The shift key lets snapping go.
    pub snapping: bool,
}

impl Around<'_> {
    /// How near is near enough to snap or to pick, plan mm.
    pub fn reach(&self) -> f64 {
        10.0 * self.mm_per_point
    }
}

/// What a tool shows before anything is done.
#[derive(Clone, Debug, Default)]
pub struct Ghost {
    /// Drawn as the plan is.
    pub items: Vec<Item>,
    /// Things left out of the plan because the ghost shows them elsewhere.
    pub hides: Vec<Subject>,
    /// Guides from a point to a point: what it snaps to.
    pub guides: Vec<(Point, Point)>,
    /// Words and figures beside a point.
    pub notes: Vec<(Point, String)>,
    /// A point to mark: where the click will land.
    pub mark: Option<Point>,
    /// A rectangle being drawn to select by.
    pub lasso: Option<kurbo::Rect>,
}

/// A tool in hand.
pub trait Tool {
    /// Answers the pointer.
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent>;

    /// What shows before anything is done.
    fn ghost(&self) -> &Ghost;

    /// What a click will do, for the status line; names what it snaps to.
    fn hint(&self) -> String;

    /// Whether lengths can be typed now, and what for (`length of the wall`).
    fn takes_typing(&self) -> Option<&'static str> {
        None
    }

    /// A length or figure was typed and entered.
    fn typed(&mut self, _text: &str, _around: &mut Around<'_>) -> Vec<Intent> {
        Vec::new()
    }

    /// Turned by a key before placing; whether it answers to that.
    fn turn(&mut self, _degrees: f64) -> bool {
        false
    }

    /// Escape: drop what is half done. `false` says there was nothing, so the tool may be laid down.
    fn let_go(&mut self) -> bool {
        false
    }
}
