//! Where the board is looked at from.

use egui::{Pos2, Rect, pos2};
use kurbo::Point;

/// Nearest and farthest that the board can be looked at, screen points to a plan millimetre.
const NEAREST: f64 = 4.0;
const FARTHEST: f64 = 0.001;

/// The middle of the view on the plan, and how large a millimetre is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Plan point in the middle of the board, mm.
    pub centre: Point,
    /// Screen points to one plan millimetre.
    pub points_per_mm: f64,
}

impl Default for Camera {
    fn default() -> Self {
        Self { centre: Point::ORIGIN, points_per_mm: 0.05 }
    }
}

impl Camera {
    /// Where a plan point lies on the screen, the board filling `board`.
    pub fn screen_from_plan(&self, board: Rect, point: Point) -> Pos2 {
        let offset = (point - self.centre) * self.points_per_mm;
        pos2(board.center().x + offset.x as f32, board.center().y - offset.y as f32)
    }

    /// What plan point a place on the screen shows.
    pub fn plan_from_screen(&self, board: Rect, at: Pos2) -> Point {
        let (x, y) = (f64::from(at.x - board.center().x), f64::from(at.y - board.center().y));
        Point::new(self.centre.x + x / self.points_per_mm, self.centre.y - y / self.points_per_mm)
    }

    /// The part of the plan that is in view.
    pub fn in_view(&self, board: Rect) -> kurbo::Rect {
        kurbo::Rect::from_points(
            self.plan_from_screen(board, board.left_bottom()),
            self.plan_from_screen(board, board.right_top()),
        )
    }

    /// Moves the view with the pointer.
    pub fn pan(&mut self, by: egui::Vec2) {
        self.centre.x -= f64::from(by.x) / self.points_per_mm;
        self.centre.y += f64::from(by.y) / self.points_per_mm;
    }

    /// Comes nearer by a factor; the plan point under `about` stays there.
    pub fn zoom(&mut self, board: Rect, about: Pos2, factor: f64) {
        let held = self.plan_from_screen(board, about);
        self.points_per_mm = (self.points_per_mm * factor).clamp(FARTHEST, NEAREST);
        let now = self.plan_from_screen(board, about);
        self.centre += held - now;
    }

    /// Brings a part of the plan into view with a little air around it.
    pub fn show(&mut self, board: Rect, part: kurbo::Rect) {
        self.centre = part.center();
        let (width, height) = (part.width().max(500.0), part.height().max(500.0));
        let fits = (f64::from(board.width()) / width).min(f64::from(board.height()) / height);
        self.points_per_mm = (fits * 0.95).clamp(FARTHEST, NEAREST);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zooming_holds_the_point_under_the_pointer() {
        let board = Rect::from_min_size(pos2(10.0, 20.0), egui::vec2(800.0, 600.0));
        let mut camera = Camera { centre: Point::new(3000.0, 4000.0), points_per_mm: 0.1 };
        let about = pos2(200.0, 100.0);
        let before = camera.plan_from_screen(board, about);
        camera.zoom(board, about, 1.7);
        let after = camera.plan_from_screen(board, about);
        assert!((after - before).hypot() < 1e-6);
        let there = camera.screen_from_plan(board, before);
        assert!((there - about).length() < 1e-3);
    }
}
