//! What a second length says of the scale of a drawing: how far the two differ, and which of them is taken.

use egui::{RichText, Ui};
use kurbo::Point;
use pattress_model::plan::{ScaleFrom, SecondLength};
use pattress_model::survey::Scale;

use super::title;
use crate::window::intent::{Intent, ScaleCheck};
use crate::window::session::Session;
use crate::window::survey::changes::{scale_kept, scaled};
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
    let own = Scale::between(first, second, asked.known);
    let (check, own) = match own {
        Ok(own) => (SecondLength::on(underlay.mm_per_unit, asked.on_drawing, asked.known), own),
        Err(sentence) => {
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
            intents.extend(scale_kept(project, asked.drawing, check));
        }
        let mean = Scale { mm_per_unit: mean, from: ScaleFrom::MeanOfTwo };
        for (words, scale) in [("Take the mean", mean), ("Take the second", own)] {
            if ui.button(words).clicked() {
                intents.push(Intent::CloseOverlay);
                intents.extend(scaled(project, asked.drawing, &scale, about));
            }
        }
    });
    intents
}

fn verdict(ui: &mut Ui, check: &SecondLength, theme: &Theme) {
    let ink = if check.agrees() { theme.ink } else { theme.warn };
    ui.add(egui::Label::new(RichText::new(check.sentence()).color(ink)).wrap());
    ui.add_space(4.0);
    lines::caption(ui, theme, "What is measured on site wins over the drawing.");
}
