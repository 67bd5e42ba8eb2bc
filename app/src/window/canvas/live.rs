//! The plan as it lives while the rules are played: halos beneath the devices, what they say over them, whoever walks
//! about. It is made again only when something of it has changed.

use egui::epaint::Mesh;
use egui::{Align2, Color32, FontId, Pos2, Rect, Shape as Painted, Stroke, StrokeKind, pos2, vec2};
use kurbo::Shape as _;
use pattress_model::calendar::UtcTime;
use pattress_model::drawing::plan::{LiveDrawing, Now, coverage_item};
use pattress_model::drawing::{Anchor, Item, Role, Shape};
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::plan::Level;
use pattress_model::studies::rehearsal::{Incoming, PointNumber, What};
use pattress_model::systems::PointRef;

use super::chunks::{Chunks, Look};
use crate::rehearsing::what_it_reports;
use crate::window::jobs::Figures;
use crate::window::rehearsal::LivePlan;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};

/// What has just happened shows for so long, ms of the house.
const LATELY_MS: i64 = 2_500;

/// Words on the plan are never lettered lower than this, screen points.
const LOWEST_WORDS: f32 = 11.0;
const HIGHEST_WORDS: f32 = 20.0;

/// A halo is drawn as so many sectors.
const SECTORS: u32 = 40;

/// The level on the board, as it lives.
#[derive(Default)]
pub struct LiveOnBoard {
    laid_out: Option<(u64, Id<Level>, u32)>,
    drawing: LiveDrawing,
    hides: Vec<Subject>,
    made: Option<(u64, usize, UtcTime)>,
    glows: Vec<Item>,
    items: Vec<Item>,
    sensing: Vec<Item>,
    person: Option<kurbo::Point>,
}

impl LiveOnBoard {
    /// Doors that are left out of the building, because they stand otherwise now.
    pub fn hides(&self) -> &[Subject] {
        &self.hides
    }

    /// Makes again what has changed; without a rehearsal there is nothing.
    pub fn keep_up(&mut self, session: &Session, figures: &Figures, scale: f64, live: Option<&LivePlan>) {
        let Some(live) = live else {
            *self = Self::default();
            return;
        };
        let laid_out = Some((session.generation(), session.level(), scale as u32));
        if self.laid_out != laid_out {
            self.laid_out = laid_out;
            self.drawing = LiveDrawing::of(session.project(), session.level(), scale);
            self.hides = self.drawing.hides();
            self.made = None;
        }
        let person = live.person().and_then(|person| person.at(live.now()));
        self.person = person.filter(|(level, _)| *level == session.level()).map(|(_, at)| at);
        let made = Some((live.reel().revision(), live.reel().happened(), live.now()));
        if self.made == made {
            return;
        }
        self.made = made;
        let lately = lately(live);
        let now = |point: &PointRef| {
            let number = live.book().number(point)?;
            let run = live.run();
            Some(Now { shown: run.shown(number), goal: run.seen(number), lately: lately.contains(&number) })
        };
        let items = self.drawing.items(session.project(), &now);
        (self.glows, self.items) = items.into_iter().partition(|item| matches!(item.role, Role::Glow(_)));
        let senses = |point: PointRef| live.shown(&point).is_on();
        self.sensing = figures
            .coverage
            .values()
            .filter(|sensor| what_it_reports(session.project(), sensor).is_some_and(senses))
            .flat_map(|sensor| coverage_item(session.project(), sensor))
            .collect();
    }

    /// What lies beneath walls and devices: the light of lamps, and what the sensors that sense something cover.
    pub fn paint_beneath(&self, painter: &egui::Painter, look: &Look<'_>, chunks: &mut Chunks) {
        let within = look.soft_areas_within.unwrap_or(look.board).intersect(painter.clip_rect());
        chunks.paint_passing(&painter.with_clip_rect(within), look, &self.sensing);
        for item in &self.glows {
            paint_glow(painter, look, item);
        }
    }

    /// What lies over them: leaves, courses, rings, words, and whoever walks about.
    pub fn paint_over(&self, painter: &egui::Painter, look: &Look<'_>, chunks: &mut Chunks) {
        let is_text = |item: &&Item| matches!(item.shape, Shape::Text { .. });
        let shapes: Vec<Item> = self.items.iter().filter(|item| !is_text(item)).cloned().collect();
        chunks.paint_passing(painter, look, &shapes);
        let mut taken = Vec::new();
        for item in self.items.iter().filter(is_text) {
            paint_words(painter, look, item, &mut taken);
        }
        if let Some(at) = self.person {
            paint_person(painter, look.theme, look.camera.screen_from_plan(look.board, at));
        }
    }
}

