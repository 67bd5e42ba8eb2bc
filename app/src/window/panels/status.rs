//! The status line: where the pointer is, what a click will do, what is being typed, what was done or refused
//! last, and how many findings there are.

use egui::{Align, Layout, RichText, Ui};
use pattress_model::checks::Severity;

use crate::window::board::Said;
use crate::window::canvas::Surface;
use crate::window::intent::{Filing, Intent, Surveying, Viewing};
use crate::window::issuing::Progress;
use crate::window::jobs::Figures;
use crate::window::session::{Session, Stage};
use crate::window::survey::proposed::{Offering, Proposed};
use crate::window::theme::{Theme, medium};
use crate::window::widgets::telling;

/// What the status line tells of.
pub struct Told<'a> {
    /// The plan.
    pub session: &'a Session,
    /// The board, with pointer and tool.
    pub surface: &'a Surface,
    /// What was computed.
    pub figures: &'a Figures,
    /// What is proposed, and the trace that is under way.
    pub proposed: &'a Proposed,
    /// Whether that is of the plan as it is.
    pub fresh: bool,
    /// What was done or refused last.
    pub said: &'a Said,
    /// How far an issue has come, while one is being written.
    pub progress: Option<Progress>,
    /// What is being done to a drawing, and how much of it is.
    pub work: Option<(&'a str, f32)>,
}

/// Shows the status line.
pub fn ui(ui: &mut Ui, told: &Told<'_>, theme: &Theme) -> Vec<Intent> {
    let mut intents = Vec::new();
    ui.horizontal(|ui| {
        ui.set_min_height(20.0);
        let place = told
            .surface
            .pointer_at()
            .map_or_else(|| "x –  y –".to_owned(), |at| format!("x {:.0}  y {:.0} mm", at.x, at.y));
        let place = egui::Label::new(RichText::new(place).color(theme.quiet)).truncate();
        ui.allocate_ui_with_layout(egui::vec2(150.0, 18.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_width(150.0);
            ui.add(place);
        });
        ui.separator();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            findings(ui, told, theme, &mut intents);
            if let Some(progress) = &told.progress {
                ui.separator();
                if ui.button("Stop").on_hover_text("Stop the issue that is being written.").clicked() {
                    intents.push(Intent::File(Filing::StopIssue));
                }
                let share = progress.done as f32 / progress.of.max(1) as f32;
                let bar = egui::ProgressBar::new(share).desired_width(240.0);
                ui.add(bar.text(format!("Issuing: {}", progress.what)));
            }
            // In the survey the side list shows it.
            let elsewhere = told.session.stage() != Stage::Survey;
            if let Some(tracing) = told.proposed.tracing().filter(|_| elsewhere) {
                ui.separator();
                let stop = ui.button("Stop").on_hover_text("Stop the trace; the plan stays as it is.");
                stop.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, "Stop tracing"));
                if stop.clicked() {
                    intents.push(Intent::Offer(Offering::StopTracing));
                }
                let bar = egui::ProgressBar::new(tracing.share()).desired_width(160.0);
                ui.add(bar.text(format!("Tracing: {:.0} %", tracing.share() * 100.0)));
            }
            if let Some((what, share)) = told.work {
                ui.separator();
                if ui.button("Stop").on_hover_text("Stop the work on the drawing.").clicked() {
                    intents.push(Intent::Survey(Surveying::Stop));
                }
                if share > 0.0 {
                    ui.add(egui::ProgressBar::new(share).desired_width(240.0).text(what));
                } else {
                    ui.label(what);
                    ui.spinner();
                }
            }
            ui.separator();
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| message(ui, told, theme));
        });
    });
    intents
}

/// What is being typed, what was refused, or what a click will do and what was done last.
fn message(ui: &mut Ui, told: &Told<'_>, theme: &Theme) {
    match told.surface.entry() {
        Some((what, typed)) if !typed.is_empty() => {
            ui.label(RichText::new(format!("{what}: {typed}|")).family(medium()).color(theme.guide));
            ui.label(RichText::new("Enter to take it").color(theme.quiet));
        }
        _ if told.said.refused => {
            telling::severity_mark(ui, theme, Severity::Serious);
            let words = RichText::new(&told.said.sentence).family(medium()).color(theme.wrong);
            ui.add(egui::Label::new(words).truncate()).on_hover_text(&told.said.sentence);
        }
        _ => {
            ui.label(told.surface.hint());
            if !told.said.sentence.is_empty() {
                ui.separator();
                let words = RichText::new(&told.said.sentence).color(theme.quiet);
                ui.add(egui::Label::new(words).truncate()).on_hover_text(&told.said.sentence);
            }
        }
    }
}

fn findings(ui: &mut Ui, told: &Told<'_>, theme: &Theme, intents: &mut Vec<Intent>) {
    let found = &told.figures.findings;
    let serious = found.iter().filter(|finding| finding.severity == Severity::Serious).count();
    let words = match (found.len(), serious) {
        (0, _) => "no findings".to_owned(),
        (1, 0) => "1 finding".to_owned(),
        (all, 0) => format!("{all} findings"),
        (all, serious) => format!("{all} findings, {serious} serious"),
    };
    let ink = if serious > 0 { theme.wrong } else { theme.quiet };
    let button = egui::Button::new(RichText::new(words).color(ink)).frame_when_inactive(false);
    if ui.add(button).on_hover_text("List the findings.").clicked() {
        intents.push(Intent::View(Viewing::Findings));
    }
    if !told.fresh {
        ui.spinner();
        ui.label(RichText::new("computing").color(theme.quiet));
    }
    ui.separator();
    let scale = told.surface.sheet().map_or(told.session.project().site.scale, |sheet| sheet.scale);
    ui.label(RichText::new(format!("1:{scale}")).color(theme.quiet));
    if told.session.client_view() {
        ui.separator();
        ui.label(RichText::new("client view").color(theme.accent));
    }
}
