//! The drawing cut into chunks that are tessellated once and then only moved.
//!
//! A chunk is one layer's items within one square of the plan. When items are set again, chunks whose items are
//! the same keep their triangles. While the zoom goes on old triangles and letters are shown scaled, and after it
//! until their turn comes, so that no frame waits for all of them.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;
use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::Rect;
use egui::epaint::Mesh;
use kurbo::Shape as _;
use pattress_model::drawing::{Item, Layer, Role, Shape};
use pattress_model::edit::Subject;

use super::assembled::{Assembled, Part, Seen};
use super::camera::Camera;
use super::ink::{Inker, Placing};
use super::letters::{Bar, Lettered};
use super::moved::Pattern;
use crate::window::theme::Theme;

/// Side of the squares, plan mm.
const SQUARE_MM: f64 = 8_000.0;

/// So long may a frame spend on tessellating chunks that could be shown scaled instead. Only that work counts, so
/// that every frame sharpens something however long the rest of it takes.
const PATIENCE: Duration = Duration::from_millis(3);

/// While the zoom goes on, triangles are made anew if they are shown so many times larger or smaller than made.
const LARGEST_STRETCH: f64 = 1.3;

/// By so much the clip of a layer's triangles or letters differs from that of those before, screen points: egui joins
/// what has the same clip in one list that grows, and copies it as it grows; with its own each layer is copied once.
const OWN_CLIP: f32 = 1.0 / 1024.0;

/// Lettering lower than this is not read, so not drawn, screen points.
const LOWEST_CAPITALS: f64 = 3.2;

/// Items by the square of the plan that their middle lies in; shared, so that what was cut elsewhere is not copied.
pub type Squares = BTreeMap<(i64, i64), Arc<Vec<Item>>>;

type Place = (Layer, i64, i64);

/// The drawing as it is on the board.
#[derive(Default)]
pub struct Chunks {
    chunks: BTreeMap<Place, Chunk>,
    inker: Option<(f32, Inker)>,
    lowest_capitals: Option<f64>,
    assembled: BTreeMap<Layer, Assembled<Place>>,
    pattern: Option<Pattern>,
    inked_so_far: u64,
    frame: u64,
    spent: Duration,
    points_per_mm: f64,
    zooms: bool,
}

