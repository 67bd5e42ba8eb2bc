//! Accept: what is proposed becomes part of the plan by a click on its ghost, or by a rectangle around many.
//!
//! The other button sets a ghost aside, with Alt a rectangle does. Arrow keys go from ghost to ghost, those
//! least sure first; Enter accepts the one that is lit, Delete sets it aside.

use egui::CursorIcon;
use kurbo::{Point, Rect, Vec2};
use pattress_model::survey::Part;

use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;
use crate::window::session::Stage;
use crate::window::survey::offer::Offer;
use crate::window::survey::proposed::Offering;

/// The tool that accepts.
#[derive(Default)]
pub struct Accept {
    from: Option<Point>,
    under: Option<(Part, String)>,
    left: usize,
    aside: bool,
    ghost: Ghost,
}

/// The offer for the level on the board, with what is left of it.
fn offer_of<'a>(around: &Around<'a>) -> Option<(&'a Offer, Vec<Part>)> {
    let offer = around.surveyed.proposed.open(around.project(), around.level())?;
    let left = offer.left(around.project());
    Some((offer, left))
}

/// The ghost under the pointer, whatever the tool; nothing outside the survey.
pub fn pointed_at(at: Point, around: &Around<'_>) -> Option<Intent> {
    if around.session.stage() != Stage::Survey {
        return None;
    }
    let (offer, left) = offer_of(around)?;
    let part = offer.part_at(&left, at, 0.6 * around.reach())?;
    Some(Intent::Offer(Offering::PointAt(part)))
}

impl Accept {
    fn find(&mut self, at: Point, around: &Around<'_>) {
        let found = offer_of(around);
        self.left = found.as_ref().map_or(0, |(_, left)| left.len());
        self.under = found.and_then(|(offer, left)| {
            let part = offer.part_at(&left, at, 0.6 * around.reach())?;
            Some((part, offer.words_with_sureness(part)))
        });
    }

    fn ends_area(&mut self, at: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(from) = self.from.take() else { return Vec::new() };
        let Some((offer, left)) = offer_of(around) else { return Vec::new() };
        let parts = offer.within(&left, Rect::from_points(from, at));
        if parts.is_empty() {
            return vec![Intent::Say("Nothing that is proposed lies within.".to_owned())];
        }
        let asked = if self.aside { Offering::SetAside(parts) } else { Offering::Accept(parts) };
        vec![Intent::Offer(asked)]
    }
}

impl Tool for Accept {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.aside = touch.modifiers.alt;
        self.ghost = Ghost::default();
        match touch.gesture {
            Gesture::DragStart { from } => self.from = Some(from),
            Gesture::Drop => return self.ends_area(touch.at, around),
            Gesture::Away => {
                self.under = None;
                return Vec::new();
            }
            _ => {}
        }
        if let Some(from) = self.from {
            self.ghost.lasso = Some(Rect::from_points(from, touch.at));
            return Vec::new();
        }
        self.find(touch.at, around);
        let Some((part, _)) = self.under.clone() else { return Vec::new() };
        self.ghost.cursor = Some(CursorIcon::PointingHand);
        vec![Intent::Offer(match touch.gesture {
            Gesture::Click if self.aside => Offering::SetAside(vec![part]),
            Gesture::Click => Offering::Accept(vec![part]),
            Gesture::RightClick => Offering::SetAside(vec![part]),
            _ => Offering::PointAt(part),
        })]
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        if self.from.is_some() {
            let what = if self.aside { "set aside" } else { "accept" };
            return format!("Let go to {what} what lies within.");
        }
        match (&self.under, self.left) {
            (Some((_, words)), _) => format!("Click to accept: {words}. Right click sets it aside."),
            (None, 0) => "Nothing is proposed on this level: Trace for me proposes walls.".to_owned(),
            (None, _) => {
                "Click a ghost to accept it, or drag around several; Alt sets them aside.".to_owned()
            }
        }
    }

    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        vec![Intent::Offer(Offering::AcceptAtHand)]
    }

    fn nudge(&mut self, by: Vec2, _around: &mut Around<'_>) -> Vec<Intent> {
        let on = if by.x - by.y >= 0.0 { 1 } else { -1 };
        vec![Intent::Offer(Offering::Step(on))]
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.from.take().is_some()
    }
}
