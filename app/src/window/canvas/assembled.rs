//! The triangles and letters of a layer's chunks put together on the screen.
//!
//! While the board is panned the same triangles only move, so they are put together once, with a little more than
//! is in view, and then shifted where they lie: no frame copies them more often than egui does. They are put
//! together again when the view leaves that, when a chunk is made anew, or when the size changes.

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::epaint::Mesh;
use egui::{Pos2, Rect, Shape, Vec2, vec2};
use kurbo::Point;

use super::camera::Camera;
use super::ink::{append_moved, append_moved_within};
use super::letters::{Lettered, Placed};
use super::moved::{Moved, Pattern, emptied};

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

/// So much more than the view is put together, as a share of it on every side.
const MARGIN: f32 = 0.15;

/// A shift within so little of whole pixels is one, pixels.
const WHOLE_PIXELS: f32 = 0.02;

/// A chunk's triangles as they were made: relative to the middle of the chunk, at the size of then.
pub struct Part<'a> {
    /// Tells these triangles from any made before or after them.
    pub number: u64,
    /// The plan point that they are relative to.
    pub origin: Point,
    /// Where on the plan they are, mm.
    pub bounds: kurbo::Rect,
    /// Screen points to a plan millimetre when they were made.
    pub points_per_mm: f64,
    /// The triangles.
    pub mesh: &'a Mesh,
    /// The lettering, which lies over the triangles of all chunks.
    pub letters: &'a [Lettered],
}

/// Where the chunks are looked at from.
pub struct Seen<'a> {
    /// The camera.
    pub camera: &'a Camera,
    /// Where the board is on the screen.
    pub board: Rect,
    /// Density of the screen.
    pub pixels_per_point: f32,
}

impl Seen<'_> {
    /// The part of the screen that is put together, and the part of the plan that lies there.
    fn wanted(&self) -> (Rect, kurbo::Rect) {
        let screen = self.board.expand2(self.board.size() * MARGIN);
        let corner = |at: Pos2| self.camera.plan_from_screen(self.board, at);
        (screen, kurbo::Rect::from_points(corner(screen.left_bottom()), corner(screen.right_top())))
    }
}

/// The triangles of a layer on the screen.
pub struct Assembled<Place> {
    parts: BTreeMap<Place, u64>,
    /// From where they were put together, and where the middle of the board was.
    camera: Camera,
    middle: Pos2,
    /// The part of the plan that was put together.
    reaches: kurbo::Rect,
    /// From where they were looked at last.
    last: Camera,
    /// The triangles, and how far they have been shifted since.
    mesh: Arc<Mesh>,
    shifted: Vec2,
    letters: Moved,
}

impl<Place> Default for Assembled<Place> {
    fn default() -> Self {
        Self {
            parts: BTreeMap::new(),
            camera: Camera::default(),
            middle: Pos2::ZERO,
            reaches: kurbo::Rect::ZERO,
            last: Camera::default(),
            mesh: Arc::default(),
            shifted: Vec2::ZERO,
            letters: Moved::default(),
        }
    }
}

