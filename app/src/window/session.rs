//! One plan being worked on: the project, the way back, and what the person is looking at.

use std::collections::BTreeSet;
use std::path::PathBuf;

use pattress_model::drawing::Layer;
use pattress_model::drawing::sheets::Discipline;
use pattress_model::edit::{Change, History, Refusal, Subject};
use pattress_model::id::Id;
use pattress_model::plan::{DoorsAs, Level};
use pattress_model::project::Project;
use pattress_model::store::Media;

/// The stages of a job; each decides what is emphasised and what the side list shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Bring the drawing in, trace it, set heights.
    Survey,
    /// Place, cover, light, write rules.
    #[default]
    Design,
    /// Set out and mark.
    FirstFix,
    /// Record what was really done.
    AsBuilt,
}

impl Stage {
    /// Every stage, in the order of the job.
    pub const ALL: [Self; 4] = [Self::Survey, Self::Design, Self::FirstFix, Self::AsBuilt];

    /// The trade's word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Survey => "Survey",
            Self::Design => "Design",
            Self::FirstFix => "First fix",
            Self::AsBuilt => "As-built",
        }
    }

    /// The sheet on which the plan lies while this stage is at hand.
    pub const fn discipline(self) -> Discipline {
        match self {
            Self::Survey | Self::Design | Self::AsBuilt => Discipline::Devices,
            Self::FirstFix => Discipline::SettingOut,
        }
    }

    /// What is shown when the stage is chosen.
    pub fn layers(self) -> BTreeSet<Layer> {
        let hidden: &[Layer] = match self {
            Self::Survey => {
                &[Layer::Zones, Layer::Coverage, Layer::Tags, Layer::Dimensions, Layer::LevelBelow]
            }
            Self::Design => &[Layer::Dimensions, Layer::LevelBelow],
            Self::FirstFix => {
                &[Layer::Zones, Layer::Coverage, Layer::LevelBelow, Layer::Underlay, Layer::Spots]
            }
            Self::AsBuilt => &[
                Layer::Zones,
                Layer::Coverage,
                Layer::Dimensions,
                Layer::LevelBelow,
                Layer::Underlay,
                Layer::Spots,
            ],
        };
        Layer::ALL.into_iter().filter(|layer| !hidden.contains(layer)).collect()
    }
}

/// The plan on the board. Fields are read anywhere in the window and written by [`super::update`] alone; the
/// tidy test holds both.
pub struct Session {
    pub(super) project: Project,
    pub(super) history: History,
    pub(super) media: Media,
    pub(super) path: Option<PathBuf>,
    pub(super) selection: BTreeSet<Subject>,
    pub(super) pointed_at: Option<Subject>,
    pub(super) level: Id<Level>,
    pub(super) stage: Stage,
    pub(super) layers: BTreeSet<Layer>,
    pub(super) doors: DoorsAs,
    pub(super) client_view: bool,
    saved: Project,
    generation: u64,
}

impl Session {
    /// A session on a project as it was read or made; without walls, it begins with the survey.
    pub fn new(project: Project, media: Media, path: Option<PathBuf>) -> Self {
        let level = project.levels_upwards().first().map_or(Id::from_number(0), |(id, _)| *id);
        let stage = if project.walls.is_empty() { Stage::Survey } else { Stage::default() };
        Self {
            saved: project.clone(),
            project,
            history: History::default(),
            media,
            path,
            selection: BTreeSet::new(),
            pointed_at: None,
            level,
            stage,
            layers: stage.layers(),
            doors: DoorsAs::default(),
            client_view: false,
            generation: 0,
        }
    }

    /// The project as it is.
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// Pictures of the plan.
    pub fn media(&self) -> &Media {
        &self.media
    }

    /// Where it is kept, once it has been saved.
    pub fn path(&self) -> Option<&std::path::Path> {
        self.path.as_deref()
    }

