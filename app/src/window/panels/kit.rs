//! The Kit: families of kinds, found by typing, taken up by a click or dragged onto the plan.

use std::collections::BTreeSet;

use egui::{Button, CursorIcon, RichText, ScrollArea, Sense, Ui, vec2};
use kurbo::Point;
use pattress_model::drawing::symbols::symbol;
use pattress_model::edit::{Subject, verbs};
use pattress_model::kit::catalogue::catalogue;
use pattress_model::kit::{Family, Kind};
use pattress_model::project::{Project, Table};
use pattress_model::units::Angle;

use crate::window::canvas::Camera;
use crate::window::canvas::chunks::{Chunks, Look};
use crate::window::intent::{Intent, Overlay};
use crate::window::session::Session;
use crate::window::theme::{Theme, medium, semi_bold};
use crate::window::tool_choice::ToolChoice;

/// Side of a symbol's sample, screen points.
const SAMPLE: f32 = 30.0;

/// Height of a kind's row, screen points.
const ROW: f32 = 32.0;

/// What the Kit remembers between frames.
#[derive(Default)]
pub struct State {
    search: String,
    unfolded: BTreeSet<Family>,
    samples: Chunks,
    shipped: Vec<Kind>,
    listed: Option<(Table<Kind>, Vec<Kind>)>,
}

/// Shows the Kit.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    choice: &ToolChoice,
    state: &mut State,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    if state.shipped.is_empty() {
        state.shipped = catalogue().into_iter().map(|entry| entry.kind).collect();
        state.unfolded.extend([Family::Presence, Family::Plates, Family::Luminaires]);
    }
    egui::Frame::NONE.inner_margin(egui::Margin { left: 12, right: 12, top: 6, bottom: 4 }).show(ui, |ui| {
        ui.label(RichText::new("Kit").family(semi_bold()).size(14.0));
        let field = egui::TextEdit::singleline(&mut state.search)
            .hint_text("Search by name or code")
            .desired_width(f32::INFINITY);
        let response = ui.add(field);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::TextInput, true, "Search the Kit"));
    });
    let own = &session.project().kinds;
    if !state.listed.as_ref().is_some_and(|(of, _)| of.is_same(own)) {
        state.listed = Some((own.clone(), kinds_of(session.project(), &state.shipped)));
    }
    let kinds = state.listed.as_ref().map_or(&[][..], |(_, kinds)| kinds);
    let wanted = state.search.trim().to_lowercase();
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let mut shown = 0;
        for family in Family::ALL {
            let of_family: Vec<&Kind> =
                kinds.iter().filter(|kind| kind.family == family && matches(kind, &wanted)).collect();
            if of_family.is_empty() {
                continue;
            }
            shown += of_family.len();
            let open = !wanted.is_empty() || state.unfolded.contains(&family);
            if family_row(ui, family, of_family.len(), open, theme) && wanted.is_empty() {
                if open {
                    state.unfolded.remove(&family)
                } else {
                    state.unfolded.insert(family)
                };
            }
            if open {
                for kind in of_family {
                    intents.extend(kind_row(ui, session, kind, choice, &mut state.samples, theme));
                }
            }
        }
        if shown == 0 {
            ui.add_space(12.0);
            ui.horizontal_wrapped(|ui| {
                ui.add_space(12.0);
                ui.label(
                    RichText::new(
                        "Nothing in the Kit is called that. Copy a kind and change it to make your own.",
                    )
                    .color(theme.quiet),
                );
            });
        }
        ui.add_space(12.0);
    });
    intents
}

/// The project's own kinds, and those shipped that it does not have yet.
pub fn kinds_of(project: &Project, shipped: &[Kind]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = project.kinds.iter().map(|(_, kind)| kind.clone()).collect();
    let names: BTreeSet<String> = kinds.iter().map(|kind| kind.name.clone()).collect();
    kinds.extend(shipped.iter().filter(|kind| !names.contains(&kind.name)).cloned());
    // In the order shipped, so that using a kind does not move its row.
    let place = |kind: &Kind| shipped.iter().position(|other| other.name == kind.name).unwrap_or(usize::MAX);
    kinds.sort_by_cached_key(|kind| (place(kind), kind.name.clone()));
    kinds
}

