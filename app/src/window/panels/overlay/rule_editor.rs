//! A rule, edited as its sentence. A word that names something opens the list of what could stand in its place; any
//! other word chooses the part that is worked on beneath, where a plain form holds what a sentence can't: figures,
//! times, remarks. Each edit is one change of the plan, so that undo takes back one pick.

use egui::{Align, Frame, Layout, Margin, RichText, ScrollArea, Ui};
use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::sentence::{Clause, sentence, sentence_text};
use pattress_model::systems::{Rule, RuleBody, Setting};

use super::offered::Offered;
use super::rule_forms::{Form, Spare, turn};
use super::rule_parts::{self, Desk, usual_value};
use super::{rule_sentence, rule_typed};
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::{lines, text_field};

/// The part that is worked on has this height at least, screen points.
const LEAST_HEIGHT: f32 = 190.0;

/// What the editor remembers between frames.
#[derive(Default)]
pub struct State {
    /// The part that is worked on.
    chosen: Option<Clause>,
    /// The sentence while it is typed.
    typed: Option<rule_typed::State>,
}

/// Shows the editor of a rule; a rule that is gone closes it.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    id: Id<Rule>,
    offered: &mut Offered,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let project = session.project();
    let Some(rule) = project.rules.get(id) else { return vec![Intent::CloseOverlay] };
    offered.keep_up(project);
    if fresh {
        *state = State::default();
    }
    state.chosen = chosen_of(&rule.body, state.chosen);
    let mut desk = Desk { project, offered, theme, refusals: Vec::new() };
    let mut intents = Vec::new();
    let mut edited = rule.clone();
    head(ui, &mut desk, id, &mut edited, fresh);
    forms(ui, &mut desk, state, &mut edited);
    spoken(ui, &desk, state, &mut edited, &mut intents);
    let tallest = (ui.ctx().content_rect().height() - 380.0).max(160.0);
    ScrollArea::vertical().id_salt("rule").max_height(tallest).auto_shrink([false, true]).show(ui, |ui| {
        // So that the sentence stays where it is as one part or another is worked on.
        ui.set_min_height(LEAST_HEIGHT.min(tallest));
        part(ui, &mut desk, state, id, &mut edited);
        add(ui, &mut desk, state, id, &mut edited);
    });
    ui.add_space(6.0);
    lines::thin_rule(ui, theme);
    foot(ui, &mut desk, id, &mut edited, &mut intents);
    intents.extend(desk.refusals.into_iter().map(|sentence| Intent::Change(Err(sentence))));
    if edited != *rule {
        intents.push(Intent::Change(verbs::edit_rule(project, id, edited)));
    }
    intents
}

fn salt(id: Id<Rule>, part: &str) -> egui::Id {
    egui::Id::unique(("rule", id.number(), part))
}

/// The part that is worked on: the one that was chosen if the rule still has it, else its first.
fn chosen_of(body: &RuleBody, chosen: Option<Clause>) -> Option<Clause> {
    let has = |clause: &Clause| match (body, *clause) {
        (RuleBody::When { .. }, Clause::Trigger)
        | (RuleBody::While { .. }, Clause::Linger | Clause::Standing)
        | (RuleBody::Wired { .. }, Clause::Key | Clause::Target) => true,
        (RuleBody::When { conditions, .. } | RuleBody::While { conditions, .. }, Clause::Condition(at)) => {
            at < conditions.len()
        }
        (RuleBody::When { actions, .. }, Clause::Action(at)) => at < actions.len(),
        (RuleBody::While { settings, .. }, Clause::Setting(at)) => at < settings.len(),
        _ => false,
    };
    let first = match body {
        RuleBody::When { .. } => Clause::Trigger,
        RuleBody::While { conditions, .. } if !conditions.is_empty() => Clause::Condition(0),
        RuleBody::While { settings, .. } if !settings.is_empty() => Clause::Setting(0),
        RuleBody::While { .. } => Clause::Linger,
        RuleBody::Wired { .. } => Clause::Key,
    };
    chosen.filter(has).or(Some(first))
}

/// Name, room, on or off.
fn head(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, rule: &mut Rule, fresh: bool) {
    ui.horizontal(|ui| {
        let (response, typed) = text_field(ui, salt(id, "name"), "Name of the rule", &rule.name, 220.0);
        if fresh {
            response.request_focus();
        }
        if let Some(name) = typed {
            rule.name = name;
        }
        ui.label(RichText::new("listed under").color(desk.theme.quiet));
        let mut offered = vec![(None, "Whole house".to_owned())];
        offered.extend(desk.project.rooms.iter().map(|(room, found)| (Some(room), found.name.clone())));
        let shown =
            offered.iter().find(|(room, _)| *room == rule.room).map_or("", |(_, words)| words).to_owned();
        if let Some(room) = lines::choice(ui, salt(id, "room"), "Listed under", &shown, 150.0, &offered) {
            rule.room = room;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let words = if rule.enabled { "On" } else { "Off" };
            if lines::switch(ui, desk.theme, rule.enabled, "Rule is on").clicked() {
                rule.enabled = !rule.enabled;
            }
            ui.label(RichText::new(words).color(desk.theme.quiet));
        });
    });
}