impl<Place: Ord + Copy> Assembled<Place> {
    /// The triangles of the chunks that are in view; `parts` may hold others. `now` says which triangles a chunk
    /// has, in view or not. The answer is the triangles, the letters over them, and whether these lie so askew of
    /// the pixels that they are to be put together again once the board stands still.
    pub fn shapes(
        &mut self,
        seen: &Seen<'_>,
        pattern: &Pattern,
        parts: &[(Place, Part<'_>)],
        now: impl Fn(Place) -> Option<u64>,
    ) -> (Arc<Mesh>, Shape, bool) {
        let mut by = self.shift(seen);
        let moves = self.last != *seen.camera;
        self.last = *seen.camera;
        let askew = |by: Vec2| {
            let pixels = by * seen.pixels_per_point;
            (pixels - pixels.round()).abs().max_elem() > WHOLE_PIXELS
        };
        let askew_at_rest = !moves && self.letters.is_some() && askew(by);
        if askew_at_rest || !self.still_holds(seen, parts, now) {
            self.put_together(seen, pattern, parts);
            by = Vec2::ZERO;
        }
        if by != self.shifted {
            Arc::make_mut(&mut self.mesh).translate(by - self.shifted);
            self.shifted = by;
        }
        (Arc::clone(&self.mesh), self.letters.shape(by), self.letters.is_some() && askew(by))
    }

    /// How far the board has been moved since the triangles were put together.
    fn shift(&self, seen: &Seen<'_>) -> Vec2 {
        let by = (self.camera.centre - seen.camera.centre) * seen.camera.points_per_mm;
        vec2(by.x as f32, -by.y as f32) + (seen.board.center() - self.middle)
    }

    fn put_together(&mut self, seen: &Seen<'_>, pattern: &Pattern, parts: &[(Place, Part<'_>)]) {
        let (screen, plan) = seen.wanted();
        let mesh = Arc::make_mut(&mut self.mesh);
        emptied(mesh);
        let scale = |part: &Part<'_>| (seen.camera.points_per_mm / part.points_per_mm) as f32;
        for part in parts.iter().map(|(_, part)| part) {
            let at = seen.camera.screen_from_plan(seen.board, part.origin);
            if plan.contains_rect(part.bounds) {
                append_moved(mesh, part.mesh, at, scale(part));
            } else {
                append_moved_within(mesh, part.mesh, at, scale(part), screen);
            }
        }
        let placed = Placed {
            camera: seen.camera,
            board: seen.board,
            within: screen,
            pixels_per_point: seen.pixels_per_point,
        };
        let mut letters = std::mem::take(&mut self.letters).into_empty_mesh();
        for part in parts.iter().map(|(_, part)| part) {
            part.letters.iter().for_each(|lettered| lettered.append(&mut letters, &placed, scale(part)));
        }
        self.parts = parts.iter().map(|(place, part)| (*place, part.number)).collect();
        (self.camera, self.middle, self.reaches) = (*seen.camera, seen.board.center(), plan);
        self.shifted = Vec2::ZERO;
        self.letters = Moved::new(letters, pattern);
    }

