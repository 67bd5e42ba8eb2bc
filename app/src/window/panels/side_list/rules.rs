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
    state.rules.keep_up(session, &state.search, ui.available_width());
    let rows = &mut state.rules;
    if rows.rows.is_empty() {
        lines::nothing(ui, theme, "No rule reads like that.");
        return;
    }
    let asked_for = session.only_selected();
    let wanted = asked_for.filter(|_| state.scrolled_for != asked_for);
    state.scrolled_for = asked_for;
    let scroll_to = wanted.and_then(|subject| rows.first_of(project, subject));
    show(ui, session, rows, scroll_to, theme, intents);
}

/// Lays out the rows that are in view or near it, and leaves room for the others.
fn show(
    ui: &mut Ui,
    session: &Session,
    rows: &mut Rows,
    scroll_to: Option<usize>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let top = ui.cursor().min.y;
    let in_view = ui.clip_rect().y_range().expand(NEAR);
    let width = ui.available_width();
    let mut y = top;
    let mut left_out = 0.0;
    for place in 0..rows.rows.len() {
        let height = rows.heights[place];
        let is_far = y + height < in_view.min || y > in_view.max;
        if is_far && scroll_to != Some(place) {
            left_out += height;
            y += height;
            continue;
        }
        if left_out > 0.0 {
            ui.allocate_space(egui::vec2(width, left_out));
            left_out = 0.0;
        }
        let began = ui.cursor().min.y;
        match rows.rows[place] {
            Row::Group(room) => lines::group(ui, theme, &room_words(project, room)),
            Row::Rule(id) => {
                let Some(rule) = project.rules.get(id) else { continue };
                let rect = rule_line(ui, session, id, rule, theme, intents);
                if scroll_to == Some(place) {
                    ui.scroll_to_rect(rect, Some(Align::Center));
                }
            }
        }
        rows.heights[place] = ui.cursor().min.y - began;
        y += height;
    }
    if left_out > 0.0 {
        ui.allocate_space(egui::vec2(width, left_out));
    }
}

/// A row of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Row {
    /// The room that the rules after it are listed under.
    Group(Option<Id<Room>>),
    /// A rule.
    Rule(Id<Rule>),
}

/// The rows of the list, worked out again when the plan or the search changes: a house has rules by the thousand, and
/// only those in view or near it are laid out in a frame.
#[derive(Default)]
pub struct Rows {
    /// The generation of the plan, the search and the width, in whole points, that the rows are of.
    of: Option<(u64, String, i32)>,
    rows: Vec<Row>,
    /// How tall each row was when it was last laid out, or is taken to be.
    heights: Vec<f32>,
    /// Each rule's sentence, name and room in small letters, to search in; of one generation.
    words: Option<(u64, BTreeMap<Id<Rule>, String>)>,
}

/// A row that was never laid out is taken to be so tall, screen points.
const USUAL_HEIGHT: [f32; 2] = [30.0, 84.0];

/// So many lines of a rule show until it is selected.
const LINES_OF_A_RULE: f32 = 3.0;

/// Of the list's lettering, on average, with some allowance for line ends, screen points.
const WIDTH_OF_A_LETTER: f32 = 7.6;

/// Lines so near to what is in view are laid out too, so that Tab finds them, screen points.
const NEAR: f32 = 300.0;

impl Rows {
    fn keep_up(&mut self, session: &Session, search: &str, width: f32) {
        let wanted = search.trim().to_lowercase();
        let now = (session.generation(), wanted, width.round() as i32);
        if self.of.as_ref() == Some(&now) {
            return;
        }
        let project = session.project();
        // What was laid out at the same width is as tall as it was, or nearly.
        let same_width = self.of.as_ref().is_some_and(|(_, _, width)| *width == now.2);
        let known: BTreeMap<Row, f32> = if same_width {
            self.rows.iter().copied().zip(self.heights.iter().copied()).collect()
        } else {
            BTreeMap::new()
        };
        let mut by_room: BTreeMap<Option<Id<Room>>, Vec<Id<Rule>>> = BTreeMap::new();
        for (id, rule) in project.rules.iter() {
            if now.1.is_empty() || self.reads_like(project, now.0, id, &now.1) {
                by_room.entry(rule.room).or_default().push(id);
            }
        }
        let of_room = |(room, rules): (Option<Id<Room>>, Vec<Id<Rule>>)| {
            std::iter::once(Row::Group(room)).chain(rules.into_iter().map(Row::Rule))
        };
        self.rows = by_room.into_iter().flat_map(of_room).collect();
        let usual = |row: &Row| USUAL_HEIGHT[usize::from(matches!(row, Row::Rule(_)))];
        self.heights =
            self.rows.iter().map(|row| known.get(row).copied().unwrap_or_else(|| usual(row))).collect();
        self.of = Some(now);
    }

    /// Whether the name, the sentence or the room of a rule holds what is searched for.
    fn reads_like(&mut self, project: &Project, generation: u64, id: Id<Rule>, wanted: &str) -> bool {
        if self.words.as_ref().is_none_or(|(of, _)| *of != generation) {
            let words = |(id, rule): (Id<Rule>, &Rule)| {
                let room = room_words(project, rule.room);
                let all = format!("{}\n{}\n{room}", rule.name, sentence_text(project, rule));
                (id, all.to_lowercase())
            };
            self.words = Some((generation, project.rules.iter().map(words).collect()));
        }
        self.words.as_ref().and_then(|(_, words)| words.get(&id)).is_some_and(|words| words.contains(wanted))
    }

    /// The place of the first rule that speaks of a thing.
    fn first_of(&self, project: &Project, subject: Subject) -> Option<usize> {
        self.rows.iter().position(|row| match row {
            Row::Rule(id) => {
                project.rules.get(*id).is_some_and(|rule| speaks_of(project, *id, rule, subject))
            }
            Row::Group(_) => false,
        })
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
