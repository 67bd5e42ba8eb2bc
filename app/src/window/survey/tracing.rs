//! A trace under way, off the window's thread: it shows how far it is and can be stopped.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, channel};

use kurbo::Point;
use pattress_model::id::Id;
use pattress_model::plan::{Level, Underlay};
use pattress_model::survey::vectorise::page_of_picture;
use pattress_model::survey::{Page, Proposal, trace_page};

use super::drawings::DrawingRead;
use super::offer::Offer;

/// What a trace comes to: `None` where it was stopped, a sentence where the drawing could not be traced.
pub type Outcome = Result<Option<Proposal>, String>;

/// A trace under way.
pub struct Tracing {
    level: Id<Level>,
    id: Id<Underlay>,
    underlay: Underlay,
    per_mille: Arc<AtomicU32>,
    stopped: Arc<AtomicBool>,
    outcome: Receiver<Outcome>,
}

impl Tracing {
    /// Starts to trace a drawing as it lies under a level. `trace` says how far it has come and goes on while it
    /// is told to; `wake` is called whenever there is something to show.
    pub fn start(
        (id, underlay): (Id<Underlay>, Underlay),
        trace: impl FnOnce(&dyn Fn(f32) -> bool) -> Outcome + Send + 'static,
        wake: impl Fn() + Send + 'static,
    ) -> Self {
        let per_mille = Arc::new(AtomicU32::new(0));
        let stopped = Arc::new(AtomicBool::new(false));
        let (send, outcome) = channel();
        let (shown, asked_to_stop, answer) = (Arc::clone(&per_mille), Arc::clone(&stopped), send.clone());
        let spawned = std::thread::Builder::new().name("trace".to_owned()).spawn(move || {
            let traced = trace(&|share| {
                let now = (share.clamp(0.0, 1.0) * 1000.0) as u32;
                if shown.swap(now, Ordering::Relaxed) != now {
                    wake();
                }
                !asked_to_stop.load(Ordering::Relaxed)
            });
            let _ = answer.send(traced);
            wake();
        });
        if let Err(error) = spawned {
            let _ = send.send(Err(format!("the trace could not be started: {error}; try again")));
        }
        Self { level: underlay.level, id, underlay, per_mille, stopped, outcome }
    }

    /// Traces where it is asked for; the outcome is there at once.
    pub fn in_place(
        (id, underlay): (Id<Underlay>, Underlay),
        trace: impl FnOnce(&dyn Fn(f32) -> bool) -> Outcome,
    ) -> Self {
        let (send, outcome) = channel();
        let _ = send.send(trace(&|_| true));
        let (per_mille, stopped) = (Arc::default(), Arc::default());
        Self { level: underlay.level, id, underlay, per_mille, stopped, outcome }
    }

    /// The level that is traced.
    pub const fn level(&self) -> Id<Level> {
        self.level
    }

    /// The name of the drawing.
    pub fn name(&self) -> &str {
        &self.underlay.name
    }

    /// How far it has come, 0 to 1.
    pub fn share(&self) -> f32 {
        self.per_mille.load(Ordering::Relaxed) as f32 / 1000.0
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// How it ended, once it has.
    pub fn outcome(&self) -> Option<Outcome> {
        self.outcome.try_recv().ok()
    }

    /// What it found, as an offer for its level.
    pub fn offer(self, proposal: Proposal) -> Offer {
        Offer::new(self.level, Some((self.id, self.underlay)), proposal)
    }
}

/// What a drawing says as one page of lines, in units of the drawing: its own, and those that can be made out in
/// its pixels. `None` where it was stopped.
pub fn page_of(read: &DrawingRead, mm_per_unit: f64, keep_going: &dyn Fn(f32) -> bool) -> Option<Page> {
    let mut page = read.page.clone().unwrap_or_default();
    let Some(pixels) = read.pixels.as_ref() else { return Some(page) };
    let units_per_pixel = pixels.drawing_from_pixels.determinant().abs().sqrt();
    let seen = page_of_picture(&pixels.grey, mm_per_unit * units_per_pixel, keep_going)?;
    let corner = pixels.drawing_from_pixels * Point::new(seen.width, seen.height);
    (page.width, page.height) = (page.width.max(corner.x), page.height.max(corner.y));
    for mut stroke in seen.strokes {
        stroke.path.apply_affine(pixels.drawing_from_pixels);
        stroke.width *= units_per_pixel;
        page.strokes.push(stroke);
    }
    for mut fill in seen.fills {
        fill.path.apply_affine(pixels.drawing_from_pixels);
        page.fills.push(fill);
    }
    Some(page)
}

/// Traces a drawing as it lies under its level. A picture takes the first third of the way to be read.
pub fn traced(read: &DrawingRead, underlay: &Underlay, keep_going: &dyn Fn(f32) -> bool) -> Outcome {
    let begins = if read.pixels.is_some() { 0.4 } else { 0.0 };
    let Some(page) = page_of(read, underlay.mm_per_unit, &|share| keep_going(share * begins)) else {
        return Ok(None);
    };
    if page.has_no_lines() {
        return Err(format!("no line can be made out in {}: trace it by hand", underlay.name));
    }
    let went_on = |share: f32| keep_going(begins + share * (1.0 - begins));
    Ok(trace_page(&page, underlay.plan_from_drawing(), &went_on))
}
