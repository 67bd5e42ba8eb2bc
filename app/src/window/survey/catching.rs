//! The lines of the drawings beneath, prepared for the pointer to catch.
//!
//! A drawing is prepared on a thread once it has been read: a page as it is, a picture through the lines that can
//! be made out in it. Until that is done the pointer catches the plan alone.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

use kurbo::{Affine, Point, Rect};
use pattress_model::drawing::Layer;
use pattress_model::edit::snap::DrawingBeneath;
use pattress_model::id::Id;
use pattress_model::plan::{Level, Underlay};
use pattress_model::survey::{DrawingLines, DrawingRead};

use super::drawings::Drawings;
use crate::window::session::Session;

/// So many drawings are kept prepared; the others are prepared anew when they are asked for.
const MOST_KEPT: usize = 4;

/// Lines that were drawn as such lie where they are meant to within this, units of the page (mm of paper).
const SLACK_OF_A_PAGE: f64 = 0.02;

/// Lines made out in a picture stray by so many pixels.
const SLACK_OF_A_PICTURE: f64 = 1.5;

enum State {
    Coming(Receiver<Arc<DrawingLines>>),
    Ready(Arc<DrawingLines>),
}

/// What there is to catch of a drawing.
pub struct Beneath {
    /// Its lines, once they are prepared.
    pub lines: Option<Arc<DrawingLines>>,
    /// The drawing as it was read.
    pub read: Arc<DrawingRead>,
    /// Where it lies on the plan.
    pub plan_from_drawing: Affine,
}

impl Beneath {
    /// As snapping asks it.
    pub fn drawing(&self) -> Option<DrawingBeneath<'_>> {
        let pixels = self.read.pixels.as_ref();
        let picture = pixels.map(|pixels| (&pixels.grey, pixels.drawing_from_pixels));
        DrawingBeneath::new(self.lines.as_deref(), picture, self.plan_from_drawing)
    }
}

/// The drawings that are prepared.
#[derive(Default)]
pub struct Catching {
    kept: RefCell<BTreeMap<(String, u32), State>>,
    in_place: bool,
}

impl Catching {
    /// Prepares where it is asked for, so that tests catch in the frame that asks.
    pub fn in_place() -> Self {
        Self { in_place: true, ..Self::default() }
    }

    /// What there is to catch of the drawing of a level under a point; `None` where there is no drawing
    /// that shows, or it is not prepared yet.
    pub fn beneath(
        &self,
        session: &Session,
        drawings: &Drawings,
        level: Id<Level>,
        at: Point,
    ) -> Option<Beneath> {
        if !session.layers().contains(&Layer::Underlay) {
            return None;
        }
        let under_the_point = |underlay: &Underlay| {
            let in_drawing = underlay.plan_from_drawing().inverse() * at;
            Rect::new(0.0, 0.0, underlay.width, underlay.height).contains(in_drawing)
        };
        let (_, underlay) = session
            .project()
            .underlays
            .iter()
            .filter(|(_, underlay)| underlay.level == level && underlay.opacity > 0.0)
            .rfind(|(_, underlay)| under_the_point(underlay))?;
        let read = drawings.get(session.media(), &underlay.media, underlay.page).ready()?;
        let lines = self.lines(&read, underlay);
        Some(Beneath { lines, read, plan_from_drawing: underlay.plan_from_drawing() })
    }

    fn lines(&self, read: &Arc<DrawingRead>, underlay: &Underlay) -> Option<Arc<DrawingLines>> {
        let key = (underlay.media.clone(), underlay.page);
        let mut kept = self.kept.borrow_mut();
        if !kept.contains_key(&key) {
            while kept.len() >= MOST_KEPT {
                kept.pop_first();
            }
            kept.insert(key.clone(), self.start(Arc::clone(read), underlay.mm_per_unit)?);
        }
        let state = kept.get_mut(&key)?;
        if let State::Coming(receiver) = state
            && let Ok(lines) = receiver.try_recv()
        {
            *state = State::Ready(lines);
        }
        match state {
            State::Ready(lines) => Some(Arc::clone(lines)),
            State::Coming(_) => None,
        }
    }

    fn start(&self, read: Arc<DrawingRead>, mm_per_unit: f64) -> Option<State> {
        if self.in_place {
            return Some(State::Ready(Arc::new(prepared(&read, mm_per_unit))));
        }
        let (send, receive) = channel();
        let prepare = move || {
            let _ = send.send(Arc::new(prepared(&read, mm_per_unit)));
        };
        std::thread::Builder::new().name("lines".to_owned()).spawn(prepare).ok()?;
        Some(State::Coming(receive))
    }
}

/// The lines of a drawing.
fn prepared(read: &DrawingRead, mm_per_unit: f64) -> DrawingLines {
    let slack = match &read.pixels {
        Some(pixels) => SLACK_OF_A_PICTURE * pixels.drawing_from_pixels.determinant().abs().sqrt(),
        None => SLACK_OF_A_PAGE,
    };
    let page = read.lines(mm_per_unit, &|_| true);
    DrawingLines::of_page(&page.unwrap_or_default(), slack)
}
