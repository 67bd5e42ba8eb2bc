//! Scale the picture: two points of it, then the length between them as it is on site.

use kurbo::Point;
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::Underlay;
use pattress_model::units::Length;

use super::figures::measured;
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// Points nearer together than this say too little about a scale, mm.
const NEAREST_MM: f64 = 10.0;

/// The tool that scales the picture beneath.
#[derive(Default)]
pub struct ScaleUnderlay {
    picture: Option<Id<Underlay>>,
    first: Option<Point>,
    second: Option<Point>,
    ghost: Ghost,
}

/// The picture that is selected, else the first of the level.
fn picture_of(around: &Around<'_>) -> Option<Id<Underlay>> {
    let here = |id: &Id<Underlay>| {
        around.project().underlays.get(*id).is_some_and(|underlay| underlay.level == around.level())
    };
    match around.session.only_selected() {
        Some(Subject::Underlay(id)) if here(&id) => Some(id),
        _ => around.project().underlays.ids().find(here),
    }
}

impl Tool for ScaleUnderlay {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.picture = picture_of(around);
        // Points of a picture are pointed at by eye: nothing of the plan is caught.
        let at = touch.at;
        match touch.gesture {
            Gesture::Away => {
                self.ghost.mark = None;
                return Vec::new();
            }
            Gesture::RightClick => {
                self.let_go();
                return Vec::new();
            }
            Gesture::Click if self.first.is_none() || self.second.is_some() => {
                (self.first, self.second) = (Some(at), None);
            }
            Gesture::DragStart { from } => (self.first, self.second) = (Some(from), None),
            Gesture::Click | Gesture::Drop
                if self.first.is_some_and(|first| (at - first).hypot() >= NEAREST_MM) =>
            {
                self.second = Some(at);
            }
            _ => {}
        }
        self.ghost = Ghost { mark: Some(at), ..Ghost::default() };
        if let Some(first) = self.first {
            self.ghost.measures.push(measured(first, self.second.unwrap_or(at)));
        }
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match (self.picture, self.first, self.second) {
            (None, ..) => "There is no picture on this level: lay one under it first.".to_owned(),
            (_, None, _) => {
                "Click the first of two points of the picture whose distance you know.".to_owned()
            }
            (_, Some(_), None) => "Click the second point.".to_owned(),
            (_, Some(_), Some(_)) => "Type the length between the two points, then Enter.".to_owned(),
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        self.picture.and(self.second).map(|_| "Length between the two points")
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let (Some(picture), Some(first), Some(second)) = (self.picture, self.first, self.second) else {
            return Vec::new();
        };
        let change = Length::parse(text)
            .and_then(|length| verbs::scale_underlay(around.project(), picture, first, second, length));
        if change.is_ok() {
            self.let_go();
        }
        vec![Intent::Change(change)]
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.second = None;
        self.first.take().is_some()
    }
}
