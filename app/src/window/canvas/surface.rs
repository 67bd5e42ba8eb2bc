//! The board as a widget: it paints the drawing, hands gestures to the tool and shows what the tool would do.

use egui::{FontId, PointerButton, Rect, Response, Sense, Stroke, StrokeKind, Ui, vec2};
use kurbo::Point;
use pattress_model::drawing::plan::underlay_items;
use pattress_model::drawing::{Item, Layer, Shape, Sheet, style_of};
use pattress_model::edit::Subject;
use pattress_model::edit::snap::SnapIndex;
use pattress_model::studies::coverage::Scenes;

use super::Camera;
use super::assembled::keep_freed_memory;
use super::chunks::{Chunks, Look, bounds_of};
use super::drawn::Drawn;
use super::ghosted;
use super::hand::{Carrying, gesture_of, nudged, typed};
use super::highlight;
use super::live::LiveOnBoard;
use super::offered;
use super::pictures::{self, Pictures};
use super::tools::live;
use super::tools::manner::Manner;
use super::tools::{self, Around, Gesture, Tool, Touch};
use crate::window::intent::{Intent, Viewing};
use crate::window::jobs::{Figures, Laid};
use crate::window::rehearsal::LivePlan;
use crate::window::session::{Session, Stage};
use crate::window::survey::Surveyed;
use crate::window::theme::Theme;
use crate::window::tool_choice::ToolChoice;

/// How much one notch of the wheel changes the size.
const ZOOM_PER_SCROLL_POINT: f64 = 0.0022;

/// With more selected than this, none of their areas is drawn in full.
const FEW_AT_HAND: usize = 6;

/// The board between frames.
pub struct Surface {
    camera: Camera,
    drawn: Drawn,
    pictures: Pictures,
    living: LiveOnBoard,
    scenes: Option<Scenes>,
    moving: Option<live::Kept>,
    snaps: Option<SnapIndex>,
    tool: Box<dyn Tool>,
    choice: ToolChoice,
    manner: Manner,
    carrying: Carrying,
    entry: String,
    board: Rect,
    pointer_at: Option<Point>,
    pending_view: Option<Viewing>,
    /// How the whole of something was last brought into view, and where the camera stood then.
    whole: Option<(Viewing, Camera)>,
}

impl Default for Surface {
    fn default() -> Self {
        keep_freed_memory();
        Self {
            camera: Camera::default(),
            drawn: Drawn::default(),
            pictures: Pictures::default(),
            living: LiveOnBoard::default(),
            scenes: None,
            moving: None,
            snaps: None,
            tool: tools::take_up(&ToolChoice::Pointer),
            choice: ToolChoice::Pointer,
            manner: Manner::default(),
            carrying: Carrying::No,
            entry: String::new(),
            board: Rect::NOTHING,
            pointer_at: None,
            pending_view: Some(Viewing::WholeSheet),
            whole: None,
        }
    }
}

impl Surface {
    /// The tool in hand.
    pub fn choice(&self) -> &ToolChoice {
        &self.choice
    }

    /// How walls are drawn.
    pub const fn manner(&self) -> Manner {
        self.manner
    }

    /// Draws walls otherwise from here on.
    pub const fn draw_walls(&mut self, manner: Manner) {
        self.manner = manner;
    }

    /// Takes another tool in hand.
    pub fn take_up(&mut self, choice: ToolChoice) {
        self.tool = tools::take_up(&choice);
        self.choice = choice;
        self.carrying = Carrying::Perhaps;
        self.entry.clear();
    }

    /// Escape: first what is typed, then what is half done, then the tool itself. Whether there was any of that.
    pub fn let_go(&mut self) -> bool {
        if !self.entry.is_empty() {
            self.entry.clear();
        } else if !self.tool.let_go() {
            if self.choice == ToolChoice::Pointer {
                return false;
            }
            self.take_up(ToolChoice::Pointer);
        }
        true
    }

    /// Turns what is about to be placed; whether there is such a thing.
    pub fn turn_ghost(&mut self, degrees: f64) -> bool {
        self.tool.turn(degrees)
    }

