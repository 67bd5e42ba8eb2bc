//! Quiet parts that lists and overlays are made of: headings, captions, switches, tabs, choices.
//!
//! Each has a name that a screen reader says, answers to Tab and Enter, and takes its colours from the theme.

use egui::{
    Button, Color32, CornerRadius, Id, Label, Margin, Response, RichText, Role, Sense, Shape, Stroke, Ui,
    WidgetInfo, vec2,
};

use crate::window::theme::{Theme, medium, semi_bold};

/// A heading of a list or an overlay.
pub fn heading(ui: &mut Ui, words: &str) {
    ui.add(Label::new(RichText::new(words).family(semi_bold()).size(14.0)).wrap());
}

/// A heading within a list: small, with air above.
pub fn group(ui: &mut Ui, theme: &Theme, words: &str) {
    egui::Frame::NONE.inner_margin(Margin { left: 14, right: 12, top: 10, bottom: 2 }).show(ui, |ui| {
        ui.add(Label::new(RichText::new(words).family(semi_bold()).size(12.0).color(theme.quiet)).truncate());
    });
}

/// Small quiet words.
pub fn caption(ui: &mut Ui, theme: &Theme, words: impl Into<String>) -> Response {
    ui.add(Label::new(RichText::new(words.into()).size(11.0).color(theme.quiet)).wrap())
}

/// Quiet words in a column of their own.
pub fn cell(ui: &mut Ui, theme: &Theme, words: &str, size: f32, width: f32) {
    let left = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(vec2(width, 18.0), left, |ui| {
        ui.set_width(width);
        ui.add(Label::new(RichText::new(words).size(size).color(theme.quiet)).truncate());
    });
}

/// A sentence where a list has nothing to show.
pub fn nothing(ui: &mut Ui, theme: &Theme, words: &str) {
    egui::Frame::NONE.inner_margin(Margin { left: 14, right: 14, top: 8, bottom: 8 }).show(ui, |ui| {
        ui.add(Label::new(RichText::new(words).color(theme.quiet)).wrap());
    });
}

/// A thin line across.
pub fn thin_rule(ui: &mut Ui, theme: &Theme) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, theme.edge));
}

/// A button of few letters without a frame until it is pointed at; `name` says in full what it does.
pub fn small_button(ui: &mut Ui, words: &str, name: &str) -> Response {
    let button = Button::new(RichText::new(words).size(12.0)).frame_when_inactive(false);
    let response = ui.add(button);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response.on_hover_text(name)
}

/// Words that can be clicked: a name in a list. Cut short where they do not fit, whole under the pointer.
pub fn name_button(ui: &mut Ui, words: &str, name: &str, ink: Color32) -> Response {
    let text = RichText::new(words).family(medium()).color(ink);
    let response = ui.add(Label::new(text).truncate().sense(Sense::click()));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    ring_if_focused(ui, &response);
    response
}

/// Shows where the keyboard is on parts that egui does not frame.
pub fn ring_if_focused(ui: &Ui, response: &Response) {
    if response.has_focus() {
        let stroke = ui.visuals().selection.stroke;
        ui.painter().rect_stroke(response.rect.expand(2.0), 2.0, stroke, egui::StrokeKind::Outside);
    }
}

/// A switch, on or off. Its knob moves as well as its colour.
pub fn switch(ui: &mut Ui, theme: &Theme, on: bool, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(vec2(28.0, 16.0), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Switch, true, on, name));
    let (track, knob) = if on { (theme.accent, theme.on_accent) } else { (theme.panel, theme.quiet) };
    let edge = if on { theme.accent } else { theme.quiet };
    let radius = CornerRadius::same(8);
    ui.painter().rect(rect, radius, track, Stroke::new(1.0, edge), egui::StrokeKind::Inside);
    let x = if on { rect.right() - 8.0 } else { rect.left() + 8.0 };
    ui.painter().circle_filled(egui::pos2(x, rect.center().y), 5.0, knob);
    ring_if_focused(ui, &response);
    response.on_hover_text(name)
}

/// Tabs: the one at hand is underlined. Returns another that was picked.
pub fn tabs<T: Copy + PartialEq>(ui: &mut Ui, theme: &Theme, now: T, offered: &[(T, String)]) -> Option<T> {
    let mut picked = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        for (tab, words) in offered {
            let chosen = *tab == now;
            let ink = if chosen { theme.ink } else { theme.quiet };
            let text = RichText::new(words).family(medium()).color(ink);
            let response = ui.add(Label::new(text).sense(Sense::click()));
            response.widget_info(|| WidgetInfo::selected(Role::Tab, true, chosen, words));
            ring_if_focused(ui, &response);
            if chosen {
                let rect = response.rect;
                ui.painter().hline(rect.x_range(), rect.bottom() + 3.0, Stroke::new(2.0, theme.accent));
            }
            if response.clicked() && !chosen {
                picked = Some(*tab);
            }
        }
    });
    picked
}

/// A list of choices is no taller than this before it scrolls, screen points.
const TALLEST_LIST: f32 = 360.0;

/// A choice among values; returns another that was picked.
pub fn choice<T: Clone>(
    ui: &mut Ui,
    salt: Id,
    name: &str,
    shown: &str,
    width: f32,
    offered: &[(T, String)],
) -> Option<T> {
    let mut picked = None;
    let combo = egui::ComboBox::from_id_salt(salt)
        .selected_text(shown)
        .width(width)
        .height(TALLEST_LIST)
        .truncate()
        .show_ui(ui, |ui| {
            for (value, words) in offered {
                if ui.selectable_label(words == shown, words).clicked() && words != shown {
                    picked = Some(value.clone());
                }
            }
        });
    combo.response.widget_info(|| WidgetInfo::labeled(Role::ComboBox, true, format!("{name}: {shown}")));
    picked
}

/// A field to search by.
pub fn search_field(ui: &mut Ui, text: &mut String, name: &str, hint: &str) -> Response {
    let response = ui.add(
        egui::TextEdit::singleline(text)
            .hint_text(hint)
            .align(egui::Align2::LEFT_CENTER)
            .desired_width(f32::INFINITY),
    );
    response.widget_info(|| WidgetInfo::labeled(Role::TextInput, true, name));
    response
}

/// What became of a line of a list.
pub struct Line<R> {
    /// Where it lies, and whether the pointer is over it.
    pub response: Response,
    /// Whether the pointer is over any of it.
    pub hovered: bool,
    /// What was made of its content.
    pub inner: R,
}

/// A line of a list: lifted under the pointer, barred at its left where it is marked.
pub fn line<R>(ui: &mut Ui, theme: &Theme, marked: bool, content: impl FnOnce(&mut Ui) -> R) -> Line<R> {
    let ground = ui.painter().add(Shape::Noop);
    let margin = Margin { left: 14, right: 12, top: 5, bottom: 5 };
    let shown = egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.spacing_mut().interact_size.y = 20.0;
        content(ui)
    });
    let rect = shown.response.rect;
    let hovered = ui.rect_contains_pointer(rect);
    if hovered {
        ui.painter().set(ground, Shape::rect_filled(rect, 0.0, theme.raised));
    }
    if marked {
        let bar = egui::Rect::from_min_size(rect.min, vec2(3.0, rect.height()));
        ui.painter().rect_filled(bar, 0.0, theme.accent);
    }
    Line { response: shown.response, hovered, inner: shown.inner }
}
