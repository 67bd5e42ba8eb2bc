//! Doors, windows and plain openings: they slide along the wall under the pointer and are cut by a click.
//!
//! The pointer's side of the wall is the side a door swings to, and its hinges are at the nearer end.

use kurbo::Point;
use pattress_model::edit::snap::face_stretch;
use pattress_model::edit::snap::host::Fixing;
use pattress_model::edit::{Change, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{DoorState, Hand, Opening, OpeningForm, Side, Wall};
use pattress_model::project::Project;
use pattress_model::units::{Angle, Length};

use super::figures::measured;
use super::{Around, Gesture, Ghost, Tool, Touch, preview};
use crate::window::intent::Intent;
use crate::window::tool_choice::OpeningChoice;

/// How far off a wall the pointer may be, mm.
const WALL_REACH_MM: f64 = 300.0;

/// The tool for openings.
pub struct Cut {
    choice: OpeningChoice,
    width: Length,
    other_hand: bool,
    found: Option<Opening>,
    /// Whether a width was typed: what the drawing shows then only says where.
    width_typed: bool,
    why: &'static str,
    refused: Option<String>,
    ghost: Ghost,
}

impl Cut {
    /// Ready to cut openings. Widths to begin with are common practice, no published source: a door in a lining
    /// between reveals, a window of two lights, a way through.
    pub fn of(choice: OpeningChoice) -> Self {
        let width = match choice {
            OpeningChoice::Door => 850.0,
            OpeningChoice::Window => 1200.0,
            OpeningChoice::Plain => 1000.0,
        };
        Self {
            choice,
            width: Length::mm(width),
            other_hand: false,
            found: None,
            width_typed: false,
            why: "",
            refused: None,
            ghost: Ghost::default(),
        }
    }

    /// The opening as it would be cut into the wall under a point.
    fn opening_at(&mut self, at: Point, around: &Around<'_>) -> Option<Opening> {
        let project = around.project();
        let (id, wall) = wall_under(project, around, at)?;
        let along = wall.along_of(at);
        let nearer = if along.as_mm() < wall.length().as_mm() / 2.0 { Hand::Start } else { Hand::End };
        let hinge = if self.other_hand { nearer.other() } else { nearer };
        // Heights of heads and sills to begin with: common practice, no published source.
        let (head, form) = match self.choice {
            OpeningChoice::Door => {
                let state = DoorState::Open(Angle::degrees(90.0));
                (2060.0, OpeningForm::Door { hinge, swing: wall.side_of(at), state })
            }
            OpeningChoice::Window => (2100.0, OpeningForm::Window { sill: Length::mm(900.0) }),
            OpeningChoice::Plain => (2100.0, OpeningForm::Plain),
        };
        let mut opening =
            Opening { wall: id, centre: along, width: self.width, head: Length::mm(head), form };
        if let Some((from, to)) = around.reveals_as_drawn(wall, along) {
            let drawn = to - from;
            opening.centre = from + drawn / 2.0;
            if !self.width_typed {
                opening.width = drawn;
            }
            self.why = "catches the drawing: as wide as drawn";
            if self.width_typed {
                self.why = "catches the drawing: middle of the opening";
            }
            return Some(opening);
        }
        let (wanted, why) = settle(project, &opening, along, around);
        self.why = why;
        let centre = verbs::nearest_room(project, None, id, self.width, wanted)?;
        Some(Opening { centre, ..opening })
    }

    fn show(&mut self, at: Point, around: &mut Around<'_>) {
        self.ghost = Ghost::default();
        self.refused = None;
        self.found = self.opening_at(at, around);
        let Some(opening) = self.found.clone() else { return };
        let change = self.change(around);
        self.refused = change.as_ref().err().cloned();
        let Ok(change) = change else { return };
        if preview::show(&mut self.ghost, around, &change).is_some() {
            self.ghost.hides.clear();
            let side = around.project().walls.get(opening.wall).map(|wall| wall.side_of(at));
            show_distances(&mut self.ghost, around.project(), &opening, side);
        }
    }

    fn change(&self, around: &Around<'_>) -> Result<Change, String> {
        let opening = self.found.clone().ok_or("there is no wall here: move over one")?;
        verbs::add_opening(around.project(), opening)
    }
}

fn wall_under<'a>(project: &'a Project, around: &Around<'_>, at: Point) -> Option<(Id<Wall>, &'a Wall)> {
    let reach = around.reach().max(WALL_REACH_MM);
    project
        .walls_on(around.level())
        .map(|(id, wall)| (wall.distance_to_axis(at).as_mm() - wall.thickness.as_mm() / 2.0, id, wall))
        .filter(|(distance, ..)| *distance <= reach)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, id, wall)| (id, wall))
}

