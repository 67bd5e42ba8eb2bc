//! The status line: where the pointer is, what a click will do, what is being typed, what was done or refused
//! last, and how many findings there are.

use egui::{Align, Layout, RichText, Ui};
use pattress_model::checks::Severity;

use crate::window::app::Said;
use crate::window::canvas::Surface;
use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};

/// Shows the status line.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    surface: &Surface,
    figures: &Figures,
    fresh: bool,
    said: &Said,
    theme: &Theme,
) -> Vec<Intent> {
    ui.horizontal(|ui| {
        ui.set_min_height(20.0);
        let place = surface
            .pointer_at()
            .map_or_else(|| "x –  y –".to_owned(), |at| format!("x {:.0}  y {:.0} mm", at.x, at.y));
        ui.add_sized([150.0, 18.0], egui::Label::new(RichText::new(place).color(theme.quiet)).truncate());
        ui.separator();
        match surface.entry() {
            Some((what, typed)) if !typed.is_empty() => {
                ui.label(RichText::new(format!("{what}: {typed}▏")).family(medium()).color(theme.guide));
                ui.label(RichText::new("Enter to take it").color(theme.quiet));
            }
            _ => {
                ui.label(surface.hint());
            }
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let serious =
                figures.findings.iter().filter(|finding| finding.severity == Severity::Serious).count();
            let words = match (figures.findings.len(), serious) {
                (0, _) => "no findings".to_owned(),
                (1, 0) => "1 finding".to_owned(),
                (all, 0) => format!("{all} findings"),
                (all, serious) => format!("{all} findings, {serious} serious"),
            };
            let ink = if serious > 0 { theme.wrong } else { theme.quiet };
            ui.label(RichText::new(words).color(ink));
            if !fresh {
                ui.spinner();
                ui.label(RichText::new("computing").color(theme.quiet));
            }
            ui.separator();
            ui.label(RichText::new(format!("1:{}", session.project().site.scale)).color(theme.quiet));
            if !said.sentence.is_empty() {
                ui.separator();
                let ink = if said.refused { theme.wrong } else { theme.quiet };
                ui.add(egui::Label::new(RichText::new(&said.sentence).color(ink)).truncate());
            }
        });
    });
    Vec::new()
}