/// Points at which something has just happened.
fn lately(live: &LivePlan) -> Vec<PointNumber> {
    let since = live.now().after_ms(-LATELY_MS);
    let happened = live.run().journal().entries();
    let recent = happened.iter().rev().take_while(|entry| entry.at >= since);
    let points = recent.filter_map(|entry| match entry.what {
        What::CameIn(Incoming::Gesture { point, .. }) | What::Happened(point) => Some(point),
        _ => None,
    });
    points.collect()
}

/// The light of a lamp: strong in the middle, gone at the edge.
fn paint_glow(painter: &egui::Painter, look: &Look<'_>, item: &Item) {
    let (Shape::Path(path), Role::Glow(light)) = (&item.shape, item.role) else { return };
    let bounds = path.bounding_box();
    let middle = look.camera.screen_from_plan(look.board, bounds.center());
    let radius = (bounds.width() / 2.0 * look.camera.points_per_mm) as f32;
    if !look.board.expand(radius).contains(middle) {
        return;
    }
    let mut mesh = Mesh::default();
    let full = look.theme.light(light);
    mesh.colored_vertex(middle, full);
    for (part, strength) in [(0.35, 0.62), (0.7, 0.2), (1.0, 0.0)] {
        let colour = full.gamma_multiply(strength);
        for sector in 0..SECTORS {
            let turn = std::f32::consts::TAU * sector as f32 / SECTORS as f32;
            mesh.colored_vertex(middle + vec2(turn.cos(), turn.sin()) * (radius * part), colour);
        }
    }
    let at = |ring: u32, sector: u32| 1 + ring * SECTORS + sector % SECTORS;
    for sector in 0..SECTORS {
        mesh.add_triangle(0, at(0, sector), at(0, sector + 1));
        for ring in 0..2 {
            mesh.add_triangle(at(ring, sector), at(ring + 1, sector), at(ring + 1, sector + 1));
            mesh.add_triangle(at(ring, sector), at(ring + 1, sector + 1), at(ring, sector + 1));
        }
    }
    painter.add(mesh);
}

/// Words beside a device, on a ground of their own, where no others stand: beneath it, else above, else not at all
/// until one comes nearer.
fn paint_words(painter: &egui::Painter, look: &Look<'_>, item: &Item, taken: &mut Vec<Rect>) {
    let Shape::Text { at, text, height_mm, anchor: Anchor::Middle, .. } = &item.shape else { return };
    let at = look.camera.screen_from_plan(look.board, *at);
    if !look.board.contains(at) {
        return;
    }
    let size = (height_mm * look.points_per_paper_mm * 1.4) as f32;
    let size = size.clamp(LOWEST_WORDS, HIGHEST_WORDS).round();
    let ink = look.theme.paper(pattress_model::drawing::style_of(item.role).ink);
    let galley = painter.layout_no_wrap(text.clone(), FontId::new(size, medium()), ink);
    let beneath = Align2::CENTER_TOP.anchor_size(at - vec2(0.0, size * 0.5), galley.size());
    let above = beneath.translate(vec2(0.0, -2.6 * size));
    let aside = beneath.translate(vec2(galley.size().x / 2.0 + size, -1.3 * size));
    let free = |rect: &Rect| !taken.iter().any(|other| other.intersects(*rect));
    let Some(rect) = [beneath, above, aside].into_iter().find(free) else { return };
    let ground = rect.expand2(vec2(3.0, 0.0));
    taken.push(ground.expand(1.0));
    painter.rect(ground, 3.0, look.theme.raised, Stroke::new(1.0, look.theme.edge), StrokeKind::Inside);
    painter.galley(rect.min, galley, ink);
}

/// Somebody, seen from the front: they are not to scale, so that they can be taken by the hand.
fn paint_person(painter: &egui::Painter, theme: &Theme, at: Pos2) {
    let rim = Stroke::new(1.5, theme.on_accent);
    painter.circle(at, 13.0, theme.accent, rim);
    let ink: Color32 = theme.on_accent;
    painter.circle_filled(at - vec2(0.0, 4.0), 3.6, ink);
    let shoulders: Vec<Pos2> = (0..=12)
        .map(|step| {
            let turn = std::f32::consts::PI * step as f32 / 12.0;
            pos2(at.x - 6.5 * turn.cos(), at.y + 7.5 - 6.5 * turn.sin())
        })
        .collect();
    painter.add(Painted::convex_polygon(shoulders, ink, Stroke::NONE));
}
