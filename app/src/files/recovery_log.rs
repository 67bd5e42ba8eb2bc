//! The recovery log beside an open plan: each change on the disk before the next gesture begins.
//!
//! The log is also the lock: whoever holds it has the plan open. It starts anew at each save and is gone once
//! the plan is closed; what a crash leaves behind is played on top of the saved plan when it is next opened.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use pattress_model::edit::{Change, Entity, Op};
use pattress_model::project::Project;
use pattress_model::store::{Media, log_header, log_line, read_log, read_log_header, replay};

use super::error::FileError;
use super::{LogFile, name, pack};

/// What a recovery log gave back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recovered {
    /// How many changes were played on top of the saved plan.
    pub changes: usize,
}

/// The log of an open plan, and its lock.
#[derive(Debug)]
pub struct RecoveryLog {
    plan: PathBuf,
    file: LogFile,
    kept_media: BTreeSet<String>,
    is_empty: bool,
}

/// What was found when a log was taken up.
pub(super) struct TakenUp {
    pub log: RecoveryLog,
    pub recovered: Option<Recovered>,
    pub warnings: Vec<String>,
}

impl RecoveryLog {
    /// Takes up the log beside a plan: locks it, before the plan is read.
    ///
    /// # Errors
    /// [`FileError::InUse`] where another window has the plan open; [`FileError::CannotWrite`] where no log can
    /// be kept there.
    pub(super) fn lock(plan: &Path) -> Result<Self, FileError> {
        // One plan has one log, by whatever path it is reached.
        let plan = super::full_path(plan);
        let file = LogFile::lock(&log_path(&plan), &plan)?;
        let is_empty = file.is_empty();
        Ok(Self { plan, file, kept_media: BTreeSet::new(), is_empty })
    }

    /// Plays what a crash left in the log on top of the saved plan. What can't be played is set aside.
    pub(super) fn take_up(
        mut self,
        saved_text: &str,
        project: &mut Project,
        media: &mut Media,
    ) -> Result<TakenUp, FileError> {
        let mut warnings = Vec::new();
        let mut recovered = None;
        let left = self.file.read().map_err(|error| FileError::reading(self.file.path(), &error))?;
        match read_log_header(&left, saved_text) {
            Some((true, lines)) => {
                let (changes, unreadable) = read_log(lines);
                let (played, refused) = replay(project, &changes);
                if let Some(sentence) = refused.or(unreadable) {
                    warnings.push(format!("{sentence} ({})", self.set_aside(&left)?));
                }
                self.load_kept_media(media);
                self.cut_after(&left, played)?;
                self.is_empty = played == 0;
                recovered = (played > 0).then_some(Recovered { changes: played });
            }
            Some((false, lines)) if !lines.trim().is_empty() => {
                warnings.push(format!(
                    "the recovery log beside “{}” builds on another state of the plan, whose changes may be saved \
                     already: it was not played ({})",
                    name(&self.plan),
                    self.set_aside(&left)?
                ));
                self.begin_again(&SavedPlan::of_text(saved_text))?;
            }
            _ => self.begin_again(&SavedPlan::of_text(saved_text))?,
        }
        Ok(TakenUp { log: self, recovered, warnings })
    }

    /// Appends one change, with the pictures it brings.
    ///
    /// # Errors
    /// [`FileError::CannotWrite`].
    pub fn append(&mut self, change: &Change, media: &Media) -> Result<(), FileError> {
        for op in &change.ops {
            if let Op::Put(Entity::Underlay(_, underlay)) = op
                && pack::is_medium_name(&underlay.media)
                && let Some(bytes) = media.get(&underlay.media)
                && self.kept_media.insert(underlay.media.clone())
            {
                super::write_bytes(&self.media_folder().join(&underlay.media), bytes)?;
            }
        }
        self.is_empty = false;
        let line = format!("{}\n", log_line(change));
        self.file.append(&line).map_err(|error| FileError::writing(self.file.path(), &error))
    }

    /// Starts the log anew, once the plan was saved.
    ///
    /// # Errors
    /// [`FileError::CannotWrite`].
    pub fn begin_again(&mut self, saved: &SavedPlan) -> Result<(), FileError> {
        self.file
            .replace(&format!("{}\n", saved.log_header))
            .map_err(|error| FileError::writing(self.file.path(), &error))?;
        self.is_empty = true;
        self.forget_media();
        Ok(())
    }

    /// Gives the plan up: the log goes, and with it every change that was not saved.
    pub fn close(mut self) {
        self.is_empty = true;
    }

    fn media_folder(&self) -> PathBuf {
        beside(&self.plan, ".recovery-media")
    }

    fn load_kept_media(&mut self, media: &mut Media) {
        for (name, bytes) in super::media_in(&self.media_folder()) {
            if pack::keep_medium("", &name, bytes, media).is_ok() {
                self.kept_media.insert(name);
            }
        }
    }

    fn forget_media(&mut self) {
        for name in std::mem::take(&mut self.kept_media) {
            super::remove(&self.media_folder().join(name));
        }
        super::remove_empty_folder(&self.media_folder());
    }

    /// Copies what can't be played to a file of its own and says where.
    fn set_aside(&self, left: &str) -> Result<String, FileError> {
        let free = (1..)
            .map(|number| beside(&self.plan, &format!(".recovery-aside-{number}")))
            .find(|path| !path.exists());
        let Some(path) = free else { return Ok("it could not be set aside".to_owned()) };
        super::write_bytes(&path, left.as_bytes())?;
        Ok(format!("the whole log is kept as “{}”", name(&path)))
    }

    /// Cuts the log after its header and so many changes, so that what follows starts on a line of its own.
    fn cut_after(&mut self, left: &str, changes: usize) -> Result<(), FileError> {
        let kept: String = left.split_inclusive('\n').take(1 + changes).collect();
        let outcome = if kept.ends_with('\n') {
            self.file.cut(kept.len() as u64)
        } else {
            self.file.cut(kept.len() as u64).and_then(|()| self.file.append("\n"))
        };
        outcome.map_err(|error| FileError::writing(self.file.path(), &error))
    }
}

/// A log that holds no change leaves nothing behind.
impl Drop for RecoveryLog {
    fn drop(&mut self) {
        if self.is_empty {
            self.forget_media();
            super::remove(self.file.path());
        }
    }
}

/// Proof that a plan was saved, with what the log needs to build on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SavedPlan {
    log_header: String,
}

impl SavedPlan {
    pub(super) fn of_text(text: &str) -> Self {
        Self { log_header: log_header(text) }
    }
}

/// `NAME.pattress.recovery`, beside the plan.
pub(super) fn log_path(plan: &Path) -> PathBuf {
    beside(plan, ".recovery")
}

fn beside(plan: &Path, suffix: &str) -> PathBuf {
    let mut path = plan.as_os_str().to_owned();
    path.push(suffix);
    PathBuf::from(path)
}
