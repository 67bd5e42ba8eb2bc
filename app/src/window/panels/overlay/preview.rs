//! The sheets as they will be issued, one at a time: the list at the left, the sheet on paper at the right.
//!
//! Paper is white here also on a dark board, for that is how it comes off the plotter. A sheet is composed when
//! it is first looked at and kept until the plan changes.

use egui::{Button, Frame, Key, Label, Modifiers, PointerButton, RichText, Role, ScrollArea, Sense, Stroke};
use egui::{Ui, WidgetInfo, vec2};
use kurbo::{Affine, Point, Rect};
use pattress_model::drawing::sheets::{SheetOptions, SheetSet};
use pattress_model::drawing::{Item, Layer, Shape, Sheet};
use pattress_model::project::Project;

use super::title;
use crate::window::canvas::Camera;
use crate::window::canvas::chunks::{Chunks, Look};
use crate::window::canvas::pictures::Pictures;
use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::lines;

/// The board's painter takes plan millimetres; paper is handed to it as a plan drawn at this scale.
const PAPER_SCALE: f64 = 50.0;

/// How far one point of the wheel comes nearer, as a power of e.
const ZOOM_PER_SCROLL_POINT: f64 = 0.0022;

/// Of a whole sheet on a small screen even small print shows as grey lines, so that no part of it looks empty.
const LOWEST_CAPITALS: f64 = 1.5;

/// The sheet that is looked at.
#[derive(Default)]
pub struct State {
    picked: usize,
    /// The set, as long as it is that of the plan as it is.
    set: Option<SheetSet>,
    composed: Option<Composed>,
    chunks: Chunks,
    pictures: Pictures,
    camera: Camera,
    to_fit: bool,
}

/// A sheet as it was composed, and for what.
struct Composed {
    of: (Project, usize),
    size_mm: (f64, f64),
    items: Vec<Item>,
}

/// Shows the sheets.
pub fn ui(ui: &mut Ui, session: &Session, state: &mut State, fresh: bool, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let project = session.project();
    let set = match state.set.take().filter(|set| set.project() == project) {
        Some(set) => set,
        None => SheetSet::of(project, project.site.paper),
    };
    let names = set.names();
    if fresh {
        state.to_fit = true;
    }
    let close = title(ui, "Sheets as they will be issued", &mut intents);
    if fresh {
        close.request_focus();
    }
    let before = state.picked;
    let (on, back) = ui.input_mut(|input| {
        (input.consume_key(Modifiers::NONE, Key::PageDown), input.consume_key(Modifiers::NONE, Key::PageUp))
    });
    let last = names.len().saturating_sub(1);
    state.picked =
        if on { state.picked + 1 } else { state.picked.saturating_sub(usize::from(back)) }.min(last);
    let size = vec2(ui.available_width(), ui.ctx().content_rect().height() - 150.0);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Min), |ui| {
        ui.set_min_size(size);
        ui.allocate_ui_with_layout(vec2(230.0, size.y), egui::Layout::top_down(egui::Align::Min), |ui| {
            ui.set_width(230.0);
            list(ui, names, state, theme);
            ui.add_space(8.0);
            foot(ui, state, last, &mut intents, theme);
        });
        if state.picked != before {
            state.to_fit = true;
        }
        compose(state, &set);
        paper(ui, session, state, theme);
    });
    state.set = Some(set);
    intents
}

type Names = [pattress_model::drawing::sheets::SheetName];

fn list(ui: &mut Ui, names: &Names, state: &mut State, theme: &Theme) {
    let tallest = (ui.available_height() - 110.0).max(80.0);
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink([false, false]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for (index, name) in names.iter().enumerate() {
                let line = lines::line(ui, theme, index == state.picked, |ui| {
                    ui.add(Label::new(RichText::new(&name.number).family(medium())).truncate());
                    ui.add(Label::new(RichText::new(&name.title).size(12.0).color(theme.quiet)).wrap());
                });
                let response =
                    ui.interact(line.response.rect, ui.scope_id().with(("sheet", index)), Sense::click());
                let words = format!("Sheet {} {}", name.number, name.title);
                response.widget_info(|| {
                    WidgetInfo::selected(Role::ListBoxOption, true, index == state.picked, &words)
                });
                lines::ring_if_focused(ui, &response);
                if response.clicked() {
                    state.picked = index;
                }
            }
        },
    );
}

