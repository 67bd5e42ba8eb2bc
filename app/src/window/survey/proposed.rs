//! The offers at hand, by level, and what is pointed at of them.

use std::collections::BTreeMap;

use pattress_model::id::Id;
use pattress_model::plan::{Level, Underlay};
use pattress_model::project::Project;
use pattress_model::survey::Part;

use super::offer::Offer;
use super::tracing::Tracing;

/// How sure a part must be to be accepted with others, until someone says otherwise, percent.
const FIRST_LEAST: u32 = 90;

/// What is asked of the offers.
#[derive(Clone, Debug)]
pub enum Offering {
    /// Trace the drawing beneath the level on the board.
    Trace,
    /// Stop the trace.
    StopTracing,
    /// Lay this offer over its level, in place of an older one.
    Lay(Box<Offer>),
    /// The pointer or the keyboard is on this part; what is not repeated each frame lapses.
    PointAt(Part),
    /// Take this part in hand and bring it into view.
    ShowPart(Part),
    /// Go on to the next part that is left, or back to the one before.
    Step(i32),
    /// Let these parts into the plan.
    Accept(Vec<Part>),
    /// Let the part at hand in.
    AcceptAtHand,
    /// Let all that is left in.
    AcceptAll,
    /// Let those in that are sure enough.
    AcceptSure,
    /// Set these aside.
    SetAside(Vec<Part>),
    /// Set all that is left aside.
    SetRestAside,
    /// Bring back what was set aside.
    BringBack,
    /// How sure is sure enough, percent.
    Least(u32),
}

/// The offers at hand.
pub struct Proposed {
    pub(in crate::window) offers: BTreeMap<Id<Level>, Offer>,
    /// The drawing to be traced once it has been read.
    pub(in crate::window) awaited: Option<(Id<Underlay>, Underlay)>,
    pub(in crate::window) tracing: Option<Tracing>,
    pub(in crate::window) pointed: Option<Part>,
    pub(in crate::window) at_hand: Option<Part>,
    pub(in crate::window) least: u32,
}

impl Default for Proposed {
    fn default() -> Self {
        Self {
            offers: BTreeMap::new(),
            awaited: None,
            tracing: None,
            pointed: None,
            at_hand: None,
            least: FIRST_LEAST,
        }
    }
}

impl Proposed {
    /// The offer for a level.
    pub fn on(&self, level: Id<Level>) -> Option<&Offer> {
        self.offers.get(&level)
    }

    /// The offer for a level that can still be accepted.
    pub fn open(&self, project: &Project, level: Id<Level>) -> Option<&Offer> {
        self.on(level).filter(|offer| !offer.is_stale(project))
    }

    /// Another plan lies on the board: what was proposed is of no use.
    pub(in crate::window) fn forget(&mut self) {
        if let Some(tracing) = self.tracing.take() {
            tracing.stop();
        }
        self.awaited = None;
        self.offers.clear();
        (self.pointed, self.at_hand) = (None, None);
    }

    /// The trace that is under way.
    pub fn tracing(&self) -> Option<&Tracing> {
        self.tracing.as_ref()
    }

    /// The part that is lit: pointed at, else the one at hand.
    pub fn lit(&self) -> Option<Part> {
        self.pointed.or(self.at_hand)
    }

    /// How sure a part must be to be accepted with others, percent.
    pub const fn least(&self) -> u32 {
        self.least
    }

    /// The part after or before the one at hand, of those left.
    pub fn stepped(&self, left: &[Part], by: i32) -> Option<Part> {
        let last = left.len().checked_sub(1)?;
        let now = self.at_hand.and_then(|at_hand| left.iter().position(|part| *part == at_hand));
        let next = match now {
            None if by < 0 => last,
            None => 0,
            Some(now) => (now as i64 + i64::from(by)).clamp(0, last as i64) as usize,
        };
        left.get(next).copied()
    }
}