fn matches(kind: &Kind, wanted: &str) -> bool {
    wanted.is_empty()
        || kind.code.to_lowercase().starts_with(wanted)
        || wanted.split_whitespace().all(|word| {
            kind.name.to_lowercase().contains(word) || kind.family.name().to_lowercase().contains(word)
        })
}

fn family_row(ui: &mut Ui, family: Family, count: usize, open: bool, theme: &Theme) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 28.0), Sense::click());
    response.widget_info(|| {
        egui::WidgetInfo::selected(
            egui::Role::Button,
            true,
            open,
            format!("{}, {count} kinds", family.name()),
        )
    });
    let painter = ui.painter();
    if response.hovered() || response.has_focus() {
        painter.rect_filled(rect, 0.0, theme.accent_soft);
    }
    let middle = rect.center().y;
    let tip = egui::pos2(rect.left() + 16.0, middle);
    let arrow = if open {
        vec![tip + vec2(-4.0, -2.0), tip + vec2(4.0, -2.0), tip + vec2(0.0, 3.0)]
    } else {
        vec![tip + vec2(-2.0, -4.0), tip + vec2(3.0, 0.0), tip + vec2(-2.0, 4.0)]
    };
    painter.add(egui::Shape::convex_polygon(arrow, theme.quiet, egui::Stroke::NONE));
    let font = egui::FontId::new(13.0, medium());
    painter.text(
        egui::pos2(rect.left() + 28.0, middle),
        egui::Align2::LEFT_CENTER,
        family.name(),
        font,
        theme.ink,
    );
    let font = egui::FontId::proportional(11.0);
    painter.text(
        egui::pos2(rect.right() - 14.0, middle),
        egui::Align2::RIGHT_CENTER,
        count,
        font,
        theme.quiet,
    );
    response.clicked()
}

fn kind_row(
    ui: &mut Ui,
    session: &Session,
    kind: &Kind,
    choice: &ToolChoice,
    samples: &mut Chunks,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    let in_hand = matches!(choice, ToolChoice::Place(taken) if taken.name == kind.name);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click_and_drag());
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::Button, true, in_hand, format!("Place {}", kind.name))
    });
    if !ui.is_rect_visible(rect) {
        return intents;
    }
    let fill = match (in_hand, response.hovered() || response.has_focus()) {
        (true, _) => theme.accent,
        (false, true) => theme.accent_soft,
        (false, false) => theme.panel,
    };
    let ink = if in_hand { theme.on_accent } else { theme.ink };
    ui.painter().rect_filled(rect, 0.0, fill);
    let sample =
        egui::Rect::from_center_size(egui::pos2(rect.left() + 27.0, rect.center().y), vec2(SAMPLE, SAMPLE));
    ui.painter().rect_filled(sample.shrink(1.0), 3.0, theme.sheet);
    paint_sample(ui, kind, sample, samples, theme);
    let code = ui.painter().layout_no_wrap(kind.code.clone(), egui::FontId::proportional(11.0), ink);
    let code_left = rect.right() - 14.0 - code.size().x;
    let code_ink = if in_hand { theme.on_accent } else { theme.quiet };
    ui.painter().galley_with_override_text_color(
        egui::pos2(code_left, rect.center().y - code.size().y / 2.0),
        code,
        code_ink,
    );
    let left = sample.right() + 8.0;
    let mut job = egui::text::LayoutJob::simple(
        with_its_unit(&kind.name),
        egui::FontId::proportional(12.5),
        ink,
        (code_left - left - 6.0).max(20.0),
    );
    job.wrap.max_rows = 2;
    job.wrap.break_anywhere = false;
    let name = ui.painter().layout_job(job);
    ui.painter().galley(egui::pos2(left, rect.center().y - name.size().y / 2.0), name, ink);
    if response.clicked() || response.drag_started() {
        intents.push(Intent::TakeUp(ToolChoice::Place(Box::new(kind.clone()))));
    }
    if response.dragged() {
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    }
    let own = session.project().kinds.iter().find(|(_, own)| own.name == kind.name).map(|(id, _)| id);
    if response.hovered()
        && let Some(id) = own
    {
        intents.push(Intent::PointAt(Subject::Kind(id)));
    }
    response.context_menu(|ui| {
        if ui.add(Button::new("Edit this kind…").frame(false)).clicked() {
            match own {
                Some(id) => intents.push(Intent::Open(Overlay::KindEditor(id))),
                None => {
                    let (id, op) = verbs::import_kind(session.project(), kind);
                    let ops = op.into_iter().collect();
                    intents.push(Intent::Change(Ok(pattress_model::edit::Change::new(
                        format!("Bring in kind {}", kind.name),
                        ops,
                    ))));
                    intents.push(Intent::Open(Overlay::KindEditor(id)));
                }
            }
            ui.close();
        }
        if ui.add(Button::new("Copy as a new kind").frame(false)).clicked() {
            let name = format!("{}, own", kind.name);
            intents.push(Intent::Change(verbs::with_kind(session.project(), kind, |project, id| {
                verbs::copy_kind(project, id, &name)
            })));
            ui.close();
        }
    });
    response.on_hover_ui(|ui| facts(ui, session, kind, theme));
    intents
}

