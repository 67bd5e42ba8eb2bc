//! The pointer: select, move, turn.
//!
//! What it rests on lights up. A click selects and clicked again takes what lies beneath; a drag moves what it
//! began on, or gathers what lies within a rectangle where it began on nothing.

use egui::{CursorIcon, Modifiers};
use kurbo::{Point, Rect, Vec2};
use pattress_model::edit::{Subject, verbs};
use pattress_model::plan::Hand;

use super::moving::{Moving, turner};
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::{Intent, Selecting};

/// The pointer tool.
#[derive(Default)]
pub struct Pointer {
    ghost: Ghost,
    doing: Doing,
    last_click: Option<Point>,
    hint: Option<String>,
}

/// What is under way.
#[derive(Default)]
enum Doing {
    #[default]
    Nothing,
    Lasso {
        from: Point,
    },
    Moving {
        moving: Moving,
        from: Point,
    },
}

impl Pointer {
    fn hover(&mut self, at: Point, around: &Around<'_>) -> Vec<Intent> {
        self.ghost = Ghost::default();
        self.hint = None;
        self.offer_handles(around);
        match self.handle_at(at, around) {
            Some(Moving::Turn(_)) => {
                self.ghost.cursor = Some(CursorIcon::Grab);
                self.hint = Some("Drag to turn it, in steps of 15° unless Alt is held.".to_owned());
                return Vec::new();
            }
            Some(_) => {
                self.ghost.cursor = Some(CursorIcon::Move);
                self.hint =
                    Some("Drag to take the end of the wall elsewhere; walls that meet it follow.".to_owned());
                return Vec::new();
            }
            None => {}
        }
        let top = around.under(at).first().copied();
        match top {
            Some(subject) if !matches!(subject, Subject::Underlay(_)) => {
                let name = crate::window::wording::title(around.project(), subject);
                self.hint = Some(if is_grabbed(subject) {
                    format!("{name}: click to select, drag to move.")
                } else {
                    format!("{name}: click to select, drag to gather.")
                });
                vec![Intent::PointAt(subject)]
            }
            _ => Vec::new(),
        }
    }

    /// Handles of the one thing that is selected.
    fn offer_handles(&mut self, around: &Around<'_>) {
        let project = around.project();
        match around.session.only_selected() {
            Some(Subject::Wall(id)) => {
                let wall = project.walls.get(id).filter(|wall| wall.level == around.level());
                self.ghost.handles = wall.map_or_else(Vec::new, |wall| vec![wall.start, wall.end]);
            }
            Some(subject) if is_here(subject, around) => {
                self.ghost.turner = turner(project, subject, around.mm_per_point, around.scale);
            }
            _ => {}
        }
    }

    fn handle_at(&self, at: Point, around: &Around<'_>) -> Option<Moving> {
        let selected = around.session.only_selected()?;
        let near = |point: Point| (point - at).hypot() <= around.reach();
        match selected {
            Subject::Wall(id) => {
                let wall = around.project().walls.get(id).filter(|wall| wall.level == around.level())?;
                if near(wall.start) {
                    Some(Moving::WallEnd(id, Hand::Start))
                } else {
                    near(wall.end).then_some(Moving::WallEnd(id, Hand::End))
                }
            }
            subject if is_here(subject, around) => {
                let (ring, _) = turner(around.project(), subject, around.mm_per_point, around.scale)?;
                near(ring).then_some(Moving::Turn(subject))
            }
            _ => None,
        }
    }

    fn click(&mut self, at: Point, modifiers: Modifiers, around: &Around<'_>) -> Vec<Intent> {
        let under = around.under(at);
        let gathers = modifiers.shift || modifiers.command;
        let again = self.last_click.is_some_and(|last| (last - at).hypot() <= 0.5 * around.reach());
        self.last_click = Some(at);
        let selecting = match (under.first(), around.session.only_selected()) {
            (None, _) if gathers => return Vec::new(),
            (None, _) => Selecting::Nothing,
            (Some(top), _) if gathers => Selecting::Toggle(vec![*top]),
            (Some(top), Some(selected)) if again => {
                let place = under.iter().position(|subject| *subject == selected);
                Selecting::Only(vec![place.map_or(*top, |place| under[(place + 1) % under.len()])])
            }
            (Some(top), _) => Selecting::Only(vec![*top]),
        };
        vec![Intent::Select(selecting)]
    }