struct Chunk {
    items: Arc<Vec<Item>>,
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
    letters: Vec<Lettered>,
    bars: Vec<Bar>,
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
        self.lay(layer, &cut(items));
    }

    /// The same with items that have been cut into squares already.
    pub fn lay(&mut self, layer: Layer, squares: &Squares) {
        let before = self.chunks.range(all_of(layer)).map(|(place, _)| *place);
        let stale: Vec<Place> = before.filter(|(_, x, y)| !squares.contains_key(&(*x, *y))).collect();
        for place in stale {
            self.chunks.remove(&place);
        }
        for ((x, y), items) in squares {
            self.set_square((layer, *x, *y), Arc::clone(items));
        }
    }

    /// Sets the items of some things of a layer, whose items lie in the order of their subjects; those of all other
    /// things stay as they are.
    pub fn set_things(&mut self, layer: Layer, things: &BTreeSet<Subject>, items: Vec<Item>) {
        let is_of_them = |item: &Item| item.subject.is_some_and(|subject| things.contains(&subject));
        let mut squares = cut(items);
        let touched =
            self.chunks.range(all_of(layer)).filter(|(_, chunk)| chunk.items.iter().any(is_of_them));
        for (_, x, y) in touched.map(|(place, _)| *place) {
            squares.entry((x, y)).or_default();
        }
        for ((x, y), fresh) in squares {
            let place = (layer, x, y);
            let stays =
                self.chunks.get(&place).map(|chunk| chunk.items.iter().filter(|item| !is_of_them(item)));
            let mut items: Vec<Item> = stays.into_iter().flatten().chain(fresh.iter()).cloned().collect();
            if !fresh.is_empty() {
                items.sort_by_key(|item| item.subject);
            }
            if items.is_empty() {
                self.chunks.remove(&place);
            } else {
                self.set_square(place, Arc::new(items));
            }
        }
    }

    fn set_square(&mut self, place: Place, items: Arc<Vec<Item>>) {
        let same = |chunk: &Chunk| Arc::ptr_eq(&chunk.items, &items) || chunk.items == items;
        if self.chunks.get(&place).is_some_and(same) {
            return;
        }
        let bounds = items.iter().map(bounds_of).reduce(|a, b| a.union(b)).unwrap_or_default();
        let tallest_letters_mm = items.iter().map(letters_mm).fold(0.0, f64::max);
        self.chunks.insert(place, Chunk { items, bounds, tallest_letters_mm, inked: None });
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
        squares.flat_map(|(_, chunk)| chunk.items.iter()).next()
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
            .flat_map(|(_, chunk)| chunk.items.iter())
    }

    /// Paints the layers that `shows`, from the bottom up. Returns whether another frame is wanted to sharpen
    /// what was shown scaled.
    pub fn paint(&mut self, painter: &egui::Painter, look: &Look<'_>, shows: impl Fn(Layer) -> bool) -> bool {
        self.begin(painter, look);
        let pattern = Pattern::of(painter);
        if self.pattern.as_ref().is_none_or(|before| !before.is_same(&pattern)) {
            let lettered =
                |chunk: &Chunk| chunk.inked.as_ref().is_some_and(|inked| !inked.letters.is_empty());
            self.chunks.values_mut().filter(|chunk| lettered(chunk)).for_each(|chunk| chunk.inked = None);
        }
        let mut wants_more = false;
        for layer in Layer::ALL.into_iter().filter(|layer| shows(*layer)) {
            let painter = match look.soft_areas_within {
                Some(sheet) if is_area(layer) => {
                    &painter.with_clip_rect(sheet.intersect(painter.clip_rect()))
                }
                _ => painter,
            };
            wants_more |= self.ink_layer(layer, painter, look);
            wants_more |= self.paint_layer(layer, painter, look, &pattern);
            self.paint_bars(layer, painter, look);
        }
        self.pattern = Some(pattern);
        wants_more
    }

    /// What is new with a frame: its patience, whether the zoom goes on, and perhaps another density of the screen.
    fn begin(&mut self, painter: &egui::Painter, look: &Look<'_>) {
        let frame = painter.ctx().cumulative_pass_nr();
        if self.frame != frame {
            (self.frame, self.spent) = (frame, Duration::ZERO);
            self.zooms = self.points_per_mm != look.camera.points_per_mm;
            self.points_per_mm = look.camera.points_per_mm;
        }
        let pixels = painter.pixels_per_point();
        if self.inker.as_ref().is_none_or(|(density, _)| *density != pixels) {
            self.inker = Some((pixels, Inker::new(pixels)));
            self.chunks.values_mut().for_each(|chunk| chunk.inked = None);
        }
    }

    /// Makes triangles and letters of what has none that will do. Returns whether some are left to be made
    /// sharper.
    fn ink_layer(&mut self, layer: Layer, painter: &egui::Painter, look: &Look<'_>) -> bool {
        let lowest = self.lowest();
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
            let made_at = chunk.inked.as_ref().map_or(0.0, |inked| inked.points_per_mm);
            let sharp = made_at == look.camera.points_per_mm;
            let stretch = look.camera.points_per_mm / made_at;
            let may_wait = self.zooms && (1.0 / LARGEST_STRETCH..LARGEST_STRETCH).contains(&stretch);
            if !usable || (!sharp && !may_wait && self.spent < PATIENCE) {
                let started = Instant::now();
                self.inked_so_far += 1;
                chunk.inked = Some(inked(inker, painter, chunk, look, self.inked_so_far, lowest));
                self.spent += started.elapsed();
            } else if !sharp {
                wants_more = true;
            }
        }
        wants_more
    }

    /// Returns whether the layer is to be painted again once the board stands still.
    fn paint_layer(
        &mut self,
        layer: Layer,
        painter: &egui::Painter,
        look: &Look<'_>,
        pattern: &Pattern,
    ) -> bool {
        let in_view = look.camera.in_view(look.board);
        let shown = self.chunks.range(all_of(layer)).filter(|(_, chunk)| touches(chunk.bounds, in_view));
        let parts: Vec<(Place, Part<'_>)> =
            shown.filter_map(|(place, chunk)| Some((*place, chunk.inked.as_ref()?.part(chunk)?))).collect();
        if parts.is_empty() {
            return false;
        }
        let seen =
            Seen { camera: look.camera, board: look.board, pixels_per_point: painter.pixels_per_point() };
        let now = |place| Some(self.chunks.get(&place)?.inked.as_ref()?.number);
        let assembled = self.assembled.entry(layer).or_default();
        let (mesh, letters, askew) = assembled.shapes(&seen, pattern, &parts, now);
        let own_clip = |number: u8| painter.clip_rect().expand(OWN_CLIP * f32::from(number));
        painter.with_clip_rect(own_clip(2 * layer as u8)).add(mesh);
        painter.with_clip_rect(own_clip(2 * layer as u8 + 1)).add(letters);
        askew
    }

    /// Paints the bars that stand for words, over the triangles of their layer.
    fn paint_bars(&self, layer: Layer, painter: &egui::Painter, look: &Look<'_>) {
        let in_view = look.camera.in_view(look.board);
        let shown = self.chunks.range(all_of(layer)).filter(|(_, chunk)| touches(chunk.bounds, in_view));
        for inked in shown.filter_map(|(_, chunk)| chunk.inked.as_ref()) {
            let scale = (look.camera.points_per_mm / inked.points_per_mm) as f32;
            painter.extend(inked.bars.iter().map(|bar| bar.shape(look, scale)));
        }
    }

    /// Paints items that are not kept: ghosts, highlights, previews.
    pub fn paint_passing(&mut self, painter: &egui::Painter, look: &Look<'_>, items: &[Item]) {
        let pixels = painter.pixels_per_point();
        let lowest = self.lowest();
        let (_, inker) = self.inker.get_or_insert_with(|| (pixels, Inker::new(pixels)));
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
        for lettered in items.iter().filter_map(|item| Lettered::of(painter, item, look, lowest)) {
            painter.add(lettered.shape(look));
        }
    }
}

