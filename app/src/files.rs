//! Files: the only place that touches a disk.
//!
//! A plan is a ZIP (`NAME.pattress`) or a folder with the same content. Saving writes beside, syncs and
//! renames, so that a plan is either as it was or as it is now; what can't be read whole is never written
//! over. While a plan is open, its [`RecoveryLog`] lies beside it and keeps other windows out.

mod error;
mod pack;
mod recovery_log;

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, BufReader, BufWriter, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use pattress_model::project::Project;
use pattress_model::store::{Media, read_project, write_project};

use crate::survey;
pub use crate::survey::PictureFile;
pub use error::FileError;
use error::name;
use pack::{LARGEST_MEDIUM, LARGEST_PROJECT, PROJECT};
pub use recovery_log::{Recovered, RecoveryLog, SavedPlan};

/// A plan as it was read, without being opened for work.
#[derive(Clone, Debug)]
pub struct ReadPlan {
    /// The plan.
    pub project: Project,
    /// Its pictures.
    pub media: Media,
    /// One sentence for each picture that the plan names and the file does not hold.
    pub missing_media: Vec<String>,
    /// The text it was read from, which the recovery log builds on.
    text: String,
}

/// A plan opened for work.
#[derive(Debug)]
pub struct OpenPlan {
    /// The file or the folder.
    pub path: PathBuf,
    /// The plan, with recovered changes on top.
    pub project: Project,
    /// Its pictures.
    pub media: Media,
    /// What a crash left in the recovery log, where it left anything. The plan is then not as saved.
    pub recovered: Option<Recovered>,
    /// One sentence for each picture that the plan names and the file does not hold.
    pub missing_media: Vec<String>,
    /// Sentences about what else the people at the window should know.
    pub warnings: Vec<String>,
    /// The log to append changes to; `None` where none can be kept, which a warning says.
    pub log: Option<RecoveryLog>,
}

/// Reads a plan from a `.pattress` file, a folder, or the `project.json` in one.
///
/// # Errors
/// [`FileError`]: one sentence that names the file, the place and the way out.
pub fn read(path: &Path) -> Result<ReadPlan, FileError> {
    let path = plan_path(path);
    let about = fs::metadata(&path).map_err(|error| FileError::reading(&path, &error))?;
    let (text, media) = if about.is_dir() {
        read_folder(&path)?
    } else if about.is_file() {
        read_packed(&path)?
    } else {
        return Err(FileError::NoPlan {
            file: name(&path),
            what: "it is neither file nor folder".to_owned(),
        });
    };
    let project =
        read_project(&text).map_err(|reason| FileError::Unreadable { file: name(&path), reason })?;
    let missing_media = missing_media(&path, &project, &media);
    Ok(ReadPlan { project, media, missing_media, text })
}

fn missing_media(path: &Path, project: &Project, media: &Media) -> Vec<String> {
    project
        .underlays
        .iter()
        .filter(|(_, underlay)| media.get(&underlay.media).is_none())
        .map(|(_, underlay)| {
            format!(
                "“{}” does not hold “media/{}”, the picture of the underlay “{}”: the plan opens without it, so \
                 load the picture again",
                name(path),
                underlay.media,
                underlay.name
            )
        })
        .collect()
}

/// Opens a plan for work: locks it against other windows and plays what a crash left in its recovery log.
///
/// # Errors
/// [`FileError`]: one sentence that names the file, the place and the way out.
pub fn open(path: &Path) -> Result<OpenPlan, FileError> {
    let path = plan_path(path);
    if let Err(error) = fs::metadata(&path) {
        return Err(FileError::reading(&path, &error));
    }
    let log = match RecoveryLog::lock(&path) {
        Err(refusal @ FileError::InUse { .. }) => return Err(refusal),
        other => other,
    };
    let ReadPlan { mut project, mut media, text, .. } = read(&path)?;
    let taken_up = log.and_then(|log| log.take_up(&text, &mut project, &mut media));
    let (log, recovered, warnings) = match taken_up {
        Ok(taken) => (Some(taken.log), taken.recovered, taken.warnings),
        Err(refusal) => {
            (None, None, vec![format!("changes are not kept between saves, so save often: {refusal}")])
        }
    };
    let missing_media = missing_media(&path, &project, &media);
    Ok(OpenPlan { path, project, media, recovered, missing_media, warnings, log })
}

