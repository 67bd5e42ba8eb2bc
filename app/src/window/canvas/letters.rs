//! Lettering laid out once and then only moved: what a text item looks like at a size, and where its letters go.
//!
//! egui lays text out for one size and keeps the shapes of letters in one picture. A chunk keeps its lettering as
//! laid out; put together on the screen every text begins on a whole pixel, as egui would have it. Lettering too
//! low to be read is left out, or stands as a faint bar where its length says something.

use std::sync::Arc;

use egui::emath::{GuiRounding as _, Rot2};
use egui::epaint::{Mesh, TextShape, Vertex};
use egui::{Color32, Galley, Rect, Stroke, Vec2, vec2};
use kurbo::Point;
use pattress_model::drawing::{Anchor, Item, Shape, Weight, lettering, style_of};

use super::chunks::Look;
use crate::window::theme;

/// Opacity of a bar that stands for lettering too small to be read.
const FAINT_BAR: f32 = 0.3;

/// A text as it was laid out at a size.
pub struct Lettered {
    /// Its anchor, plan mm.
    at: Point,
    /// From the anchor to where the letters begin, screen points.
    corner: Vec2,
    /// Clockwise on the screen, radians.
    angle: f32,
    colour: Color32,
    galley: Arc<Galley>,
}

impl Lettered {
    /// Lays out a text item; `None` for other items and for letters lower than so many screen points.
    pub fn of(painter: &egui::Painter, item: &Item, look: &Look<'_>, lowest: f64) -> Option<Self> {
        let Shape::Text { at, text, height_mm, weight, anchor, turn } = &item.shape else { return None };
        let capitals = height_mm * look.points_per_paper_mm;
        if capitals < lowest {
            return None;
        }
        let size = font_size(lettering::size_of(capitals));
        let family = match weight {
            Weight::Regular => egui::FontFamily::Proportional,
            Weight::Medium => theme::medium(),
            Weight::SemiBold => theme::semi_bold(),
        };
        let colour = look.theme.paper(style_of(item.role).ink);
        let galley = painter.layout_no_wrap(text.clone(), egui::FontId::new(size, family), colour);
        let (width, height) = (galley.size().x, galley.size().y);
        // In this face the middle of the capitals is the middle of the line (ascent 0.969, descent 0.241 and
        // capitals 0.727 of the size).
        let middle_above_base = capitals as f32 / 2.0;
        let (right, up) = match anchor {
            Anchor::Start => (0.0, height / 2.0 + middle_above_base),
            Anchor::Middle => (-width / 2.0, height / 2.0 + middle_above_base),
            Anchor::End => (-width, height / 2.0 + middle_above_base),
            Anchor::Centre => (-width / 2.0, height / 2.0),
        };
        let angle = -turn.as_radians() as f32;
        let corner = Rot2::from_angle(angle) * vec2(right, -up);
        Some(Self { at: *at, corner, angle, colour, galley })
    }

    /// The text as a shape of its own.
    pub fn shape(&self, look: &Look<'_>) -> TextShape {
        let corner = look.camera.screen_from_plan(look.board, self.at) + self.corner;
        TextShape::new(corner, Arc::clone(&self.galley), self.colour).with_angle(self.angle)
    }

    /// Adds the letters to a mesh as egui would draw them, but places in egui's picture of letters are left in its
    /// pixels. `scale` is the size at which they are looked at to that at which they were laid out; what lies
    /// outside `within` is left out.
    pub fn append(&self, onto: &mut Mesh, placed: &Placed<'_>, scale: f32) {
        let corner = placed.camera.screen_from_plan(placed.board, self.at) + self.corner * scale;
        let corner = if scale == 1.0 { corner.round_to_pixels(placed.pixels_per_point) } else { corner };
        let turn = Rot2::from_angle(self.angle);
        let reach = self.galley.mesh_bounds.max.to_vec2().length() * scale;
        if !placed.within.expand(reach).contains(corner) {
            return;
        }
        for row in &self.galley.rows {
            let first = onto.vertices.len() as u32;
            let mesh = &row.visuals.mesh;
            onto.indices.extend(mesh.indices.iter().map(|index| first + index));
            onto.vertices.extend(mesh.vertices.iter().map(|vertex| {
                let offset = (row.pos + vertex.pos.to_vec2()).to_vec2() * scale;
                Vertex { pos: corner + turn * offset, ..*vertex }
            }));
        }
    }
}

/// Where lettering is put together.
pub struct Placed<'a> {
    /// From where it is looked at.
    pub camera: &'a super::Camera,
    /// Where the board is on the screen.
    pub board: Rect,
    /// The part of the screen that is wanted.
    pub within: Rect,
    /// Density of the screen.
    pub pixels_per_point: f32,
}

/// The size at which letters are laid out, screen points: in steps of about a twentieth, since every size costs
/// its own letters.
fn font_size(wanted: f64) -> f32 {
    let step = match wanted {
        ..12.0 => 0.5,
        ..24.0 => 1.0,
        _ => 2.0,
    };
    ((wanted / step).round() * step) as f32
}

/// A bar that stands for words that are too low to be read, as long as they are.
pub struct Bar {
    /// From where to where on the plan, mm.
    ends: [Point; 2],
    /// Screen points, at the size that it was made for.
    width: f32,
    colour: Color32,
}

impl Bar {
    /// The faint bar that stands for a text whose capitals are lower than so many screen points, so that a table
    /// does not look empty; `None` for other items and for higher letters.
    pub fn of(item: &Item, look: &Look<'_>, lowest: f64) -> Option<Self> {
        let Shape::Text { at, text, height_mm, weight, anchor, turn } = &item.shape else { return None };
        let capitals = height_mm * look.points_per_paper_mm;
        if capitals >= lowest {
            return None;
        }
        let width = lettering::width(text, *height_mm, *weight);
        let start = lettering::start_from_anchor(*anchor, width, *height_mm);
        let plan_mm = look.points_per_paper_mm / look.camera.points_per_mm;
        let along = kurbo::Vec2::from_angle(turn.as_radians());
        let up = kurbo::Vec2::new(-along.y, along.x);
        let on_plan = |right: f64| *at + (along * right + up * (start.y + height_mm / 2.0)) * plan_mm;
        Some(Self {
            ends: [on_plan(start.x), on_plan(start.x + width)],
            width: (capitals as f32 * 0.8).max(0.6),
            colour: look.theme.paper(style_of(item.role).ink).gamma_multiply(FAINT_BAR),
        })
    }

    /// The bar as a shape of its own, for egui lays it on whole pixels, without which so thin a bar is a blur and
    /// the mark before a line is lost. `scale` is the size at which it is looked at to that at which it was made.
    pub fn shape(&self, look: &Look<'_>, scale: f32) -> egui::Shape {
        let ends = self.ends.map(|end| look.camera.screen_from_plan(look.board, end));
        egui::Shape::line_segment(ends, Stroke::new(self.width * scale, self.colour))
    }
}
