//! Rules, grouped by room, the whole house first: each one plain sentence whose words light up the plan.

use std::collections::BTreeMap;

use egui::{Align, Layout, RichText, Ui};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::sentence::sentence;
use pattress_model::sentence::sentence_text;
use pattress_model::systems::Rule;

use super::{State, pick};
use crate::window::command::Command;
use crate::window::intent::{Intent, Overlay};
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{lines, telling};

/// What stands above the rules: a search, and the way to a new one.
pub fn head(ui: &mut Ui, state: &mut State, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let new = ui.button("New rule").on_hover_text(Command::NewRule.row().tip);
            if new.clicked() {
                intents.push(Intent::Run(Command::NewRule));
            }
            let rehearse = ui.button("Rehearse").on_hover_text(Command::Rehearse.row().tip);
            if rehearse.clicked() {
                intents.push(Intent::Run(Command::Rehearse));
            }
            lines::search_field(ui, &mut state.search, "Search the rules", "Search rules");
        });
    });
}

/// Shows the rules.
pub fn ui(ui: &mut Ui, session: &Session, state: &mut State, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    if project.rules.is_empty() {
        let words = "No rules yet. A rule says when something happens, or while something holds, and what \
                     is done then: New rule starts one.";
        lines::nothing(ui, theme, words);
        return;
    }
    let wanted = state.search.trim().to_lowercase();
    let asked_for = session.only_selected();
    let scroll_now = asked_for.is_some() && state.scrolled_for != asked_for;
    let mut to_scroll = scroll_now;
    let mut by_room: BTreeMap<Option<Id<Room>>, Vec<(Id<Rule>, &Rule)>> = BTreeMap::new();
    for (id, rule) in project.rules.iter().filter(|(_, rule)| is_wanted(project, rule, &wanted)) {
        by_room.entry(rule.room).or_default().push((id, rule));
    }
    let none_shown = by_room.is_empty();
    for (room, of_room) in by_room {
        lines::group(ui, theme, &room_words(project, room));
        for (id, rule) in of_room {
            let spoken_of = asked_for.is_some_and(|subject| speaks_of(project, id, rule, subject));
            let scrolls = spoken_of && to_scroll;
            if !scrolls && state.heights.skip(ui, id, session.generation()) {
                continue;
            }
            let rect = rule_line(ui, session, id, rule, theme, intents);
            state.heights.keep(ui, id, session.generation(), rect.height());
            if scrolls {
                to_scroll = false;
                ui.scroll_to_rect(rect, Some(Align::Center));
            }
        }
    }
    state.scrolled_for = asked_for;
    if none_shown {
        lines::nothing(ui, theme, "No rule reads like that.");
    }
}

/// How tall each line was when it was last laid out: a house has rules by the hundred, and only those near what
/// is in view are laid out again.
#[derive(Default)]
pub struct Heights {
    of: BTreeMap<Id<Rule>, f32>,
    laid_out: Option<(u64, i32)>,
}

/// So many lines of a rule show until it is selected.
const LINES_OF_A_RULE: f32 = 3.0;

/// Of the list's lettering, on average, with some allowance for line ends, screen points.
const WIDTH_OF_A_LETTER: f32 = 7.6;

/// Lines so near to what is in view are laid out too, so that Tab finds them, screen points.
const NEAR: f32 = 300.0;

impl Heights {
    /// Leaves room for a line that is far out of view; whether it did.
    fn skip(&mut self, ui: &mut Ui, id: Id<Rule>, generation: u64) -> bool {
        self.forget_unless(ui, generation);
        let Some(height) = self.of.get(&id).copied() else { return false };
        let size = egui::vec2(ui.available_width(), height);
        let rect = egui::Rect::from_min_size(ui.cursor().min, size);
        if rect.intersects(ui.clip_rect().expand(NEAR)) {
            return false;
        }
        ui.allocate_space(size);
        true
    }

    fn keep(&mut self, ui: &Ui, id: Id<Rule>, generation: u64, height: f32) {
        self.forget_unless(ui, generation);
        self.of.insert(id, height);
    }

    /// Heights hold for one state of the plan and one width of the list.
    fn forget_unless(&mut self, ui: &Ui, generation: u64) {
        let now = Some((generation, ui.available_width().round() as i32));
        if self.laid_out != now {
            self.of.clear();
            self.laid_out = now;
        }
    }
}

