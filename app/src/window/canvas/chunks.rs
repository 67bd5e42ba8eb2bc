//! The drawing cut into chunks that are tessellated once and then only moved.
//!
//! A chunk is one layer's items within one square of the plan. When items are set again, chunks whose items are
//! the same keep their triangles. After a zoom step old triangles are shown scaled until their turn comes, so
//! that no frame waits for all of them.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use std::time::{Duration, Instant};

use egui::epaint::Mesh;
use egui::{Pos2, Rect};
use kurbo::Shape as _;
use pattress_model::drawing::{Anchor, Item, Layer, Role, Shape, Weight, lettering};
use pattress_model::edit::Subject;

use super::assembled::{Assembled, Part};
use super::camera::Camera;
use super::ink::{Inker, Placing};
use crate::window::theme::{self, Theme};

/// Side of the squares, plan mm.
const SQUARE_MM: f64 = 8_000.0;

/// So long may a frame spend on tessellating chunks that could be shown scaled instead. Only that work counts, so
/// that every frame sharpens something however long the rest of it takes.
const PATIENCE: Duration = Duration::from_millis(3);

/// By so much the clip of a layer's triangles differs from that of the layer before it, screen points: egui joins
/// what has the same clip in one list that grows, and copies it as it grows; with its own each layer is copied once.
const OWN_CLIP: f32 = 1.0 / 512.0;

/// Lettering lower than this is not read, so not drawn, screen points.
const LOWEST_CAPITALS: f64 = 3.2;

/// Opacity of a bar that stands for lettering too small to be read.
const FAINT_BAR: f32 = 0.3;

type Place = (Layer, i64, i64);

/// The drawing as it is on the board.
#[derive(Default)]
pub struct Chunks {
    chunks: BTreeMap<Place, Chunk>,
    inker: Option<(f32, Inker)>,
    lowest_capitals: Option<f64>,
    assembled: BTreeMap<Layer, Assembled<Place>>,
    inked_so_far: u64,
    frame: u64,
    spent: Duration,
}

struct Chunk {
    items: Vec<Item>,
    bounds: kurbo::Rect,
    tallest_letters_mm: f64,
    inked: Option<Inked>,
}

struct Inked {
    number: u64,
    points_per_mm: f64,
    theme: Theme,
    hidden: Vec<Subject>,
    mesh: Mesh,
}

/// How the chunks are looked at.
pub struct Look<'a> {
    /// From where.
    pub camera: &'a Camera,
    /// Where the board is on the screen.
    pub board: Rect,
    /// Screen points to a paper millimetre.
    pub points_per_paper_mm: f64,
    /// In what colours.
    pub theme: &'a Theme,
    /// Things a tool shows itself, and so are left out here.
    pub hidden: &'a [Subject],
    /// Where on the screen the areas of zones and coverage may lie, drawn softly, since on the board all of them
    /// show at once; none draws them wherever they reach and as on paper.
    pub soft_areas_within: Option<Rect>,
}

impl Chunks {
    /// Letters whose capitals are lower than this many screen points are left out, rather than those the board
    /// leaves out for speed.
    pub fn letter_from(&mut self, lowest_capitals: f64) {
        self.lowest_capitals = Some(lowest_capitals);
    }

    fn lowest(&self) -> f64 {
        self.lowest_capitals.unwrap_or(LOWEST_CAPITALS)
    }

    /// Sets the items of a layer. What has not changed keeps its triangles.
    pub fn set_layer(&mut self, layer: Layer, items: Vec<Item>) {
        let mut squares: BTreeMap<Place, Vec<Item>> = BTreeMap::new();
        for item in items {
            let middle = bounds_of(&item).center();
            let cell = |value: f64| (value / SQUARE_MM).floor().clamp(-1e6, 1e6) as i64;
            squares.entry((layer, cell(middle.x), cell(middle.y))).or_default().push(item);
        }
        let stale: Vec<Place> = self
            .chunks
            .range(all_of(layer))
            .map(|(place, _)| *place)
            .filter(|place| !squares.contains_key(place))
            .collect();
        for place in stale {
            self.chunks.remove(&place);
        }
        for (place, items) in squares {
            if self.chunks.get(&place).is_some_and(|chunk| chunk.items == items) {
                continue;
            }
            let bounds = items.iter().map(bounds_of).reduce(|a, b| a.union(b)).unwrap_or_default();
            let tallest_letters_mm = items.iter().map(letters_mm).fold(0.0, f64::max);
            self.chunks.insert(place, Chunk { items, bounds, tallest_letters_mm, inked: None });
        }
    }