    /// What a drag takes hold of, and how the selection changes for it.
    fn grab(&mut self, from: Point, modifiers: Modifiers, around: &Around<'_>) -> Vec<Intent> {
        if let Some(moving) = self.handle_at(from, around) {
            self.doing = Doing::Moving { moving, from };
            return Vec::new();
        }
        let selection = around.session.selection();
        let under = around.under(from);
        let held = under
            .iter()
            .find(|subject| selection.contains(subject) && can_be_held(**subject, from, around))
            .copied();
        let gathers = modifiers.shift || modifiers.command;
        if let Some(grabbed) = held.filter(|_| !gathers) {
            let moving = Moving::Things { things: selection.iter().copied().collect(), grabbed };
            self.doing = Doing::Moving { moving, from };
            return Vec::new();
        }
        if let Some(top) = under.first().copied().filter(|top| is_grabbed(*top) && !gathers) {
            let moving = Moving::Things { things: vec![top], grabbed: top };
            self.doing = Doing::Moving { moving, from };
            return vec![Intent::Select(Selecting::Only(vec![top]))];
        }
        self.doing = Doing::Lasso { from };
        Vec::new()
    }

    fn drag(&mut self, at: Point, around: &mut Around<'_>) {
        self.ghost = Ghost::default();
        match &self.doing {
            Doing::Nothing => {}
            Doing::Lasso { from } => {
                self.ghost.lasso = Some(Rect::from_points(*from, at));
                self.hint = Some("Let go to select what lies wholly within.".to_owned());
            }
            Doing::Moving { moving, from } => {
                let moved = moving.moved(*from, at, around);
                moving.show(&mut self.ghost, &moved, around);
                self.ghost.cursor = Some(CursorIcon::Grabbing);
                self.hint = Some(match &moved.change {
                    Ok(change) => format!("Let go to {}: {}.", lower(&change.label), moved.why),
                    Err(refused) => format!("It can't go here: {refused}."),
                });
            }
        }
    }

    fn drop_at(&mut self, at: Point, modifiers: Modifiers, around: &mut Around<'_>) -> Vec<Intent> {
        match std::mem::take(&mut self.doing) {
            Doing::Nothing => Vec::new(),
            Doing::Lasso { from } => {
                self.ghost.lasso = None;
                let within = around.within(Rect::from_points(from, at));
                let gathers = modifiers.shift || modifiers.command;
                vec![Intent::Select(if gathers { Selecting::Add(within) } else { Selecting::Only(within) })]
            }
            // The ghost stays for this frame: the plan itself shows the change in the next.
            Doing::Moving { moving, from } => vec![Intent::Change(moving.moved(from, at, around).change)],
        }
    }
}

/// Whether dragging it moves it even where it was not selected.
const fn is_grabbed(subject: Subject) -> bool {
    matches!(
        subject,
        Subject::Device(_)
            | Subject::Opening(_)
            | Subject::Joinery(_)
            | Subject::Wall(_)
            | Subject::RoomLine(_)
            | Subject::Spot(_)
            | Subject::Walk(_)
    )
}

/// Whether a selected thing is held here: a room by its name alone, so that its floor is free for gathering.
fn can_be_held(subject: Subject, at: Point, around: &Around<'_>) -> bool {
    match subject {
        Subject::Room(id) => {
            let seed = around.project().rooms.get(id).map(|room| room.seed);
            seed.is_some_and(|seed| (seed - at).hypot() <= (2.0 * around.reach()).max(6.0 * around.scale))
        }
        Subject::Underlay(_) => true,
        other => is_grabbed(other),
    }
}

fn is_here(subject: Subject, around: &Around<'_>) -> bool {
    let project = around.project();
    let level = match subject {
        Subject::Device(id) => project.devices.get(id).map(|device| device.level),
        Subject::Joinery(id) => project.joinery.get(id).map(|piece| piece.level),
        _ => None,
    };
    level == Some(around.level())
}

fn lower(label: &str) -> String {
    let mut letters = label.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

impl Tool for Pointer {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        let Touch { at, gesture, modifiers } = touch;
        match gesture {
            Gesture::Hover => self.hover(at, around),
            Gesture::Click => self.click(at, modifiers, around),
            Gesture::DragStart { from } => {
                let intents = self.grab(from, modifiers, around);
                self.drag(at, around);
                intents
            }
            Gesture::Drag => {
                self.drag(at, around);
                Vec::new()
            }
            Gesture::Drop => self.drop_at(at, modifiers, around),
            Gesture::DoubleClick | Gesture::RightClick => Vec::new(),
            Gesture::Away => {
                if matches!(self.doing, Doing::Nothing) {
                    self.ghost = Ghost::default();
                    self.hint = None;
                    self.offer_handles(around);
                }
                Vec::new()
            }
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        self.hint.clone().unwrap_or_else(|| "Click to select, drag to move or to gather.".to_owned())
    }

    fn nudge(&mut self, by: Vec2, around: &mut Around<'_>) -> Vec<Intent> {
        let things: Vec<Subject> = around.session.selection().iter().copied().collect();
        if things.is_empty() || !matches!(self.doing, Doing::Nothing) {
            return Vec::new();
        }
        vec![Intent::Change(verbs::move_things(around.project(), &things, by))]
    }

    fn let_go(&mut self) -> bool {
        let busy = !matches!(self.doing, Doing::Nothing);
        self.doing = Doing::Nothing;
        self.ghost = Ghost::default();
        busy
    }
}
