//! A rule as a sentence of pickers, with the whole sentence above. Each edit is one change of the plan, so
//! that undo takes back one pick.

use egui::{Align, Frame, Layout, Margin, RichText, ScrollArea, Ui};
use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::kit::PointType;
use pattress_model::sentence::sentence;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, PointRef, Rule, RuleBody, Setting, SunEvent, Target, Trigger, Value,
};
use pattress_model::units::Seconds;

use super::offered::Offered;
use super::rule_parts::{self, Desk, usual_value};
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::{lines, telling, text_field};

/// Shows the editor of a rule; a rule that is gone closes it.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    id: Id<Rule>,
    offered: &mut Offered,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let project = session.project();
    let Some(rule) = project.rules.get(id) else { return vec![Intent::CloseOverlay] };
    offered.keep_up(project);
    let mut desk = Desk { project, offered, theme, refusals: Vec::new() };
    let mut intents = Vec::new();
    let mut edited = rule.clone();
    head(ui, &mut desk, id, &mut edited, fresh);
    spoken(ui, &desk, rule, &mut intents);
    let tallest = (ui.ctx().content_rect().height() - 330.0).max(160.0);
    ScrollArea::vertical()
        .id_salt("rule")
        .max_height(tallest)
        .min_scrolled_height(tallest)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            body(ui, &mut desk, id, &mut edited);
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

/// The sentence as it stands.
fn spoken(ui: &mut Ui, desk: &Desk<'_>, rule: &Rule, intents: &mut Vec<Intent>) {
    ui.add_space(4.0);
    Frame::NONE.fill(desk.theme.raised).inner_margin(Margin::symmetric(12, 10)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let asked = telling::sentence(ui, desk.theme, &sentence(desk.project, rule), false);
        if let Some(subject) = asked.pointed {
            intents.push(Intent::PointAt(subject));
        }
    });
    ui.add_space(4.0);
}

fn part_heading(ui: &mut Ui, desk: &Desk<'_>, words: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(words).family(semi_bold()).color(desk.theme.ink));
}

fn body(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, rule: &mut Rule) {
    let is_when = matches!(rule.body, RuleBody::When { .. });
    ui.add_space(4.0);
    let offered = [(true, "When something happens".to_owned()), (false, "While something holds".to_owned())];
    if let Some(when) = lines::tabs(ui, desk.theme, is_when, &offered) {
        turn(&mut rule.body, when);
    }
    match &mut rule.body {
        RuleBody::When { trigger, conditions, actions } => {
            part_heading(ui, desk, "When");
            rule_parts::trigger(ui, desk, salt(id, "trigger"), trigger);
            part_heading(ui, desk, "If");
            conditions_ui(ui, desk, id, conditions);
            part_heading(ui, desk, "Do");
            actions_ui(ui, desk, id, actions);
        }
        RuleBody::While { conditions, linger, settings, rank, yields_to_hand } => {
            part_heading(ui, desk, "While");
            conditions_ui(ui, desk, id, conditions);
            ui.horizontal(|ui| {
                ui.label(RichText::new("and for").color(desk.theme.quiet));
                desk.seconds(ui, salt(id, "linger"), "Linger", linger);
                ui.label(RichText::new("after").color(desk.theme.quiet));
            });
            part_heading(ui, desk, "Hold");
            settings_ui(ui, desk, id, settings);
            ui.add_space(4.0);
            ui.horizontal(|ui| {
                ui.label(RichText::new("Rank").color(desk.theme.quiet));
                let (_, typed) = text_field(ui, salt(id, "rank"), "Rank", &rank.to_string(), 40.0);
                match typed.map(|typed| typed.trim().parse::<u8>().map_err(|_| typed)) {
                    Some(Ok(figure)) => *rank = figure,
                    Some(Err(typed)) => {
                        desk.refusals.push(format!("“{}” is not a rank: type 0 to 255", typed.trim()));
                    }
                    None => {}
                }
                lines::caption(ui, desk.theme, "Where two rules hold one thing, the higher rank shows.");
            });
            ui.checkbox(yields_to_hand, "What is done by hand goes over it");
        }
        RuleBody::Wired { .. } => {
            lines::caption(ui, desk.theme, "A key that is wired to what it switches works without the hub.");
        }
    }
}

/// A row of a part, with its handles at the right.
fn row(ui: &mut Ui, words: &str, content: impl FnOnce(&mut Ui)) -> bool {
    let mut removed = false;
    ui.horizontal_top(|ui| {
        let wide = (ui.available_width() - 70.0).max(200.0);
        ui.scope(|ui| {
            ui.set_max_width(wide);
            ui.horizontal_wrapped(content);
        });
        ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
            removed = lines::small_button(ui, "Remove", &format!("Remove {words}")).clicked();
        });
    });
    removed
}

