//! What the drawings beneath a plan say, read when someone first asks and kept while it is asked for.
//!
//! A drawing is named by its content, so what was read once stays true. Reading is done by a thread of its own;
//! the window asks in each frame and never waits.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, OnceLock};

use pattress_model::store::Media;
use pattress_model::survey::DrawingRead;

use crate::survey::{self, Asked, Read};

/// So many drawings are kept as read; whichever was not asked for the longest goes first. A scan of A1 at 300 dots
/// per inch takes 70 MB.
const MOST_KEPT: usize = 4;

/// What is known of a drawing.
#[derive(Clone, Debug)]
pub enum Drawing {
    /// It is being read.
    Coming,
    /// It was read.
    Ready(Arc<DrawingRead>),
    /// It can't be read; a sentence says why.
    Unreadable(String),
}

impl Drawing {
    /// What was read, once it was.
    pub fn ready(self) -> Option<Arc<DrawingRead>> {
        match self {
            Self::Ready(read) => Some(read),
            Self::Coming | Self::Unreadable(_) => None,
        }
    }
}

type Answer = Result<DrawingRead, String>;

/// A page of a medium: its name and the number of the page, from 1.
type Key = (String, u32);

enum State {
    Coming(Receiver<Answer>),
    Known(Drawing),
}

struct Kept {
    state: State,
    asked_last: u64,
}

/// The drawings that were asked for.
#[derive(Default)]
pub struct Drawings {
    kept: RefCell<(u64, BTreeMap<Key, Kept>)>,
    waker: OnceLock<egui::Context>,
    in_place: bool,
}

impl Drawings {
    /// Reads in place, so that tests see a drawing in the frame that asks.
    pub fn in_place() -> Self {
        Self { in_place: true, ..Self::default() }
    }

    /// The window to wake whenever a drawing has been read.
    pub fn wakes(&self, ctx: &egui::Context) {
        self.waker.get_or_init(|| ctx.clone());
    }

    /// A page of a drawing among the media; starts to read it where it was not asked for before.
    pub fn get(&self, media: &Media, name: &str, page: u32) -> Drawing {
        let mut kept = self.kept.borrow_mut();
        let (asked, by_name) = &mut *kept;
        *asked += 1;
        let key = (name.to_owned(), page);
        let found = by_name
            .entry(key)
            .or_insert_with(|| Kept { state: self.start(media, name, page), asked_last: *asked });
        found.asked_last = *asked;
        if let State::Coming(receiver) = &found.state
            && let Some(answer) = answer_of(receiver)
        {
            found.state = State::Known(match answer {
                Ok(read) => Drawing::Ready(Arc::new(read)),
                Err(sentence) => Drawing::Unreadable(sentence),
            });
        }
        let drawing = match &found.state {
            State::Coming(_) => Drawing::Coming,
            State::Known(drawing) => drawing.clone(),
        };
        make_room(by_name);
        drawing
    }

    fn start(&self, media: &Media, name: &str, page: u32) -> State {
        let Some(bytes) = media.get(name).cloned() else {
            let sentence = "the plan does not hold this drawing any more: bring it in again".to_owned();
            return State::Known(Drawing::Unreadable(sentence));
        };
        let (send, answer) = channel();
        let waker = self.waker.get().cloned();
        let name = name.to_owned();
        let read = move || {
            let _ = send.send(read(&name, &bytes, page));
            if let Some(waker) = waker {
                waker.request_repaint();
            }
        };
        if self.in_place {
            read();
        } else if let Err(error) = std::thread::Builder::new().name("drawing".to_owned()).spawn(read) {
            let sentence = format!("the drawing could not be read: {error}; try again");
            return State::Known(Drawing::Unreadable(sentence));
        }
        State::Coming(answer)
    }
}

/// What a thread brought. One that ended without a word has failed; the drawing is then unreadable.
fn answer_of(receiver: &Receiver<Answer>) -> Option<Answer> {
    use std::sync::mpsc::TryRecvError;
    match receiver.try_recv() {
        Ok(answer) => Some(answer),
        Err(TryRecvError::Empty) => None,
        Err(TryRecvError::Disconnected) => {
            Some(Err("reading the drawing failed: save it anew from where it came and bring it in again"
                .to_owned()))
        }
    }
}

/// Lets go of what was not asked for the longest; what is still being read stays.
fn make_room(by_name: &mut BTreeMap<Key, Kept>) {
    while by_name.len() > MOST_KEPT {
        let oldest = by_name
            .iter()
            .filter(|(_, kept)| matches!(kept.state, State::Known(_)))
            .min_by_key(|(_, kept)| kept.asked_last)
            .map(|(key, _)| key.clone());
        let Some(oldest) = oldest else { return };
        by_name.remove(&oldest);
    }
}

/// Reads a page of a medium.
fn read(name: &str, bytes: &[u8], page: u32) -> Answer {
    let asked = Asked { page, password: None };
    match survey::read(name, bytes.to_vec(), &asked, &|_| true) {
        Ok(Read::Page(read)) => Ok(read.into()),
        // What is kept is as large as it is used, so that a pixel of it is a unit of the drawing.
        Ok(Read::Picture(read)) => Ok(read.grey.into()),
        Ok(Read::Building) => Err("it is a model of a building and no drawing".to_owned()),
        Err(error) => Err(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(media: &mut Media, shade: u8) -> String {
        let mut bytes = std::io::Cursor::new(Vec::new());
        image::GrayImage::from_pixel(4, 3, image::Luma([shade]))
            .write_to(&mut bytes, image::ImageFormat::Png)
            .unwrap();
        media.keep(bytes.into_inner(), "png")
    }

    #[test]
    fn a_picture_comes_in_grey_and_what_is_gone_is_said() {
        let mut media = Media::default();
        let name = picture(&mut media, 77);
        let drawings = Drawings::in_place();
        let read = drawings.get(&media, &name, 1).ready().expect("read");
        let grey = &read.pixels.as_ref().expect("a picture").grey;
        assert_eq!((grey.width(), grey.height(), grey.at(1, 1)), (4, 3, 77));
        assert!(matches!(drawings.get(&media, "gone.png", 1), Drawing::Unreadable(_)));
        let broken = media.keep(b"no picture".to_vec(), "png");
        assert!(matches!(drawings.get(&media, &broken, 1), Drawing::Unreadable(_)));
    }

    #[test]
    fn a_thread_reads_and_the_window_does_not_wait() {
        let mut media = Media::default();
        let name = picture(&mut media, 200);
        let drawings = Drawings::default();
        let patience = std::time::Duration::from_secs(10);
        let begun = std::time::Instant::now();
        while drawings.get(&media, &name, 1).ready().is_none() {
            assert!(begun.elapsed() < patience, "never read");
            std::thread::yield_now();
        }
    }

    #[test]
    fn only_the_last_few_are_kept() {
        let mut media = Media::default();
        let drawings = Drawings::in_place();
        let names: Vec<String> = (0..7).map(|shade| picture(&mut media, shade)).collect();
        for name in &names {
            assert!(drawings.get(&media, name, 1).ready().is_some());
        }
        assert_eq!(drawings.kept.borrow().1.len(), MOST_KEPT);
        assert!(drawings.get(&media, &names[0], 1).ready().is_some(), "read again");
    }
}
