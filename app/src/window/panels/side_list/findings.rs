//! Findings: what the integrator should know, each with its weight in a word and a mark, and where the demand
//! comes from.

use egui::{Label, RichText, Role, Sense, Ui, WidgetInfo};
use pattress_model::checks::Finding;
use pattress_model::edit::{Change, Subject};
use pattress_model::systems::Script;

use super::pick;
use crate::window::intent::{Intent, Overlay, Rehearsing};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::{lines, telling};

/// Shows findings, a line each. Only what was computed of the plan as it is now can be put right from here.
pub fn ui<'a>(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    findings: impl Iterator<Item = &'a Finding>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let mut any = false;
    how_far(ui, figures, theme);
    let fresh = figures.generation == Some(session.generation());
    for finding in findings {
        any = true;
        finding_line(ui, session, finding, theme, intents);
        if fresh && (finding.fix.is_some() || finding.script.is_some()) {
            ui.horizontal(|ui| {
                ui.add_space(12.0);
                if let Some(fix) = &finding.fix {
                    put_right(ui, fix, intents);
                }
                if let Some(script) = &finding.script {
                    show_it(ui, script, intents);
                }
            });
        }
    }
    if !any {
        lines::nothing(ui, theme, "Nothing was found to want attention.");
    }
}

/// How far the rules were tried in every order.
fn how_far(ui: &mut Ui, figures: &Figures, theme: &Theme) {
    egui::Frame::NONE.inner_margin(egui::Margin { left: 14, right: 12, top: 8, bottom: 4 }).show(ui, |ui| {
        let words = match &figures.tried {
            Some(tried) => format!("Rules tried in every order: {}", tried.how_far),
            None => {
                "The rules are being tried in every order; what that shows comes after the rest.".to_owned()
            }
        };
        let response = lines::caption(ui, theme, words);
        if let Some(tried) = figures.tried.as_ref().filter(|tried| !tried.rooms.is_empty()) {
            response.on_hover_text(tried.rooms.join("\n"));
        }
    });
}

/// The change that settles it, one click away.
fn put_right(ui: &mut Ui, fix: &Change, intents: &mut Vec<Intent>) {
    if lines::small_button(ui, &fix.label, &format!("{}, which settles this.", fix.label)).clicked() {
        intents.push(Intent::Change(Ok(fix.clone())));
    }
}

/// The script that shows it, played on the plan.
fn show_it(ui: &mut Ui, script: &Script, intents: &mut Vec<Intent>) {
    let name = format!("Show it: {}", script.name);
    if lines::small_button(ui, "Show it", &name).on_hover_text(script.lines.join("\n")).clicked() {
        intents.push(Intent::Rehearse(Rehearsing::Play(script.clone())));
    }
}

fn finding_line(ui: &mut Ui, session: &Session, finding: &Finding, theme: &Theme, intents: &mut Vec<Intent>) {
    let subject = finding.subject;
    let marked = session.pointed_at() == Some(subject) || session.selection().contains(&subject);
    let line = lines::line(ui, theme, marked, |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            ui.spacing_mut().interact_size.y = 16.0;
            telling::severity_mark(ui, theme, finding.severity);
            let ink = telling::severity_ink(theme, finding.severity);
            ui.label(RichText::new(finding.severity.name()).family(medium()).size(12.0).color(ink));
        });
        let response = ui.add(Label::new(&finding.sentence).wrap().sense(Sense::click()));
        let name = format!("{}: {}", finding.severity.name(), finding.sentence);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        lines::ring_if_focused(ui, &response);
        if !session.client_view() {
            lines::caption(ui, theme, finding.source);
        }
        response
    });
    if line.hovered || line.inner.has_focus() {
        intents.push(Intent::PointAt(subject));
    }
    if line.inner.clicked() {
        match subject {
            Subject::Site => intents.push(Intent::Open(Overlay::Site)),
            _ => pick(subject, intents),
        }
    }
}
