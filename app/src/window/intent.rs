//! What a panel or a tool wants done. Nothing is done until [`super::update`] does it.

use std::path::PathBuf;

use kurbo::Point;
use pattress_model::calendar::UtcTime;
use pattress_model::drawing::Layer;
use pattress_model::edit::{Change, Subject};
use pattress_model::id::Id;
use pattress_model::plan::{DoorsAs, Level, Underlay, Walk};
use pattress_model::studies::rehearsal::Incoming;
use pattress_model::survey::Scale;
use pattress_model::systems::{Rule, Scene, Script};
use pattress_model::units::{Angle, Length};

use crate::survey::Corners;

use super::canvas::tools::manner::Manner;
use super::command::Command;
use super::rehearsal::pace::Pace;
use super::session::Stage;
use super::suggesting::Suggesting;
use super::survey::proposed::Offering;
use super::tool_choice::ToolChoice;

/// One thing to do.
#[derive(Clone, Debug)]
pub enum Intent {
    /// Change the project, or say why a verb would not.
    Change(Result<Change, String>),
    /// Change what is selected.
    Select(Selecting),
    /// The pointer is over this, wherever that is; what is not repeated each frame lapses.
    PointAt(Subject),
    /// Take a tool in hand.
    TakeUp(ToolChoice),
    /// Run a command of the table.
    Run(Command),
    /// Look elsewhere or otherwise.
    View(Viewing),
    /// Open or close a sheet over the board.
    Open(Overlay),
    /// Close whatever lies over the board.
    CloseOverlay,
    /// Read or write files.
    File(Filing),
    /// Draw walls in this manner from here on.
    DrawWalls(Manner),
    /// Do something with what is proposed.
    Offer(Offering),
    /// Seek places for a device, or take one that was found.
    Suggest(Suggesting),
    /// Bring a drawing in, or work on one that lies beneath.
    Survey(Surveying),
    /// Play the rules on the plan, or do something while they are played.
    Rehearse(Rehearsing),
    /// Say something in the status line.
    Say(String),
}

/// How the selection changes.
#[derive(Clone, Debug)]
pub enum Selecting {
    /// Just these.
    Only(Vec<Subject>),
    /// These too; those already selected are let go.
    Toggle(Vec<Subject>),
    /// These too.
    Add(Vec<Subject>),
    /// Nothing.
    Nothing,
}

/// How the view changes.
#[derive(Clone, Copy, Debug)]
pub enum Viewing {
    /// Another level.
    Level(Id<Level>),
    /// Another stage.
    Stage(Stage),
    /// A layer shown or hidden.
    Layer(Layer, bool),
    /// Doors taken otherwise.
    Doors(DoorsAs),
    /// What the trade alone needs shown or hidden.
    ClientView(bool),
    /// Bring a thing into the middle of the board.
    Bring(Subject),
    /// The list of findings.
    Findings,
    /// The whole sheet.
    WholeSheet,
    /// The whole plan.
    WholePlan,
    /// Nearer or farther about the middle, by a factor.
    Zoom(f64),
}

/// What can lie over the board.
#[derive(Clone, Debug, PartialEq)]
pub enum Overlay {
    /// Find anything by typing.
    Finder,
    /// The sheet as it will be issued.
    Preview,
    /// What a new rule can start from.
    NewRule,
    /// A rule, as a sentence with pickers.
    RuleEditor(Id<Rule>),
    /// A scene, as a sentence with pickers.
    SceneEditor(Id<Scene>),
    /// A kind of the Kit.
    KindEditor(Id<pattress_model::kit::Kind>),
    /// Title block and site facts.
    Site,
    /// Rows and columns of downlights.
    Array,
    /// Every command with its key.
    Keys,
    /// A drawing on its way in: what it is, where it goes, at which scale.
    BringIn,
    /// What a second length says of the scale of a drawing.
    ScaleChecked(ScaleCheck),
    /// A path to type where there is no file dialog.
    TypePath(PathFor),
    /// Unsaved work before something that would lose it.
    Unsaved(AfterSaving),
}

/// A second length that checks the scale of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleCheck {
    /// The drawing.
    pub drawing: Id<Underlay>,
    /// The two points, in its own units.
    pub on_drawing: [Point; 2],
    /// What the distance between them is known to be.
    pub known: Length,
}