/// A name whose figures are not parted from their units at the end of a line.
fn with_its_unit(name: &str) -> String {
    let mut kept = String::new();
    for word in name.split(' ') {
        if !kept.is_empty() {
            let unit = word.chars().count() <= 2 && kept.ends_with(|letter: char| letter.is_ascii_digit());
            kept.push(if unit { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
    }
    kept
}

/// The facts of a kind, as its row tells them when the pointer rests on it.
fn facts(ui: &mut Ui, session: &Session, kind: &Kind, theme: &Theme) {
    ui.set_max_width(300.0);
    ui.label(RichText::new(&kind.name).family(medium()));
    let height = kind.default_height.map_or("to be decided".to_owned(), |height| format!("{height} mm AFFL"));
    let mut lines = vec![format!("Fixed to: {}   Height: {height}", kind.mount.name())];
    if let Some(back_box) = kind.back_box {
        lines.push(format!("Box: {} gang, {} mm deep", back_box.gangs, back_box.depth));
    }
    lines.push(format!("Fed by: {}   Load: {}", kind.supply.name(), kind.load));
    if let Some(detection) = kind.senses() {
        lines.push(format!(
            "Senses: {}, {} over {:.1} m",
            detection.sense.name(),
            detection.pattern.angle(),
            detection.pattern.range().as_m()
        ));
    }
    let points: Vec<&str> = kind.points.iter().map(|point| point.name.as_str()).collect();
    if !points.is_empty() {
        lines.push(format!("Points: {}", points.join(", ")));
    }
    lines.push(format!("{} {}, {} min to fit", session.project().site.currency, kind.price, kind.minutes));
    for line in lines {
        ui.label(RichText::new(line).size(12.0));
    }
    if let Some(caution) = &kind.caution {
        ui.label(RichText::new(format!("Caution: {caution}")).size(12.0).color(theme.wrong));
    }
    ui.label(
        RichText::new("Click or drag to place. Right-click to edit or copy the kind.")
            .size(11.0)
            .color(theme.quiet),
    );
}

/// A sample of the symbol, scaled to its square; a long luminaire is cut down to it.
pub fn paint_sample(ui: &Ui, kind: &Kind, square: egui::Rect, samples: &mut Chunks, theme: &Theme) {
    let mut kind = kind.clone();
    kind.drawn_length = kind.drawn_length.map(|_| pattress_model::units::Length::mm(7.0));
    let items = symbol(&kind, Point::ORIGIN, Angle::degrees(90.0), false, 1.0, None);
    let bounds = pattress_model::drawing::symbols::symbol_bounds(
        &kind,
        Point::ORIGIN,
        Angle::degrees(90.0),
        false,
        1.0,
    );
    let fits = f64::from(square.width() - 5.0) / bounds.width().max(bounds.height()).max(6.0);
    let camera = Camera { centre: bounds.center(), points_per_mm: fits };
    let look = Look {
        camera: &camera,
        board: square,
        points_per_paper_mm: fits,
        theme,
        hidden: &[],
        soft_areas_within: None,
    };
    samples.paint_passing(&ui.painter().with_clip_rect(square.intersect(ui.clip_rect())), &look, &items);
}
