//! Scale the drawing by what is printed on it: a click on a dimension or a scale bar lights up what was understood,
//! Enter or a second click takes it.

use kurbo::Point;
use pattress_model::id::Id;
use pattress_model::plan::Underlay;
use pattress_model::survey::Scale;
use pattress_model::survey::scale::{dimension_at, scale_bar_at};
use pattress_model::units::Length;

use super::figures::in_mm;
use super::scale_drawing::NO_DRAWING;
use super::{Around, Gesture, Ghost, Measure, Tool, Touch};
use crate::window::intent::Intent;
use crate::window::survey::Drawing;
use crate::window::survey::at_hand::drawing_at_hand;
use crate::window::survey::changes::scaled;

/// What a click on the drawing was understood as.
struct Understood {
    drawing: Id<Underlay>,
    text: String,
    is_bar: bool,
    length: Length,
    scale: Scale,
    /// Its ends, on the plan.
    line: [Point; 2],
}

/// Why nothing is lit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
enum State {
    #[default]
    Asking,
    NoDrawing,
    Reading,
    /// It is pixels, whose lettering nobody reads here.
    Pixels,
    Unreadable(String),
    NothingThere,
}

/// The tool that scales by what is printed.
#[derive(Default)]
pub struct ScalePrinted {
    state: State,
    understood: Option<Understood>,
    /// Where, while the drawing was not read yet.
    clicked: Option<Point>,
    ghost: Ghost,
}

impl ScalePrinted {
    /// What is printed at a point of the plan.
    fn understand(&mut self, at: Point, around: &Around<'_>) -> Option<Understood> {
        let Some((id, underlay)) = drawing_at_hand(around.session) else {
            self.state = State::NoDrawing;
            return None;
        };
        let read = match around.surveyed.drawings.get(around.session.media(), &underlay.media, underlay.page)
        {
            Drawing::Ready(read) => read,
            Drawing::Coming => {
                self.clicked = Some(at);
                self.state = State::Reading;
                return None;
            }
            Drawing::Unreadable(sentence) => {
                self.state = State::Unreadable(sentence);
                return None;
            }
        };
        let Some(page) = read.page.as_ref().filter(|page| !page.writings.is_empty()) else {
            self.state = State::Pixels;
            return None;
        };
        let plan_from_drawing = underlay.plan_from_drawing();
        let on_drawing = plan_from_drawing.inverse() * at;
        let understood = |text: String, is_bar, length, scale: Result<Scale, String>, line: [Point; 2]| {
            let line = line.map(|end| plan_from_drawing * end);
            scale.ok().map(|scale| Understood { drawing: id, text, is_bar, length, scale, line })
        };
        let bar = || {
            let bar = scale_bar_at(page, on_drawing)?;
            let scale = Scale::of_bar(&bar);
            understood(bar.text, true, bar.length, scale, bar.line)
        };
        let dimension = || {
            let dimension = dimension_at(page, on_drawing)?;
            let scale = Scale::of_dimension(&dimension);
            understood(dimension.text, false, dimension.length, scale, dimension.line)
        };
        let found = bar().or_else(dimension);
        self.state = if found.is_none() { State::NothingThere } else { State::Asking };
        found
    }

    /// Has the drawing read before the first click asks for it.
    fn begin_reading(&mut self, around: &Around<'_>) {
        match drawing_at_hand(around.session) {
            Some((_, underlay)) => {
                around.surveyed.drawings.get(around.session.media(), &underlay.media, underlay.page);
                if self.state == State::NoDrawing {
                    self.state = State::Asking;
                }
            }
            None => self.state = State::NoDrawing,
        }
    }

    fn take(&mut self, around: &Around<'_>) -> Vec<Intent> {
        let Some(Understood { drawing, scale, line, .. }) = self.understood.take() else { return Vec::new() };
        self.ghost = Ghost::default();
        scaled(around.project(), drawing, &scale, line[0])
    }
}

impl Tool for ScalePrinted {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::RightClick => {
                self.let_go();
                return Vec::new();
            }
            Gesture::Away => {
                self.ghost.mark = None;
                return Vec::new();
            }
            Gesture::Click => {
                let before = self.understood.take();
                let found = self.understand(touch.at, around);
                let again = before.is_some_and(|before| {
                    found.as_ref().is_some_and(|found| found.line == before.line && found.text == before.text)
                });
                self.understood = found;
                if again {
                    return self.take(around);
                }
            }
            // What was clicked while the drawing was being read is looked at once it has been.
            _ => match self.clicked.take().filter(|_| self.state == State::Reading) {
                Some(clicked) => self.understood = self.understand(clicked, around),
                None => self.begin_reading(around),
            },
        }
        self.ghost = Ghost { mark: Some(touch.at), ..Ghost::default() };
        if let Some(found) = &self.understood {
            let [from, to] = found.line;
            let words = format!("“{}” = {} mm", found.text, in_mm(found.length));
            self.ghost.measures.push(Measure { from, to, words });
        }
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        if let Some(found) = &self.understood {
            let what = if found.is_bar { "The scale bar" } else { "The dimension" };
            return format!(
                "{what} “{}” is lit. Enter, or another click on it, scales the drawing by it.",
                found.text
            );
        }
        match &self.state {
            State::NoDrawing => NO_DRAWING.to_owned(),
            State::Reading => "The drawing is being read: a moment.".to_owned(),
            State::Pixels => {
                "This drawing holds no lettering that can be read: scale it by two points (Draw menu).".to_owned()
            }
            State::Unreadable(sentence) => format!("The drawing can’t be read: {sentence}."),
            State::NothingThere => {
                "No printed length with its line was found there: click on the figure of a dimension, or on a scale bar."
                    .to_owned()
            }
            State::Asking => "Click a dimension printed on the drawing, or its scale bar; long ones are truer.".to_owned(),
        }
    }

    fn enter(&mut self, around: &mut Around<'_>) -> Vec<Intent> {
        self.take(around)
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.understood.take().is_some()
    }
}