fn conditions_ui(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, conditions: &mut Vec<Condition>) {
    let mut removed = None;
    for (index, condition) in conditions.iter_mut().enumerate() {
        let salt = salt(id, "condition").with(index);
        if row(ui, &format!("condition {}", index + 1), |ui| rule_parts::condition(ui, desk, salt, condition))
        {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        conditions.remove(index);
    }
    let offered = rule_parts::conditions_offered(desk);
    let added =
        lines::choice(ui, salt(id, "add condition"), "Add a condition", "Add a condition", 150.0, &offered);
    conditions.extend(added);
}

fn actions_ui(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, actions: &mut Vec<Action>) {
    let mut removed = None;
    for (index, action) in actions.iter_mut().enumerate() {
        let salt = salt(id, "action").with(index);
        if row(ui, &format!("action {}", index + 1), |ui| rule_parts::action(ui, desk, salt, action)) {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        actions.remove(index);
    }
    ui.horizontal(|ui| {
        if ui.button("Add an action").clicked()
            && let Some(target) = first_target(desk)
        {
            let is = desk.offered.type_of(desk.project, &target);
            actions.push(Action {
                target: Some(target),
                deed: Deed::Set(usual_value(is)),
                after: Seconds::ZERO,
                fade: Seconds::ZERO,
                by_hand: None,
            });
        }
        if ui.button("Add a message").clicked() {
            let deed = Deed::notify("");
            actions.push(Action {
                target: None,
                deed,
                after: Seconds::ZERO,
                fade: Seconds::ZERO,
                by_hand: None,
            });
        }
    });
}

fn settings_ui(ui: &mut Ui, desk: &mut Desk<'_>, id: Id<Rule>, settings: &mut Vec<Setting>) {
    let mut removed = None;
    for (index, setting) in settings.iter_mut().enumerate() {
        let salt = salt(id, "setting").with(index);
        if row(ui, &format!("setting {}", index + 1), |ui| rule_parts::setting(ui, desk, salt, setting)) {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        settings.remove(index);
    }
    if ui.button("Add a setting").clicked()
        && let Some(target) = first_target(desk)
    {
        let value = usual_value(desk.offered.type_of(desk.project, &target));
        settings.push(Setting { target, value, fade: Seconds::ZERO });
    }
}

/// What a new action works on until something is picked: the first zone, else the first point that obeys.
fn first_target(desk: &mut Desk<'_>) -> Option<Target> {
    let zone = desk.project.zones.ids().next().map(Target::Zone);
    let point = || desk.offered.points().iter().find(|point| point.obeys());
    let found = zone.or_else(|| point().map(|point| Target::Point(point.point.clone())));
    if found.is_none() {
        desk.refusals.push(
            "nothing on the plan can be switched or set yet: place a luminaire, a module or a motor first"
                .to_owned(),
        );
    }
    found
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

/// Turns one form of rule into the other, keeping what both can say.
fn turn(body: &mut RuleBody, to_when: bool) {
    *body = match &*body {
        RuleBody::When { trigger, conditions, actions } if !to_when => {
            let mut held = conditions.clone();
            if let Trigger::Becomes { point, comparison, value } = trigger {
                let condition =
                    Condition::Point { point: point.clone(), comparison: *comparison, value: *value };
                held.insert(0, condition);
            }
            let settings = actions.iter().filter_map(|action| match (&action.target, &action.deed) {
                (Some(target), Deed::Set(value)) => {
                    Some(Setting { target: target.clone(), value: *value, fade: action.fade })
                }
                _ => None,
            });
            RuleBody::While {
                conditions: held,
                linger: Seconds::ZERO,
                settings: settings.collect(),
                rank: 1,
                yields_to_hand: true,
            }
        }
        RuleBody::While { conditions, settings, .. } if to_when => {
            let mut conditions = conditions.clone();
            let trigger = match conditions.first().cloned() {
                Some(Condition::Point { point, comparison, value }) => {
                    conditions.remove(0);
                    Trigger::Becomes { point, comparison, value }
                }
                _ => Trigger::Sun { event: SunEvent::Set, offset_minutes: 0 },
            };
            let actions = settings.iter().map(|setting| Action {
                target: Some(setting.target.clone()),
                deed: Deed::Set(setting.value),
                after: Seconds::ZERO,
                fade: setting.fade,
                by_hand: None,
            });
            RuleBody::When { trigger, conditions, actions: actions.collect() }
        }
        same => same.clone(),
    };
}

/// The trigger that a point starts as.
pub fn trigger_of(point: PointRef, point_type: PointType) -> Trigger {
    match point_type {
        PointType::Event => {
            let gesture = if point.point.starts_with("key") {
                pattress_model::systems::Gesture::Press
            } else {
                pattress_model::systems::Gesture::Happens
            };
            Trigger::Event { point, gesture }
        }
        PointType::Number => {
            Trigger::Becomes { point, comparison: Comparison::Above, value: Value::Number(50.0) }
        }
        _ => Trigger::Becomes { point, comparison: Comparison::Is, value: Value::On },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::id::Id;

    #[test]
    fn turning_a_rule_there_and_back_keeps_what_both_forms_say() {
        let point = PointRef::new(Id::from_number(3), "motion");
        let target = Target::Zone(Id::from_number(9));
        let when = RuleBody::When {
            trigger: Trigger::Becomes { point, comparison: Comparison::Is, value: Value::On },
            conditions: vec![Condition::Dark],
            actions: vec![Action {
                target: Some(target),
                deed: Deed::Set(Value::Number(40.0)),
                after: Seconds::ZERO,
                fade: Seconds(2.0),
                by_hand: None,
            }],
        };
        let mut body = when.clone();
        turn(&mut body, false);
        let RuleBody::While { conditions, settings, .. } = &body else { panic!("still a when rule") };
        assert_eq!((conditions.len(), settings.len()), (2, 1));
        turn(&mut body, true);
        assert_eq!(body, when);
    }
}