    /// Bounds of everything on the given layers, plan mm.
    pub fn bounds(&self, layers: impl Fn(Layer) -> bool) -> Option<kurbo::Rect> {
        self.chunks
            .iter()
            .filter(|((layer, ..), _)| layers(*layer))
            .map(|(_, chunk)| chunk.bounds)
            .reduce(|a, b| a.union(b))
    }

    /// Any item of a layer, if it has one.
    pub fn first_of(&self, layer: Layer) -> Option<&Item> {
        let squares = self.chunks.range((layer, i64::MIN, i64::MIN)..=(layer, i64::MAX, i64::MAX));
        squares.flat_map(|(_, chunk)| &chunk.items).next()
    }

    /// Items of the layers that `shows`, from the squares of the plan that touch a rectangle, for picking.
    pub fn items_about(
        &self,
        area: kurbo::Rect,
        shows: impl Fn(Layer) -> bool + Clone,
    ) -> impl Iterator<Item = &Item> + Clone {
        self.chunks
            .iter()
            .filter(move |((layer, ..), chunk)| shows(*layer) && touches(chunk.bounds, area))
            .flat_map(|(_, chunk)| &chunk.items)
    }

    /// Paints the layers that `shows`, from the bottom up. Returns whether another frame is wanted to sharpen
    /// what was shown scaled.
    pub fn paint(&mut self, painter: &egui::Painter, look: &Look<'_>, shows: impl Fn(Layer) -> bool) -> bool {
        let frame = painter.ctx().cumulative_pass_nr();
        if self.frame != frame {
            (self.frame, self.spent) = (frame, Duration::ZERO);
        }
        let pixels = painter.pixels_per_point();
        if self.inker.as_ref().is_none_or(|(density, _)| *density != pixels) {
            self.inker = Some((pixels, Inker::new(pixels)));
            self.chunks.values_mut().for_each(|chunk| chunk.inked = None);
        }
        let mut wants_more = false;
        for layer in Layer::ALL.into_iter().filter(|layer| shows(*layer)) {
            let painter = match look.soft_areas_within {
                Some(sheet) if is_area(layer) => {
                    &painter.with_clip_rect(sheet.intersect(painter.clip_rect()))
                }
                _ => painter,
            };
            wants_more |= self.ink_layer(layer, look);
            self.paint_layer(layer, painter, look);
        }
        wants_more
    }

    /// Makes triangles of what has none that will do. Returns whether some are left to be made sharper.
    fn ink_layer(&mut self, layer: Layer, look: &Look<'_>) -> bool {
        // The frame shows small lettering as bars, other layers not at all.
        let lowest = if layer == Layer::Frame { 0.0 } else { self.lowest() };
        let Some((_, inker)) = &mut self.inker else { return false };
        let in_view = look.camera.in_view(look.board);
        let mut wants_more = false;
        for chunk in self.chunks.range_mut(all_of(layer)).map(|(_, chunk)| chunk) {
            if !touches(chunk.bounds, in_view) {
                continue;
            }
            let usable = chunk.inked.as_ref().is_some_and(|inked| {
                inked.theme == *look.theme && inked.hidden == hidden_in(&chunk.items, look.hidden)
            });
            let sharp =
                chunk.inked.as_ref().is_some_and(|inked| inked.points_per_mm == look.camera.points_per_mm);
            if !usable || (!sharp && self.spent < PATIENCE) {
                let started = Instant::now();
                self.inked_so_far += 1;
                chunk.inked = Some(inked(inker, chunk, look, self.inked_so_far, lowest));
                self.spent += started.elapsed();
            } else if !sharp {
                wants_more = true;
            }
        }
        wants_more
    }