/// Saves a plan: as a folder where the path is one or has no ending, else packed. Only media that an underlay shows
/// are written: what was removed stays at hand in the session that may yet undo it, and in its recovery log.
/// Whatever stood there before is replaced whole, or left as it is.
///
/// # Errors
/// [`FileError`]: [`FileError::NotWrittenOver`] where what is there can't be read whole, and others.
pub fn save(path: &Path, project: &Project, media: &Media) -> Result<SavedPlan, FileError> {
    let path = full_path(&plan_path(path));
    let is_folder = path.is_dir() || (!path.exists() && path.extension().is_none());
    let is_new = if is_folder { is_empty_folder(&path) } else { fs::symlink_metadata(&path).is_err() };
    if !is_new && let Err(reason) = read(&path) {
        return Err(FileError::NotWrittenOver { file: name(&path), reason: Box::new(reason) });
    }
    let text = write_project(project);
    let is_shown = |medium: &str| project.underlays.iter().any(|(_, underlay)| underlay.media == medium);
    let media = &media.only(is_shown);
    pack::check_limits(&name(&path), &text, media)?;
    // What this release could not read again would be lost: better to say so while the plan is in hand.
    if let Err(reason) = read_project(&text) {
        return Err(FileError::NotSaved { file: name(&path), reason });
    }
    if is_folder {
        make_folder(&path)?;
        for (medium, bytes) in media.iter() {
            let place = path.join("media").join(medium);
            if !fs::metadata(&place).is_ok_and(|there| there.len() == bytes.len() as u64) {
                write_bytes(&place, bytes)?;
            }
        }
        write_bytes(&path.join(PROJECT), text.as_bytes())?;
        remove_media_but(&path.join("media"), is_shown);
    } else {
        write_beside(&path, |file| pack::pack(&text, media, file).map(|_| ()))?;
    }
    Ok(SavedPlan::of_text(&text))
}

/// Starts a recovery log for a plan that was just saved to a path it was not opened from.
///
/// # Errors
/// [`FileError::InUse`] where another window has that plan open, or [`FileError::CannotWrite`].
pub fn start_log(path: &Path, saved: &SavedPlan) -> Result<RecoveryLog, FileError> {
    let mut log = RecoveryLog::lock(&plan_path(path))?;
    log.begin_again(saved)?;
    Ok(log)
}

/// Where a plan is kept, with its recovery log, until it is saved for the first time. `None` where the system
/// names no place for such things.
fn scratch_path() -> Option<PathBuf> {
    let named = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let folder = named("XDG_STATE_HOME")
        .or_else(|| named("LOCALAPPDATA"))
        .or_else(|| named("HOME").map(|home| home.join(".local").join("state")))?;
    Some(folder.join("pattress").join("not-yet-saved.pattress"))
}

/// Starts a recovery log for a plan that was never saved.
///
/// # Errors
/// [`FileError::InUse`] where another window keeps one, or [`FileError::CannotWrite`].
pub fn start_scratch(project: &Project, media: &Media) -> Result<RecoveryLog, FileError> {
    let path =
        scratch_path().ok_or_else(|| FileError::Missing { file: "a folder for unsaved work".to_owned() })?;
    if let Some(folder) = path.parent() {
        make_folder(folder)?;
    }
    let mut log = RecoveryLog::lock(&path)?;
    log.begin_again(&save(&path, project, media)?)?;
    Ok(log)
}

/// What a crash left of a plan that was never saved, if it left anything.
pub fn take_up_scratch() -> Option<OpenPlan> {
    let left = open(&scratch_path()?).ok()?;
    if left.recovered.is_some() {
        return Some(left);
    }
    if let Some(log) = left.log {
        log.close();
        remove_scratch();
    }
    None
}

/// Removes the plan that was never saved: it has been saved, or given up.
pub fn remove_scratch() {
    if let Some(path) = scratch_path() {
        // What is not there need not be removed; what can't be removed is only found and emptied next time.
        let _ = fs::remove_file(path);
    }
}

/// Whether there is something of that name, whatever it is.
pub fn is_there(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok()
}

/// Reads the bytes of a drawing to lay under the plan; what they are is told by [`crate::survey`].
///
/// # Errors
/// [`FileError`]: one sentence that names the file, what is wrong with it and what to do.
pub fn read_drawing(path: &Path) -> Result<Vec<u8>, FileError> {
    read_file_within(path, LARGEST_MEDIUM)
}

