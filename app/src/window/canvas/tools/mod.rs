//! Tools: what a gesture on the board means. One tool a file.
//!
//! A tool previews outside the project and hands over one change when the gesture ends, so that one gesture is
//! one step of undo.

pub mod accept;
mod align_storey;
mod course;
mod faces;
pub mod figures;
mod four_corners;
mod four_walls;
mod joinery;
mod level_line;
pub mod live;
pub mod manner;
mod mark_spot;
mod moving;
mod name_room;
mod opening;
pub mod place;
pub mod pointer;
mod preview;
mod rehearse;
mod scale_drawing;
mod scale_printed;
mod take_place;
mod tape;
mod two_corners;
mod two_points;
mod walls;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_life;
#[cfg(test)]
mod tests_tracing;

use egui::{CursorIcon, Modifiers};
use kurbo::{Point, Vec2};
use pattress_model::drawing::{Item, Layer, pick};
use pattress_model::edit::Subject;
use pattress_model::edit::snap::{
    HostSnap, Snap, SnapIndex, SnapRequest, WallAsDrawn, Wanted, snap_over, snap_to_host,
};
use pattress_model::id::Id;
use pattress_model::kit::Kind;
use pattress_model::plan::{Level, Wall};
use pattress_model::project::Project;
use pattress_model::studies::coverage::Scenes;
use pattress_model::units::Length;

use super::chunks::Chunks;
use scale_drawing::LengthFor;

use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::survey::Surveyed;
use crate::window::survey::catching::Beneath;
use crate::window::tool_choice::ToolChoice;

