//! Cards of walls, openings, joinery and underlays.

use egui::{RichText, Ui};
use pattress_model::edit::Subject;
use pattress_model::edit::verbs::{self, WallSpec};
use pattress_model::id::Id;
use pattress_model::plan::{
    DoorState, Joinery, JoineryForm, MakeUp, Opening, OpeningForm, ScaleFrom, Underlay, Wall,
};
use pattress_model::units::Angle;

use super::row;
use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::survey::at_hand::{is_page, scale_in_words};
use crate::window::theme::Theme;

/// A wall.
pub fn wall(ui: &mut Ui, session: &Session, id: Id<Wall>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(wall) = project.walls.get(id) else { return };
    let subject = Subject::Wall(id);
    let spec = WallSpec { thickness: wall.thickness, height: wall.height, make_up: wall.make_up };
    row::length(ui, subject, "Length", "mm", Some(wall.length()), intents, |length| {
        verbs::set_wall_length(project, id, length)
    });
    row::length(ui, subject, "Thickness", "mm", Some(wall.thickness), intents, |thickness| {
        verbs::edit_walls(project, &[(id, WallSpec { thickness, ..spec })])
    });
    row::length(ui, subject, "Height", "mm", Some(wall.height), intents, |height| {
        verbs::edit_walls(project, &[(id, WallSpec { height, ..spec })])
    });
    let make_ups = MakeUp::ALL.map(|make_up| (make_up, make_up.name()));
    row::choice(ui, subject, "Made of", wall.make_up, &make_ups, intents, |make_up| {
        verbs::edit_walls(project, &[(id, WallSpec { make_up, ..spec })])
    });
}

/// A door, a window or a plain opening.
pub fn opening(ui: &mut Ui, session: &Session, id: Id<Opening>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(opening) = project.openings.get(id) else { return };
    let subject = Subject::Opening(id);
    let edit = |opening: Opening| verbs::edit_opening(project, id, opening);
    row::length(ui, subject, "Width", "mm", Some(opening.width), intents, |width| {
        edit(Opening { width, ..opening.clone() })
    });
    row::length(ui, subject, "Centre", "mm along the wall", Some(opening.centre), intents, |centre| {
        verbs::slide_opening(project, id, centre)
    });
    row::length(ui, subject, "Head", "mm AFFL", Some(opening.head), intents, |head| {
        edit(Opening { head, ..opening.clone() })
    });
    match opening.form {
        OpeningForm::Window { sill } => {
            row::length(ui, subject, "Sill", "mm AFFL", Some(sill), intents, |sill| {
                edit(Opening { form: OpeningForm::Window { sill }, ..opening.clone() })
            });
        }
        OpeningForm::Door { hinge, swing, state } => {
            let open = match state {
                DoorState::Shut => Angle::ZERO,
                DoorState::Open(angle) => angle,
            };
            row::angle(ui, subject, "Stands open", open, intents, |angle| {
                let degrees = angle.as_degrees();
                if degrees > 180.0 {
                    return Err("a door opens by 180° at most".to_owned());
                }
                let state = if degrees == 0.0 { DoorState::Shut } else { DoorState::Open(angle) };
                edit(Opening { form: OpeningForm::Door { hinge, swing, state }, ..opening.clone() })
            });
            row::row(ui, "Hung", |ui| {
                if ui.button("Other hand").on_hover_text("Put the hinges on the other side.").clicked() {
                    intents.push(Intent::Change(verbs::flip_hinge(project, id)));
                }
                if ui.button("Other way").on_hover_text("Let it swing into the other room.").clicked() {
                    intents.push(Intent::Change(verbs::flip_swing(project, id)));
                }
            });
        }
        OpeningForm::Plain => {}
    }
}