    /// What a click will do.
    pub fn hint(&self) -> String {
        self.tool.hint()
    }

    /// Where the pointer is on the plan, mm.
    pub fn pointer_at(&self) -> Option<Point> {
        self.pointer_at
    }

    /// What is being typed, and what for.
    pub fn entry(&self) -> Option<(&'static str, &str)> {
        self.tool.takes_typing().map(|what| (what, self.entry.as_str()))
    }

    /// Screen points to a plan millimetre, for the status line.
    pub fn camera(&self) -> &Camera {
        &self.camera
    }

    /// Where the board lies on the screen.
    pub const fn board(&self) -> Rect {
        self.board
    }

    /// Where a point of the plan lies on the screen.
    pub fn screen_of(&self, point: Point) -> egui::Pos2 {
        self.camera.screen_from_plan(self.board, point)
    }

    /// Looks elsewhere at the next frame, once the drawing is known.
    pub fn view(&mut self, viewing: Viewing) {
        self.pending_view = Some(viewing);
    }

    /// Looks at a point of the plan, if it is not in view.
    pub fn bring(&mut self, point: Point) {
        if !self.camera.in_view(self.board).contains(point) {
            self.camera.centre = point;
        }
    }

    /// The sheet the plan lies on.
    pub fn sheet(&self) -> Option<&Sheet> {
        self.drawn.sheet()
    }

    /// Makes the plan live while the rules are played; still without them.
    pub fn enliven(&mut self, session: &Session, figures: &Figures, live: Option<&LivePlan>) {
        let scale = self.drawn.scale(session.project());
        self.living.keep_up(session, figures, scale, live);
    }

