//! Walls by clicking: each click ends one wall and begins the next, so that undo goes back wall by wall.
//!
//! The clicked line is the walls' centre or one of their faces; by a face, corners are mitred as the chain goes
//! on. Before the first click a thickness can be typed, or measured from the drawing beneath.

use kurbo::{Point, Vec2};
use pattress_model::edit::snap::{Snap, SnapReason, Wanted};
use pattress_model::edit::verbs::{self, WallSpec};
use pattress_model::edit::{Change, Subject};
use pattress_model::id::Id;
use pattress_model::plan::{Hand, MakeUp, Wall};
use pattress_model::units::Length;

use super::figures::{in_mm, measured};
use super::manner::{Manner, Thickness, WallLine, meeting};
use super::preview::wall_item;
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// Thickness of the first wall of a house, mm: an external wall (common practice, no published source).
const FIRST_WALL_MM: f64 = 300.0;

/// Clicks nearer together than this are one, mm.
const SAME_POINT_MM: f64 = 1.0;

/// An end this near to a face of another wall was meant to meet that wall, mm.
const AT_A_FACE_MM: f64 = 5.0;

/// A clicked point, and the wall that ends there.
#[derive(Clone, Copy, Debug)]
struct Link {
    clicked: Point,
    wall: Option<Id<Wall>>,
}

/// The tool for walls.
#[derive(Default)]
pub struct Walls {
    chain: Vec<Link>,
    /// What the plan's generation was when the last point was taken: its wall stands from the next one on.
    taken_at: Option<u64>,
    landing: Option<Snap>,
    manner: Manner,
    spec: Option<WallSpec>,
    /// Thickness as the drawing shows it where the first click landed, or would.
    as_drawn: Option<Length>,
    ghost: Ghost,
}

/// What the next wall is like: as the wall that is selected, else as the one drawn last on the level; as thick as
/// was typed or as the drawing shows, where that is asked for.
pub fn spec_in_hand(around: &Around<'_>, as_drawn: Option<Length>) -> WallSpec {
    let project = around.project();
    let of = |wall: &Wall| WallSpec { thickness: wall.thickness, height: wall.height, make_up: wall.make_up };
    let selected = match around.session.only_selected() {
        Some(Subject::Wall(id)) => project.walls.get(id),
        _ => None,
    };
    let last = project.walls_on(around.level()).last().map(|(_, wall)| wall);
    let spec = selected.or(last).map_or_else(
        || WallSpec {
            thickness: Length::mm(FIRST_WALL_MM),
            height: project.levels.get(around.level()).map_or(Length::mm(2400.0), |level| level.ceiling_affl),
            make_up: MakeUp::Masonry,
        },
        of,
    );
    let thickness = match around.manner.thickness {
        Thickness::AsLast => spec.thickness,
        Thickness::Typed(typed) => typed,
        Thickness::AsDrawn => as_drawn.unwrap_or(spec.thickness),
    };
    WallSpec { thickness, ..spec }
}

/// The words for it.
pub fn spec_words(spec: WallSpec, manner: Manner, as_drawn: Option<Length>) -> String {
    let thickness = in_mm(spec.thickness);
    match (manner.thickness, as_drawn) {
        (Thickness::AsDrawn, Some(_)) => format!("{thickness} mm as drawn"),
        (Thickness::AsDrawn, None) => format!("{thickness} mm, no wall seen in the drawing here"),
        _ => format!("{thickness} mm {}", spec.make_up.name()),
    }
}

/// A thickness that was typed, as the manner that goes on from there.
pub fn typed_thickness(text: &str, manner: Manner) -> Vec<Intent> {
    match Length::parse(text) {
        Ok(length) if length.as_mm() >= 1.0 => {
            let thickness = length.rounded();
            vec![
                Intent::DrawWalls(Manner { thickness: Thickness::Typed(thickness), ..manner }),
                Intent::Say(format!("Walls are {} mm thick from here on.", in_mm(thickness))),
            ]
        }
        Ok(_) => vec![Intent::Change(Err("a thickness must be above zero: type 100 or 0.1m".to_owned()))],
        Err(sentence) => vec![Intent::Change(Err(sentence))],
    }
}

