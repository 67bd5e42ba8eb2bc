//! The side list: what the stage is about, each line a whole thing in plain words.
//!
//! Survey lists the building, Design the rules, zones and findings, First fix the marking list, As-built what
//! was changed. Pointing at a line lights up what it speaks of on the plan, and what is pointed at or selected
//! there marks the lines that speak of it.

mod changes;
mod findings;
mod marking;
mod proposed;
mod rules;
mod scenes;
mod survey;
mod zones;

use egui::{Frame, Margin, ScrollArea, Ui};
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::systems::Zone;

use crate::window::intent::{Intent, Selecting, Viewing};
use crate::window::jobs::Figures;
use crate::window::session::{Session, Stage};
use crate::window::survey::proposed::Proposed;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// The tabs of the design stage.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Tab {
    #[default]
    Rules,
    Zones,
    Findings,
}

/// What the side list remembers between frames.
#[derive(Default)]
pub struct State {
    tab: Tab,
    search: String,
    open_zone: Option<Id<Zone>>,
    scrolled_for: Option<Subject>,
    rules: rules::Rows,
    marking: marking::Kept,
}

impl State {
    /// Turns to the findings, wherever the list is.
    pub fn show_findings(&mut self) {
        self.tab = Tab::Findings;
    }
}

/// Shows the side list.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    proposed: &Proposed,
    state: &mut State,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    match session.stage() {
        Stage::Survey => {
            scroll(ui, "survey", |ui| survey::ui(ui, session, figures, proposed, theme, &mut intents));
        }
        Stage::Design => design(ui, session, figures, state, theme, &mut intents),
        Stage::FirstFix => {
            scroll(ui, "marking", |ui| marking::ui(ui, session, &mut state.marking, theme, &mut intents));
        }
        Stage::AsBuilt => scroll(ui, "changes", |ui| changes::ui(ui, session, theme)),
    }
    intents
}

fn design(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    state: &mut State,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    header(ui, |ui| {
        let offered = [
            (Tab::Rules, format!("Rules {}", project.rules.len())),
            (Tab::Zones, format!("Zones {}", project.zones.len())),
            (Tab::Findings, format!("Findings {}", figures.findings.len())),
        ];
        if let Some(tab) = lines::tabs(ui, theme, state.tab, &offered) {
            state.tab = tab;
        }
        ui.add_space(4.0);
        match state.tab {
            Tab::Rules => rules::head(ui, state, intents),
            Tab::Zones => zones::head(ui, session, theme, intents),
            Tab::Findings => {}
        }
    });
    lines::thin_rule(ui, theme);
    match state.tab {
        Tab::Rules => scroll(ui, "rules", |ui| rules::ui(ui, session, state, theme, intents)),
        Tab::Zones => scroll(ui, "zones", |ui| {
            zones::ui(ui, session, state, theme, intents);
            scenes::ui(ui, session, theme, intents);
        }),
        Tab::Findings => scroll(ui, "findings", |ui| {
            findings::ui(ui, session, figures, figures.findings.iter(), theme, intents);
        }),
    }
}

fn header<R>(ui: &mut Ui, content: impl FnOnce(&mut Ui) -> R) -> R {
    Frame::NONE
        .inner_margin(Margin { left: 14, right: 12, top: 10, bottom: 6 })
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            content(ui)
        })
        .inner
}

fn scroll(ui: &mut Ui, salt: &str, content: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        content(ui);
        ui.add_space(16.0);
    });
}

/// Selects a thing and brings it into view.
fn pick(subject: Subject, intents: &mut Vec<Intent>) {
    intents.push(Intent::View(Viewing::Bring(subject)));
    intents.push(Intent::Select(Selecting::Only(vec![subject])));
}
