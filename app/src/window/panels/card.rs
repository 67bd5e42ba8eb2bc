//! The card of what is selected: its figures, editable with units, its points, its findings.

mod building;
mod device;
mod life;
mod many;
mod plate;
mod room;
mod room_sees;
mod row;
mod section;
mod suggest;

use egui::{RichText, ScrollArea, Ui};
use pattress_model::checks::Severity;
use pattress_model::edit::Subject;
use pattress_model::id::Id;
use pattress_model::plan::Room;

use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::suggesting::Suggested;
use crate::window::theme::{Theme, semi_bold};
use crate::window::widgets::begin_typing;
use crate::window::wording;

/// What the card remembers between frames.
#[derive(Default)]
pub struct State {
    suggest: suggest::State,
}

/// What the card tells of.
pub struct Seen<'a> {
    /// The plan.
    pub session: &'a Session,
    /// What was computed of it.
    pub figures: &'a Figures,
    /// The places that are suggested.
    pub suggested: &'a Suggested,
}

/// Shows the card.
pub fn ui(ui: &mut Ui, seen: &Seen<'_>, state: &mut State, theme: &Theme) -> Vec<Intent> {
    let Seen { session, figures, .. } = *seen;
    let mut intents = Vec::new();
    let top = ui.max_rect();
    ui.painter().hline(top.x_range(), top.top(), egui::Stroke::new(1.0, theme.edge));
    let margin = egui::Margin { left: 14, right: 14, top: 10, bottom: 10 };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        egui::Frame::NONE.inner_margin(margin).show(ui, |ui| {
            let project = session.project();
            let title = match session.only_selected() {
                Some(subject) => wording::title(project, subject),
                None => format!("{} things selected", session.selection().len()),
            };
            ui.label(RichText::new(title).family(semi_bold()).size(14.0));
            ui.add_space(4.0);
            match session.only_selected() {
                Some(Subject::Device(id)) => device::ui(ui, session, figures, id, theme, &mut intents),
                Some(Subject::Wall(id)) => building::wall(ui, session, id, &mut intents),
                Some(Subject::Opening(id)) => building::opening(ui, session, id, &mut intents),
                Some(Subject::Room(id)) => {
                    room::ui(ui, session, figures, id, theme, &mut intents);
                    suggest::ui(ui, seen, id, &mut state.suggest, theme, &mut intents);
                }
                Some(Subject::Joinery(id)) => building::joinery(ui, session, id, &mut intents),
                Some(Subject::Underlay(id)) => building::underlay(ui, session, id, theme, &mut intents),
                Some(Subject::Spot(id)) => life::spot(ui, session, id, &mut intents),
                Some(Subject::Walk(id)) => life::walk(ui, session, id, &mut intents),
                _ => many::ui(ui, session, theme, &mut intents),
            }
            findings(ui, session, figures, theme);
            ui.add_space(8.0);
            actions(ui, session, &mut intents);
        });
    });
    intents
}

/// Brings the keyboard to the name of a room, whose card is about to show.
pub fn name_room(ctx: &egui::Context, id: Id<Room>, name: &str) {
    begin_typing(ctx, row::salt(Subject::Room(id), room::NAME_OF_A_ROOM), name);
}

/// What is to be known about the selected things.
fn findings(ui: &mut Ui, session: &Session, figures: &Figures, theme: &Theme) {
    let about = figures.findings.iter().filter(|finding| session.selection().contains(&finding.subject));
    for finding in about.take(6) {
        ui.add_space(4.0);
        let ink = match finding.severity {
            Severity::Serious => theme.wrong,
            Severity::Warning => theme.warn,
            Severity::Note => theme.quiet,
        };
        ui.label(
            RichText::new(format!("{}: {}", finding.severity.name(), finding.sentence)).size(12.0).color(ink),
        );
        if !session.client_view() {
            ui.label(RichText::new(finding.source).size(11.0).color(theme.quiet));
        }
    }
}

/// What can be done with them, one click away.
fn actions(ui: &mut Ui, session: &Session, intents: &mut Vec<Intent>) {
    let many = session.selection().len() > 1;
    let devices = session.selection().iter().any(|subject| matches!(subject, Subject::Device(_)));
    let mut offered = vec![Command::Copy, Command::Remove];
    if devices {
        offered.splice(0..0, [Command::TurnLeft, Command::TurnRight]);
        offered.push(Command::MakeZone);
        offered.push(Command::NewRule);
    }
    if many {
        offered.extend([
            Command::AlignLeft,
            Command::AlignRight,
            Command::AlignTop,
            Command::AlignBottom,
            Command::DistributeAcross,
            Command::DistributeUpDown,
            Command::MirrorAcross,
        ]);
    }
    if matches!(session.only_selected(), Some(Subject::Room(_))) {
        offered = vec![Command::Array, Command::Remove];
    }
    ui.horizontal_wrapped(|ui| {
        for command in offered {
            let row = command.row();
            if ui.button(row.label).on_hover_text(row.tip).clicked() {
                intents.push(Intent::Run(command));
            }
        }
    });
}