/// The form of the rule, and the way to type it.
fn forms(ui: &mut Ui, desk: &mut Desk<'_>, state: &mut State, rule: &mut Rule) {
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        let offered = [
            (Form::When, "When something happens".to_owned()),
            (Form::While, "While something holds".to_owned()),
            (Form::Wired, "A wired key".to_owned()),
        ];
        if let Some(form) = lines::tabs(ui, desk.theme, Form::of(&rule.body), &offered) {
            let keys = desk.offered.points().iter().filter(|point| point.is_event());
            let mut keys = keys.filter(|point| rule_parts::is_key(&point.point));
            let key = keys.next().map(|point| point.point.clone());
            let target = desk.targets_offered().into_iter().next().map(|choice| choice.value);
            match turn(&rule.body, form, Spare { key, target }) {
                Ok(body) => rule.body = body,
                Err(sentence) => desk.refusals.push(sentence),
            }
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let words = if state.typed.is_some() { "Pick it" } else { "Type it" };
            if lines::small_button(ui, words, words).clicked() {
                state.typed = match state.typed {
                    Some(_) => None,
                    None => Some(rule_typed::State::of(sentence_text(desk.project, rule))),
                };
            }
        });
    });
}

/// The sentence, picked or typed.
fn spoken(ui: &mut Ui, desk: &Desk<'_>, state: &mut State, rule: &mut Rule, intents: &mut Vec<Intent>) {
    ui.add_space(4.0);
    Frame::NONE.fill(desk.theme.raised).inner_margin(Margin::symmetric(12, 10)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let tallest = (ui.ctx().content_rect().height() * 0.35).max(80.0);
        ScrollArea::vertical().id_salt("sentence").max_height(tallest).auto_shrink([false, true]).show(
            ui,
            |ui| {
                if let Some(typed) = &mut state.typed {
                    if let Some(body) = rule_typed::ui(ui, typed, desk.project, false, "Take it", desk.theme)
                    {
                        rule.body = body;
                        state.typed = None;
                    }
                    return;
                }
                let phrases = sentence(desk.project, rule);
                let pointed = rule_sentence::ui(ui, desk, &phrases, &mut rule.body, &mut state.chosen);
                intents.extend(pointed.map(Intent::PointAt));
            },
        );
    });
}

/// The part that is worked on, with its handles.
fn part(ui: &mut Ui, desk: &mut Desk<'_>, state: &mut State, id: Id<Rule>, rule: &mut Rule) {
    let Some(clause) = state.chosen else { return };
    let place = match clause {
        Clause::Condition(at) | Clause::Action(at) | Clause::Setting(at) => Some(at),
        _ => None,
    };
    ui.add_space(8.0);
    let mut moved = None;
    ui.horizontal(|ui| {
        ui.label(RichText::new(heading(clause)).family(semi_bold()).color(desk.theme.ink));
        let Some(at) = place else { return };
        let words = heading(clause).to_lowercase();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if lines::small_button(ui, "Remove", &format!("Remove {words}")).clicked() {
                moved = Some(Move::Away(at));
            }
            if lines::small_button(ui, "Later", &format!("Move {words} later")).clicked() {
                moved = Some(Move::Past(at, at + 1));
            }
            if lines::small_button(ui, "Earlier", &format!("Move {words} earlier")).clicked() && at > 0 {
                moved = Some(Move::Past(at, at - 1));
            }
        });
    });
    match (&mut rule.body, clause) {
        (RuleBody::When { trigger, .. }, Clause::Trigger) => {
            rule_parts::trigger(ui, desk, salt(id, "trigger"), trigger);
        }
        (RuleBody::When { conditions, .. } | RuleBody::While { conditions, .. }, Clause::Condition(at)) => {
            if let Some(condition) = conditions.get_mut(at) {
                rule_parts::condition(ui, desk, salt(id, "condition").with(at), condition, 0);
            }
            apply(moved, conditions, state, Clause::Condition);
        }
        (RuleBody::When { actions, .. }, Clause::Action(at)) => {
            if let Some(action) = actions.get_mut(at) {
                rule_parts::action(ui, desk, salt(id, "action").with(at), action);
            }
            apply(moved, actions, state, Clause::Action);
        }
        (RuleBody::While { settings, .. }, Clause::Setting(at)) => {
            if let Some(setting) = settings.get_mut(at) {
                ui.horizontal_wrapped(|ui| {
                    rule_parts::setting(ui, desk, salt(id, "setting").with(at), setting);
                });
            }
            apply(moved, settings, state, Clause::Setting);
        }
        (RuleBody::While { linger, rank, yields_to_hand, .. }, Clause::Linger | Clause::Standing) => {
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new("and for").color(desk.theme.quiet));
                desk.seconds(ui, salt(id, "linger"), "Linger", linger);
                ui.label(RichText::new("after that").color(desk.theme.quiet));
            });
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new("Rank").color(desk.theme.quiet));
                desk.rank(ui, salt(id, "rank"), rank);
                lines::caption(ui, desk.theme, "Where two rules hold one thing, the higher rank shows.");
            });
            ui.checkbox(yields_to_hand, "What is done by hand goes over it");
        }
        (RuleBody::Wired { key, target }, Clause::Key | Clause::Target) => {
            ui.horizontal_wrapped(|ui| rule_parts::wired(ui, desk, key, target));
            lines::caption(ui, desk.theme, "A key that is wired to what it switches works without the hub.");
        }
        _ => {}
    }
}

