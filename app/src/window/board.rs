//! Everything the window holds between frames.

use pattress_model::project::Project;
use pattress_model::store::Media;

use super::canvas::Surface;
use super::in_hand::FilesInHand;
use super::intent::Overlay;
use super::jobs::Jobs;
use super::panels;
use super::rehearsal::LivePlan;
use super::session::Session;
use super::suggesting::Suggested;
use super::survey::catching::Catching;
use super::survey::doing::Doing;
use super::survey::proposed::Proposed;
use super::survey::{Desk, Drawings};
use super::theme::Theme;

/// What the status line says last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// The sentence.
    pub sentence: String,
    /// Whether something was refused.
    pub refused: bool,
}

/// The drawing board: everything the window holds.
pub struct Board {
    pub(super) session: Session,
    pub(super) surface: Surface,
    pub(super) jobs: Jobs,
    pub(super) drawings: Drawings,
    pub(super) catching: Catching,
    pub(super) proposed: Proposed,
    pub(super) suggested: Suggested,
    /// A file on its way in.
    pub(super) desk: Desk,
    /// Work on a drawing beneath.
    pub(super) doing: Option<Doing>,
    /// The rules being played on the plan.
    pub(super) live: Option<Box<LivePlan>>,
    /// Whether what would be done by a thread is done at once, for tests.
    pub(super) in_place: bool,
    pub(super) theme: Theme,
    pub(super) overlay: Option<Overlay>,
    pub(super) panels: panels::State,
    pub(super) said: Said,
    pub(super) files: FilesInHand,
    pub(super) leaving: bool,
    pub(super) dressed: Option<Theme>,
}

impl Board {
    /// A board with a plan on it.
    pub fn new(session: Session, jobs: Jobs, dark: bool) -> Self {
        Self {
            session,
            surface: Surface::default(),
            jobs,
            drawings: Drawings::default(),
            catching: Catching::default(),
            proposed: Proposed::default(),
            suggested: Suggested::default(),
            desk: Desk::default(),
            doing: None,
            live: None,
            in_place: false,
            theme: Theme::of(dark),
            overlay: None,
            panels: panels::State::default(),
            said: Said::default(),
            files: FilesInHand::default(),
            leaving: false,
            dressed: None,
        }
    }

    /// A board for tests: an empty house or the given one; studies are computed and drawings read in place.
    pub fn for_tests(project: Project) -> Self {
        let session = Session::new(project, Media::default(), None);
        Self {
            drawings: Drawings::in_place(),
            catching: Catching::in_place(),
            in_place: true,
            ..Self::new(session, Jobs::in_place(), false)
        }
    }

    /// The plan on the board.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// What is proposed for its levels.
    pub fn proposed(&self) -> &Proposed {
        &self.proposed
    }

    /// The rehearsal that is under way.
    pub fn live(&self) -> Option<&LivePlan> {
        self.live.as_deref()
    }

    /// The places that are suggested for a device.
    pub fn suggested(&self) -> &Suggested {
        &self.suggested
    }

    /// Where a point of the plan lies on the screen.
    pub fn screen_of(&self, point: kurbo::Point) -> egui::Pos2 {
        self.surface.screen_of(point)
    }

    /// What the status line says.
    pub fn said(&self) -> &Said {
        &self.said
    }
}
