//! Two points of the drawing beneath: what scaling, checking and levelling share.

use kurbo::Point;

use super::figures::measured;
use super::{Around, Gesture, Ghost, Touch};

/// Points nearer together than this say too little, screen points.
const NEAREST: f64 = 6.0;

/// Two points as they are picked: by two clicks, or by a drag from one to the other.
#[derive(Default)]
pub struct TwoPoints {
    first: Option<Point>,
    second: Option<Point>,
    why: &'static str,
    ghost: Ghost,
}

impl TwoPoints {
    /// Answers the pointer. The drawing is caught and nothing of the plan, for it is the drawing that is measured.
    /// Whether the second point was picked just now.
    pub fn touch(&mut self, touch: Touch, around: &Around<'_>) -> bool {
        let caught = around.snap_to_drawing(touch.at);
        let at = caught.map_or(touch.at, |caught| caught.at);
        self.why = caught.map_or("", |caught| caught.why.words());
        let mut complete = false;
        match touch.gesture {
            Gesture::Away => {
                self.ghost.mark = None;
                return false;
            }
            Gesture::RightClick => {
                self.let_go();
                return false;
            }
            Gesture::Click if self.first.is_none() || self.second.is_some() => {
                (self.first, self.second) = (Some(at), None);
            }
            Gesture::DragStart { from } => {
                let from = around.snap_to_drawing(from).map_or(from, |caught| caught.at);
                (self.first, self.second) = (Some(from), None);
            }
            Gesture::Click | Gesture::Drop
                if self.first.is_some_and(|first| (at - first).hypot() >= NEAREST * around.mm_per_point) =>
            {
                self.second = Some(at);
                complete = true;
            }
            _ => {}
        }
        self.ghost = Ghost { mark: Some(at), of_drawing: caught.is_some(), ..Ghost::default() };
        if let Some(first) = self.first {
            self.ghost.measures.push(measured(first, self.second.unwrap_or(at)));
        }
        complete
    }

    /// Both points, once both are picked.
    pub fn both(&self) -> Option<(Point, Point)> {
        self.first.zip(self.second)
    }

    /// Whether the first is picked.
    pub fn begun(&self) -> bool {
        self.first.is_some()
    }

    /// A sentence with what the pointer catches.
    pub fn told(&self, words: &str) -> String {
        match self.why {
            "" => words.to_owned(),
            why => format!("{}: {why}.", words.trim_end_matches('.')),
        }
    }

    /// What shows.
    pub fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    /// Drops what is picked; whether there was anything.
    pub fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.second = None;
        self.first.take().is_some()
    }
}
