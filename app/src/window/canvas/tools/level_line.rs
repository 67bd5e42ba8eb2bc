//! Level a line: two points along a wall or a frame that is level or upright on site, and the drawing is turned until
//! it lies so.

use pattress_model::survey::straighten::level_turn;

use super::scale_drawing::NO_DRAWING;
use super::two_points::TwoPoints;
use super::{Around, Ghost, Tool, Touch};
use crate::window::intent::Intent;
use crate::window::survey::at_hand::drawing_at_hand;
use crate::window::survey::changes::turned;

/// The tool that levels a line of the drawing beneath.
#[derive(Default)]
pub struct LevelLine {
    is_there: bool,
    points: TwoPoints,
}

impl Tool for LevelLine {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        let drawing = drawing_at_hand(around.session);
        self.is_there = drawing.is_some();
        if !self.points.touch(touch, around) {
            return Vec::new();
        }
        let (Some((id, _)), Some((first, second))) = (drawing, self.points.both()) else { return Vec::new() };
        self.points.let_go();
        turned(around.project(), id, first, level_turn(first, second))
    }

    fn ghost(&self) -> &Ghost {
        self.points.ghost()
    }

    fn hint(&self) -> String {
        let words = match (self.is_there, self.points.begun()) {
            (false, _) => NO_DRAWING,
            (true, false) => {
                "Click one end of a long line that is level or upright on site, such as an outer wall."
            }
            (true, true) => {
                "Click its other end: the drawing turns about the first until the line lies level or upright."
            }
        };
        self.points.told(words)
    }

    fn let_go(&mut self) -> bool {
        self.points.let_go()
    }
}