/// What a typed path is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathFor {
    /// Open a plan.
    Open,
    /// Save the plan there.
    SaveAs,
    /// Bring a drawing in.
    Drawing,
    /// Write the issue there.
    Issue,
}

impl PathFor {
    /// What is done with a path that was typed or chosen for this.
    pub fn intent(self, path: PathBuf) -> Intent {
        match self {
            Self::Open => Intent::File(Filing::Open(path)),
            Self::SaveAs => Intent::File(Filing::SaveAs(path)),
            Self::Drawing => Intent::Survey(Surveying::Take(path)),
            Self::Issue => Intent::File(Filing::Issue(path)),
        }
    }
}

/// What was to be done when unsaved work stood in the way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AfterSaving {
    /// Start a new plan.
    New,
    /// Open another one.
    Open,
    /// Leave.
    Quit,
}

/// What is done with drawings from outside.
#[derive(Clone, Debug)]
pub enum Surveying {
    /// Take a file in hand and read it.
    Take(PathBuf),
    /// Look at another page of the file in hand.
    TurnTo(u32),
    /// Try a password on the file in hand.
    Unlock(String),
    /// Stop what is being done.
    Stop,
    /// Lay the file in hand under a level.
    Lay(Laying),
    /// Bring in these storeys of the building in hand.
    LayStoreys(Vec<usize>),
    /// Turn the drawing beneath straight by what it shows.
    Straighten,
    /// Draw a photograph anew, square and to scale.
    SquareUp {
        /// The photograph.
        drawing: Id<Underlay>,
        /// What is known of it.
        corners: Corners,
    },
}

/// How the file in hand is laid under a level.
#[derive(Clone, Debug, PartialEq)]
pub struct Laying {
    /// Its scale; `None` where two points will tell.
    pub scale: Option<Scale>,
    /// How far it is turned, anticlockwise.
    pub turn: Angle,
    /// Whether a new level is added on top for it; else it goes under the one on the board.
    pub on_a_new_level: bool,
}

/// What is done to rehearse, and while it is rehearsed.
#[derive(Clone, Debug)]
pub enum Rehearsing {
    /// Begin.
    Start,
    /// Begin with a script, which need not be one of the plan: it is played from its start, thing by thing.
    Play(Script),
    /// Come to an end.
    Stop,
    /// Something is done in the house now.
    Do(Incoming),
    /// A thing on the plan is clicked: the one thing that it can do is done, else its card opens.
    Touch(Subject),
    /// Open the card of a thing, or close the one that is open.
    Card(Option<Subject>),
    /// Let the clock go, or stop it.
    Plays(bool),
    /// Let the clock go at another pace.
    Pace(Pace),
    /// Go to a moment: back to one that was, or on to one that comes.
    JumpTo(UtcTime),
    /// Stop a jump that is under way.
    StopJump,
    /// Go back to before the last thing that happened.
    StepBack,
    /// Go on to the next thing that happens.
    StepForward,
    /// Go to where an entry of the timeline has just happened.
    GoTo(usize),
    /// Look at an entry of the timeline.
    Choose(Option<usize>),
    /// Somebody steps into the house here.
    StepIn(Point),
    /// Somebody who is in the house goes on to here.
    LeadTo(Point),
    /// Whoever is in the house leaves it.
    Leave,
    /// Somebody walks a walk of the plan.
    Walk(Id<Walk>),
    /// So many lux fall on what senses light out of doors.
    Daylight(f64),
    /// Stop the clock at alarms and messages, or don't.
    Pauses(bool),
    /// Keep what was done so far as a script of that name.
    KeepAs(String),
}

/// What is done with files.
#[derive(Clone, Debug)]
pub enum Filing {
    /// Start a new plan, whatever becomes of this one.
    New,
    /// Open this plan, whatever becomes of the one on the board.
    Open(PathBuf),
    /// Save to where it is kept, or ask where.
    Save,
    /// Save there.
    SaveAs(PathBuf),
    /// Save to where it is kept, or ask where; once that has worked, go on to this.
    SaveThen(AfterSaving),
    /// Choose a path for this with the desktop's file dialog.
    Browse(PathFor),
    /// Write the sheet set and schedules there.
    Issue(PathBuf),
    /// Stop the issue that is being written.
    StopIssue,
    /// Leave, whatever becomes of the plan.
    Quit,
}
