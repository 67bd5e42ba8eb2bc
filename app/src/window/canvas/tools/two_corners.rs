//! What tools that draw by two corners share: how they answer the pointer, and sizes typed for the second one.

use kurbo::Point;
use pattress_model::units::Length;

use super::{Around, Gesture, Ghost, Touch};
use crate::window::intent::Intent;

/// A tool that draws by two corners.
pub trait TwoCorners {
    /// Shows what would be drawn with the pointer there; returns where the corner would land.
    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Point;

    /// Takes a corner: the first is kept, the second draws.
    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent>;

    /// The first corner, the one under the pointer, and what is shown meanwhile.
    fn corners(&mut self) -> &mut Corners;

    /// Drops a first corner; `false` where there is none.
    fn drop_corner(&mut self) -> bool {
        std::mem::take(self.corners()).first.is_some()
    }

    /// Answers the pointer: two clicks, or a drag from corner to corner.
    fn answer(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => self.corners().ghost = Ghost::default(),
            Gesture::DragStart { from } => {
                let at = self.show(from, around);
                if self.corners().first.is_none() {
                    return self.take(at, around);
                }
            }
            Gesture::Click | Gesture::Drop => {
                let at = self.show(touch.at, around);
                return self.take(at, around);
            }
            Gesture::RightClick => {
                self.drop_corner();
            }
            Gesture::Hover | Gesture::Drag | Gesture::DoubleClick => {
                self.show(touch.at, around);
            }
        }
        Vec::new()
    }

    /// Takes a typed size as the second corner, towards the pointer; `more` is added to each length.
    fn sized(&mut self, text: &str, more: Length, around: &Around<'_>) -> Vec<Intent> {
        let Corners { first: Some(first), second, .. } = *self.corners() else { return Vec::new() };
        match two_lengths(text) {
            Ok((width, depth)) => {
                let (width, depth) = (width + more, depth + more);
                let pointer = second.unwrap_or(first);
                self.take(corner_towards(first, pointer, width.as_mm(), depth.as_mm()), around)
            }
            Err(sentence) => vec![Intent::Change(Err(sentence))],
        }
    }
}

/// The corners of a gesture that is half done.
#[derive(Default)]
pub struct Corners {
    /// Where it began.
    pub first: Option<Point>,
    /// Where the pointer is.
    pub second: Option<Point>,
    /// What is shown meanwhile.
    pub ghost: Ghost,
}

/// Reads two lengths with a cross between them.
fn two_lengths(text: &str) -> Result<(Length, Length), String> {
    let refusal = || format!("“{}” is not a size: type 4.2m x 3.6m", text.trim());
    let (width, depth) = text.split_once(['x', 'X', '×']).ok_or_else(refusal)?;
    let (width, depth) = (Length::parse(width)?, Length::parse(depth)?);
    if width.as_mm() < 1.0 || depth.as_mm() < 1.0 { Err(refusal()) } else { Ok((width, depth)) }
}

/// The corner so far from a first one, towards where the pointer is.
fn corner_towards(first: Point, pointer: Point, width: f64, depth: f64) -> Point {
    let sign = |value: f64| if value < 0.0 { -1.0 } else { 1.0 };
    Point::new(first.x + sign(pointer.x - first.x) * width, first.y + sign(pointer.y - first.y) * depth)
}
