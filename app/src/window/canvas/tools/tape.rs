//! The tape: two clicks, and the distance between stays until the next.

use kurbo::Point;
use pattress_model::units::Length;

use super::figures::in_mm;
use super::{Around, Gesture, Ghost, Measure, Tool, Touch, faces};
use crate::window::intent::Intent;

/// The tape.
#[derive(Default)]
pub struct Tape {
    from: Option<Point>,
    to: Option<Point>,
    why: &'static str,
    of_drawing: bool,
    ghost: Ghost,
}

impl Tape {
    /// What the tape is held to: a face of a wall, a device, else what any point catches.
    fn held_to(&mut self, at: Point, around: &mut Around<'_>) -> Point {
        self.of_drawing = false;
        if around.snapping {
            if let Some(caught) = faces::catch(around.project(), around.level(), at, around.reach()) {
                self.why = caught.words();
                return caught.at;
            }
            let project = around.project();
            let device = project
                .devices_on(around.level())
                .filter_map(|(_, device, _)| project.position_of(device))
                .filter(|stands| (*stands - at).hypot() <= around.reach())
                .min_by(|a, b| (*a - at).hypot2().total_cmp(&(*b - at).hypot2()));
            if let Some(stands) = device {
                self.why = "device";
                return stands;
            }
        }
        let caught = around.snap(at, self.from.filter(|_| self.to.is_none()), &[]);
        self.why = caught.why.words();
        self.of_drawing = caught.why.is_of_the_drawing();
        caught.at
    }

    fn show(&mut self, at: Point) {
        self.ghost = Ghost { mark: Some(at), of_drawing: self.of_drawing, ..Ghost::default() };
        if let Some(from) = self.from {
            self.ghost.measures.push(reading(from, self.to.unwrap_or(at)));
        }
    }
}

fn reading(from: Point, to: Point) -> Measure {
    let run = to - from;
    let figure = |value: f64| in_mm(Length::mm(value.abs()));
    let words = format!("{}   Δx {}   Δy {}", figure(run.hypot()), figure(run.x), figure(run.y));
    Measure { from, to, words }
}

impl Tool for Tape {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        let start = match touch.gesture {
            Gesture::Away => {
                self.ghost.mark = None;
                return Vec::new();
            }
            Gesture::RightClick => {
                self.let_go();
                return Vec::new();
            }
            Gesture::DragStart { from } => from,
            _ => touch.at,
        };
        let at = self.held_to(start, around);
        match (touch.gesture, self.from, self.to) {
            (Gesture::Click, None, _) | (Gesture::Click | Gesture::DragStart { .. }, Some(_), Some(_)) => {
                (self.from, self.to) = (Some(at), None);
            }
            (Gesture::DragStart { .. }, None, _) => self.from = Some(at),
            (Gesture::Click | Gesture::Drop, Some(_), None) => self.to = Some(at),
            _ => {}
        }
        self.show(at);
        match (touch.gesture, self.from, self.to) {
            (Gesture::Click | Gesture::Drop, Some(from), Some(to)) => {
                vec![Intent::Say(format!("{} mm.", reading(from, to).words))]
            }
            _ => Vec::new(),
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match (self.from, self.to) {
            (None, _) => format!("Click where to measure from: {}.", self.why),
            (Some(_), None) => format!("Click where to measure to: {}.", self.why),
            (Some(_), Some(_)) => format!("Click to measure anew: {}.", self.why),
        }
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.to = None;
        self.from.take().is_some()
    }
}
