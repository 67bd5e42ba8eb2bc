//! The card of a room: its name and use, its floor, and its ceiling where that slopes.

use egui::{RichText, Ui};
use pattress_model::edit::{Change, Subject, verbs};
use pattress_model::id::Id;
use pattress_model::plan::{Room, RoomUse, SlopingCeiling};
use pattress_model::units::Length;

use super::{room_sees, row};
use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::lines;

/// The field with the name of a room.
pub const NAME_OF_A_ROOM: &str = "Called";

/// A room.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    id: Id<Room>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let Some(room) = project.rooms.get(id) else { return };
    let subject = Subject::Room(id);
    row::words(ui, subject, NAME_OF_A_ROOM, &room.name, intents, |name| {
        verbs::name_room(project, id, Room { name, ..room.clone() })
    });
    let uses = RoomUse::ALL.map(|room_use| (room_use, room_use.name()));
    row::choice(ui, subject, "Used as", room.room_use, &uses, intents, |room_use| {
        verbs::name_room(project, id, Room { room_use, ..room.clone() })
    });
    ceiling(ui, session, id, room, intents);
    match figures.outlines.get(&id) {
        Some(outline) => {
            row::fact(ui, "Floor", &format!("{} between walls", outline.area()));
            if let Some(answers) = figures.rooms.get(&id) {
                room_sees::ui(ui, project, answers, theme);
            }
        }
        None => {
            ui.label(RichText::new("Its walls do not close.").color(theme.warn));
        }
    }
}

/// The ceiling: as high as the level says, or sloping between two heights.
fn ceiling(ui: &mut Ui, session: &Session, id: Id<Room>, room: &Room, intents: &mut Vec<Intent>) {
    let project = session.project();
    let subject = Subject::Room(id);
    let level = project.levels.get(room.level).map_or(Length::ZERO, |level| level.ceiling_affl);
    let slope = |ceiling: SlopingCeiling| -> Result<Change, String> {
        verbs::slope_ceiling(project, id, Some(ceiling))
    };
    let Some(now) = room.ceiling.clone() else {
        row::row(ui, "Ceiling", |ui| {
            ui.label(format!("{level} mm AFFL"));
            let tip = "Give the ceiling a lowest and a highest height; both begin at the level’s.";
            let response = lines::small_button(ui, "Slopes…", tip);
            if response.clicked() {
                let flat = SlopingCeiling { low: level, high: level, note: String::new() };
                intents.push(Intent::Change(slope(flat)));
            }
        });
        return;
    };
    row::length(ui, subject, "Ceiling, low", "mm AFFL", Some(now.low), intents, |low| {
        slope(SlopingCeiling { low, ..now.clone() })
    });
    row::length(ui, subject, "high", "mm AFFL", Some(now.high), intents, |high| {
        slope(SlopingCeiling { high, ..now.clone() })
    });
    row::words(ui, subject, "Slopes", &now.note, intents, |note| {
        slope(SlopingCeiling { note, ..now.clone() })
    });
    row::row(ui, "", |ui| {
        if lines::small_button(ui, "Level again", "The ceiling is level: as high as the level says").clicked()
        {
            intents.push(Intent::Change(verbs::slope_ceiling(project, id, None)));
        }
    });
}
