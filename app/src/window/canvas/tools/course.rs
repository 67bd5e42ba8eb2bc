//! Draw a course point by point: a way that people walk, a line between rooms, or the boundary of the site.
//!
//! Clicks add points; Enter, a double click or the other button ends it. A walk may go on on another level, by the
//! stair between; a room line ends where it comes to a wall.

use kurbo::Point;
use pattress_model::drawing::{Item, Layer, Role};
use pattress_model::edit::verbs;
use pattress_model::plan::{Walk, WalkPoint, WalkPurpose};

use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// What is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draws {
    /// A way that people take.
    Walk,
    /// A line between rooms that no wall parts.
    RoomLine,
    /// The boundary of the site.
    Boundary,
}

/// The tool that draws courses.
pub struct Course {
    draws: Draws,
    points: Vec<WalkPoint>,
    ghost: Ghost,
}

impl Course {
    /// Ready for the first point.
    pub fn of(draws: Draws) -> Self {
        Self { draws, points: Vec::new(), ghost: Ghost::default() }
    }

    /// A boundary and a room line catch what there is to catch; a walk goes freely, in whole centimetres.
    fn caught(&self, at: Point, around: &mut Around<'_>) -> Point {
        match self.draws {
            Draws::Walk => Point::new(around.stepped(at.x), around.stepped(at.y)),
            Draws::RoomLine | Draws::Boundary => {
                around.snap(at, self.points.last().map(|point| point.at), &[]).at
            }
        }
    }

    fn show(&mut self, at: Point, around: &Around<'_>) {
        self.ghost = Ghost { mark: Some(at), ..Ghost::default() };
        let role = match self.draws {
            Draws::Walk => Role::Walk,
            Draws::RoomLine => Role::RoomLine,
            Draws::Boundary => Role::SiteBoundary,
        };
        let here = around.level();
        let last = WalkPoint { level: here, at };
        let points: Vec<&WalkPoint> = self.points.iter().chain([&last]).collect();
        for leg in points.windows(2).filter(|leg| leg.iter().all(|point| point.level == here)) {
            self.ghost.items.push(Item::line(Layer::Spots, role, None, leg[0].at, leg[1].at));
            // Its own thin line would be lost over a crowded plan.
            self.ghost.guides.push((leg[0].at, leg[1].at));
        }
        if let (Draws::Boundary, Some(first)) = (self.draws, self.points.first()) {
            self.ghost.items.push(Item::line(Layer::Spots, role, None, at, first.at));
        }
    }

    fn end(&mut self, around: &Around<'_>) -> Vec<Intent> {
        let points = std::mem::take(&mut self.points);
        self.ghost = Ghost::default();
        if points.is_empty() {
            return Vec::new();
        }
        let project = around.project();
        let change = match self.draws {
            Draws::Walk => {
                let walk = Walk { name: String::new(), purpose: WalkPurpose::Daily, points };
                verbs::draw_walk(project, walk)
            }
            Draws::RoomLine => {
                let points: Vec<Point> = points.into_iter().map(|point| point.at).collect();
                verbs::draw_room_lines(project, around.level(), &points)
            }
            Draws::Boundary => {
                verbs::draw_boundary(project, points.into_iter().map(|point| point.at).collect())
            }
        };
        vec![Intent::Change(change)]
    }
}

fn is_on_a_wall(at: Point, around: &Around<'_>) -> bool {
    let mut walls = around.project().walls_on(around.level());
    walls.any(|(_, wall)| wall.distance_to_axis(at) <= wall.thickness / 2.0)
}

impl Tool for Course {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => {
                self.ghost.mark = None;
                return Vec::new();
            }
            Gesture::RightClick | Gesture::DoubleClick => return self.end(around),
            _ => {}
        }
        let at = self.caught(touch.at, around);
        if matches!(touch.gesture, Gesture::Click | Gesture::Drop) {
            let point = WalkPoint { level: around.level(), at };
            if self.points.last() != Some(&point) {
                self.points.push(point);
            }
            if self.draws == Draws::RoomLine && self.points.len() > 1 && is_on_a_wall(at, around) {
                return self.end(around);
            }
        }
        self.show(at, around);
        Vec::new()
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        match (self.draws, self.points.len()) {
            (Draws::Walk, 0) => "Click where the way starts.".to_owned(),
            (Draws::Walk, 1) => "Click where it goes on.".to_owned(),
            (Draws::Walk, _) => "Click where it goes on; Enter ends it.".to_owned(),
            (Draws::RoomLine, 0) => "Click a wall where one room ends and the next begins.".to_owned(),
            (Draws::RoomLine, _) => "Click the wall across; click between for a corner.".to_owned(),
            (Draws::Boundary, 0) => "Click the first corner of the site.".to_owned(),
            (Draws::Boundary, 1 | 2) => "Click the next corner of the site.".to_owned(),
            (Draws::Boundary, _) => "Click the next corner; Enter closes the boundary.".to_owned(),
        }
    }

    fn enter(&mut self, around: &mut Around<'_>) -> Vec<Intent> {
        self.end(around)
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        let had = !self.points.is_empty();
        self.points.clear();
        had
    }
}