    /// Shows the board and answers gestures on it.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        figures: &Figures,
        surveyed: Surveyed<'_>,
        theme: &Theme,
        laid: Option<&Laid>,
    ) -> Vec<Intent> {
        let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::click_and_drag());
        if self.board.size() != response.rect.size() {
            self.fit_again();
        }
        self.board = response.rect;
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, "Plan"));
        self.keep_up(session, figures, laid);
        self.settle_view(session, figures);
        self.navigate(ui, &response);
        let intents = self.answer(ui, &response, session, figures, surveyed);
        if let Some(cursor) = self.tool.ghost().cursor {
            ui.ctx().set_cursor_icon(cursor);
        }
        let more = self.paint(&painter, session, figures, surveyed, theme);
        if more {
            ui.ctx().request_repaint();
        }
        if intents.iter().any(|intent| matches!(intent, Intent::Change(_))) {
            // The tool's ghost stood in for the change in this frame; the plan shows it in the next.
            ui.ctx().request_repaint();
        }
        intents
    }

    /// Makes again what has changed since the last frame.
    fn keep_up(&mut self, session: &Session, figures: &Figures, laid: Option<&Laid>) {
        let project = session.project();
        let level = session.level();
        let changed = self.drawn.keep_up(session, figures, laid);
        if changed.building {
            self.snaps = None;
        } else if let Some(snaps) = self.snaps.as_mut().filter(|_| changed.devices) {
            snaps.take_in_devices(project);
        }
        let hold = |scenes: &Scenes| scenes.level() == level && scenes.hold_for(project, session.doors());
        if !self.scenes.as_ref().is_some_and(hold) {
            self.scenes = Some(Scenes::of_level(project, level, session.doors()));
        }
    }

    /// A board of another size shows the whole again, if that is what it showed.
    fn fit_again(&mut self) {
        if let Some((viewing, camera)) = self.whole
            && camera == self.camera
        {
            self.pending_view.get_or_insert(viewing);
        }
    }

    fn settle_view(&mut self, session: &Session, figures: &Figures) {
        let Some(viewing) = self.pending_view.take() else { return };
        // Where a drawing lies bare there is no sheet to be seen: the drawing is what there is.
        let viewing = match viewing {
            Viewing::WholeSheet if drawing_lies_bare(session) => Viewing::WholePlan,
            other => other,
        };
        match viewing {
            Viewing::WholeSheet => match self.drawn.sheet() {
                Some(sheet) => {
                    let (width, height) = sheet.paper.size_mm();
                    let paper = kurbo::Rect::new(0.0, 0.0, width, height);
                    self.camera.show(self.board, sheet.paper_from_plan.inverse().transform_rect_bbox(paper));
                }
                None => {
                    if let Some(bounds) = self.drawn.chunks.bounds(|_| true) {
                        self.camera.show(self.board, bounds);
                    }
                    // Again once the sheet is there.
                    self.pending_view = Some(viewing);
                }
            },
            Viewing::WholePlan => {
                let built = |layer| matches!(layer, Layer::Building | Layer::Joinery | Layer::Devices);
                let pictures = underlay_items(session.project(), session.level());
                let bounds = pictures
                    .iter()
                    .map(bounds_of)
                    .chain(self.drawn.chunks.bounds(built))
                    .reduce(|a, b| a.union(b))
                    .or(self.drawn.chunks.bounds(|_| true));
                if let Some(bounds) = bounds {
                    self.camera.show(self.board, bounds);
                }
            }
            Viewing::Zoom(factor) => self.camera.zoom(self.board, self.board.center(), factor),
            Viewing::Bring(subject) => {
                use kurbo::Shape as _;
                let scale = self.drawn.scale(session.project());
                let path = highlight::outline(session.project(), figures, session.level(), subject, scale);
                if !path.is_empty() {
                    let bounds = path.bounding_box();
                    let in_view = self.camera.in_view(self.board);
                    if !in_view.contains(bounds.center()) || bounds.width() > in_view.width() {
                        self.camera.centre = bounds.center();
                    }
                }
            }
            Viewing::Level(_)
            | Viewing::Stage(_)
            | Viewing::Layer(..)
            | Viewing::Doors(_)
            | Viewing::Findings
            | Viewing::ClientView(_) => {}
        }
        if matches!(viewing, Viewing::WholeSheet | Viewing::WholePlan) {
            self.whole = Some((viewing, self.camera));
        }
    }

    /// The wheel comes nearer and goes farther; the middle button, or the main one with space held, pans.
    fn navigate(&mut self, ui: &Ui, response: &Response) {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta(), input.zoom_delta()));
        if let Some(at) = response.hover_pos() {
            let factor = (f64::from(scroll.y) * ZOOM_PER_SCROLL_POINT).exp() * f64::from(pinch);
            if (factor - 1.0).abs() > 1e-6 {
                self.camera.zoom(self.board, at, factor);
            }
        }
        if pans(ui, response) {
            self.camera.pan(response.drag_delta());
        }
    }

    fn answer(
        &mut self,
        ui: &Ui,
        response: &Response,
        session: &Session,
        figures: &Figures,
        surveyed: Surveyed<'_>,
    ) -> Vec<Intent> {
        let modifiers = ui.input(|input| input.modifiers);
        let space = ui.input(|input| input.key_down(egui::Key::Space));
        let camera = self.camera;
        let board = self.board;
        let plan = |at: egui::Pos2| camera.plan_from_screen(board, at);
        let pointer = response.interact_pointer_pos().or(response.hover_pos());
        self.pointer_at = pointer.map(plan);
        let level = session.level();
        let scenes =
            self.scenes.get_or_insert_with(|| Scenes::of_level(session.project(), level, session.doors()));
        let mut around = Around {
            session,
            figures,
            surveyed,
            manner: self.manner,
            scenes,
            moving: &mut self.moving,
            snaps: &mut self.snaps,
            drawn: &self.drawn.chunks,
            mm_per_point: 1.0 / camera.points_per_mm,
            scale: self.drawn.scale(session.project()),
            snapping: !modifiers.alt,
        };
        let mut intents = typed(ui, self.tool.as_mut(), &mut self.entry, &mut around);
        intents.extend(nudged(ui, self.tool.as_mut(), &mut around));
        let carried = self.carrying.gesture(ui, response);
        let pointer = pointer.or_else(|| ui.input(|input| input.pointer.hover_pos()));
        let gesture = carried.unwrap_or_else(|| gesture_of(ui, response, space, plan));
        let pointer = match (gesture, pointer) {
            (Gesture::Away, _) => self.camera.centre,
            (_, Some(pointer)) => plan(pointer),
            (_, None) => return intents,
        };
        if response.clicked_by(PointerButton::Primary) || response.drag_started() {
            response.request_focus();
        }
        if response.has_focus() {
            let arrows =
                egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        }
        if gesture == Gesture::Hover && pans(ui, response) {
            // Nothing comes under the pointer that was not there before.
            return intents;
        }
        intents.extend(self.tool.touch(Touch { at: pointer, gesture, modifiers }, &mut around));
        if self.choice == ToolChoice::Pointer && gesture == Gesture::Hover {
            intents.extend(tools::accept::pointed_at(pointer, &around));
        }
        intents
    }

    fn paint(
        &mut self,
        painter: &egui::Painter,
        session: &Session,
        figures: &Figures,
        surveyed: Surveyed<'_>,
        theme: &Theme,
    ) -> bool {
        let project = session.project();
        let scale = self.drawn.scale(project);
        let mut ghost = self.tool.ghost().clone();
        ghost.hides.extend(self.living.hides());
        let look = Look {
            camera: &self.camera,
            board: self.board,
            points_per_paper_mm: self.camera.points_per_mm * scale,
            theme,
            hidden: &ghost.hides,
            soft_areas_within: None,
        };
        painter.rect_filled(self.board, 0.0, theme.board);
        let bare = drawing_lies_bare(session);
        let paper = self.drawn.sheet().filter(|_| !bare).map(|sheet| paint_paper(painter, &look, sheet));
        let look = Look { soft_areas_within: Some(paper.unwrap_or(self.board)), ..look };
        let mut layers = session.layers_in_view();
        if bare {
            layers.remove(&Layer::Frame);
        }
        let mut more = false;
        if self.choice == ToolChoice::AlignStorey
            && let Some(below) = session.level_below()
        {
            layers.insert(Layer::LevelBelow);
            let mut items = underlay_items(project, below);
            for item in &mut items {
                // Fainter than this level's drawing, so that the two are told apart.
                if let Shape::Picture { opacity, .. } = &mut item.shape {
                    *opacity *= 0.5;
                }
            }
            more |= self.pictures.paint(painter, &look, session.media(), &items);
        }
        if layers.contains(&Layer::Underlay) {
            let items = underlay_items(project, session.level());
            if bare {
                pictures::paint_ground(painter, &look, &items);
            }
            more |= self.pictures.paint(painter, &look, session.media(), &items);
        }
        let chunks = &mut self.drawn.chunks;
        let of_areas = |layer| layer <= Layer::Coverage;
        more |= chunks.paint(painter, &look, |layer| layers.contains(&layer) && of_areas(layer));
        paint_areas_at_hand(painter, &look, chunks, session);
        self.living.paint_beneath(painter, &look, chunks);
        more |= chunks.paint(painter, &look, |layer| layers.contains(&layer) && !of_areas(layer));
        self.living.paint_over(painter, &look, chunks);
        let proposed = surveyed.proposed;
        let offer = proposed.on(session.level()).filter(|_| session.stage() == Stage::Survey);
        if let Some(offer) = offer {
            offered::paint(painter, &look, proposed, offer, project);
        }
        self.drawn.chunks.paint_passing(painter, &look, &ghost.items);
        if project.walls.is_empty() && project.underlays.is_empty() && self.choice == ToolChoice::Pointer {
            paint_first_step(painter, theme, paper.unwrap_or(self.board).intersect(self.board));
        }
        let mark = |subject: Subject, colour, width: f32| {
            let path = highlight::outline(project, figures, session.level(), subject, scale);
            paint_outline(painter, &look, &path, Stroke::new(width, colour));
        };
        // What a tool shows elsewhere is not marked where it was.
        for subject in session.selection().iter().filter(|subject| !ghost.hides.contains(subject)) {
            mark(*subject, theme.accent, 2.0);
        }
        if let Some(subject) = session.pointed_at() {
            mark(subject, theme.pointed, 1.5);
        }
        ghosted::paint(painter, &look, &ghost);
        if let Some(offer) = offer {
            offered::paint_words(painter, &look, proposed, offer, project);
        }
        more
    }
}

