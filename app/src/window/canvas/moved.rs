//! Letters that egui moves by itself while it copies them.
//!
//! Laid out text names places in egui's picture of letters, which may grow before the frame is drawn: only egui
//! knows then where they are. Thousands of texts handed over one by one cost more than their letters. So the
//! letters of a whole layer are handed over as one text of one row whose letters have been replaced. It moves by
//! whole pixels, as text does.

use std::sync::Arc;

use egui::epaint::{Mesh, TextShape};
use egui::{Color32, FontId, Galley, Painter, Rect, Shape, Vec2, pos2};

/// egui leaves out text that lies outside of what shows; these triangles were chosen for it.
const SOMEWHERE: Rect = Rect { min: pos2(-1e6, -1e6), max: pos2(1e6, 1e6) };

/// What egui has laid out anew only if it forgot its letters, and the pattern of a text of one row.
pub struct Pattern(Arc<Galley>);

impl Pattern {
    /// The pattern; asked for in every frame, for egui forgets what is not.
    pub fn of(painter: &Painter) -> Self {
        Self(painter.layout_no_wrap("A".to_owned(), FontId::default(), Color32::BLACK))
    }

    /// Whether letters laid out when the other was made are still where they were in egui's picture of letters.
    pub fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

/// Letters as egui moves them.
#[derive(Clone, Default)]
pub struct Moved(Option<Arc<Galley>>);

impl Moved {
    /// Letters on the screen as triangles; places in egui's picture of letters are in its pixels.
    pub fn new(mesh: Mesh, pattern: &Pattern) -> Self {
        if mesh.is_empty() {
            return Self(None);
        }
        let mut galley = (*pattern.0).clone();
        galley.rows.truncate(1);
        (galley.num_vertices, galley.num_indices) = (mesh.vertices.len(), mesh.indices.len());
        if let Some(placed) = galley.rows.first_mut() {
            placed.pos = egui::Pos2::ZERO;
            let row = Arc::make_mut(&mut placed.row);
            row.glyphs.clear();
            row.visuals.glyph_vertex_range = 0..0;
            row.visuals.mesh_bounds = SOMEWHERE;
            row.visuals.mesh = mesh;
        }
        Self(Some(Arc::new(galley)))
    }

    /// Whether there are any.
    pub fn is_some(&self) -> bool {
        self.0.is_some()
    }

    /// An empty mesh with the memory of these letters, if nobody else holds them.
    pub fn into_empty_mesh(self) -> Mesh {
        let galley = self.0.and_then(Arc::into_inner);
        let row =
            galley.and_then(|mut galley| galley.rows.pop()).and_then(|placed| Arc::into_inner(placed.row));
        let mut mesh = row.map(|row| row.visuals.mesh).unwrap_or_default();
        emptied(&mut mesh);
        mesh
    }

    /// The letters as a shape, so far from where they were.
    pub fn shape(&self, by: Vec2) -> Shape {
        match &self.0 {
            Some(galley) => TextShape::new(by.to_pos2(), Arc::clone(galley), Color32::BLACK).into(),
            None => Shape::Noop,
        }
    }
}

/// Empties a mesh and keeps its memory, which egui's own way of clearing gives back.
pub fn emptied(mesh: &mut Mesh) {
    mesh.vertices.clear();
    mesh.indices.clear();
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::epaint::Primitive;
    use egui::{Context, RawInput, vec2};

    /// What egui makes of the triangles in a frame.
    fn painted(by: Vec2) -> Mesh {
        let ctx = Context::default();
        let input = || RawInput {
            screen_rect: Some(Rect::from_min_size(egui::Pos2::ZERO, vec2(100.0, 100.0))),
            ..RawInput::default()
        };
        let mut output = ctx.run_ui(input(), |ui| {
            let mut mesh = Mesh::default();
            for (x, y) in [(0.0, 0.0), (4.0, 0.0), (0.0, 4.0)] {
                mesh.colored_vertex(pos2(x, y), Color32::RED);
            }
            mesh.add_triangle(0, 1, 2);
            ui.painter().add(Moved::new(mesh, &Pattern::of(ui.painter())).shape(by));
        });
        output.textures_delta.clear();
        let primitives = ctx.tessellate(output.shapes, output.pixels_per_point);
        let mut meshes = primitives.into_iter().filter_map(|primitive| match primitive.primitive {
            Primitive::Mesh(mesh) => Some(mesh),
            Primitive::Callback(_) => None,
        });
        let red = |mesh: &Mesh| mesh.vertices.iter().any(|vertex| vertex.color == Color32::RED);
        meshes.rfind(red).unwrap()
    }

    #[test]
    fn egui_paints_the_triangles_as_they_are_and_moves_them() {
        let mesh = painted(vec2(10.0, -3.0));
        let red = |color| color == Color32::RED;
        let corners: Vec<_> =
            mesh.vertices.iter().filter(|vertex| red(vertex.color)).map(|vertex| vertex.pos).collect();
        assert_eq!(corners, [pos2(10.0, -3.0), pos2(14.0, -3.0), pos2(10.0, 1.0)]);
        assert!(mesh.vertices.iter().all(|vertex| vertex.uv == egui::epaint::WHITE_UV));
        assert_eq!(mesh.indices.len(), 3);
    }

    #[test]
    fn memory_of_triangles_is_used_again_once_nobody_holds_them() {
        let ctx = Context::default();
        let mut output = ctx.run_ui(RawInput::default(), |ui| {
            let mut mesh = Mesh::default();
            mesh.vertices.reserve(1000);
            mesh.colored_vertex(egui::Pos2::ZERO, Color32::RED);
            let moved = Moved::new(mesh, &Pattern::of(ui.painter()));
            let held = moved.clone();
            assert_eq!(moved.into_empty_mesh().vertices.capacity(), 0);
            assert!(held.into_empty_mesh().vertices.capacity() >= 1000);
        });
        output.textures_delta.clear();
    }
}