    fn paint_layer(&mut self, layer: Layer, painter: &egui::Painter, look: &Look<'_>) {
        let in_view = look.camera.in_view(look.board);
        let shown = || self.chunks.range(all_of(layer)).filter(|(_, chunk)| touches(chunk.bounds, in_view));
        let parts: Vec<(Place, Part<'_>)> =
            shown().filter_map(|(place, chunk)| Some((*place, chunk.inked.as_ref()?.part(chunk)?))).collect();
        if !parts.is_empty() {
            let now = |place| Some(self.chunks.get(&place)?.inked.as_ref()?.number);
            let assembled = self.assembled.entry(layer).or_default();
            let clip = painter.clip_rect().expand(OWN_CLIP * layer as u8 as f32);
            let mesh = assembled.mesh(look.camera, look.board, &parts, now);
            painter.with_clip_rect(clip).add(mesh);
        }
        let lowest = self.lowest();
        for (_, chunk) in shown() {
            // The frame shows small lettering as bars, other layers not at all.
            if layer != Layer::Frame && chunk.tallest_letters_mm * look.points_per_paper_mm < lowest {
                continue;
            }
            for item in &chunk.items {
                if !item.subject.is_some_and(|subject| look.hidden.contains(&subject)) {
                    letter(painter, item, look, in_view, lowest);
                }
            }
        }
    }

    /// Paints items that are not kept: ghosts, highlights, previews.
    pub fn paint_passing(&mut self, painter: &egui::Painter, look: &Look<'_>, items: &[Item]) {
        let pixels = painter.pixels_per_point();
        let lowest = self.lowest();
        let (_, inker) = self.inker.get_or_insert_with(|| (pixels, Inker::new(pixels)));
        let in_view = look.camera.in_view(look.board);
        let placing = Placing {
            origin: look.camera.centre,
            points_per_mm: look.camera.points_per_mm,
            points_per_paper_mm: look.points_per_paper_mm,
        };
        let mut mesh = Mesh::default();
        for item in items {
            inker.ink(item, &placing, look.theme, &mut mesh);
        }
        if !mesh.indices.is_empty() {
            mesh.translate(look.board.center().to_vec2());
            painter.add(mesh);
        }
        for item in items {
            letter(painter, item, look, in_view, lowest);
        }
    }
}

impl Inked {
    /// What the chunk adds to its layer; nothing where it is all lettering.
    fn part(&self, chunk: &Chunk) -> Option<Part<'_>> {
        let Self { number, points_per_mm, mesh, .. } = self;
        let part =
            Part { number: *number, origin: chunk.bounds.center(), points_per_mm: *points_per_mm, mesh };
        (!mesh.is_empty()).then_some(part)
    }
}

/// The places of all chunks of a layer.
fn all_of(layer: Layer) -> RangeInclusive<Place> {
    (layer, i64::MIN, i64::MIN)..=(layer, i64::MAX, i64::MAX)
}

fn inked(inker: &mut Inker, chunk: &Chunk, look: &Look<'_>, number: u64, lowest: f64) -> Inked {
    let placing = Placing {
        origin: chunk.bounds.center(),
        points_per_mm: look.camera.points_per_mm,
        points_per_paper_mm: look.points_per_paper_mm,
    };
    let hidden = hidden_in(&chunk.items, look.hidden);
    let mut mesh = Mesh::default();
    // Paper beneath lettering and leaders to it are nothing without it.
    let unlettered = chunk.tallest_letters_mm * look.points_per_paper_mm < lowest;
    let goes = |item: &&Item| !(unlettered && matches!(item.role, Role::Halo | Role::Leader));
    for item in chunk.items.iter().filter(goes) {
        if !item.subject.is_some_and(|subject| hidden.contains(&subject)) {
            match look.soft_areas_within {
                Some(_) if is_area(item.layer) => inker.ink_softly(item, &placing, look.theme, &mut mesh),
                _ => inker.ink(item, &placing, look.theme, &mut mesh),
            }
        }
    }
    Inked { number, points_per_mm: placing.points_per_mm, theme: *look.theme, hidden, mesh }
}

