//! A rule typed as its sentence: read at every letter, taken when it reads; where it does not, the word at fault is
//! underlined and what would do is said beneath.

use egui::text::{LayoutJob, TextFormat};
use egui::{FontId, Key, KeyboardShortcut, Modifiers, RichText, Role, Stroke, TextBuffer, Ui, WidgetInfo};
use pattress_model::project::Project;
use pattress_model::sentence::read::{ReadError, read_rule};
use pattress_model::systems::RuleBody;

use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// What is being typed.
#[derive(Default)]
pub struct State {
    text: String,
    read: Option<(String, Project, Result<RuleBody, ReadError>)>,
}

impl State {
    /// Starts from a sentence.
    pub fn of(text: String) -> Self {
        Self { text, read: None }
    }

    /// Whether nothing was typed or shown yet.
    pub fn is_fresh(&self) -> bool {
        self.read.is_none() && self.text.is_empty()
    }

    /// What is typed, read on the plan as it is.
    fn read(&mut self, project: &Project) -> Result<RuleBody, ReadError> {
        let is_old = self.read.as_ref().is_none_or(|(text, of, _)| *text != self.text || of != project);
        if is_old {
            let read = read_rule(project, &self.text);
            self.read = Some((self.text.clone(), project.clone(), read));
        }
        match &self.read {
            Some((_, _, read)) => read.clone(),
            None => read_rule(project, &self.text),
        }
    }
}

/// Shows the field. Returns the rule once it is taken: by Enter, or by its button.
pub fn ui(
    ui: &mut Ui,
    state: &mut State,
    project: &Project,
    fresh: bool,
    taking: &str,
    theme: &Theme,
) -> Option<RuleBody> {
    let before = state.read(project);
    let fault = before.as_ref().err().map(|fault| fault.at.clone()).filter(|_| !state.text.trim().is_empty());
    let ink = theme.ink;
    let wrong = theme.wrong;
    let mut layouter = move |ui: &Ui, text: &dyn TextBuffer, width: f32| {
        let mut job = marked(text.as_str(), fault.clone(), ink, wrong);
        job.wrap.max_width = width;
        ui.fonts_mut(|fonts| fonts.layout_job(job))
    };
    // Enter takes the rule; a new line is of no use in a sentence.
    let new_line = KeyboardShortcut::new(Modifiers::SHIFT, Key::Enter);
    let field = egui::TextEdit::multiline(&mut state.text)
        .desired_width(f32::INFINITY)
        .desired_rows(2)
        .return_key(new_line)
        .hint_text("When PL-01 key 1 is pressed: turn Kitchen lights on.")
        .layouter(&mut layouter);
    let response = ui.add(field);
    response.widget_info(|| {
        let mut info = WidgetInfo::new(Role::MultilineTextInput);
        info.label = Some("The rule as a sentence".to_owned());
        info
    });
    if fresh {
        response.request_focus();
    }
    let read = state.read(project);
    let entered =
        response.has_focus() && ui.input(|input| input.key_pressed(Key::Enter) && !input.modifiers.any());
    let mut taken = false;
    ui.horizontal_wrapped(|ui| {
        taken = ui.add_enabled(read.is_ok(), egui::Button::new(taking)).clicked();
        match &read {
            Ok(_) => drop(lines::caption(ui, theme, "It reads. Enter takes it.")),
            Err(_) if state.text.trim().is_empty() => {
                lines::caption(ui, theme, "Type it as it would read: “When … : …” or “While … : …”.");
            }
            Err(fault) => {
                let mut words = fault.sentence.clone();
                words.truncate(words.char_indices().nth(400).map_or(words.len(), |(end, _)| end));
                ui.label(RichText::new(words).color(theme.wrong));
            }
        }
    });
    if taken || entered { read.ok() } else { None }
}

/// The text with the word at fault underlined.
fn marked(
    text: &str,
    fault: Option<std::ops::Range<usize>>,
    ink: egui::Color32,
    wrong: egui::Color32,
) -> LayoutJob {
    let font = FontId::proportional(13.0);
    let plain = TextFormat::simple(font.clone(), ink);
    let at_fault = TextFormat { underline: Stroke::new(2.0, wrong), ..TextFormat::simple(font, wrong) };
    let mut job = LayoutJob::default();
    let parts =
        fault.and_then(|at| Some((text.get(..at.start)?, text.get(at.clone())?, text.get(at.end..)?)));
    match parts {
        Some((before, word, after)) => {
            job.append(before, 0.0, plain.clone());
            job.append(word, 0.0, at_fault);
            job.append(after, 0.0, plain);
        }
        None => job.append(text, 0.0, plain),
    }
    job
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::Color32;

    #[test]
    fn the_word_at_fault_is_underlined_and_no_other() {
        let job = marked("When é kye 1", Some(8..11), Color32::BLACK, Color32::RED);
        let lined: Vec<&str> = job
            .sections
            .iter()
            .filter(|section| section.format.underline.width > 0.0)
            .map(|section| &job.text[section.byte_range.start.0..section.byte_range.end.0])
            .collect();
        assert_eq!(lined, ["kye"]);
        // A place that does not lie between letters marks nothing.
        assert!(
            marked("é", Some(1..2), Color32::BLACK, Color32::RED)
                .sections
                .iter()
                .all(|section| { section.format.underline.width == 0.0 })
        );
    }
}