/// A piece of joinery.
pub fn joinery(ui: &mut Ui, session: &Session, id: Id<Joinery>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(piece) = project.joinery.get(id) else { return };
    let subject = Subject::Joinery(id);
    let edit = |piece: Joinery| verbs::edit_joinery(project, id, piece);
    row::words(ui, subject, "Called", &piece.name, intents, |name| edit(Joinery { name, ..piece.clone() }));
    let forms = JoineryForm::ALL.map(|form| (form, form.name()));
    row::choice(ui, subject, "Is", piece.form, &forms, intents, |form| {
        edit(Joinery { form, ..piece.clone() })
    });
    row::length(ui, subject, "Width", "mm", Some(piece.width), intents, |width| {
        edit(Joinery { width, ..piece.clone() })
    });
    row::length(ui, subject, "Depth", "mm", Some(piece.depth), intents, |depth| {
        edit(Joinery { depth, ..piece.clone() })
    });
    row::length(ui, subject, "Underside", "mm AFFL", Some(piece.base), intents, |base| {
        edit(Joinery { base, ..piece.clone() })
    });
    row::length(ui, subject, "Top", "mm AFFL", Some(piece.top), intents, |top| {
        edit(Joinery { top, ..piece.clone() })
    });
    row::angle(ui, subject, "Turned", piece.turn, intents, |turn| edit(Joinery { turn, ..piece.clone() }));
    let leaves: Vec<String> = piece
        .leaves
        .iter()
        .map(|leaf| format!("{} ({})", leaf.name, if leaf.slides { "drawer" } else { "door" }))
        .collect();
    let opens = if leaves.is_empty() { "nothing".to_owned() } else { leaves.join(", ") };
    row::fact(ui, "Opens", &opens);
    row::row(ui, "", |ui| {
        for (slides, words) in [(true, "Add a drawer"), (false, "Add a door")] {
            if ui.button(words).clicked() {
                let mut piece = piece.clone();
                let count = piece.leaves.iter().filter(|leaf| leaf.slides == slides).count() + 1;
                let name = format!("{} {count}", if slides { "drawer" } else { "door" });
                piece.leaves.push(pattress_model::plan::Leaf { name, slides });
                intents.push(Intent::Change(edit(piece)));
            }
        }
        if !piece.leaves.is_empty() && ui.button("Take the last off").clicked() {
            let mut piece = piece.clone();
            piece.leaves.pop();
            intents.push(Intent::Change(edit(piece)));
        }
    });
}

/// A drawing to trace.
pub fn underlay(ui: &mut Ui, session: &Session, id: Id<Underlay>, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    let Some(underlay) = project.underlays.get(id) else { return };
    let subject = Subject::Underlay(id);
    let (width, height) = (underlay.width * underlay.mm_per_unit, underlay.height * underlay.mm_per_unit);
    let unit = if is_page(underlay) { "mm of paper" } else { "pixels" };
    row::fact(ui, "Size", &format!("{:.0} × {:.0} {unit}", underlay.width, underlay.height));
    if underlay.page > 1 {
        row::fact(ui, "Page", &underlay.page.to_string());
    }
    row::fact(ui, "Is", &scale_in_words(underlay));
    let scaled = underlay.scale_from.as_ref().map_or_else(
        || "by nothing that was kept: scale it before you rely on it".to_owned(),
        ScaleFrom::words,
    );
    row::fact(ui, "Scaled", &scaled);
    if let Some(second) = &underlay.second_length {
        row::fact(ui, "Checked", &second.in_short());
    }
    row::fact(ui, "On the plan", &format!("{:.1} × {:.1} m", width / 1000.0, height / 1000.0));
    row::angle(ui, subject, "Turned", underlay.turn, intents, |turn| {
        verbs::edit_underlay(project, id, Underlay { turn, ..underlay.clone() })
    });
    row::row(ui, "Strength", |ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for percent in [20_u32, 40, 60, 80, 100] {
            let chosen = (underlay.opacity * 100.0 - f64::from(percent)).abs() < 5.0;
            if ui.selectable_label(chosen, percent.to_string()).clicked() && !chosen {
                intents.push(Intent::Change(verbs::set_underlay_opacity(
                    project,
                    id,
                    f64::from(percent) / 100.0,
                )));
            }
        }
        ui.label(RichText::new("%").color(theme.quiet));
    });
    row::row(ui, "On sheets", |ui| {
        let mut on_sheets = underlay.on_sheets;
        let tip = "Print it faint beneath the sheets of this level, to a little outside the walls. Where it is a PDF, \
                   the issue makes no claim to be PDF/A.";
        if ui.checkbox(&mut on_sheets, "Printed beneath").on_hover_text(tip).changed() {
            intents.push(Intent::Change(verbs::print_underlay(project, id, on_sheets)));
        }
    });
    row::row(ui, "Scale", |ui| {
        for (words, command) in [("By two points", Command::ScaleDrawing), ("Check", Command::CheckScale)] {
            if ui.button(words).on_hover_text(command.row().tip).clicked() {
                intents.push(Intent::Run(command));
            }
        }
    });
}
