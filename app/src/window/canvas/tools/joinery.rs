//! Joinery by two corners. It stands against the wall it is drawn at, its front to the room.

use kurbo::{Point, Rect, Vec2};
use pattress_model::edit::verbs;
use pattress_model::plan::{Joinery, JoineryForm};
use pattress_model::units::{Angle, Length};

use super::figures::in_mm;
use super::two_corners::{Corners, TwoCorners};
use super::{Around, Ghost, Tool, Touch, faces, preview};
use crate::window::intent::Intent;

/// The tool for a form of joinery.
pub struct Draw {
    form: JoineryForm,
    corners: Corners,
    why: &'static str,
}

impl Draw {
    /// Ready to draw pieces of a form.
    pub fn of(form: JoineryForm) -> Self {
        Self { form, corners: Corners::default(), why: "" }
    }

    /// The piece on a rectangle, its back to the side that is nearest a wall.
    fn piece(&self, rect: Rect, around: &Around<'_>) -> Joinery {
        let sides = [
            (0.0, Vec2::new(0.0, 1.0)),
            (180.0, Vec2::new(0.0, -1.0)),
            (-90.0, Vec2::new(1.0, 0.0)),
            (90.0, Vec2::new(-1.0, 0.0)),
        ];
        let centre = rect.center();
        let from_wall = |back: Vec2| {
            let middle = centre + Vec2::new(back.x * rect.width(), back.y * rect.height()) / 2.0;
            faces::catch(around.project(), around.level(), middle, 100.0)
                .map_or(f64::MAX, |caught| (caught.at - middle).hypot())
        };
        // Sorting is stable: of sides equally near, and where no wall is near, the upper one is the back.
        let mut by_nearness = sides.map(|(degrees, back)| (from_wall(back), degrees));
        by_nearness.sort_by(|a, b| a.0.total_cmp(&b.0));
        let degrees = by_nearness[0].1;
        let sideways = f64::abs(degrees) == 90.0;
        let (width, depth) =
            if sideways { (rect.height(), rect.width()) } else { (rect.width(), rect.height()) };
        let (base, top) = heights(self.form);
        let (before, form) = (around.project().joinery.iter(), self.form);
        let number = before.filter(|(_, piece)| piece.form == form).count() + 1;
        let mut name = form.name().to_owned();
        if let Some(first) = name.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        Joinery {
            level: around.level(),
            name: if number == 1 { name } else { format!("{name} {number}") },
            form,
            centre,
            width: Length::mm(width),
            depth: Length::mm(depth),
            turn: Angle::degrees(degrees),
            base: Length::mm(base),
            top: Length::mm(top),
            leaves: Vec::new(),
        }
    }
}

/// Heights of underside and top to begin with, mm (common practice, no published source).
const fn heights(form: JoineryForm) -> (f64, f64) {
    match form {
        JoineryForm::Island | JoineryForm::Worktop => (0.0, 910.0),
        JoineryForm::WallUnit => (1400.0, 2120.0),
        JoineryForm::Wardrobe => (0.0, 2200.0),
        JoineryForm::Shelves => (300.0, 2000.0),
        JoineryForm::Sanitary => (0.0, 560.0),
    }
}

impl TwoCorners for Draw {
    fn show(&mut self, at: Point, around: &mut Around<'_>) -> Point {
        let caught = faces::catch(around.project(), around.level(), at, around.reach());
        let landing = match caught.filter(|_| around.snapping) {
            Some(caught) => {
                self.why = caught.words();
                caught.at
            }
            None => {
                self.why = if around.snapping { "10 mm grid" } else { "free" };
                Point::new(around.stepped(at.x), around.stepped(at.y))
            }
        };
        self.corners.ghost = Ghost { mark: Some(landing), ..Ghost::default() };
        if let Some(first) = self.corners.first {
            self.corners.second = Some(landing);
            let piece = self.piece(Rect::from_points(first, landing), around);
            let words = format!("{} × {}", in_mm(piece.width), in_mm(piece.depth));
            if let Ok(change) = verbs::add_joinery(around.project(), piece) {
                let _ = preview::show(&mut self.corners.ghost, around, &change);
                self.corners.ghost.hides.clear();
            }
            self.corners.ghost.notes.push((landing, words));
        }
        landing
    }

    fn take(&mut self, point: Point, around: &Around<'_>) -> Vec<Intent> {
        let Some(first) = self.corners.first.take() else {
            self.corners.first = Some(point);
            return Vec::new();
        };
        let rect = Rect::from_points(first, point);
        if rect.width() < 10.0 || rect.height() < 10.0 {
            let sentence = "the piece has no width or no depth: pick two opposite corners";
            return vec![Intent::Change(Err(sentence.to_owned()))];
        }
        vec![Intent::Change(verbs::add_joinery(around.project(), self.piece(rect, around)))]
    }

    fn corners(&mut self) -> &mut Corners {
        &mut self.corners
    }
}

impl Tool for Draw {
    fn touch(&mut self, touch: Touch, around: &mut Around<'_>) -> Vec<Intent> {
        self.answer(touch, around)
    }

    fn ghost(&self) -> &Ghost {
        &self.corners.ghost
    }

    fn hint(&self) -> String {
        let name = self.form.name();
        if self.corners.first.is_none() {
            format!("Click one corner of the {name}: {}.", self.why)
        } else {
            format!("Click the opposite corner, or type a size such as 2.4m x 0.9m: {}.", self.why)
        }
    }

    fn takes_typing(&self) -> Option<&'static str> {
        self.corners.first.map(|_| "Size, across x up")
    }

    fn typed(&mut self, text: &str, around: &mut Around<'_>) -> Vec<Intent> {
        self.sized(text, Length::ZERO, around)
    }

    fn let_go(&mut self) -> bool {
        self.drop_corner()
    }
}