    /// Whether a shift is all that is needed.
    fn still_holds(
        &self,
        seen: &Seen<'_>,
        parts: &[(Place, Part<'_>)],
        now: impl Fn(Place) -> Option<u64>,
    ) -> bool {
        let in_view = seen.camera.in_view(seen.board);
        self.camera.points_per_mm == seen.camera.points_per_mm
            && self.reaches.contains_rect(in_view)
            && parts.iter().all(|(place, part)| self.parts.get(place) == Some(&part.number))
            && self.parts.iter().all(|(place, number)| now(*place) == Some(*number))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::window::canvas::chunks::Look;
    use crate::window::theme::Theme;
    use egui::{Color32, Context, RawInput, pos2};
    use pattress_model::drawing::{Anchor, Item, Layer, Role, Shape, Weight};
    use pattress_model::units::Angle;

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
        let origin = Point::new(x, 0.0);
        let bounds = kurbo::Rect::from_center_size(origin, (8.0, 8.0));
        Part { number, origin, bounds, points_per_mm: 1.0, mesh, letters: &[] }
    }

    /// Where the first corners of the triangles are shown.
    fn first_corners(mesh: &Mesh) -> Vec<Pos2> {
        mesh.vertices.iter().step_by(3).map(|vertex| vertex.pos).collect()
    }

    fn with_pattern(test: impl Fn(&Pattern)) {
        let mut output =
            Context::default().run_ui(RawInput::default(), |ui| test(&Pattern::of(ui.painter())));
        output.textures_delta.clear();
    }

    fn seen(camera: &Camera) -> Seen<'_> {
        Seen { camera, board: BOARD, pixels_per_point: 1.0 }
    }

    #[test]
    fn panned_the_same_triangles_move_and_nothing_is_put_together_again() {
        with_pattern(|pattern| {
            let mesh = triangle();
            let mut assembled = Assembled::default();
            let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
            let both = [(1, part(7, 0.0, &mesh)), (2, part(8, 10.0, &mesh))];
            let (made, ..) = assembled.shapes(&seen(&camera), pattern, &both, |place| Some(place + 6));
            assert_eq!(first_corners(&made), [pos2(50.0, 50.0), pos2(60.0, 50.0)]);
            let panned = Camera { centre: Point::new(5.0, 2.0), ..camera };
            // The second chunk has left the view but still has its triangles, so it may stay.
            let (moved, _, askew) =
                assembled.shapes(&seen(&panned), pattern, &both[..1], |place| Some(place + 6));
            assert_eq!(first_corners(&moved), [pos2(45.0, 52.0), pos2(55.0, 52.0)]);
            assert_eq!((assembled.camera, askew), (camera, false));
        });
    }

    #[test]
    fn letters_between_pixels_are_put_together_again_once_the_board_stands_still() {
        let mut output = Context::default().run_ui(RawInput::default(), |ui| {
            let pattern = Pattern::of(ui.painter());
            let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
            let look = Look {
                camera: &camera,
                board: BOARD,
                points_per_paper_mm: 4.0,
                theme: &Theme::of(false),
                hidden: &[],
                soft_areas_within: None,
            };
            let text = Shape::Text {
                at: Point::ORIGIN,
                text: "P01".to_owned(),
                height_mm: 2.5,
                weight: Weight::Regular,
                anchor: Anchor::Start,
                turn: Angle::ZERO,
            };
            let item = Item { layer: Layer::Tags, role: Role::Tag, subject: None, shape: text };
            let letters: Vec<_> = Lettered::of(ui.painter(), &item, &look, 3.0).into_iter().collect();
            assert!(Lettered::of(ui.painter(), &item, &look, 11.0).is_none(), "too low to be read");
            let mesh = triangle();
            let one = [(1, Part { letters: &letters, ..part(7, 0.0, &mesh) })];
            let mut assembled = Assembled::default();
            let _ = assembled.shapes(&seen(&camera), &pattern, &one, |_| Some(7));
            let panned = Camera { centre: Point::new(5.4, 0.0), ..camera };
            let (moved, _, askew) = assembled.shapes(&seen(&panned), &pattern, &one, |_| Some(7));
            assert!(askew && assembled.camera == camera);
            assert!((first_corners(&moved)[0] - pos2(44.6, 50.0)).length() < 1e-3);
            let (moved, _, askew) = assembled.shapes(&seen(&panned), &pattern, &one, |_| Some(7));
            assert!(!askew && assembled.camera == panned);
            assert!((first_corners(&moved)[0] - pos2(44.6, 50.0)).length() < 1e-3);
        });
        output.textures_delta.clear();
    }

    #[test]
    fn what_is_made_anew_or_gone_does_not_stay() {
        with_pattern(|pattern| {
            let mesh = triangle();
            let mut assembled = Assembled::default();
            let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
            let both = [(1, part(7, 0.0, &mesh)), (2, part(8, 10.0, &mesh))];
            let _ = assembled.shapes(&seen(&camera), pattern, &both, |place| Some(place + 6));
            let without_second = |place| (place == 1).then_some(7);
            let (made, ..) = assembled.shapes(&seen(&camera), pattern, &both[..1], without_second);
            assert_eq!(first_corners(&made), [pos2(50.0, 50.0)]);
            let anew = [(1, part(9, 20.0, &mesh))];
            let (made, ..) = assembled.shapes(&seen(&camera), pattern, &anew, |_| Some(9));
            assert_eq!(first_corners(&made), [pos2(70.0, 50.0)]);
        });
    }

    #[test]
    fn at_another_size_triangles_are_shown_scaled() {
        with_pattern(|pattern| {
            let mesh = triangle();
            let mut assembled = Assembled::default();
            let camera = Camera { centre: Point::ORIGIN, points_per_mm: 2.0 };
            let one = [(1, part(7, 10.0, &mesh))];
            let (made, ..) = assembled.shapes(&seen(&camera), pattern, &one, |_| Some(7));
            assert_eq!(made.vertices[1].pos, pos2(70.0, 50.0) + vec2(8.0, 0.0));
        });
    }

    #[test]
    fn of_a_chunk_that_reaches_far_out_of_view_only_what_is_near_the_view_is_put_together() {
        with_pattern(|pattern| {
            let mut mesh = triangle();
            let mut far = triangle();
            far.translate(vec2(900.0, 0.0));
            mesh.append_ref(&far);
            let bounds = kurbo::Rect::new(0.0, -4.0, 904.0, 0.0);
            let wide = [(1, Part { bounds, ..part(7, 0.0, &mesh) })];
            let mut assembled = Assembled::default();
            let camera = Camera { centre: Point::ORIGIN, points_per_mm: 1.0 };
            let (made, ..) = assembled.shapes(&seen(&camera), pattern, &wide, |_| Some(7));
            assert_eq!(first_corners(&made), [pos2(50.0, 50.0)]);
            let there = Camera { centre: Point::new(900.0, 0.0), ..camera };
            let (made, ..) = assembled.shapes(&seen(&there), pattern, &wide, |_| Some(7));
            assert_eq!(first_corners(&made), [pos2(50.0, 50.0)]);
        });
    }
}
