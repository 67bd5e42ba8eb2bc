//! A trace under way, off the window's thread: it shows how far it is and can be stopped.

use std::sync::Arc;

use pattress_model::id::Id;
use pattress_model::plan::{Level, Underlay};
use pattress_model::survey::{DrawingRead, Proposal};

use super::offer::Offer;
use super::work::{Hands, Work};

/// What a trace comes to: `None` where it was stopped, a sentence where the drawing could not be traced.
pub type Outcome = Result<Option<Proposal>, String>;

/// A trace under way.
pub struct Tracing {
    id: Id<Underlay>,
    underlay: Underlay,
    work: Work<Option<Proposal>>,
}

impl Tracing {
    /// Starts to trace a drawing as it lies under a level.
    pub fn start((id, underlay): (Id<Underlay>, Underlay), read: Arc<DrawingRead>, hands: &Hands) -> Self {
        let as_laid = underlay.clone();
        let trace = move |keep_going: super::work::KeepGoing<'_>| read.traced(&as_laid, keep_going);
        Self { work: Work::begin(format!("Tracing {}", underlay.name), hands, trace), id, underlay }
    }

    /// The level that is traced.
    pub const fn level(&self) -> Id<Level> {
        self.underlay.level
    }

    /// What is being done, in a few words.
    pub fn what(&self) -> &str {
        self.work.what()
    }

    /// How far it has come, 0 to 1.
    pub fn share(&self) -> f32 {
        self.work.share()
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.work.stop();
    }

    /// How it ended, once it has.
    pub fn outcome(&self) -> Option<Outcome> {
        Some(match self.work.answer()? {
            Ok(Some(proposal)) if proposal.walls.is_empty() => {
                Err(format!("no wall can be made out in {}: trace it by hand", self.underlay.name))
            }
            Ok(found) => Ok(found),
            Err(lost) => Err(lost.to_string()),
        })
    }

    /// What it found, as an offer for its level.
    pub fn offer(self, proposal: Proposal) -> Offer {
        Offer::new(self.underlay.level, Some((self.id, self.underlay)), proposal)
    }
}

#[cfg(test)]
mod tests {
    use std::time::{Duration, Instant};

    use kurbo::Point;
    use pattress_model::survey::Greyscale;
    use pattress_model::units::Angle;

    use super::*;

    /// A trace of a white sheet of so many pixels a side.
    fn trace_of_nothing(side: usize, hands: &Hands) -> Tracing {
        let underlay = Underlay {
            level: Id::from_number(1),
            name: "blank.png".to_owned(),
            media: String::new(),
            page: 1,
            width: side as f64,
            height: side as f64,
            mm_per_unit: 10.0,
            scale_from: None,
            second_length: None,
            position: Point::ORIGIN,
            turn: Angle::ZERO,
            opacity: 1.0,
            on_sheets: false,
        };
        let blank = Greyscale::new(side, side, vec![u8::MAX; side * side]).unwrap();
        Tracing::start((Id::from_number(2), underlay), Arc::new(blank.into()), hands)
    }

    #[test]
    fn a_drawing_without_walls_is_said_to_have_none() {
        let tracing = trace_of_nothing(60, &Hands::InPlace);
        assert_eq!(tracing.what(), "Tracing blank.png");
        let sentence = tracing.outcome().expect("it is there at once").expect_err("nothing is found");
        assert_eq!(sentence, "no wall can be made out in blank.png: trace it by hand");
    }

    #[test]
    fn a_trace_can_be_stopped() {
        let tracing = trace_of_nothing(3000, &Hands::Apart(egui::Context::default()));
        tracing.stop();
        let begun = Instant::now();
        let outcome = loop {
            if let Some(outcome) = tracing.outcome() {
                break outcome;
            }
            assert!(begun.elapsed() < Duration::from_secs(20), "no answer");
            std::thread::sleep(Duration::from_millis(1));
        };
        assert_eq!(outcome, Ok(None));
    }
}