/// Where the axis of a wall that ends at or within another wall meets that wall's axis; else the end itself.
fn run_on(around: &Around<'_>, end: Point, run: Vec2, own: &[Id<Wall>]) -> Point {
    let meets = |wall: &Wall| {
        let reach = wall.thickness.as_mm() / 2.0 + AT_A_FACE_MM;
        let met = meeting((end, run), (wall.start, wall.end - wall.start))?;
        let near = (met - end).hypot() <= 2.0 * reach && wall.distance_to_axis(met).as_mm() < 1.0;
        (near && wall.distance_to_axis(end).as_mm() <= reach).then_some(met)
    };
    around
        .project()
        .walls_on(around.level())
        .filter(|(id, _)| !own.contains(id))
        .filter_map(|(_, wall)| meets(wall))
        .min_by(|a, b| (*a - end).hypot2().total_cmp(&(*b - end).hypot2()))
        .unwrap_or(end)
}

/// The next wall of a chain: its axis, and the walls before it that are taken to the corner with it.
struct Next {
    axis: (Point, Point),
    joined: Vec<(Id<Wall>, Hand, Point)>,
}

impl Walls {
    fn last(&self) -> Option<Point> {
        self.chain.last().map(|link| link.clicked)
    }

    /// Undo takes walls back; the chain goes back with them.
    fn follow_undo(&mut self, around: &Around<'_>) {
        if self.taken_at == Some(around.session.generation()) {
            return;
        }
        let gone = |link: &Link| link.wall.is_some_and(|wall| !around.project().walls.contains(wall));
        while self.chain.last().is_some_and(gone) {
            self.chain.pop();
        }
    }

    fn closes(&self, point: Point) -> bool {
        self.chain.len() > 2 && (point - self.chain[0].clicked).hypot() < SAME_POINT_MM
    }

    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Snap {
        self.follow_undo(around);
        self.manner = around.manner;
        let wanted = if self.manner.line == WallLine::Centre { Wanted::Middles } else { Wanted::Lines };
        let last = self.last();
        let mut landing = around.snap_for(at, last, &[], wanted);
        if let Some(first) = self.chain.first().filter(|_| self.chain.len() > 2)
            && around.snapping
            && (first.clicked - at).hypot() <= around.reach()
        {
            landing = Snap { at: first.clicked, why: SnapReason::WallEnd, guide: None };
        }
        if self.chain.is_empty() && self.manner.thickness == Thickness::AsDrawn {
            self.as_drawn = around.wall_as_drawn(landing.at).map(|wall| wall.thickness);
        }
        let spec = spec_in_hand(around, self.as_drawn);
        self.spec = Some(spec);
        self.landing = Some(landing);
        self.ghost = Ghost { mark: Some(landing.at), ..Ghost::default() };
        self.ghost.of_drawing = landing.why.is_of_the_drawing();
        self.ghost.guides.extend(landing.guide);
        if let Some(last) = last
            && (landing.at - last).hypot() >= SAME_POINT_MM
            && let Some(next) = self.next(landing.at, spec, around)
        {
            let WallSpec { thickness, height, make_up } = spec;
            let (start, end) = next.axis;
            let wall = Wall { level: around.level(), start, end, thickness, height, make_up };
            self.ghost.items.push(wall_item(&wall));
            self.ghost.measures.push(measured(last, landing.at));
        }
        landing
    }

    /// The wall that a click at a point would draw.
    fn next(&self, point: Point, spec: WallSpec, around: &Around<'_>) -> Option<Next> {
        let last = self.last()?;
        let run = point - last;
        let line = around.manner.line;
        let off = line.to_axis(run, spec.thickness);
        let (mut start, mut end) = (last + off, point + off);
        let mut joined = Vec::new();
        let own: Vec<Id<Wall>> = self.chain.iter().filter_map(|link| link.wall).collect();
        let axis_of = |id: Id<Wall>| around.project().walls.get(id).map(|wall| (id, wall));
        let by_face = line != WallLine::Centre;
        let before = self.chain.last().and_then(|link| link.wall).and_then(axis_of);
        match before {
            Some((id, wall)) if by_face => match meeting((wall.start, wall.end - wall.start), (start, run)) {
                Some(corner) => {
                    joined.push((id, Hand::End, corner));
                    start = corner;
                }
                None => start = wall.end,
            },
            Some(_) => {}
            None if self.meets_others(around) => start = run_on(around, start, run, &own),
            None => {}
        }
        if self.closes(point) && by_face {
            let first = self.chain.get(1).and_then(|link| link.wall).and_then(axis_of);
            if let Some((id, wall)) = first
                && let Some(corner) = meeting((wall.start, wall.end - wall.start), (start, run))
            {
                joined.push((id, Hand::Start, corner));
                end = corner;
            }
        } else if !self.closes(point) && self.meets_others(around) {
            end = run_on(around, end, run, &own);
        }
        Some(Next { axis: (start, end), joined })
    }