fn foot(ui: &mut Ui, state: &mut State, last: usize, intents: &mut Vec<Intent>, theme: &Theme) {
    ui.horizontal(|ui| {
        if ui.add_enabled(state.picked > 0, Button::new("Previous")).on_hover_text("Page up").clicked() {
            state.picked -= 1;
        }
        if ui.add_enabled(state.picked < last, Button::new("Next")).on_hover_text("Page down").clicked() {
            state.picked += 1;
        }
        if ui.button("Whole sheet").clicked() {
            state.to_fit = true;
        }
    });
    if ui.button("Issue sheets…").on_hover_text(Command::Issue.row().tip).clicked() {
        intents.push(Intent::Run(Command::Issue));
    }
    lines::caption(ui, theme, "The wheel comes nearer; drag moves the sheet.");
}

/// Composes the sheet that is picked, unless it is at hand.
fn compose(state: &mut State, set: &SheetSet) {
    let project = set.project();
    let at_hand = |composed: &Composed| composed.of.1 == state.picked && composed.of.0 == *project;
    if state.composed.as_ref().is_some_and(at_hand) {
        return;
    }
    let Some(name) = set.names().get(state.picked) else { return };
    let sheet = set.sheet(name, &SheetOptions::of_site(project));
    let items = on_paper(&sheet);
    state.chunks.letter_from(LOWEST_CAPITALS);
    for layer in Layer::ALL {
        let of_layer = items.iter().filter(|item| item.layer == layer).cloned().collect();
        state.chunks.set_layer(layer, of_layer);
    }
    let pictures = items.into_iter().filter(|item| matches!(item.shape, Shape::Picture { .. })).collect();
    state.composed = Some(Composed {
        of: (project.clone(), state.picked),
        size_mm: sheet.paper.size_mm(),
        items: pictures,
    });
}

/// Every item of a sheet in one measure: paper millimetres times [`PAPER_SCALE`].
fn on_paper(sheet: &Sheet) -> Vec<Item> {
    let paper = Affine::scale(PAPER_SCALE);
    let plan = sheet.plan.iter().map(|item| placed(item, paper * sheet.paper_from_plan));
    let frame = sheet.frame.iter().map(|item| Item { layer: Layer::Frame, ..placed(item, paper) });
    plan.chain(frame).collect()
}

fn placed(item: &Item, by: Affine) -> Item {
    let shape = match &item.shape {
        Shape::Path(path) => Shape::Path(by * path.clone()),
        Shape::Text { at, text, height_mm, weight, anchor, turn } => Shape::Text {
            at: by * *at,
            text: text.clone(),
            height_mm: *height_mm,
            weight: *weight,
            anchor: *anchor,
            turn: *turn,
        },
        Shape::Picture { media, page, plan_from_units, size, opacity, within } => Shape::Picture {
            media: media.clone(),
            page: *page,
            plan_from_units: by * *plan_from_units,
            size: *size,
            opacity: *opacity,
            within: within.map(|within| by.transform_rect_bbox(within)),
        },
    };
    Item { shape, ..item.clone() }
}

/// The sheet on its paper, to be looked at from near and far.
fn paper(ui: &mut Ui, session: &Session, state: &mut State, theme: &Theme) {
    Frame::NONE.fill(theme.board).show(ui, |ui| {
        let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Sheet"));
        let board = response.rect;
        let Some(composed) = &state.composed else { return };
        let (width, height) = composed.size_mm;
        let whole = Rect::new(0.0, 0.0, width * PAPER_SCALE, height * PAPER_SCALE);
        if std::mem::take(&mut state.to_fit) {
            state.camera.show(board, whole);
        }
        if response.dragged_by(PointerButton::Primary) || response.dragged_by(PointerButton::Middle) {
            state.camera.pan(response.drag_delta());
        }
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta(), input.zoom_delta()));
        if let Some(at) = response.hover_pos() {
            let factor = (f64::from(scroll.y) * ZOOM_PER_SCROLL_POINT).exp() * f64::from(pinch);
            if (factor - 1.0).abs() > 1e-6 {
                state.camera.zoom(board, at, factor);
            }
        }
        let look = Look {
            camera: &state.camera,
            board,
            points_per_paper_mm: state.camera.points_per_mm * PAPER_SCALE,
            theme: &Theme::LIGHT,
            hidden: &[],
            soft_areas_within: None,
        };
        let corner = |x: f64, y: f64| look.camera.screen_from_plan(board, Point::new(x, y));
        let sheet = egui::Rect::from_two_pos(corner(whole.x0, whole.y0), corner(whole.x1, whole.y1));
        painter.rect_filled(sheet, 0.0, Theme::LIGHT.sheet);
        let outside = egui::StrokeKind::Outside;
        painter.rect_stroke(sheet, 0.0, Stroke::new(1.0, theme.edge), outside);
        let painter = painter.with_clip_rect(sheet.intersect(painter.clip_rect()));
        let mut more = state.pictures.paint(&painter, &look, session.media(), &composed.items);
        more |= state.chunks.paint(&painter, &look, |_| true);
        if more {
            ui.ctx().request_repaint();
        }
    });
}