fn rule_line(
    ui: &mut Ui,
    session: &Session,
    id: Id<Rule>,
    rule: &Rule,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) -> egui::Rect {
    let project = session.project();
    let subject = Subject::Rule(id);
    let at_hand = session.pointed_at().into_iter().chain(session.selection().iter().copied());
    let marked = at_hand.into_iter().any(|other| speaks_of(project, id, rule, other));
    let line = lines::line(ui, theme, marked, |ui| {
        ui.push_id(id.number(), |ui| {
            ui.horizontal(|ui| rule_head(ui, session, id, rule, theme, intents));
            let mut words = sentence(project, rule);
            if !session.selection().contains(&subject) {
                let most = ui.available_width() / WIDTH_OF_A_LETTER * LINES_OF_A_RULE;
                words = telling::beginning(words, most as usize, subject);
            }
            telling::sentence(ui, theme, &words, !rule.enabled)
        })
        .inner
    });
    let asked = line.inner;
    match asked.pointed {
        Some(thing) => intents.push(Intent::PointAt(thing)),
        None if line.hovered => intents.push(Intent::PointAt(subject)),
        None => {}
    }
    if let Some(thing) = asked.clicked {
        pick(thing, intents);
    }
    line.response.rect
}

/// Name and handles of a rule.
fn rule_head(
    ui: &mut Ui,
    session: &Session,
    id: Id<Rule>,
    rule: &Rule,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let name = &rule.name;
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let words = if rule.enabled { "Switch off" } else { "Switch on" };
        if lines::switch(ui, theme, rule.enabled, &format!("{words}: {name}")).clicked() {
            intents.push(Intent::Change(verbs::switch_rule(project, id, !rule.enabled)));
        }
        if lines::small_button(ui, "Remove", &format!("Remove rule {name}")).clicked() {
            intents.push(Intent::Change(verbs::remove_rule(project, id)));
        }
        if lines::small_button(ui, "Edit", &format!("Edit rule {name}")).clicked() {
            intents.push(Intent::Open(Overlay::RuleEditor(id)));
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let ink = if rule.enabled { theme.ink } else { theme.quiet };
            let mut response = lines::name_button(ui, name, &format!("Rule {name}"), ink);
            if !rule.enabled {
                ui.label(RichText::new("off").size(11.0).color(theme.quiet));
            }
            if !rule.comment.is_empty() {
                response = response.on_hover_text(&rule.comment);
            }
            if response.clicked() {
                pick(Subject::Rule(id), intents);
            }
            if response.double_clicked() {
                intents.push(Intent::Open(Overlay::RuleEditor(id)));
            }
            if response.has_focus() {
                intents.push(Intent::PointAt(Subject::Rule(id)));
            }
        });
    });
}

/// The room a rule is listed under, in words.
pub fn room_words(project: &Project, room: Option<Id<Room>>) -> String {
    match room {
        None => "Whole house".to_owned(),
        Some(room) => project.rooms.get(room).map_or(String::new(), |room| room.name.clone()),
    }
}

fn is_wanted(project: &Project, rule: &Rule, wanted: &str) -> bool {
    let has = |words: &str| words.to_lowercase().contains(wanted);
    wanted.is_empty()
        || has(&rule.name)
        || has(&sentence_text(project, rule))
        || has(&room_words(project, rule.room))
}

/// Whether a rule speaks of a thing: of a device also through a zone that it is in.
fn speaks_of(project: &Project, id: Id<Rule>, rule: &Rule, subject: Subject) -> bool {
    match subject {
        Subject::Rule(other) => other == id,
        Subject::Room(room) => rule.room == Some(room),
        Subject::Zone(zone) => rule.zones().contains(&zone),
        Subject::Scene(scene) => rule.scenes().contains(&scene),
        Subject::Mode(mode) => rule.modes().contains(&mode),
        Subject::Device(device) => {
            rule.devices().contains(&device)
                || rule
                    .zones()
                    .into_iter()
                    .filter_map(|zone| project.zones.get(zone))
                    .any(|zone| zone.points.iter().any(|point| point.device == device))
        }
        _ => false,
    }
}