/// Reads a picture to trace: by its content, whole, and of a size that can be shown.
///
/// # Errors
/// [`FileError`]: one sentence that names the file, what is wrong with it and what to do.
pub fn read_picture(path: &Path) -> Result<PictureFile, FileError> {
    let file = name(path);
    match survey::read(&file, read_drawing(path)?, &survey::Asked::default(), &|_| true) {
        Ok(survey::Read::Picture(read)) => Ok(read.picture),
        Ok(_) => {
            let what = "it is no picture whatever its name says, so bring it in as a drawing".to_owned();
            Err(FileError::Picture { file, what })
        }
        Err(error) => Err(FileError::Drawing { reason: error }),
    }
}

/// Writes bytes to a path, whole or not at all; the folder is made where it is not there.
///
/// # Errors
/// [`FileError::CannotWrite`].
pub fn write_bytes(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    if let Some(folder) = path.parent() {
        make_folder(folder)?;
    }
    write_beside(path, |file| file.write_all(bytes))
}

/// Makes a folder, and those above it.
///
/// # Errors
/// [`FileError::CannotWrite`].
pub fn make_folder(path: &Path) -> Result<(), FileError> {
    fs::create_dir_all(path).map_err(|error| FileError::writing(path, &error))
}

/// The plan that a path means: `project.json` stands for its folder.
fn plan_path(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if path.file_name().is_some_and(|file| file == PROJECT) => {
            if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.to_owned() }
        }
        _ => path.to_owned(),
    }
}

/// The path without links and dots, where it leads somewhere.
fn full_path(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

fn is_empty_folder(path: &Path) -> bool {
    match fs::read_dir(path) {
        Ok(mut entries) => entries.next().is_none(),
        Err(error) => error.kind() == io::ErrorKind::NotFound,
    }
}

fn read_folder(path: &Path) -> Result<(String, Media), FileError> {
    let project = path.join(PROJECT);
    if !project.is_file() {
        return Err(FileError::NoPlan {
            file: name(path),
            what: "it is a folder without a project.json".to_owned(),
        });
    }
    let text = pack::text_of(&name(&project), read_file_within(&project, LARGEST_PROJECT)?)?;
    let mut media = Media::default();
    let folder = path.join("media");
    let Ok(entries) = fs::read_dir(&folder) else { return Ok((text, media)) };
    for entry in entries {
        let entry = entry.map_err(|error| FileError::reading(&folder, &error))?;
        // What else lies in the folder is left alone, since saving does not remove it.
        let Some(medium) = entry.file_name().to_str().map(str::to_owned) else { continue };
        if pack::is_medium_name(&medium) {
            let bytes = read_file_within(&entry.path(), LARGEST_MEDIUM)?;
            pack::keep_medium(&name(path), &medium, bytes, &mut media)?;
        }
    }
    Ok((text, media))
}

fn read_packed(path: &Path) -> Result<(String, Media), FileError> {
    let failed = |error: io::Error| FileError::reading(path, &error);
    let mut file = BufReader::new(File::open(path).map_err(failed)?);
    let mut start = Vec::new();
    file.by_ref().take(2).read_to_end(&mut start).map_err(failed)?;
    file.seek(SeekFrom::Start(0)).map_err(failed)?;
    match start.as_slice() {
        b"PK" => pack::unpack(&name(path), file),
        [] => Err(FileError::Empty { file: name(path) }),
        _ => Err(FileError::NoPlan { file: name(path), what: "its content is of another sort".to_owned() }),
    }
}

/// Reads a whole file that is neither empty nor larger than the limit.
fn read_file_within(path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    let failed = |error: io::Error| FileError::reading(path, &error);
    let mut bytes = Vec::new();
    File::open(path).map_err(failed)?.take(limit + 1).read_to_end(&mut bytes).map_err(failed)?;
    match bytes.len() as u64 {
        0 => Err(FileError::Empty { file: name(path) }),
        length if length > limit => Err(FileError::TooLarge {
            file: name(path),
            part: "more bytes than a plan needs".to_owned(),
            limit: format!("{} MB", limit / 1_000_000),
        }),
        _ => Ok(bytes),
    }
}

/// Writes a file beside its place, syncs it, and renames it into place.
fn write_beside(
    path: &Path,
    write: impl FnOnce(&mut BufWriter<&File>) -> io::Result<()>,
) -> Result<(), FileError> {
    let failed = |error: io::Error| FileError::writing(path, &error);
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".pattress-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let beside = builder.tempfile_in(folder).map_err(failed)?;
    if let Ok(before) = fs::metadata(path) {
        if before.permissions().readonly() {
            return Err(failed(io::Error::new(io::ErrorKind::PermissionDenied, "it is marked read-only")));
        }
        fs::set_permissions(beside.path(), before.permissions()).map_err(failed)?;
    }
    let mut writer = BufWriter::new(beside.as_file());
    write(&mut writer).and_then(|()| writer.flush()).map_err(failed)?;
    drop(writer);
    beside.as_file().sync_all().map_err(failed)?;
    beside.persist(path).map_err(|error| failed(error.error))?;
    // The rename itself is on the disk once the folder is; only Unix lets a folder be synced.
    #[cfg(unix)]
    File::open(folder).and_then(|folder| folder.sync_all()).map_err(failed)?;
    Ok(())
}

/// Media lying in a folder; what can't be read is passed over.
fn media_in(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    entries
        .flatten()
        .filter_map(|entry| Some((entry.file_name().to_str()?.to_owned(), entry.path())))
        .filter(|(medium, _)| pack::is_medium_name(medium))
        .filter_map(|(medium, path)| Some((medium, read_file_within(&path, LARGEST_MEDIUM).ok()?)))
        .collect()
}

/// Removes the media of a folder that nothing shows any more; files with other names are none of ours.
fn remove_media_but(folder: &Path, is_shown: impl Fn(&str) -> bool) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let medium = entry.file_name();
        if medium.to_str().is_some_and(|medium| pack::is_medium_name(medium) && !is_shown(medium)) {
            remove(&entry.path());
        }
    }
}