/// The tool, ready for its first gesture.
pub fn take_up(choice: &ToolChoice) -> Box<dyn Tool> {
    match choice {
        ToolChoice::Pointer => Box::<pointer::Pointer>::default(),
        ToolChoice::Wall => Box::<walls::Walls>::default(),
        ToolChoice::FourWalls => Box::<four_walls::FourWalls>::default(),
        ToolChoice::Opening(choice) => Box::new(opening::Cut::of(*choice)),
        ToolChoice::NameRoom => Box::<name_room::NameRoom>::default(),
        ToolChoice::Joinery(form) => Box::new(joinery::Draw::of(*form)),
        ToolChoice::MarkSpot => Box::<mark_spot::MarkSpot>::default(),
        ToolChoice::DrawWalk => Box::new(course::Course::of(course::Draws::Walk)),
        ToolChoice::RoomLine => Box::new(course::Course::of(course::Draws::RoomLine)),
        ToolChoice::DrawBoundary => Box::new(course::Course::of(course::Draws::Boundary)),
        ToolChoice::TakePlace => Box::<take_place::TakePlace>::default(),
        ToolChoice::Tape => Box::<tape::Tape>::default(),
        ToolChoice::AlignStorey => Box::<align_storey::AlignStorey>::default(),
        ToolChoice::Accept => Box::<accept::Accept>::default(),
        ToolChoice::ScaleDrawing => Box::new(scale_drawing::ScaleDrawing::new(LengthFor::Scale)),
        ToolChoice::CheckScale => Box::new(scale_drawing::ScaleDrawing::new(LengthFor::Check)),
        ToolChoice::ScalePrinted => Box::<scale_printed::ScalePrinted>::default(),
        ToolChoice::LevelLine => Box::<level_line::LevelLine>::default(),
        ToolChoice::FourCorners => Box::<four_corners::FourCorners>::default(),
        ToolChoice::Rehearse => Box::<rehearse::Rehearse>::default(),
        ToolChoice::Place(kind) => Box::new(place::Place::of(kind.as_ref().clone())),
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
    /// It is not on the board.
    Away,
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
    /// What the drawings beneath say, what there is to catch of them, and what is proposed.
    pub surveyed: Surveyed<'a>,
    /// How walls are drawn.
    pub manner: manner::Manner,
    /// Obstacles of the level, for coverage while moving; built when first asked.
    pub scenes: &'a mut Scenes,
    /// What the others make of the room in which a sensor moves; prepared when first asked.
    pub moving: &'a mut Option<live::Kept>,
    /// What there is to catch on the level; prepared when first asked.
    pub snaps: &'a mut Option<SnapIndex>,
    /// The drawing as it shows: what is seen is what is picked.
    pub drawn: &'a Chunks,
    /// Plan mm to one screen point: a reach of ten points is `10.0 * mm_per_point`.
    pub mm_per_point: f64,
    /// Denominator of the sheet's scale: plan mm to one paper mm.
    pub scale: f64,
    /// The Alt key lets snapping go.
    pub snapping: bool,
}

impl<'a> Around<'a> {
    /// How near is near enough to snap or to pick, plan mm.
    pub fn reach(&self) -> f64 {
        10.0 * self.mm_per_point
    }

    /// The plan.
    pub fn project(&self) -> &'a Project {
        self.session.project()
    }

    /// The level on the board.
    pub fn level(&self) -> Id<Level> {
        self.session.level()
    }

    /// What there is to catch.
    fn snap_index(&mut self) -> &SnapIndex {
        let (project, level) = (self.project(), self.level());
        self.snaps.get_or_insert_with(|| SnapIndex::of_level(project, level))
    }

    /// What a point catches, the last click of the gesture given; `skip` is what is being moved.
    pub fn snap(&mut self, at: Point, from: Option<Point>, skip: &[Subject]) -> Snap {
        self.snap_for(at, from, skip, Wanted::Lines)
    }

    /// The same, where something else is wanted of the drawing beneath.
    pub fn snap_for(&mut self, at: Point, from: Option<Point>, skip: &[Subject], wanted: Wanted) -> Snap {
        let reach_mm = if self.snapping { self.reach() } else { 0.0 };
        let request = SnapRequest { at, reach_mm, from, skip: skip.to_vec() };
        let found = self.beneath(at);
        let beneath = found.as_ref().and_then(Beneath::drawing);
        // What is moved is set by the plan; the drawing is for what is drawn anew.
        let beneath = beneath.as_ref().filter(|_| skip.is_empty());
        snap_over(self.snap_index(), beneath, &request, wanted)
    }

    /// What there is to catch of the drawing under a point, where one shows and catching is not let go.
    fn beneath(&self, at: Point) -> Option<Beneath> {
        self.beneath_level(self.level(), at)
    }

    fn beneath_level(&self, level: Id<Level>, at: Point) -> Option<Beneath> {
        let Surveyed { drawings, catching, .. } = self.surveyed;
        catching.beneath(self.session, drawings, level, at).filter(|_| self.snapping)
    }

    /// What a point catches of the drawing beneath alone.
    pub fn snap_to_drawing(&self, at: Point) -> Option<Snap> {
        self.snap_to_drawing_of(self.level(), at)
    }

    /// What a point catches of the drawing of a level alone.
    pub fn snap_to_drawing_of(&self, level: Id<Level>, at: Point) -> Option<Snap> {
        let request = SnapRequest { at, reach_mm: self.reach(), from: None, skip: Vec::new() };
        self.beneath_level(level, at)?.drawing()?.catch(&request, Wanted::Lines)
    }

    /// The wall that the drawing beneath shows about a point.
    pub fn wall_as_drawn(&self, at: Point) -> Option<WallAsDrawn> {
        self.beneath(at)?.drawing()?.wall_at(at)
    }

    /// The reveals of the opening that the drawing beneath shows in a wall about a place along it.
    pub fn reveals_as_drawn(&self, wall: &Wall, along: Length) -> Option<(Length, Length)> {
        self.beneath(wall.on_axis(along))?.drawing()?.reveals_in(wall, along)
    }

    /// What a device of a kind would be fixed to near a point.
    pub fn host(
        &mut self,
        kind: (&Kind, Option<Length>),
        at: Point,
        reach: f64,
        skip: &[Subject],
    ) -> HostSnap {
        let project = self.project();
        snap_to_host(project, self.snap_index(), kind.0, kind.1, at, reach, skip)
    }

    /// What lies under a point, topmost first.
    pub fn under(&self, at: Point) -> Vec<Subject> {
        let reach = 0.5 * self.reach();
        let layers = self.session.layers();
        let area = kurbo::Rect::from_center_size(at, (2.0 * reach, 2.0 * reach));
        // Walls, joinery and rooms can be had wherever their layer shows, also far from what is drawn of them.
        let shown = [Layer::Building, Layer::Joinery, Layer::Rooms]
            .into_iter()
            .filter(|layer| layers.contains(layer))
            .filter_map(|layer| self.drawn.first_of(layer));
        let items = self.drawn.items_about(area, |layer| layers.contains(&layer)).chain(shown);
        pick::pick(items, self.project(), self.level(), &self.figures.outlines, at, reach)
    }

    /// What lies wholly within a rectangle.
    pub fn within(&self, rect: kurbo::Rect) -> Vec<Subject> {
        let layers = self.session.layers();
        let items = self.drawn.items_about(rect, |layer| layers.contains(&layer));
        pick::pick_box(items, self.project(), self.level(), rect)
    }

    /// Rounded to whole centimetres, unless snapping is let go.
    pub fn stepped(&self, millimetres: f64) -> f64 {
        if self.snapping { (millimetres / 10.0).round() * 10.0 } else { millimetres }
    }
}

/// A distance shown while something is placed or moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// From here.
    pub from: Point,
    /// To here.
    pub to: Point,
    /// The figure.
    pub words: String,
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
    /// What a sensor would cover, beside where it would be.
    pub told: Option<(Point, String)>,
    /// A point to mark: where the click will land.
    pub mark: Option<Point>,
    /// Whether that point was caught in the drawing beneath.
    pub of_drawing: bool,
    /// A rectangle being drawn to select by.
    pub lasso: Option<kurbo::Rect>,
    /// Distances with their figures.
    pub measures: Vec<Measure>,
    /// Squares to drag by: ends of a wall.
    pub handles: Vec<Point>,
    /// Where the ring to turn by is, and what it turns about.
    pub turner: Option<(Point, Point)>,
    /// How the pointer looks, where it is not as usual.
    pub cursor: Option<CursorIcon>,
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

    /// Enter, with nothing typed: what goes on click by click ends here.
    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        Vec::new()
    }

    /// An arrow key: by so much on the plan, mm.
    fn nudge(&mut self, _by: Vec2, _around: &mut Around<'_>) -> Vec<Intent> {
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