/// The centre an opening comes to rest at near a wanted one: the middle of its wall, else so that its nearer
/// reveal is whole centimetres from the wall's end.
pub fn settle(
    project: &Project,
    opening: &Opening,
    wanted: Length,
    around: &Around<'_>,
) -> (Length, &'static str) {
    let Some(length) = project.walls.get(opening.wall).map(Wall::length) else { return (wanted, "") };
    if !around.snapping {
        return (wanted, "free along the wall");
    }
    let middle = length / 2.0;
    if (wanted - middle).as_mm().abs() <= around.reach() {
        return (middle, "middle of wall");
    }
    let half = opening.width / 2.0;
    let centre = if wanted.as_mm() < middle.as_mm() {
        Length::mm(around.stepped((wanted - half).as_mm())) + half
    } else {
        length - half - Length::mm(around.stepped((length - wanted - half).as_mm()))
    };
    (centre, "10 mm steps from the end of the wall")
}

/// Shows how far an opening is from the corner or the next opening on either hand, along one face.
pub fn show_distances(ghost: &mut Ghost, project: &Project, opening: &Opening, side: Option<Side>) {
    let Some(wall) = project.walls.get(opening.wall) else { return };
    let side = side.unwrap_or(match opening.form {
        OpeningForm::Door { swing, .. } => swing,
        _ => Side::Left,
    });
    let fixing = Fixing::default();
    let reveals = [(opening.from(), Length::mm(-1.0)), (opening.to(), Length::mm(1.0))];
    for (which, (reveal, beyond)) in reveals.into_iter().enumerate() {
        let Some(stretch) = face_stretch(project, opening.wall, side, reveal + beyond, fixing) else {
            continue;
        };
        let end = if which == 0 { stretch.start.0 } else { stretch.end.0 };
        let at = wall.on_face(reveal, side);
        if (end - at).hypot() >= 1.0 {
            ghost.measures.push(measured(end, at));
        }
    }
}

impl Tool for Cut {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => {
                self.ghost = Ghost::default();
                self.found = None;
                return Vec::new();
            }
            Gesture::RightClick => self.other_hand = !self.other_hand,
            _ => {}
        }
        self.show(touch.at, around);
        match touch.gesture {
            Gesture::Click | Gesture::Drop => vec![Intent::Change(self.change(around))],
            _ => Vec::new(),
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let name = match self.choice {
            OpeningChoice::Door => "door",
            OpeningChoice::Window => "window",
            OpeningChoice::Plain => "plain opening",
        };
        match (&self.refused, &self.found) {
            (Some(refused), _) => format!("It can't go here: {refused}."),
            (None, None) => {
                format!("Move over a wall to cut a {name} of {} mm; type another width.", self.width)
            }
            (None, Some(_)) => {
                let hand = if self.choice == OpeningChoice::Door {
                    " Right click hangs it on its other side."
                } else {
                    ""
                };
                let width = self.found.as_ref().map_or(self.width, |opening| opening.width);
                format!("Click to cut a {name} of {width} mm, {}; type another width.{hand}", self.why)
            }
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        Some("Width between reveals")
    }

    fn typed(&mut self, text: &str, _around: &mut Around<'_>) -> Vec<Intent> {
        match Length::parse(text) {
            Ok(width) if width.as_mm() >= 1.0 => {
                self.width = width.rounded();
                self.width_typed = true;
                vec![Intent::Say(format!("The next opening is {} mm wide.", self.width))]
            }
            Ok(_) => vec![Intent::Change(Err("a width must be above zero: type 850 or 0.85m".to_owned()))],
            Err(sentence) => vec![Intent::Change(Err(sentence))],
        }
    }

    fn turn(&mut self, _degrees: f64) -> bool {
        self.other_hand = !self.other_hand;
        true
    }
}
