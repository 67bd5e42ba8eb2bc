//! What pointer and keys did in a frame, told as a gesture of the hand.

use egui::{PointerButton, Response, Ui};
use kurbo::Point;

use super::tools::{Around, Gesture, Tool};
use crate::window::intent::Intent;

/// Whether what is to be placed is being dragged here from the Kit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Carrying {
    /// It was taken up just now: perhaps by the start of a drag.
    Perhaps,
    /// It is being brought.
    Yes,
    /// It is not.
    No,
}

impl Carrying {
    /// What the pointer does while it brings something from elsewhere: it hovers, and its letting go is a drop.
    pub(super) fn gesture(&mut self, ui: &Ui, response: &Response) -> Option<Gesture> {
        let foreign = |id: Option<egui::Id>| id.is_some_and(|id| id != response.id);
        let (dragged, dropped) = (foreign(ui.ctx().dragged_id()), foreign(ui.ctx().drag_stopped_id()));
        let carried = *self != Self::No && (dragged || dropped);
        *self = if carried && !dropped { Self::Yes } else { Self::No };
        (carried && response.contains_pointer()).then_some(if dropped {
            Gesture::Drop
        } else {
            Gesture::Hover
        })
    }
}

/// What the pointer did in this frame.
pub(super) fn gesture_of(
    ui: &Ui,
    response: &Response,
    space: bool,
    plan: impl Fn(egui::Pos2) -> Point,
) -> Gesture {
    let primary = PointerButton::Primary;
    if response.drag_started_by(primary) && !space {
        match ui.input(|input| input.pointer.press_origin()) {
            Some(from) => Gesture::DragStart { from: plan(from) },
            None => Gesture::Away,
        }
    } else if response.dragged_by(primary) && !space {
        Gesture::Drag
    } else if response.drag_stopped_by(primary) {
        Gesture::Drop
    } else if response.double_clicked_by(primary) {
        Gesture::DoubleClick
    } else if response.clicked_by(primary) {
        // Only by the pointer: Enter, which also clicks what has the focus, belongs to the tool.
        Gesture::Click
    } else if response.secondary_clicked() {
        Gesture::RightClick
    } else if response.hovered() {
        Gesture::Hover
    } else {
        Gesture::Away
    }
}

/// Arrow keys move what is selected by a centimetre; with Shift by ten, with Alt by a millimetre.
pub(super) fn nudged(ui: &Ui, tool: &mut dyn Tool, around: &mut Around<'_>) -> Vec<Intent> {
    if ui.ctx().text_edit_focused() {
        return Vec::new();
    }
    let mut by = kurbo::Vec2::ZERO;
    ui.input_mut(|input| {
        input.events.retain(|event| {
            let egui::Event::Key { key, pressed: true, modifiers, .. } = event else { return true };
            let direction = match key {
                egui::Key::ArrowLeft => kurbo::Vec2::new(-1.0, 0.0),
                egui::Key::ArrowRight => kurbo::Vec2::new(1.0, 0.0),
                egui::Key::ArrowUp => kurbo::Vec2::new(0.0, 1.0),
                egui::Key::ArrowDown => kurbo::Vec2::new(0.0, -1.0),
                _ => return true,
            };
            if modifiers.command {
                return true;
            }
            by += direction
                * match (modifiers.shift, modifiers.alt) {
                    (true, _) => 100.0,
                    (_, true) => 1.0,
                    _ => 10.0,
                };
            false
        });
    });
    if by == kurbo::Vec2::ZERO { Vec::new() } else { tool.nudge(by, around) }
}

/// Keys that are typed go to the tool while it takes lengths; Enter hands them over.
pub(super) fn typed(
    ui: &Ui,
    tool: &mut dyn Tool,
    entry: &mut String,
    around: &mut Around<'_>,
) -> Vec<Intent> {
    if ui.ctx().text_edit_focused() {
        return Vec::new();
    }
    if entry.is_empty() && ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, egui::Key::Enter)) {
        return tool.enter(around);
    }
    if tool.takes_typing().is_none() {
        entry.clear();
        return Vec::new();
    }
    let mut entered = false;
    ui.input_mut(|input| {
        input.events.retain(|event| match event {
            egui::Event::Text(text) => {
                let begins = text.chars().all(|letter| letter.is_ascii_digit() || "-.,".contains(letter));
                if !entry.is_empty() || begins {
                    entry.push_str(text);
                    return false;
                }
                true
            }
            egui::Event::Key { key: egui::Key::Backspace, pressed: true, .. } if !entry.is_empty() => {
                entry.pop();
                false
            }
            egui::Event::Key { key: egui::Key::Enter, pressed: true, .. } if !entry.is_empty() => {
                entered = true;
                false
            }
            // The letter's own key event would otherwise run a command.
            egui::Event::Key { key, pressed: true, modifiers, .. } => {
                let digit = (egui::Key::Num0..=egui::Key::Num9).contains(key) || *key == egui::Key::Minus;
                !(modifiers.is_none() && (digit || (!entry.is_empty() && *key != egui::Key::Escape)))
            }
            _ => true,
        });
    });
    if entered { tool.typed(&std::mem::take(entry), around) } else { Vec::new() }
}