    /// Whether ends that lie at a face of another wall run on to its axis: those that were clicked as faces or
    /// caught in the drawing, not those that were set by hand.
    fn meets_others(&self, around: &Around<'_>) -> bool {
        around.manner.line != WallLine::Centre
            || self.landing.is_some_and(|landing| landing.why.is_of_the_drawing())
    }

    /// Takes a point; from the second on each makes a wall.
    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(last) = self.last() else {
            self.chain.push(Link { clicked: point, wall: None });
            return match (self.manner.thickness, self.as_drawn) {
                (Thickness::AsDrawn, Some(thickness)) => {
                    vec![Intent::Say(format!("{} mm as drawn.", in_mm(thickness)))]
                }
                (Thickness::AsDrawn, None) => {
                    let sentence = "No wall is seen in the drawing here: the wall is as thick as the last.";
                    vec![Intent::Say(sentence.to_owned())]
                }
                _ => Vec::new(),
            };
        };
        if (point - last).hypot() < SAME_POINT_MM {
            return Vec::new();
        }
        let spec = spec_in_hand(around, self.as_drawn);
        let Some(Next { axis, joined }) = self.next(point, spec, around) else { return Vec::new() };
        let change: Result<Change, String> =
            verbs::draw_wall_joined(around.project(), around.level(), axis, spec, &joined);
        if let Ok(change) = &change {
            let closes = self.closes(point);
            let wall =
                verbs::new_things(around.project(), change).into_iter().find_map(|thing| match thing {
                    Subject::Wall(id) => Some(id),
                    _ => None,
                });
            self.chain.push(Link { clicked: point, wall });
            self.taken_at = Some(around.session.generation());
            if closes {
                self.chain.clear();
            }
        }
        vec![Intent::Change(change)]
    }
}

impl Tool for Walls {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => {
                self.ghost = Ghost::default();
                Vec::new()
            }
            Gesture::DoubleClick | Gesture::RightClick => {
                self.chain.clear();
                self.show(touch.at, around);
                Vec::new()
            }
            Gesture::DragStart { from } => {
                let at = self.show(from, around).at;
                self.take(at, around)
            }
            Gesture::Click | Gesture::Drop => {
                let at = self.show(touch.at, around).at;
                self.take(at, around)
            }
            Gesture::Hover | Gesture::Drag => {
                self.show(touch.at, around);
                Vec::new()
            }
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let why = self.landing.map_or("", |landing| landing.why.words());
        let line = self.manner.line.words();
        match (self.chain.is_empty(), self.spec) {
            (true, Some(spec)) => {
                let words = spec_words(spec, self.manner, self.as_drawn);
                format!("Click where the wall begins ({words}, {line}; F changes that): {why}.")
            }
            (true, None) => "Click where the wall begins.".to_owned(),
            (false, _) => {
                format!(
                    "Click where it ends ({line}), or type its length: {why}. Right click ends the chain."
                )
            }
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        Some(if self.chain.is_empty() { "Thickness of the wall" } else { "Length of the wall" })
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let (Some(last), Some(landing)) = (self.last(), self.landing) else {
            return typed_thickness(text, around.manner);
        };
        let run: Vec2 = landing.at - last;
        let length = match Length::parse(text) {
            Ok(length) if length.as_mm() >= SAME_POINT_MM => length,
            Ok(_) => {
                return vec![Intent::Change(Err(
                    "the length of a wall must be above zero: type 3600 or 3.6m".to_owned(),
                ))];
            }
            Err(sentence) => return vec![Intent::Change(Err(sentence))],
        };
        if run.hypot() < SAME_POINT_MM {
            let sentence = "point in the direction of the wall first, then type its length";
            return vec![Intent::Change(Err(sentence.to_owned()))];
        }
        self.take(last + run * (length.as_mm() / run.hypot()), around)
    }

    fn enter(&mut self, _around: &mut Around<'_>) -> Vec<Intent> {
        self.let_go();
        Vec::new()
    }

    fn let_go(&mut self) -> bool {
        let busy = !self.chain.is_empty();
        self.chain.clear();
        self.ghost = Ghost::default();
        busy
    }
}
