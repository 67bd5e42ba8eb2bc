//! Four walls by two corners: of their axes on the board, of the clear inside when typed.

use kurbo::{Point, Rect};
use pattress_model::edit::snap::Wanted;
use pattress_model::edit::verbs::{self, WallSpec};
use pattress_model::plan::Wall;
use pattress_model::units::Length;

use super::figures::in_mm;
use super::manner::{Manner, Thickness, WallLine};
use super::preview::wall_item;
use super::two_corners::{Corners, TwoCorners};
use super::walls::{spec_in_hand, spec_words, typed_thickness};
use super::{Around, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// The tool for four walls.
#[derive(Default)]
pub struct FourWalls {
    corners: Corners,
    spec: Option<WallSpec>,
    manner: Manner,
    as_drawn: Option<Length>,
    why: &'static str,
}

/// The axes of four walls whose clicked lines are the sides of a rectangle.
fn axes(clicked: Rect, spec: WallSpec, line: WallLine) -> Rect {
    let half = spec.thickness.as_mm() / 2.0;
    match line {
        WallLine::Centre => clicked,
        WallLine::LeftFace => clicked.inflate(half, half),
        WallLine::RightFace => clicked.inflate(-half, -half),
    }
}

fn sides(rect: Rect, spec: WallSpec, around: &Around<'_>) -> Vec<Wall> {
    let at = Point::new;
    let corners = [at(rect.x0, rect.y0), at(rect.x1, rect.y0), at(rect.x1, rect.y1), at(rect.x0, rect.y1)];
    let WallSpec { thickness, height, make_up } = spec;
    (0..4)
        .map(|side| (corners[side], corners[(side + 1) % 4]))
        .filter(|(start, end)| (*end - *start).hypot() >= 1.0)
        .map(|(start, end)| Wall { level: around.level(), start, end, thickness, height, make_up })
        .collect()
}

impl TwoCorners for FourWalls {
    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Point {
        // From the first corner a right angle would fold the room flat, so only what is there is caught.
        self.manner = around.manner;
        let wanted = if self.manner.line == WallLine::Centre { Wanted::Middles } else { Wanted::Lines };
        let landing = around.snap_for(at, None, &[], wanted);
        if self.corners.first.is_none() && self.manner.thickness == Thickness::AsDrawn {
            self.as_drawn = around.wall_as_drawn(landing.at).map(|wall| wall.thickness);
        }
        self.why = landing.why.words();
        let spec = spec_in_hand(around, self.as_drawn);
        self.spec = Some(spec);
        self.corners.ghost = Ghost { mark: Some(landing.at), ..Ghost::default() };
        self.corners.ghost.of_drawing = landing.why.is_of_the_drawing();
        self.corners.ghost.guides.extend(landing.guide);
        if let Some(first) = self.corners.first {
            self.corners.second = Some(landing.at);
            let rect = axes(Rect::from_points(first, landing.at), spec, self.manner.line);
            let thickness = spec.thickness.as_mm();
            for wall in sides(rect, spec, around) {
                self.corners.ghost.items.push(wall_item(&wall));
            }
            let (width, depth) = (rect.width() - thickness, rect.height() - thickness);
            if width > 0.0 && depth > 0.0 {
                let words =
                    format!("clear inside {} × {}", in_mm(Length::mm(width)), in_mm(Length::mm(depth)));
                self.corners.ghost.notes.push((landing.at, words));
            }
        }
        landing.at
    }

    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(first) = self.corners.first.take() else {
            self.corners.first = Some(point);
            return Vec::new();
        };
        let spec = spec_in_hand(around, self.as_drawn);
        let rect = axes(Rect::from_points(first, point), spec, around.manner.line);
        vec![Intent::Change(verbs::draw_room(around.project(), around.level(), rect, spec))]
    }

    fn corners(&mut self) -> &mut Corners {
        &mut self.corners
    }
}

impl Tool for FourWalls {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.answer(touch, around)
    }

    fn ghost(&self) -> &Ghost {
        &self.corners.ghost
    }

    fn hint(&self) -> String {
        let spec = self.spec.map(|spec| spec_words(spec, self.manner, self.as_drawn)).unwrap_or_default();
        if self.corners.first.is_none() {
            let line = self.manner.line.words_of_four();
            format!("Click one corner of the room ({spec}, {line}; F changes that): {}.", self.why)
        } else {
            format!("Click the opposite corner, or type the clear inside such as 4.2m x 3.6m: {}.", self.why)
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        Some(self.corners.first.map_or("Thickness of the walls", |_| "Clear inside, width x depth"))
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        if self.corners.first.is_none() {
            return typed_thickness(text, around.manner);
        }
        let thickness = spec_in_hand(around, self.as_drawn).thickness;
        let more = match around.manner.line {
            WallLine::Centre => thickness,
            WallLine::LeftFace => Length::ZERO,
            WallLine::RightFace => thickness * 2.0,
        };
        self.sized(text, more, around)
    }

    fn let_go(&mut self) -> bool {
        self.drop_corner()
    }
}
