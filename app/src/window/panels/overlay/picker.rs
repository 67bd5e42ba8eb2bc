//! A button that opens a list to pick from: searched by typing, grouped by room, nothing in it that is not on
//! the plan.

use egui::{Popup, PopupCloseBehavior, RichText, Role, ScrollArea, Ui, WidgetInfo};

use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// One thing to pick.
pub struct Choice<T> {
    /// The group it stands in.
    pub group: String,
    /// What it is called within the group.
    pub words: String,
    /// What is picked.
    pub value: T,
}

/// Shows the button, and the list while it is open. Returns what was picked.
pub fn pick<T: Clone>(
    ui: &mut Ui,
    theme: &Theme,
    name: &str,
    shown: &str,
    choices: impl FnOnce() -> Vec<Choice<T>>,
) -> Option<T> {
    // Room for the arrow that tells a list from a button.
    let button = egui::Button::new(RichText::new(shown)).shortcut_text("    ").truncate();
    let response = ui.add(button);
    let tip = egui::pos2(response.rect.right() - 14.0, response.rect.center().y);
    let arrow = [egui::vec2(-4.5, -2.5), egui::vec2(4.5, -2.5), egui::vec2(0.0, 4.0)].map(|by| tip + by);
    ui.painter().add(egui::Shape::convex_polygon(arrow.to_vec(), theme.ink, egui::Stroke::NONE));
    response.widget_info(|| WidgetInfo::labeled(Role::ComboBox, true, format!("{name}: {shown}")));
    pick_at(ui, theme, &response, choices)
}

/// Shows the list of what can be picked while it is open beside what was clicked. Returns what was picked.
pub fn pick_at<T: Clone>(
    ui: &Ui,
    theme: &Theme,
    response: &egui::Response,
    choices: impl FnOnce() -> Vec<Choice<T>>,
) -> Option<T> {
    let mut picked = None;
    let search_id = response.id.with("search");
    Popup::menu(response).close_behavior(PopupCloseBehavior::CloseOnClickOutside).width(300.0).show(|ui| {
        let typed = ui.data(|data| data.get_temp::<String>(search_id));
        let mut text = typed.clone().unwrap_or_default();
        let field = lines::search_field(ui, &mut text, "Search what to pick", "Type to search");
        if typed.is_none() {
            field.request_focus();
        }
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        let choices = choices();
        let wanted = text.trim().to_lowercase();
        let fitting: Vec<&Choice<T>> =
            choices.iter().filter(|choice| fits(&choice.group, &choice.words, &wanted)).collect();
        if entered && !wanted.is_empty() {
            picked = fitting.first().map(|choice| choice.value.clone());
        }
        list(ui, theme, &fitting, &mut picked);
        if picked.is_some() {
            ui.close();
            ui.data_mut(|data| data.remove::<String>(search_id));
        } else {
            ui.data_mut(|data| data.insert_temp(search_id, text));
        }
    });
    if !Popup::is_id_open(ui.ctx(), Popup::default_response_id(response)) {
        ui.data_mut(|data| data.remove::<String>(search_id));
    }
    picked
}

fn list<T: Clone>(ui: &mut Ui, theme: &Theme, fitting: &[&Choice<T>], picked: &mut Option<T>) {
    ScrollArea::vertical().max_height(280.0).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        if fitting.is_empty() {
            lines::caption(ui, theme, "Nothing like that on the plan.");
        }
        let mut group = None;
        for choice in fitting {
            if group != Some(&choice.group) {
                group = Some(&choice.group);
                ui.add_space(4.0);
                lines::caption(ui, theme, choice.group.clone());
            }
            let response = ui.add(egui::Button::selectable(false, &choice.words).truncate());
            let name = format!("{} · {}", choice.group, choice.words);
            response.widget_info(|| WidgetInfo::labeled(Role::ListBoxOption, true, &name));
            if response.clicked() {
                *picked = Some(choice.value.clone());
            }
        }
    });
}

/// Whether each word that was typed is in the group or the words.
fn fits(group: &str, words: &str, wanted: &str) -> bool {
    let all = format!("{group} {words}").to_lowercase();
    wanted.split_whitespace().all(|part| all.contains(part))
}
