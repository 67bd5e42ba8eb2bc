//! What a second length says of the scale of a drawing: how far the two differ, and which of them is taken.

use egui::{RichText, Ui};
use kurbo::Point;
use pattress_model::survey::Scale;
use pattress_model::survey::scale::{Check, ScaleFrom};

use super::title;
use crate::window::intent::{Intent, ScaleCheck};
use crate::window::session::Session;
use crate::window::survey::changes::rescaled;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// Shows the two lengths and the ways out.
pub fn ui(ui: &mut Ui, session: &Session, asked: &ScaleCheck, fresh: bool, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    let close = title(ui, "A second length", &mut intents);
    if fresh {
        close.request_focus();
    }
    let project = session.project();
    let Some(underlay) = project.underlays.get(asked.drawing) else {
        intents.push(Intent::CloseOverlay);
        return intents;
    };
    let [first, second] = asked.on_drawing;
    let now = Scale { mm_per_unit: underlay.mm_per_unit, from: ScaleFrom::TrueLengths };
    let own = Scale::between(first, second, asked.known);
    let (check, own) = match (now.check(first, second, asked.known), own) {
        (Ok(check), Ok(own)) => (check, own),
        (Err(sentence), _) | (_, Err(sentence)) => {
            ui.label(RichText::new(sentence).color(theme.wrong));
            return intents;
        }
    };
    verdict(ui, &check, theme);
    ui.add_space(8.0);
    let about: Point = underlay.plan_from_drawing() * first;
    let mean = (underlay.mm_per_unit + own.mm_per_unit) / 2.0;
    ui.horizontal(|ui| {
        if ui.button("Keep the scale").clicked() {
            intents.push(Intent::CloseOverlay);
            intents.push(Intent::Say("The scale stays as it was.".to_owned()));
        }
        for (words, mm_per_unit, told) in [
            ("Take the mean", mean, "by the mean of two lengths".to_owned()),
            ("Take the second", own.mm_per_unit, own.words()),
        ] {
            if ui.button(words).clicked() {
                intents.push(Intent::CloseOverlay);
                intents.extend(rescaled(project, asked.drawing, mm_per_unit, about, &told));
            }
        }
    });
    intents
}

fn verdict(ui: &mut Ui, check: &Check, theme: &Theme) {
    let ink = if check.agrees() { theme.ink } else { theme.warn };
    ui.add(egui::Label::new(RichText::new(check.sentence()).color(ink)).wrap());
    ui.add_space(4.0);
    lines::caption(ui, theme, "What is measured on site wins over the drawing.");
}
