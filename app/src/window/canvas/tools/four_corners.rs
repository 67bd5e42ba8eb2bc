//! Four corners: on a photograph of a plan, drag four handles onto the corners of something whose width and depth are
//! known, type both, and the photograph is drawn anew, square and to scale.

use kurbo::Point;
use pattress_model::id::Id;
use pattress_model::plan::Underlay;
use pattress_model::units::Length;

use super::scale_drawing::NO_DRAWING;
use super::{Around, Gesture, Ghost, Measure, Tool, Touch};
use crate::survey::Corners;
use crate::window::intent::{Intent, Surveying};
use crate::window::survey::Drawing;
use crate::window::survey::at_hand::{drawing_at_hand, is_page};

/// The handles begin so far within the edges of the photograph, as a share of its sides.
const BEGIN_WITHIN: f64 = 0.2;

/// A handle is caught from so far, screen points.
const REACH: f64 = 12.0;

/// What the drawing is made of: only pixels can be made square.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum MadeOf {
    #[default]
    Pixels,
    Lines,
    NotYetKnown,
}

fn made_of(underlay: &Underlay, around: &Around<'_>) -> MadeOf {
    if !is_page(underlay) {
        return MadeOf::Pixels;
    }
    match around.surveyed.drawings.get(around.session.media(), &underlay.media, underlay.page) {
        Drawing::Ready(read) if read.pixels.is_some() => MadeOf::Pixels,
        Drawing::Coming => MadeOf::NotYetKnown,
        Drawing::Ready(_) | Drawing::Unreadable(_) => MadeOf::Lines,
    }
}

/// The tool with the four handles.
#[derive(Default)]
pub struct FourCorners {
    drawing: Option<Id<Underlay>>,
    is_made_of: MadeOf,
    /// On the plan: upper left, upper right, lower right, lower left.
    corners: Option<[Point; 4]>,
    dragged: Option<usize>,
    moved: bool,
    width: Option<Length>,
    ghost: Ghost,
}

impl FourCorners {
    fn begin(&mut self, around: &Around<'_>) {
        let Some((id, underlay)) = drawing_at_hand(around.session) else {
            *self = Self::default();
            return;
        };
        let is_made_of = made_of(underlay, around);
        if self.drawing == Some(id) {
            self.is_made_of = is_made_of;
            return;
        }
        let (width, height) = (underlay.width, underlay.height);
        let (left, right) = (BEGIN_WITHIN * width, (1.0 - BEGIN_WITHIN) * width);
        let (top, bottom) = (BEGIN_WITHIN * height, (1.0 - BEGIN_WITHIN) * height);
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        let plan_from_drawing = underlay.plan_from_drawing();
        *self = Self {
            drawing: Some(id),
            is_made_of,
            corners: Some(corners.map(|(x, y)| plan_from_drawing * Point::new(x, y))),
            ..Self::default()
        };
    }

    fn show(&mut self, at: Option<Point>) {
        self.ghost = Ghost::default();
        let Some(corners) = self.corners.filter(|_| self.is_made_of == MadeOf::Pixels) else { return };
        self.ghost.handles = corners.to_vec();
        let sides = [(0, 1, "width"), (1, 2, "depth"), (2, 3, ""), (3, 0, "")];
        for (from, to, words) in sides {
            let (from, to) = (corners[from], corners[to]);
            match (words, self.width) {
                ("", _) => self.ghost.guides.push((from, to)),
                ("width", Some(width)) => {
                    self.ghost.measures.push(Measure { from, to, words: format!("width {width} mm") });
                }
                _ => self.ghost.measures.push(Measure { from, to, words: words.to_owned() }),
            }
        }
        self.ghost.mark = at.filter(|_| self.dragged.is_some());
    }
}

impl Tool for FourCorners {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.begin(around);
        match touch.gesture {
            Gesture::Away if self.dragged.is_none() => {
                self.show(None);
                self.ghost.handles.clear();
                self.ghost.measures.clear();
                self.ghost.guides.clear();
                return Vec::new();
            }
            Gesture::DragStart { from } => {
                let reach = REACH * around.mm_per_point;
                let corners = self.corners.unwrap_or_default();
                self.dragged = (0..4)
                    .filter(|index| (corners[*index] - from).hypot() <= reach)
                    .min_by(|a, b| (corners[*a] - from).hypot().total_cmp(&(corners[*b] - from).hypot()));
            }
            _ => {}
        }
        if let (Some(index), Some(corners)) = (self.dragged, &mut self.corners) {
            corners[index] = around.snap_to_drawing(touch.at).map_or(touch.at, |caught| caught.at);
            self.moved = true;
        }
        if touch.gesture == Gesture::Drop {
            self.dragged = None;
        }
        self.show(Some(touch.at));
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let words = match (self.drawing, self.moved, self.width) {
            (None, ..) => NO_DRAWING,
            _ if self.is_made_of == MadeOf::NotYetKnown => "The drawing is being read: a moment.",
            _ if self.is_made_of == MadeOf::Lines => {
                "A page of lines is square already: turn and scale it instead. Photographs and scans are squared up."
            }
            (_, false, _) => {
                "Drag the four handles onto the corners of a rectangle whose width and depth are known: the outer walls, or the sheet."
            }
            (_, true, None) => "Type the width between the upper two handles as it is on site, then Enter.",
            (_, true, Some(_)) => {
                "Type the depth from the upper to the lower handles as it is on site, then Enter."
            }
        };
        words.to_owned()
    }

    fn takes_typing(&self) -> Option<&'static str> {
        let ready = self.moved && self.is_made_of == MadeOf::Pixels && self.drawing.is_some();
        match (ready, self.width) {
            (false, _) => None,
            (true, None) => Some("Width"),
            (true, Some(_)) => Some("Depth"),
        }
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let length = match Length::parse(text) {
            Ok(length) if length.as_mm() > 0.0 => length,
            Ok(_) => return vec![Intent::Change(Err("the length must be above zero".to_owned()))],
            Err(sentence) => return vec![Intent::Change(Err(sentence))],
        };
        let Some(width) = self.width else {
            self.width = Some(length);
            self.show(None);
            return Vec::new();
        };
        let (Some((id, underlay)), Some(corners)) = (drawing_at_hand(around.session), self.corners) else {
            return Vec::new();
        };
        let drawing_from_plan = underlay.plan_from_drawing().inverse();
        let corners = Corners { at: corners.map(|corner| drawing_from_plan * corner), width, depth: length };
        self.width = None;
        vec![Intent::Survey(Surveying::SquareUp { drawing: id, corners })]
    }

    fn let_go(&mut self) -> bool {
        if self.width.take().is_some() {
            self.show(None);
            return true;
        }
        let begun = self.moved;
        *self = Self::default();
        begun
    }
}