impl Inked {
    /// What the chunk adds to its layer, if anything.
    fn part(&self, chunk: &Chunk) -> Option<Part<'_>> {
        let Self { number, points_per_mm, mesh, letters, .. } = self;
        let part = Part {
            number: *number,
            origin: chunk.bounds.center(),
            bounds: chunk.bounds,
            points_per_mm: *points_per_mm,
            mesh,
            letters,
        };
        (!mesh.is_empty() || !letters.is_empty()).then_some(part)
    }
}

/// Cuts items into squares of the plan, in their order.
pub fn cut(items: Vec<Item>) -> Squares {
    let mut squares: BTreeMap<(i64, i64), Vec<Item>> = BTreeMap::new();
    for item in items {
        let middle = bounds_of(&item).center();
        let cell = |value: f64| (value / SQUARE_MM).floor().clamp(-1e6, 1e6) as i64;
        squares.entry((cell(middle.x), cell(middle.y))).or_default().push(item);
    }
    squares.into_iter().map(|(place, items)| (place, Arc::new(items))).collect()
}

/// The places of all chunks of a layer.
fn all_of(layer: Layer) -> RangeInclusive<Place> {
    (layer, i64::MIN, i64::MIN)..=(layer, i64::MAX, i64::MAX)
}

fn inked(
    inker: &mut Inker,
    painter: &egui::Painter,
    chunk: &Chunk,
    look: &Look<'_>,
    number: u64,
    lowest: f64,
) -> Inked {
    let placing = Placing {
        origin: chunk.bounds.center(),
        points_per_mm: look.camera.points_per_mm,
        points_per_paper_mm: look.points_per_paper_mm,
    };
    let hidden = hidden_in(&chunk.items, look.hidden);
    let shows = |item: &Item| !item.subject.is_some_and(|subject| hidden.contains(&subject));
    let mut mesh = Mesh::default();
    // Paper beneath lettering and leaders to it are nothing without it; of the frame's there are bars.
    let unlettered = chunk.tallest_letters_mm * look.points_per_paper_mm < lowest;
    let goes = |item: &Item| {
        item.layer == Layer::Frame || !(unlettered && matches!(item.role, Role::Halo | Role::Leader))
    };
    for item in chunk.items.iter().filter(|item| goes(item) && shows(item)) {
        match look.soft_areas_within {
            Some(_) if is_area(item.layer) => inker.ink_softly(item, &placing, look.theme, &mut mesh),
            _ => inker.ink(item, &placing, look.theme, &mut mesh),
        }
    }
    let (mut letters, mut bars) = (Vec::new(), Vec::new());
    for item in chunk.items.iter().filter(|item| shows(item)) {
        if item.layer == Layer::Frame {
            bars.extend(Bar::of(item, look, lowest));
        }
        letters.extend(Lettered::of(painter, item, look, lowest));
    }
    Inked { number, points_per_mm: placing.points_per_mm, theme: *look.theme, hidden, mesh, letters, bars }
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

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::id::Id;

    fn item(device: u32, x: f64) -> Item {
        let path = kurbo::Rect::new(x, 0.0, x + 100.0, 100.0).to_path(0.1);
        Item::path(Layer::Devices, Role::Symbol, Some(Subject::Device(Id::from_number(device))), path)
    }

    fn held(chunks: &Chunks) -> Vec<Item> {
        chunks.items_about(kurbo::Rect::new(-1e6, -1e6, 1e6, 1e6), |_| true).cloned().collect()
    }

    #[test]
    fn things_set_anew_lie_where_the_whole_layer_set_anew_would_have_them() {
        let all = [item(1, 0.0), item(2, 500.0), item(2, 700.0), item(3, 900.0), item(4, 20_000.0)];
        let cases = [
            ("moved nearby", vec![2], vec![item(2, 600.0)]),
            ("moved to another square", vec![1], vec![item(1, 20_500.0)]),
            ("moved to a square of its own", vec![3], vec![item(3, -50_000.0)]),
            ("the last of its square gone", vec![4], vec![]),
            ("a new one", vec![5], vec![item(5, 10.0)]),
            ("one like before", vec![3], vec![item(3, 900.0)]),
            ("two at once", vec![1, 4], vec![item(1, 20_100.0), item(4, 30.0)]),
        ];
        for (name, things, fresh) in cases {
            let things = things.into_iter().map(|id| Subject::Device(Id::from_number(id))).collect();
            let (mut some, mut whole) = (Chunks::default(), Chunks::default());
            some.set_layer(Layer::Devices, all.to_vec());
            some.set_things(Layer::Devices, &things, fresh.clone());
            let stays = all.iter().filter(|item| !item.subject.is_some_and(|one| things.contains(&one)));
            let mut items: Vec<Item> = stays.cloned().chain(fresh).collect();
            items.sort_by_key(|item| item.subject);
            whole.set_layer(Layer::Devices, items);
            assert_eq!(held(&some), held(&whole), "{name}");
        }
    }
}
