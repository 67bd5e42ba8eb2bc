//! The triangles of a layer's chunks put together on the screen.
//!
//! While the board is panned the same triangles only move, so they are put together once and then shifted where
//! they lie: no frame copies them more often than egui does. They are put together again when a chunk comes into
//! view or is made anew, or when the size changes.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::epaint::Mesh;
use egui::{Pos2, Rect};
use kurbo::Point;

use super::camera::Camera;
use super::ink::append_moved;

/// What a frame of a very large plan needs for its triangles, bytes.
const LARGEST_FRAME: usize = 24 << 20;

/// Lets the memory of one frame's triangles serve the next.
///
/// egui makes its triangles anew in every frame. The allocator of the GNU C library gives blocks of such a size
/// back to the system and asks for them again sixty times a second, which took three quarters of a frame; after a
/// large block was freed once it keeps them (mallopt(3), `M_MMAP_THRESHOLD`: it learns from what is freed). The
/// block is never written to, so it takes no memory; elsewhere this does nothing.
pub fn keep_freed_memory() {
    drop(std::hint::black_box(Vec::<u8>::with_capacity(LARGEST_FRAME)));
}

/// A chunk's triangles as they were made: relative to the middle of the chunk, at the size of then.
pub struct Part<'a> {
    /// Tells these triangles from any made before or after them.
    pub number: u64,
    /// The plan point that they are relative to.
    pub origin: Point,
    /// Screen points to a plan millimetre when they were made.
    pub points_per_mm: f64,
    /// The triangles.
    pub mesh: &'a Mesh,
}

/// The triangles of a layer on the screen.
pub struct Assembled<Place> {
    parts: BTreeMap<Place, u64>,
    camera: Camera,
    middle: Pos2,
    mesh: Arc<Mesh>,
}

impl<Place> Default for Assembled<Place> {
    fn default() -> Self {
        Self { parts: BTreeMap::new(), camera: Camera::default(), middle: Pos2::ZERO, mesh: Arc::default() }
    }
}

impl<Place: Ord + Copy> Assembled<Place> {
    /// The triangles of the chunks that are in view. `now` says which triangles a chunk has, in view or not.
    pub fn mesh(
        &mut self,
        camera: &Camera,
        board: Rect,
        in_view: &[(Place, Part<'_>)],
        now: impl Fn(Place) -> Option<u64>,
    ) -> Arc<Mesh> {
        if self.still_holds(camera, in_view, now) {
            let by = (self.camera.centre - camera.centre) * camera.points_per_mm;
            let by = egui::vec2(by.x as f32, -by.y as f32) + (board.center() - self.middle);
            if by != egui::Vec2::ZERO {
                Arc::make_mut(&mut self.mesh).translate(by);
            }
        } else {
            self.parts = in_view.iter().map(|(place, part)| (*place, part.number)).collect();
            let mesh = Arc::make_mut(&mut self.mesh);
            mesh.clear();
            for (_, part) in in_view {
                let at = camera.screen_from_plan(board, part.origin);
                append_moved(mesh, part.mesh, at, (camera.points_per_mm / part.points_per_mm) as f32);
            }
        }
        self.camera = *camera;
        self.middle = board.center();
        Arc::clone(&self.mesh)
    }

    /// Whether a shift is all that is needed. What has left the view may stay for a while: it is clipped.
    fn still_holds(
        &self,
        camera: &Camera,
        in_view: &[(Place, Part<'_>)],
        now: impl Fn(Place) -> Option<u64>,
    ) -> bool {
        self.camera.points_per_mm == camera.points_per_mm
            && self.parts.len() <= 2 * in_view.len()
            && in_view.iter().all(|(place, part)| self.parts.get(place) == Some(&part.number))
            && self.parts.iter().all(|(place, number)| now(*place) == Some(*number))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Color32, pos2, vec2};

    const BOARD: Rect = Rect { min: Pos2::ZERO, max: Pos2 { x: 100.0, y: 100.0 } };

    fn triangle() -> Mesh {
        let mut mesh = Mesh::default();
        for corner in [pos2(0.0, 0.0), pos2(4.0, 0.0), pos2(0.0, 4.0)] {
            mesh.colored_vertex(corner, Color32::BLACK);
        }
        mesh.add_triangle(0, 1, 2);
        mesh
    }

    fn part(number: u64, x: f64, mesh: &Mesh) -> Part<'_> {
        Part { number, origin: Point::new(x, 0.0), points_per_mm: 1.0, mesh }
    }

    fn first_corners(mesh: &Mesh) -> Vec<Pos2> {
        mesh.vertices.iter().step_by(3).map(|vertex| vertex.pos).collect()
    }

    #[test]
    fn panned_the_same_triangles_move_and_nothing_is_put_together_again() {
        let mesh = triangle();
        let mut assembled = Assembled::default();
        let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
        let both = [(1, part(7, 0.0, &mesh)), (2, part(8, 10.0, &mesh))];
        let made = assembled.mesh(&camera, BOARD, &both, |place| Some(place + 6));
        assert_eq!(first_corners(&made), [pos2(50.0, 50.0), pos2(60.0, 50.0)]);
        drop(made);
        let panned = Camera { centre: Point::new(5.0, 2.0), ..camera };
        // The second chunk has left the view but still has its triangles, so it may stay.
        let moved = assembled.mesh(&panned, BOARD, &both[..1], |place| Some(place + 6));
        assert_eq!(first_corners(&moved), [pos2(45.0, 52.0), pos2(55.0, 52.0)]);
    }

    #[test]
    fn what_is_made_anew_or_gone_does_not_stay() {
        let mesh = triangle();
        let mut assembled = Assembled::default();
        let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
        let both = [(1, part(7, 0.0, &mesh)), (2, part(8, 10.0, &mesh))];
        drop(assembled.mesh(&camera, BOARD, &both, |place| Some(place + 6)));
        let without_second = |place| (place == 1).then_some(7);
        let made = assembled.mesh(&camera, BOARD, &both[..1], without_second);
        assert_eq!(first_corners(&made), [pos2(50.0, 50.0)]);
        let anew = [(1, part(9, 20.0, &mesh))];
        let made = assembled.mesh(&camera, BOARD, &anew, |_| Some(9));
        assert_eq!(first_corners(&made), [pos2(70.0, 50.0)]);
    }

    #[test]
    fn at_another_size_triangles_are_shown_scaled() {
        let mesh = triangle();
        let mut assembled = Assembled::default();
        let camera = Camera { centre: Point::ORIGIN, points_per_mm: 2.0 };
        let made = assembled.mesh(&camera, BOARD, &[(1, part(7, 10.0, &mesh))], |_| Some(7));
        assert_eq!(made.vertices[1].pos, pos2(70.0, 50.0) + vec2(8.0, 0.0));
    }
}