fn hidden_in(items: &[Item], hidden: &[Subject]) -> Vec<Subject> {
    if hidden.is_empty() {
        return Vec::new();
    }
    hidden.iter().copied().filter(|subject| items.iter().any(|item| item.subject == Some(*subject))).collect()
}

/// Height of an item's capitals, mm on paper.
fn letters_mm(item: &Item) -> f64 {
    if let Shape::Text { height_mm, .. } = &item.shape { *height_mm } else { 0.0 }
}

/// Whether a layer's items are areas that lie over one another.
fn is_area(layer: Layer) -> bool {
    matches!(layer, Layer::Zones | Layer::Coverage)
}

fn touches(a: kurbo::Rect, b: kurbo::Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Extent of an item, plan mm; of a text, its anchor alone with a little around it.
pub fn bounds_of(item: &Item) -> kurbo::Rect {
    match &item.shape {
        Shape::Path(path) => path.bounding_box(),
        Shape::Text { at, .. } => kurbo::Rect::from_center_size(*at, (2000.0, 2000.0)),
        Shape::Picture { plan_from_units, size, .. } => {
            let (width, height) = *size;
            let mut path = kurbo::Rect::new(0.0, 0.0, width, height).to_path(1.0);
            path.apply_affine(*plan_from_units);
            path.bounding_box()
        }
    }
}

/// Draws a text item; anything else is left alone.
fn letter(painter: &egui::Painter, item: &Item, look: &Look<'_>, in_view: kurbo::Rect, lowest: f64) {
    let Shape::Text { at, text, height_mm, weight, anchor, turn } = &item.shape else { return };
    let capitals = height_mm * look.points_per_paper_mm;
    if !touches(kurbo::Rect::from_center_size(*at, (20_000.0, 20_000.0)), in_view) {
        return;
    }
    if capitals < lowest {
        if item.layer == Layer::Frame {
            letter_as_bar(painter, item, look, capitals);
        }
        return;
    }
    let size = font_size(lettering::size_of(capitals));
    let family = match weight {
        Weight::Regular => egui::FontFamily::Proportional,
        Weight::Medium => theme::medium(),
        Weight::SemiBold => theme::semi_bold(),
    };
    let colour = look.theme.paper(pattress_model::drawing::style_of(item.role).ink);
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
    let corner = egui::emath::Rot2::from_angle(angle) * egui::vec2(right, -up);
    let at: Pos2 = look.camera.screen_from_plan(look.board, *at) + corner;
    painter.add(egui::epaint::TextShape::new(at, galley, colour).with_angle(angle));
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

/// Lettering of the frame that is too small to be read is a faint bar as long as the words, so that a table does
/// not look empty.
fn letter_as_bar(painter: &egui::Painter, item: &Item, look: &Look<'_>, capitals: f64) {
    let Shape::Text { at, text, height_mm, weight, anchor, turn } = &item.shape else { return };
    let in_points = look.points_per_paper_mm;
    let width = lettering::width(text, *height_mm, *weight);
    let start = lettering::start_from_anchor(*anchor, width, *height_mm);
    let on_screen = |right: f64, up: f64| {
        let turned = egui::emath::Rot2::from_angle(-turn.as_radians() as f32)
            * egui::vec2((right * in_points) as f32, (-up * in_points) as f32);
        look.camera.screen_from_plan(look.board, *at) + turned
    };
    let middle = start.y + height_mm / 2.0;
    let ink = look.theme.paper(pattress_model::drawing::style_of(item.role).ink);
    let stroke = egui::Stroke::new((capitals as f32 * 0.8).max(0.6), ink.gamma_multiply(FAINT_BAR));
    painter.line_segment([on_screen(start.x, middle), on_screen(start.x + width, middle)], stroke);
}