/// Whether the board is being panned.
fn pans(ui: &Ui, response: &Response) -> bool {
    response.dragged_by(PointerButton::Middle)
        || (response.dragged_by(PointerButton::Primary) && ui.input(|input| input.key_down(egui::Key::Space)))
}

/// What the sensors and zones at hand cover, in full over the others, without the ground of their names; of a
/// crowd, no one is told apart so.
fn paint_areas_at_hand(painter: &egui::Painter, look: &Look<'_>, chunks: &mut Chunks, session: &Session) {
    let at_hand = |subject: Subject| {
        !look.hidden.contains(&subject)
            && (session.pointed_at() == Some(subject)
                || (session.selection().len() <= FEW_AT_HAND && session.selection().contains(&subject)))
    };
    let layers = session.layers();
    let shows = |layer: Layer| matches!(layer, Layer::Coverage | Layer::Zones) && layers.contains(&layer);
    let items: Vec<Item> = chunks
        .items_about(look.camera.in_view(look.board), shows)
        .filter(|item| item.subject.is_some_and(at_hand) && matches!(item.shape, Shape::Path(_)))
        .filter(|item| style_of(item.role).fill.is_none_or(|[.., alpha]| alpha < u8::MAX))
        .cloned()
        .collect();
    let within = look.soft_areas_within.unwrap_or(look.board).intersect(painter.clip_rect());
    chunks.paint_passing(&painter.with_clip_rect(within), look, &items);
}