    /// What undo and redo would do.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// What is selected.
    pub fn selection(&self) -> &BTreeSet<Subject> {
        &self.selection
    }

    /// The one thing that is selected, if it is one.
    pub fn only_selected(&self) -> Option<Subject> {
        (self.selection.len() == 1).then(|| self.selection.first().copied()).flatten()
    }

    /// What the pointer is over, on the plan or in a list.
    pub fn pointed_at(&self) -> Option<Subject> {
        self.pointed_at
    }

    /// The level on the board.
    pub fn level(&self) -> Id<Level> {
        self.level
    }

    /// The stage of the job.
    pub fn stage(&self) -> Stage {
        self.stage
    }

    /// The layers that show.
    pub fn layers(&self) -> &BTreeSet<Layer> {
        &self.layers
    }

    /// The layers that show, without those that the client's view leaves out.
    pub fn layers_in_view(&self) -> BTreeSet<Layer> {
        let of_the_trade = |layer: &Layer| matches!(layer, Layer::Tags | Layer::Dimensions);
        self.layers.iter().copied().filter(|layer| !(self.client_view && of_the_trade(layer))).collect()
    }

    /// How doors are taken by coverage.
    pub fn doors(&self) -> DoorsAs {
        self.doors
    }

    /// Whether what only the trade needs is hidden.
    pub fn client_view(&self) -> bool {
        self.client_view
    }

    /// Counts changes, so that what was computed for an older project is known as stale.
    pub fn generation(&self) -> u64 {
        self.generation
    }

    /// Whether there is anything to save.
    pub fn is_changed(&self) -> bool {
        self.project != self.saved
    }

    /// The level below the one on the board.
    pub fn level_below(&self) -> Option<Id<Level>> {
        let levels = self.project.levels_upwards();
        let index = levels.iter().position(|(id, _)| *id == self.level)?;
        index.checked_sub(1).map(|below| levels[below].0)
    }

    /// Applies a change; the one place in the window that calls the door.
    ///
    /// # Errors
    /// The project's refusal, for the status line.
    pub(super) fn apply(&mut self, change: Change) -> Result<(), Refusal> {
        self.history.apply(&mut self.project, change)?;
        self.settle();
        Ok(())
    }

    /// Takes back or does again; returns the change performed, for the recovery log.
    pub(super) fn step(&mut self, back: bool) -> Option<Change> {
        let performed =
            if back { self.history.undo(&mut self.project) } else { self.history.redo(&mut self.project) };
        self.settle();
        performed
    }

    /// Marks the project as saved.
    pub(super) fn mark_saved(&mut self) {
        self.saved = self.project.clone();
    }

    /// The project as it was saved last.
    pub(super) fn saved(&self) -> &Project {
        &self.saved
    }

    /// Takes the place of another session: the stage stays unless one of the two has no walls yet, and no figure
    /// computed for the other one can be taken for one of this.
    pub(super) fn in_place_of(self, former: &Self) -> Self {
        let anew = self.project.walls.is_empty() || former.project.walls.is_empty();
        let stage = if anew { self.stage } else { former.stage };
        Self {
            stage,
            layers: stage.layers(),
            client_view: former.client_view,
            generation: former.generation + 1,
            ..self
        }
    }

    /// Marks the project as not saved, whatever it holds: changes were brought back that no file has.
    pub(super) fn mark_unsaved(&mut self) {
        self.saved = Project::default();
    }

    /// After a change: nothing selected, pointed at or shown may be gone.
    fn settle(&mut self) {
        self.generation += 1;
        let project = &self.project;
        self.selection.retain(|subject| subject.is_in(project));
        if self.pointed_at.is_some_and(|subject| !subject.is_in(project)) {
            self.pointed_at = None;
        }
        if !project.levels.contains(self.level)
            && let Some((level, _)) = project.levels_upwards().first()
        {
            self.level = *level;
        }
    }
}