/// Removes a file of our own; that it is gone already is no fault.
fn remove(path: &Path) {
    let _ = fs::remove_file(path);
}

fn remove_empty_folder(path: &Path) {
    let _ = fs::remove_dir(path);
}

/// Whether that path still leads to that open file.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(path)) {
        (Ok(open), Ok(there)) => open.dev() == there.dev() && open.ino() == there.ino(),
        _ => false,
    }
}

/// Whether that path still leads to that open file: told from the path alone where files have no number.
#[cfg(not(unix))]
fn is_at(_: &File, path: &Path) -> bool {
    path.exists()
}

/// The file of a recovery log, held under a lock for as long as it lives.
#[derive(Debug)]
struct LogFile {
    path: PathBuf,
    file: File,
}

impl LogFile {
    fn lock(path: &Path, plan: &Path) -> Result<Self, FileError> {
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(path)
            .map_err(|error| FileError::writing(path, &error))?;
        match file.try_lock() {
            // Whoever held it may have removed it just before letting go: then there is a newer one, or none.
            Ok(()) if !is_at(&file, path) => Self::lock(path, plan),
            Ok(()) => Ok(Self { path: path.to_owned(), file }),
            Err(TryLockError::WouldBlock) => Err(FileError::InUse { file: name(plan) }),
            Err(TryLockError::Error(error)) => Err(FileError::writing(path, &error)),
        }
    }

    fn path(&self) -> &Path {
        &self.path
    }

    fn is_empty(&self) -> bool {
        self.file.metadata().is_ok_and(|about| about.len() == 0)
    }

    /// The text so far. A character torn by a crash ends it.
    fn read(&mut self) -> io::Result<String> {
        let mut bytes = Vec::new();
        self.file.seek(SeekFrom::Start(0))?;
        Read::by_ref(&mut self.file).take(LARGEST_PROJECT).read_to_end(&mut bytes)?;
        let sound = match std::str::from_utf8(&bytes) {
            Ok(_) => bytes.len(),
            Err(error) => error.valid_up_to(),
        };
        bytes.truncate(sound);
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }

    fn append(&mut self, text: &str) -> io::Result<()> {
        self.file.seek(SeekFrom::End(0))?;
        self.file.write_all(text.as_bytes())?;
        self.file.sync_data()
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.file.set_len(length)
    }

    fn replace(&mut self, text: &str) -> io::Result<()> {
        self.cut(0)?;
        self.append(text)
    }
}