/// Whether the level has a drawing beneath and nothing over it yet: our own sheet would only lie in its way.
fn drawing_lies_bare(session: &Session) -> bool {
    let (project, level) = (session.project(), session.level());
    session.stage() == Stage::Survey
        && session.layers().contains(&Layer::Underlay)
        && !underlay_items(project, level).is_empty()
        && project.walls_on(level).next().is_none()
        && project.devices_on(level).next().is_none()
}

/// What to do first, on a sheet that has nothing on it.
fn paint_first_step(painter: &egui::Painter, theme: &Theme, sheet: Rect) {
    let wrap = sheet.width() * 0.6;
    let words = "Bring in the architect’s drawing (Plan menu), or draw the first wall (W).";
    let galley = painter.layout(words.to_owned(), FontId::proportional(15.0), theme.quiet, wrap);
    painter.galley(
        sheet.center() - vec2(sheet.width() * 0.1, 0.0) - galley.size() / 2.0,
        galley,
        theme.quiet,
    );
}

/// Paints the sheet's paper; returns where it lies.
fn paint_paper(painter: &egui::Painter, look: &Look<'_>, sheet: &Sheet) -> Rect {
    let (width, height) = sheet.paper.size_mm();
    let plan_from_paper = sheet.paper_from_plan.inverse();
    let corner =
        |x: f64, y: f64| look.camera.screen_from_plan(look.board, plan_from_paper * Point::new(x, y));
    let paper = Rect::from_two_pos(corner(0.0, 0.0), corner(width, height));
    painter.rect_filled(paper.translate(vec2(0.0, 3.0)), 1.0, look.theme.edge);
    painter.rect(paper, 1.0, look.theme.sheet, Stroke::new(1.0, look.theme.edge), StrokeKind::Outside);
    paper
}

fn paint_outline(painter: &egui::Painter, look: &Look<'_>, path: &kurbo::BezPath, stroke: Stroke) {
    let tolerance = 0.3 / look.camera.points_per_mm;
    let mut points: Vec<egui::Pos2> = Vec::new();
    let place = |point| look.camera.screen_from_plan(look.board, point);
    kurbo::flatten(path.elements().iter().copied(), tolerance, |element| match element {
        kurbo::PathEl::MoveTo(point) => points = vec![place(point)],
        kurbo::PathEl::LineTo(point) => points.push(place(point)),
        kurbo::PathEl::ClosePath => {
            painter.add(egui::Shape::closed_line(std::mem::take(&mut points), stroke));
        }
        _ => {}
    });
}
