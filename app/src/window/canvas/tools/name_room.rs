//! Name a room: the space between walls under the pointer shows, and a click makes it a room.

use kurbo::Point;
use pattress_model::building::outline::{RoomOutline, room_spaces};
use pattress_model::drawing::{Item, Layer, Role};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{Level, Room, RoomUse};
use pattress_model::project::Project;

use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::{Intent, Selecting};

/// The tool that names rooms.
#[derive(Default)]
pub struct NameRoom {
    spaces: Option<Spaces>,
    ghost: Ghost,
    under: Under,
}

/// The spaces of a level, for as long as its walls and room lines stay.
struct Spaces {
    project: Project,
    level: Id<Level>,
    outlines: Vec<RoomOutline>,
}

#[derive(Clone, Default)]
enum Under {
    #[default]
    Nothing,
    Space,
    Named(Id<Room>, String),
}

impl NameRoom {
    fn space_at(&mut self, at: Point, around: &Around<'_>) -> Option<&RoomOutline> {
        let (project, level) = (around.project(), around.level());
        let holds = self.spaces.as_ref().is_some_and(|spaces| {
            spaces.level == level
                && spaces.project.walls.is_same(&project.walls)
                && spaces.project.openings.is_same(&project.openings)
                && spaces.project.room_lines.is_same(&project.room_lines)
        });
        if !holds {
            let outlines = room_spaces(project, level);
            self.spaces = Some(Spaces { project: project.clone(), level, outlines });
        }
        self.spaces.as_ref()?.outlines.iter().find(|space| space.contains(at))
    }

    fn show(&mut self, at: Point, around: &Around<'_>) {
        self.ghost = Ghost::default();
        self.under = Under::Nothing;
        let project = around.project();
        let Some(space) = self.space_at(at, around).cloned() else { return };
        let named = project.rooms_on(around.level()).find(|(_, room)| space.contains(room.seed));
        let area = format!("{:.1} m²", space.area().as_m2());
        match named {
            Some((id, room)) => {
                self.ghost.notes.push((at, format!("{}, {area}", room.name)));
                self.under = Under::Named(id, room.name.clone());
            }
            None => {
                self.ghost.notes.push((at, area));
                self.under = Under::Space;
            }
        }
        let mut path = space.shape.outer.to_path();
        for hole in &space.shape.holes {
            hole.append_to(&mut path);
        }
        self.ghost.items.push(Item::path(Layer::Zones, Role::ZoneOther, None, path));
    }
}

/// The first `Room 1`, `Room 2`, … that no room of the house has.
fn free_name(project: &Project) -> String {
    let taken = |name: &str| project.rooms.iter().any(|(_, room)| room.name == name);
    let mut number = 1;
    while taken(&format!("Room {number}")) {
        number += 1;
    }
    format!("Room {number}")
}

impl Tool for NameRoom {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        if touch.gesture == Gesture::Away {
            self.ghost = Ghost::default();
            self.under = Under::Nothing;
            return Vec::new();
        }
        self.show(touch.at, around);
        if !matches!(touch.gesture, Gesture::Click | Gesture::Drop) {
            return Vec::new();
        }
        match &self.under {
            Under::Nothing => vec![Intent::Change(Err(
                "no walls close around this point: close the gap between them first".to_owned(),
            ))],
            Under::Named(id, _) => vec![Intent::Select(Selecting::Only(vec![Subject::Room(*id)]))],
            Under::Space => {
                let room = Room {
                    level: around.level(),
                    name: free_name(around.project()),
                    room_use: RoomUse::Unsaid,
                    seed: touch.at,
                    ceiling: None,
                };
                vec![Intent::Change(verbs::add_room(around.project(), room))]
            }
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match &self.under {
            Under::Nothing => "Click into a space between walls to make it a room.".to_owned(),
            Under::Space => "Click to make this space a room, then type its name.".to_owned(),
            Under::Named(_, name) => format!("This is {name} already; click to select it."),
        }
    }
}
