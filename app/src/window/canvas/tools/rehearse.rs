//! The tool of a rehearsal: a click works what it meets, a drag leads somebody through the house.

use kurbo::Vec2;
use pattress_model::building::told_open::{ToldOpen, told_open};
use pattress_model::edit::Subject;

use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::{Intent, Rehearsing};
use crate::window::wording;

/// So far the pointer goes before somebody who is led takes the next step, plan mm.
const STEP_MM: f64 = 80.0;

/// The tool.
#[derive(Default)]
pub struct Rehearse {
    ghost: Ghost,
    hint: Option<String>,
    led_to: Option<kurbo::Point>,
}

/// The topmost thing that can be worked: a device, a leaf with a contact, joinery with one.
fn workable(under: &[Subject], around: &Around<'_>) -> Option<Subject> {
    let told = || told_open(around.project());
    under.iter().copied().find(|subject| match subject {
        Subject::Device(_) => true,
        Subject::Opening(id) => told().values().any(|of| *of == ToldOpen::Opening(*id)),
        Subject::Joinery(id) => told().values().any(|of| *of == ToldOpen::Joinery(*id)),
        _ => false,
    })
}

impl Tool for Rehearse {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        let at = touch.at;
        let rehearse = |what| vec![Intent::Rehearse(what)];
        match touch.gesture {
            Gesture::Hover => {
                let found = workable(&around.under(at), around);
                self.ghost.cursor = found.map(|_| egui::CursorIcon::PointingHand);
                self.hint = found.map(|subject| {
                    let name = wording::title(around.project(), subject);
                    match subject {
                        Subject::Device(_) => format!("{name}: click to work it."),
                        _ => format!("{name}: click to open or shut it."),
                    }
                });
                found.map(Intent::PointAt).into_iter().collect()
            }
            Gesture::Click | Gesture::DoubleClick => match workable(&around.under(at), around) {
                Some(subject) => rehearse(Rehearsing::Touch(subject)),
                None => rehearse(Rehearsing::Card(None)),
            },
            Gesture::DragStart { from } => {
                self.ghost.cursor = Some(egui::CursorIcon::Grabbing);
                self.led_to = Some(at);
                vec![Intent::Rehearse(Rehearsing::StepIn(from)), Intent::Rehearse(Rehearsing::LeadTo(at))]
            }
            Gesture::Drag if self.led_to.is_some_and(|led_to| (led_to - at).hypot() < STEP_MM) => Vec::new(),
            Gesture::Drag | Gesture::Drop => {
                self.led_to = Some(at);
                rehearse(Rehearsing::LeadTo(at))
            }
            Gesture::RightClick => rehearse(Rehearsing::Leave),
            Gesture::Away => Vec::new(),
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        self.hint.clone().unwrap_or_else(|| {
            "Click a plate, a device, a door or a window to work it; drag over the floor to walk somebody through \
             the house."
                .to_owned()
        })
    }

    /// Enter lets the clock go and stops it.
    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        vec![Intent::Run(crate::window::command::Command::PlayOrPause)]
    }

    /// The arrows lead from one thing that happens to the next, and back.
    fn nudge(&mut self, by: Vec2, _around: &mut Around<'_>) -> Vec<Intent> {
        let step = if by.x + by.y < 0.0 { Rehearsing::StepBack } else { Rehearsing::StepForward };
        vec![Intent::Rehearse(step)]
    }
}