fn heading(clause: Clause) -> String {
    match clause {
        Clause::Trigger => "When".to_owned(),
        Clause::Condition(at) => format!("Condition {}", at + 1),
        Clause::Action(at) => format!("Action {}", at + 1),
        Clause::Setting(at) => format!("Setting {}", at + 1),
        Clause::Linger | Clause::Standing => "Afterwards, and against others".to_owned(),
        Clause::Key | Clause::Target => "Wired".to_owned(),
    }
}

/// What became of a part in its list.
#[derive(Clone, Copy)]
enum Move {
    Away(usize),
    Past(usize, usize),
}

fn apply<T>(moved: Option<Move>, list: &mut Vec<T>, state: &mut State, clause: fn(usize) -> Clause) {
    match moved {
        Some(Move::Away(at)) if at < list.len() => {
            list.remove(at);
            state.chosen = Some(clause(at.saturating_sub(1)));
        }
        Some(Move::Past(at, other)) if at < list.len() && other < list.len() => {
            list.swap(at, other);
            state.chosen = Some(clause(other));
        }
        _ => {}
    }
}

/// Buttons that add parts; the part that is new is the one worked on.
fn add(ui: &mut Ui, desk: &mut Desk<'_>, state: &mut State, id: Id<Rule>, rule: &mut Rule) {
    ui.add_space(10.0);
    ui.horizontal_wrapped(|ui| {
        if let RuleBody::When { conditions, .. } | RuleBody::While { conditions, .. } = &mut rule.body {
            let offered = rule_parts::conditions_offered(desk, None, 0);
            let words = "Add a condition";
            let added = lines::choice(ui, salt(id, "add condition"), words, words, 150.0, &offered);
            if let Some(condition) = added {
                state.chosen = Some(Clause::Condition(conditions.len()));
                conditions.push(condition);
            }
        }
        match &mut rule.body {
            RuleBody::When { actions, .. } => {
                let action = if ui.button("Add an action").clicked() {
                    rule_parts::first_action(desk)
                } else if ui.button("Add a message").clicked() {
                    Some(rule_parts::message())
                } else {
                    None
                };
                if let Some(action) = action {
                    state.chosen = Some(Clause::Action(actions.len()));
                    actions.push(action);
                }
            }
            RuleBody::While { settings, .. } => {
                if ui.button("Add a setting").clicked()
                    && let Some(setting) = first_setting(desk)
                {
                    state.chosen = Some(Clause::Setting(settings.len()));
                    settings.push(setting);
                }
                if ui.button("Time after, rank and hand").clicked() {
                    state.chosen = Some(Clause::Linger);
                }
            }
            RuleBody::Wired { .. } => {}
        }
    });
}

/// A setting to begin with; `None` where nothing on the plan obeys.
pub fn first_setting(desk: &mut Desk<'_>) -> Option<Setting> {
    let target = desk.first_target()?;
    let value = usual_value(desk.offered.type_of(desk.project, &target));
    Some(Setting { target, value, fade: pattress_model::units::Seconds::ZERO })
}

fn foot(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, rule: &mut Rule, intents: &mut Vec<Intent>) {
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        ui.label(RichText::new("Remark").color(desk.theme.quiet));
        let (_, typed) = text_field(ui, salt(id, "remark"), "Remark", &rule.comment, 300.0);
        if let Some(comment) = typed {
            rule.comment = comment.trim().to_owned();
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Done").clicked() {
                intents.push(Intent::CloseOverlay);
            }
            if ui.button("Remove rule").clicked() {
                intents.push(Intent::Change(verbs::remove_rule(desk.project, id)));
                intents.push(Intent::CloseOverlay);
            }
        });
    });
}
