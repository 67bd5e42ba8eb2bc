//! Scale the drawing beneath by two of its points and the length between them as it is on site; or check a second
//! such length against the scale it has.

use pattress_model::survey::Scale;
use pattress_model::units::Length;

use super::two_points::TwoPoints;
use super::{Around, Ghost, Tool, Touch};
use crate::window::intent::{Intent, Overlay, ScaleCheck};
use crate::window::survey::at_hand::drawing_at_hand;
use crate::window::survey::changes::scaled;

/// Said where there is nothing to work on.
pub const NO_DRAWING: &str = "There is no drawing on this level: bring one in first (Plan menu).";

/// What the length between two points is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthFor {
    /// The drawing takes its scale from it.
    Scale,
    /// It is held against the scale that the drawing has.
    Check,
}

/// The tool that scales the drawing beneath, or checks its scale.
pub struct ScaleDrawing {
    what_for: LengthFor,
    is_there: bool,
    points: TwoPoints,
}

impl ScaleDrawing {
    /// The tool for that.
    pub fn new(what_for: LengthFor) -> Self {
        Self { what_for, is_there: false, points: TwoPoints::default() }
    }
}

impl Tool for ScaleDrawing {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.is_there = drawing_at_hand(around.session).is_some();
        self.points.touch(touch, around);
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        self.points.ghost()
    }

    fn hint(&self) -> String {
        if !self.is_there {
            return NO_DRAWING.to_owned();
        }
        let words = match (self.points.begun(), self.points.both(), self.what_for) {
            (false, ..) if self.what_for == LengthFor::Check => {
                "Click the first of two other points whose distance you know, best across the first length."
            }
            (false, ..) => "Click the first of two points of the drawing whose distance you know, far apart.",
            (true, None, _) => "Click the second point.",
            (true, Some(_), _) => {
                return "Type the length between the two points (4.2m, 4200, 13ft 9in), then Enter."
                    .to_owned();
            }
        };
        self.points.told(words)
    }

    fn takes_typing(&self) -> Option<&'static str> {
        self.points.both().filter(|_| self.is_there).map(|_| "Length between the two points")
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let (Some((id, underlay)), Some((first, second))) =
            (drawing_at_hand(around.session), self.points.both())
        else {
            return Vec::new();
        };
        let length = match Length::parse(text) {
            Ok(length) => length,
            Err(sentence) => return vec![Intent::Change(Err(sentence))],
        };
        let drawing_from_plan = underlay.plan_from_drawing().inverse();
        let on_drawing = [drawing_from_plan * first, drawing_from_plan * second];
        let scale = match Scale::between(on_drawing[0], on_drawing[1], length) {
            Ok(scale) => scale,
            Err(sentence) => return vec![Intent::Change(Err(sentence))],
        };
        self.points.let_go();
        match self.what_for {
            LengthFor::Scale => scaled(around.project(), id, &scale, first),
            LengthFor::Check => {
                let check = ScaleCheck { drawing: id, on_drawing, known: length };
                vec![Intent::Open(Overlay::ScaleChecked(check))]
            }
        }
    }

    fn let_go(&mut self) -> bool {
        self.points.let_go()
    }
}
