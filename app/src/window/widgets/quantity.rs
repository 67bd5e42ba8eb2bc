//! Text fields for lengths, angles and words: edited freely, handed over when Enter is pressed or the field is
//! left, refused in place with a sentence.

use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Id, Response, Ui};
use pattress_model::units::{Angle, Length};

/// A field that is being edited keeps what was typed here until it is handed over.
#[derive(Clone, Default)]
struct Draft(String);

/// Edits text; returns the new text once it is handed over and differs.
pub fn text_field(ui: &mut Ui, salt: Id, label: &str, value: &str, width: f32) -> (Response, Option<String>) {
    let draft = ui.data(|data| data.get_temp::<Draft>(salt));
    let mut text = draft.map_or_else(|| value.to_owned(), |draft| draft.0);
    let field = egui::TextEdit::singleline(&mut text).id(salt).desired_width(width);
    let response = ui.add(field);
    response.widget_info(|| {
        let mut info = egui::WidgetInfo::text_edit(true, value, &text, "");
        info.label = Some(label.to_owned());
        info
    });
    if response.changed() {
        ui.data_mut(|data| data.insert_temp(salt, Draft(text.clone())));
    }
    // A press elsewhere may select another thing, whose card then takes this one's place: what was typed is
    // handed over before that.
    let pressed_elsewhere =
        response.has_focus() && !response.contains_pointer() && ui.input(|input| input.pointer.any_pressed());
    if pressed_elsewhere {
        response.surrender_focus();
    }
    let mut done = None;
    if response.lost_focus() || pressed_elsewhere {
        ui.data_mut(|data| data.remove::<Draft>(salt));
        let escaped = ui.input(|input| input.key_pressed(egui::Key::Escape));
        if !escaped && text != value {
            done = Some(text);
        }
    }
    (response, done)
}

/// Brings the keyboard to a text field with all of its text marked, so that typing replaces it.
pub fn begin_typing(ctx: &egui::Context, salt: Id, value: &str) {
    let whole = CCursorRange::two(CCursor::new(0), CCursor::new(value.chars().count()));
    let mut state = TextEditState::default();
    state.cursor.set_char_range(Some(whole));
    state.store(ctx, salt);
    ctx.memory_mut(|memory| memory.request_focus(salt));
}

/// Edits a length, shown in whole or tenths of millimetres; reads `2100`, `2.1m`, `7ft 6in`. The error is a
/// sentence for the status line.
pub fn length_field(
    ui: &mut Ui,
    salt: Id,
    label: &str,
    value: Option<Length>,
) -> Option<Result<Length, String>> {
    let shown = value.map_or(String::new(), |length| {
        let rounded = length.rounded().as_mm();
        if rounded.fract() == 0.0 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
    });
    let (_, done) = text_field(ui, salt, label, &shown, 76.0);
    done.map(|text| Length::parse(&text).map(Length::rounded))
}

/// Edits an angle in degrees.
pub fn angle_field(ui: &mut Ui, salt: Id, label: &str, value: Angle) -> Option<Result<Angle, String>> {
    let degrees = (value.wrapped().as_degrees() * 10.0).round() / 10.0;
    let (_, done) = text_field(ui, salt, label, &format!("{degrees}"), 56.0);
    done.map(|text| {
        let typed = text.trim().trim_end_matches('°').trim().replace(',', ".");
        match typed.parse::<f64>() {
            Ok(degrees) if degrees.is_finite() => Ok(Angle::degrees(degrees).wrapped()),
            _ => Err(format!("“{}” is not an angle: type degrees, such as 45", text.trim())),
        }
    })
}
