//! Two points of the drawing beneath, picked by eye: what scaling, checking and levelling share.

use kurbo::Point;

use super::figures::measured;
use super::{Gesture, Ghost, Touch};

/// Points nearer together than this say too little, screen points.
const NEAREST: f64 = 6.0;

/// Two points as they are picked: by two clicks, or by a drag from one to the other.
#[derive(Default)]
pub struct TwoPoints {
    first: Option<Point>,
    second: Option<Point>,
    ghost: Ghost,
}

impl TwoPoints {
    /// Answers the pointer. Nothing of the plan is caught: points of a drawing are pointed at by eye. Whether the
    /// second point was picked just now.
    pub fn touch(&mut self, touch: Touch, mm_per_point: f64) -> bool {
        let at = touch.at;
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
            Gesture::DragStart { from } => (self.first, self.second) = (Some(from), None),
            Gesture::Click | Gesture::Drop
                if self.first.is_some_and(|first| (at - first).hypot() >= NEAREST * mm_per_point) =>
            {
                self.second = Some(at);
                complete = true;
            }
            _ => {}
        }
        self.ghost = Ghost { mark: Some(at), ..Ghost::default() };
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
