//! The desk: the one file that is being brought in, and the one piece of work on a drawing beneath.
//!
//! A file is read on a thread and lies here with its picture until someone says where and at which scale it goes.
//! Nothing of it is in the plan before that.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

use egui::ColorImage;

use super::reading::{self, Brought, Failure, What};
use super::work::{Hands, Work};
use crate::survey::{self, Asked};

/// So many pages are offered as small pictures; those beyond are chosen by number.
const MOST_THUMBNAILS: u32 = 48;

/// The longer side of a small picture of a page, pixels.
const THUMBNAIL_PX: f64 = 200.0;

/// How far a file has come.
#[derive(Clone, Default)]
pub enum Stand {
    /// No file is in hand.
    #[default]
    Empty,
    /// It is being read.
    Reading,
    /// It asks for a password; `true` where one was typed that does not open it.
    Locked(bool),
    /// It can't be read; a sentence says why.
    Refused(String),
    /// It was read.
    Read(Brought),
}

/// A file on its way in.
#[derive(Default)]
pub struct Desk {
    path: PathBuf,
    bytes: Option<Arc<[u8]>>,
    asked: Asked,
    stand: Stand,
    reading: Option<Work<Answer>>,
    thumbnails: Thumbnails,
    /// Counts what was read, to tell one from another.
    number: u64,
}

struct Answer {
    bytes: Option<Arc<[u8]>>,
    read: Result<Brought, Failure>,
}

/// Small pictures of the pages of a PDF, as they come.
#[derive(Default)]
pub struct Thumbnails {
    coming: Option<(Work<()>, Receiver<(u32, ColorImage)>)>,
    come: Vec<(u32, Arc<ColorImage>)>,
}

impl Desk {
    /// How far the file has come.
    pub fn stand(&self) -> &Stand {
        &self.stand
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The name of the file, for people.
    pub fn name(&self) -> String {
        self.path
            .file_name()
            .map_or_else(|| self.path.display().to_string(), |name| name.to_string_lossy().into_owned())
    }

    /// Counts what was read.
    pub fn number(&self) -> u64 {
        self.number
    }

    /// Small pictures of pages that have come so far, with their numbers.
    pub fn thumbnails(&self) -> &[(u32, Arc<ColorImage>)] {
        &self.thumbnails.come
    }

    /// What is being read and how much of it is.
    pub fn progress(&self) -> Option<(&str, f32)> {
        self.reading.as_ref().map(|work| (work.what(), work.share()))
    }

    /// Takes another file in hand and begins to read it.
    pub fn take(&mut self, path: PathBuf, hands: &Hands) {
        let number = self.number;
        *self = Self { path, number, ..Self::default() };
        self.read(hands);
    }

    /// Reads another page of the file.
    pub fn turn_to(&mut self, page: u32, hands: &Hands) {
        self.asked.page = page;
        self.read(hands);
    }

    /// Tries a password.
    pub fn unlock(&mut self, password: String, hands: &Hands) {
        self.asked.password = Some(password);
        self.read(hands);
    }

    /// Stops reading.
    pub fn stop(&self) {
        if let Some(work) = &self.reading {
            work.stop();
        }
    }

    /// Lays the file down; what is being read is given up.
    pub fn clear(&mut self) {
        let number = self.number;
        *self = Self { number, ..Self::default() };
    }

    fn read(&mut self, hands: &Hands) {
        let (path, name, asked) = (self.path.clone(), self.name(), self.asked.clone());
        let held = self.bytes.clone();
        let work = Work::begin(format!("Reading {name}"), hands, move |keep_going| {
            let bytes = match held.map_or_else(|| reading::bytes_of(&path), Ok) {
                Ok(bytes) => bytes,
                Err(failure) => return Answer { bytes: None, read: Err(failure) },
            };
            let read = reading::read(&name, &bytes, &asked, keep_going);
            Answer { bytes: Some(bytes), read }
        })
        .in_steps(&reading::STEPS);
        self.reading = Some(work);
        if !matches!(self.stand, Stand::Read(_)) {
            self.stand = Stand::Reading;
        }
    }

    /// Takes in what a thread has brought; whether that was the end of reading.
    pub fn keep_up(&mut self, hands: &Hands) -> bool {
        self.thumbnails.keep_up();
        let Some(answer) = self.reading.as_ref().and_then(Work::answer) else { return false };
        self.reading = None;
        let Answer { bytes, read } = answer.unwrap_or_else(|lost| Answer {
            bytes: None,
            read: Err(Failure::Refused(format!("“{}”: {lost}", self.name()))),
        });
        self.bytes = bytes.or(self.bytes.take());
        match read {
            Ok(brought) => {
                self.number += 1;
                self.begin_thumbnails(&brought, hands);
                self.stand = Stand::Read(brought);
            }
            Err(Failure::Locked) => self.stand = Stand::Locked(self.asked.password.is_some()),
            Err(Failure::Refused(sentence)) => self.stand = Stand::Refused(sentence),
            // What was read before stays in hand.
            Err(Failure::Stopped) if matches!(self.stand, Stand::Read(_)) => {}
            Err(Failure::Stopped) => {
                self.stand = Stand::Refused(format!("Reading “{}” was stopped.", self.name()));
            }
        }
        true
    }

    fn begin_thumbnails(&mut self, brought: &Brought, hands: &Hands) {
        let What::Page(page) = &brought.what else { return };
        let (Some(bytes), false) = (&self.bytes, page.pages < 2 || self.thumbnails.coming.is_some()) else {
            return;
        };
        let (bytes, name, password) = (Arc::clone(bytes), self.name(), self.asked.password.clone());
        let pages = page.pages.min(MOST_THUMBNAILS);
        let px_per_mm = THUMBNAIL_PX / page.size_mm.0.max(page.size_mm.1).max(1.0);
        let (send, receive) = channel();
        let work = Work::begin("Painting pages".to_owned(), hands, move |keep_going| {
            for page in 1..=pages {
                let asked = Asked { page, password: password.clone() };
                if !keep_going(page as f32 / pages as f32) {
                    return;
                }
                let painted = survey::render_page(&name, &bytes, &asked, px_per_mm, &|_| keep_going(0.0));
                if let Ok(painted) = painted
                    && send.send((page, reading::image_of(painted))).is_err()
                {
                    return;
                }
            }
        });
        self.thumbnails.coming = Some((work, receive));
        self.thumbnails.keep_up();
    }
}

impl Thumbnails {
    fn keep_up(&mut self) {
        if let Some((_, coming)) = &self.coming {
            self.come.extend(coming.try_iter().map(|(page, image)| (page, Arc::new(image))));
        }
    }
}
