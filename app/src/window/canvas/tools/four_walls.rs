//! Four walls by two corners: of their axes on the board, of the clear inside when typed.

use kurbo::{Point, Rect};
use pattress_model::edit::verbs::{self, WallSpec};
use pattress_model::plan::Wall;
use pattress_model::units::Length;

use super::figures::in_mm;
use super::preview::wall_item;
use super::walls::{spec_in_hand, spec_words};
use super::{Around, Gesture, Ghost, Tool, Touch};
use crate::window::intent::Intent;

/// The tool for four walls.
#[derive(Default)]
pub struct FourWalls {
    first: Option<Point>,
    second: Option<Point>,
    spec: Option<WallSpec>,
    why: &'static str,
    ghost: Ghost,
}

impl FourWalls {
    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Point {
        // From the first corner a right angle would fold the room flat, so only what is there is caught.
        let landing = around.snap(at, None, &[]);
        self.why = landing.why.words();
        let spec = spec_in_hand(around);
        self.spec = Some(spec);
        self.ghost = Ghost { mark: Some(landing.at), ..Ghost::default() };
        self.ghost.guides.extend(landing.guide);
        if let Some(first) = self.first {
            self.second = Some(landing.at);
            let rect = Rect::from_points(first, landing.at);
            let thickness = spec.thickness.as_mm();
            for wall in sides(rect, spec, around) {
                self.ghost.items.push(wall_item(&wall));
            }
            let (width, depth) = (rect.width() - thickness, rect.height() - thickness);
            if width > 0.0 && depth > 0.0 {
                let words =
                    format!("clear inside {} × {}", in_mm(Length::mm(width)), in_mm(Length::mm(depth)));
                self.ghost.notes.push((landing.at, words));
            }
        }
        landing.at
    }

    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(first) = self.first.take() else {
            self.first = Some(point);
            return Vec::new();
        };
        let rect = Rect::from_points(first, point);
        vec![Intent::Change(verbs::draw_room(around.project(), around.level(), rect, spec_in_hand(around)))]
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

/// Reads two lengths with a cross between them.
pub fn two_lengths(text: &str) -> Result<(Length, Length), String> {
    let refusal = || format!("“{}” is not a size: type 4.2m x 3.6m", text.trim());
    let (width, depth) = text.split_once(['x', 'X', '×']).ok_or_else(refusal)?;
    let (width, depth) = (Length::parse(width)?, Length::parse(depth)?);
    if width.as_mm() < 1.0 || depth.as_mm() < 1.0 { Err(refusal()) } else { Ok((width, depth)) }
}

/// The corner so far from a first one, towards where the pointer is.
pub fn corner_towards(first: Point, pointer: Point, width: f64, depth: f64) -> Point {
    let sign = |value: f64| if value < 0.0 { -1.0 } else { 1.0 };
    Point::new(first.x + sign(pointer.x - first.x) * width, first.y + sign(pointer.y - first.y) * depth)
}

impl Tool for FourWalls {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        match touch.gesture {
            Gesture::Away => {
                self.ghost = Ghost::default();
                Vec::new()
            }
            Gesture::DragStart { from } => {
                let at = self.show(from, around);
                if self.first.is_none() { self.take(at, around) } else { Vec::new() }
            }
            Gesture::Click | Gesture::Drop => {
                let at = self.show(touch.at, around);
                self.take(at, around)
            }
            Gesture::RightClick => {
                self.let_go();
                Vec::new()
            }
            Gesture::Hover | Gesture::Drag | Gesture::DoubleClick => {
                self.show(touch.at, around);
                Vec::new()
            }
        }
    }

    fn ghost(&self) -> &Ghost {
        &self.ghost
    }

    fn hint(&self) -> String {
        let spec = self.spec.map(spec_words).unwrap_or_default();
        if self.first.is_none() {
            format!("Click one corner of the room ({spec}): {}.", self.why)
        } else {
            format!("Click the opposite corner, or type the clear inside such as 4.2m x 3.6m: {}.", self.why)
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        self.first.map(|_| "Clear inside, width x depth")
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        let Some(first) = self.first else { return Vec::new() };
        match two_lengths(text) {
            Ok((width, depth)) => {
                let thickness = spec_in_hand(around).thickness;
                let pointer = self.second.unwrap_or(first);
                let (width, depth) = (width + thickness, depth + thickness);
                self.take(corner_towards(first, pointer, width.as_mm(), depth.as_mm()), around)
            }
            Err(sentence) => vec![Intent::Change(Err(sentence))],
        }
    }

    fn let_go(&mut self) -> bool {
        self.ghost = Ghost::default();
        self.second = None;
        self.first.take().is_some()
    }
}
