//! A path to type, for a desktop without a file dialog as for fast hands.

use egui::{RichText, Ui, WidgetInfo};

use super::title;
use crate::window::intent::{Filing, Intent, PathFor};
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

struct Wording {
    heading: &'static str,
    explains: &'static str,
    hint: &'static str,
    does: &'static str,
}

const fn wording(purpose: PathFor) -> Wording {
    match purpose {
        PathFor::Open => Wording {
            heading: "Open a plan",
            explains: "Type the path of a plan: a .pattress file, or a folder that holds one.",
            hint: "/home/ann/plans/ferry-cottage.pattress",
            does: "Open",
        },
        PathFor::SaveAs => Wording {
            heading: "Save the plan as",
            explains: "Type where to keep the plan. The ending .pattress is added if it has none.",
            hint: "/home/ann/plans/ferry-cottage.pattress",
            does: "Save",
        },
        PathFor::Drawing => Wording {
            heading: "Bring in a drawing",
            explains: "Type the path of the architect’s PDF, SVG or IFC model, of a scan or a photograph. It is kept \
                       within the plan.",
            hint: "/home/ann/drawings/ground-floor.pdf",
            does: "Read it",
        },
        PathFor::Issue => Wording {
            heading: "Issue the sheets",
            explains: "Type the folder to write the sheets and schedules to. It is made if it is not there.",
            hint: "/home/ann/issues/ferry-cottage-P01",
            does: "Issue",
        },
    }
}

/// Asks for a path.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    purpose: PathFor,
    typed: &mut String,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    let words = wording(purpose);
    if fresh {
        let kept = session.path().map(|path| path.display().to_string());
        *typed = if purpose == PathFor::SaveAs { kept.unwrap_or_default() } else { String::new() };
    }
    title(ui, words.heading, &mut intents);
    ui.add(egui::Label::new(RichText::new(words.explains).color(theme.quiet)).wrap());
    ui.add_space(6.0);
    let field = egui::TextEdit::singleline(typed).hint_text(words.hint).desired_width(f32::INFINITY);
    let response = ui.add(field);
    response.widget_info(|| {
        let mut info = WidgetInfo::text_edit(true, "", &*typed, words.hint);
        info.label = Some("Path".to_owned());
        info
    });
    if fresh {
        response.request_focus();
    }
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
    let path = typed.trim();
    let refused = ui.data(|data| data.get_temp::<bool>(response.id)).unwrap_or(false) && path.is_empty();
    if refused {
        ui.label(RichText::new("There is no path yet: type one, or browse for it.").color(theme.wrong));
    } else if purpose == PathFor::SaveAs && std::path::Path::new(path).is_relative() && !path.is_empty() {
        lines::caption(ui, theme, "A path without a leading / is taken from where Pattress was started.");
    }
    ui.add_space(8.0);
    let mut go = entered;
    ui.horizontal(|ui| {
        go |= ui.button(words.does).clicked();
        if ui.button("Browse…").on_hover_text("Choose with a file dialog.").clicked() {
            intents.push(Intent::File(Filing::Browse(purpose)));
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
    if go {
        ui.data_mut(|data| data.insert_temp(response.id, path.is_empty()));
        if path.is_empty() {
            response.request_focus();
        } else {
            intents.push(Intent::CloseOverlay);
            intents.push(purpose.intent(path.into()));
        }
    }
    intents
}
