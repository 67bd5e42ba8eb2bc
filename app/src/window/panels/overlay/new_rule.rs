//! A new rule: pick the room, pick what to start from, and it opens for editing.

use egui::{Align, Label, Layout, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo};
use pattress_model::building::Whereabouts;
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::sentence::sentence_text;
use pattress_model::systems::Rule;

use super::offered::Offered;
use super::templates::{Look, templates};
use super::{rule_typed, title};
use crate::window::intent::{Intent, Overlay};
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::lines;

/// No more letters of a sentence than this are shown here.
const LONGEST: usize = 200;

/// What is picked before the rule is made.
#[derive(Default)]
pub struct State {
    room: Option<Id<Room>>,
    /// The sentence while it is typed.
    typed: Option<rule_typed::State>,
}

/// Shows what a rule can start from.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    offered: &mut Offered,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let mut intents = Vec::new();
    let project = session.project();
    offered.keep_up(project);
    if fresh {
        state.room = room_at_hand(session).or(project.rooms_on(session.level()).map(|(id, _)| id).next());
    }
    state.room = state.room.filter(|room| project.rooms.contains(*room));
    if fresh {
        state.typed = None;
    }
    title(ui, "New rule", &mut intents);
    ui.horizontal(|ui| {
        ui.label(RichText::new("For").color(theme.quiet));
        let mut rooms = vec![(None, "the whole house".to_owned())];
        rooms.extend(project.rooms.iter().map(|(id, room)| (Some(id), room.name.clone())));
        let now =
            rooms.iter().find(|(room, _)| *room == state.room).map_or("", |(_, words)| words).to_owned();
        if let Some(room) = lines::choice(ui, egui::Id::unique("rule for"), "Room", &now, 200.0, &rooms) {
            state.room = room;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui.button("Type it").on_hover_text("Type the rule as a sentence.").clicked() {
                state.typed = Some(rule_typed::State::default());
            }
        });
    });
    ui.add_space(4.0);
    if let Some(typed) = &mut state.typed
        && let Some(body) = rule_typed::ui(ui, typed, project, typed.is_fresh(), "Make it", theme)
    {
        let name = Look { project, offered, room: state.room }.named("A rule of its own");
        let rule = Rule { name, room: state.room, enabled: true, comment: String::new(), body };
        make(project, rule, &mut intents);
    }
    lines::thin_rule(ui, theme);
    let look = Look { project, offered, room: state.room };
    let tallest = ui.ctx().content_rect().height() - 200.0;
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink([false, true]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for (index, template) in
                templates(&look, session.selection().iter().copied()).into_iter().enumerate()
            {
                let line = lines::line(ui, theme, false, |ui| {
                    let ink = if template.rule.is_ok() { theme.ink } else { theme.quiet };
                    let text = RichText::new(template.name).family(medium()).color(ink);
                    let sense = if template.rule.is_ok() { Sense::click() } else { Sense::hover() };
                    let response = ui.add(Label::new(text).sense(sense));
                    let able = template.rule.is_ok();
                    response.widget_info(|| WidgetInfo::labeled(Role::Button, able, template.name));
                    lines::ring_if_focused(ui, &response);
                    let words = match &template.rule {
                        Ok(rule) => cut_short(sentence_text(project, rule)),
                        Err(lacks) => format!("Can’t be filled in: {lacks}."),
                    };
                    ui.add(Label::new(RichText::new(words).size(12.0).color(theme.quiet)).wrap());
                    response
                });
                if fresh && index == 0 {
                    line.inner.request_focus();
                }
                let over = line.response.interact(Sense::click());
                if let Ok(rule) = template.rule
                    && (line.inner.clicked() || over.clicked())
                {
                    make(project, rule, &mut intents);
                }
            }
        },
    );
    intents
}

/// Adds a rule and opens it.
fn make(project: &Project, rule: Rule, intents: &mut Vec<Intent>) {
    let id = Id::from_number(project.next_id());
    let change = verbs::add_rule(project, rule);
    let opens = change.is_ok();
    intents.push(Intent::Change(change));
    intents.push(if opens { Intent::Open(Overlay::RuleEditor(id)) } else { Intent::CloseOverlay });
}

/// As much of a sentence as shows what it is about; the editor shows the whole.
fn cut_short(sentence: String) -> String {
    match sentence.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", sentence[..end].trim_end()),
        None => sentence,
    }
}

/// The room that is selected, or that a selected device is in.
fn room_at_hand(session: &Session) -> Option<Id<Room>> {
    let project = session.project();
    session.selection().iter().find_map(|subject| match subject {
        Subject::Room(room) => Some(*room),
        Subject::Device(id) => Whereabouts::of(project).room_of(project, project.devices.get(*id)?),
        _ => None,
    })
}
