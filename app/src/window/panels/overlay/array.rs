//! Rows and columns of one kind in a room, spaced so that each lights a like share of it.

use egui::{RichText, Ui};
use pattress_model::building::Whereabouts;
use pattress_model::building::outline::RoomOutline;
use pattress_model::edit::Subject;
use pattress_model::edit::verbs::{self, MOST_IN_AN_ARRAY, Placing};
use pattress_model::id::Id;
use pattress_model::kit::catalogue::catalogue;
use pattress_model::kit::{Family, Kind, MountKind};
use pattress_model::plan::Room;
use pattress_model::project::Project;
use pattress_model::units::Angle;

use super::picker::{Choice, pick};
use super::title;
use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

/// What is picked before anything is placed.
pub struct State {
    rows: u32,
    columns: u32,
    room: Option<Id<Room>>,
    kind: Option<Kind>,
    shipped: Vec<Kind>,
    refused: String,
}

impl Default for State {
    fn default() -> Self {
        Self { rows: 2, columns: 2, room: None, kind: None, shipped: Vec::new(), refused: String::new() }
    }
}

/// Shows the choices and what they come to.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let project = session.project();
    let mut intents = Vec::new();
    if fresh {
        state.room = room_at_hand(session);
        state.refused.clear();
        if state.shipped.is_empty() {
            state.shipped = catalogue().into_iter().map(|entry| entry.kind).collect();
        }
    }
    state.room = state.room.filter(|room| figures.outlines.contains_key(room));
    state.room = state.room.or(figures.outlines.keys().next().copied());
    let kinds = kinds(project, &state.shipped);
    let kind = state.kind.clone().or_else(|| kinds.first().cloned());
    title(ui, "Rows and columns", &mut intents);
    choices(ui, project, figures, state, kind.as_ref(), &kinds, fresh, theme);
    let outline = state.room.and_then(|room| figures.outlines.get(&room));
    let points = outline
        .map_or_else(Vec::new, |outline| verbs::array_points_in(&outline.shape, state.rows, state.columns));
    ui.add_space(4.0);
    ui.add(egui::Label::new(spacing_words(outline, state, points.len())).wrap());
    if !state.refused.is_empty() {
        ui.add(egui::Label::new(RichText::new(&state.refused).color(theme.wrong)).wrap());
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let place = ui.add_enabled(!points.is_empty() && kind.is_some(), egui::Button::new("Place"));
        if place.clicked()
            && let Some(kind) = &kind
        {
            let change = verbs::with_kind(project, kind, |project, kind| {
                let placing = Placing { kind, level: session.level(), turn: Angle::ZERO, height: None };
                verbs::place_many(project, placing, &points, "")
            });
            match &change {
                Ok(_) => intents.push(Intent::CloseOverlay),
                Err(sentence) => state.refused.clone_from(sentence),
            }
            intents.push(Intent::Change(change));
        }
        if ui.button("Cancel").clicked() {
            intents.push(Intent::CloseOverlay);
        }
    });
    intents
}

#[allow(clippy::too_many_arguments)] // The four fields of one small form.
fn choices(
    ui: &mut Ui,
    project: &Project,
    figures: &Figures,
    state: &mut State,
    kind: Option<&Kind>,
    kinds: &[Kind],
    fresh: bool,
    theme: &Theme,
) {
    let name = |ui: &mut Ui, words: &str| {
        lines::cell(ui, theme, words, 13.0, 64.0);
    };
    ui.horizontal(|ui| {
        name(ui, "Of");
        let shown = kind.map_or("pick a kind", |kind| kind.name.as_str());
        let picked = pick(ui, theme, "Kind", shown, || {
            let choice = |kind: &Kind| Choice {
                group: kind.family.name().to_owned(),
                words: kind.name.clone(),
                value: kind.clone(),
            };
            kinds.iter().map(choice).collect()
        });
        if picked.is_some() {
            state.kind = picked;
        }
    });
    ui.horizontal(|ui| {
        name(ui, "In");
        let rooms: Vec<_> = figures
            .outlines
            .keys()
            .filter_map(|id| Some((*id, project.rooms.get(*id)?.name.clone())))
            .collect();
        let now = rooms.iter().find(|(room, _)| Some(*room) == state.room);
        let shown = now.map_or("no room with closed walls", |(_, words)| words.as_str()).to_owned();
        let salt = egui::Id::unique("array room");
        if let Some(room) = lines::choice(ui, salt, "Room", &shown, 200.0, &rooms) {
            state.room = Some(room);
        }
    });
    ui.horizontal(|ui| {
        name(ui, "Rows");
        let first = count_field(ui, "Rows", &mut state.rows, &mut state.refused);
        if fresh {
            first.request_focus();
        }
        ui.label(RichText::new("Columns").color(theme.quiet));
        count_field(ui, "Columns", &mut state.columns, &mut state.refused);
    });
}

fn count_field(ui: &mut Ui, name: &str, count: &mut u32, refused: &mut String) -> egui::Response {
    let salt = egui::Id::unique(("array", name));
    let (response, typed) = text_field(ui, salt, name, &count.to_string(), 48.0);
    if let Some(typed) = typed {
        match typed.trim().parse::<u32>() {
            Ok(read) if (1..=MOST_IN_AN_ARRAY).contains(&read) => {
                *count = read;
                refused.clear();
            }
            _ => *refused = format!("“{}” is not a count: type 1 to {MOST_IN_AN_ARRAY}", typed.trim()),
        }
    }
    response
}

fn spacing_words(outline: Option<&RoomOutline>, state: &State, count: usize) -> String {
    let Some(bounds) = outline.and_then(|outline| outline.shape.outer.bounds()) else {
        return "Pick a room whose walls close.".to_owned();
    };
    let all = state.rows.saturating_mul(state.columns);
    if all > MOST_IN_AN_ARRAY {
        return format!("{all} are too many: {MOST_IN_AN_ARRAY} at most.");
    }
    let across = bounds.width() / f64::from(state.columns);
    let up = bounds.height() / f64::from(state.rows);
    let mut words = format!(
        "{count} devices, {across:.0} mm apart across and {up:.0} mm up the sheet; half of that, {:.0} and \
         {:.0} mm, to the walls.",
        across / 2.0,
        up / 2.0
    );
    if count < all as usize {
        words.push_str(&format!(" {} fall outside the room and are left out.", all as usize - count));
    }
    words
}

/// What can be set out so: luminaires, loudspeakers, alarms and detectors of a ceiling. Luminaires come first.
fn kinds(project: &Project, shipped: &[Kind]) -> Vec<Kind> {
    let own = project.kinds.iter().map(|(_, kind)| kind);
    let others = shipped.iter().filter(|kind| project.kinds.iter().all(|(_, own)| own.name != kind.name));
    let mut kinds: Vec<Kind> =
        own.chain(others).filter(|kind| kind.mount == MountKind::Ceiling).cloned().collect();
    let downlight = |kind: &Kind| kind.symbol != pattress_model::kit::Symbol::Downlight;
    kinds.sort_by_key(|kind| (kind.family != Family::Luminaires, downlight(kind)));
    kinds
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
