//! The card of a device.

use egui::{RichText, Ui};
use pattress_model::building::outline::room_at;
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::{Device, Kind, Mount, Pattern, PointRole};
use pattress_model::plan::Room;

use super::{row, section};
use crate::window::intent::{Intent, Overlay, Selecting};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};

/// Shows what is known of a device.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    id: Id<Device>,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let Some(device) = project.devices.get(id) else { return };
    let Some(kind) = project.kinds.get(device.kind) else { return };
    let subject = Subject::Device(id);
    row::row(ui, "Kind", |ui| {
        if ui.link(&kind.name).on_hover_text("Look at the kind and change it.").clicked() {
            intents.push(Intent::Open(Overlay::KindEditor(device.kind)));
        }
    });
    row::words(ui, subject, "Called", &device.name, intents, |words| {
        verbs::rename_device(project, id, &words)
    });
    if !session.client_view() {
        place(ui, session, figures, id, device, intents);
        row::fact(ui, "Fed by", &format!("{}, {}", kind.supply.name(), kind.load));
        battery(ui, figures, id);
        if let Some(back_box) = kind.back_box {
            row::fact(ui, "Box", &format!("{} gang, {} mm deep", back_box.gangs, back_box.depth));
        }
        row::words(ui, subject, "Note", &device.note, intents, |words| {
            verbs::set_note(project, &[subject], &words)
        });
    }
    let room = room_of(session, figures, device);
    super::plate::ui(ui, session, id, room, theme, intents);
    senses(ui, figures, id, kind, theme);
    zones_and_rules(ui, session, id, intents);
    if let Some(caution) = &kind.caution {
        ui.add_space(4.0);
        ui.label(RichText::new(format!("Caution: {caution}")).size(12.0).color(theme.wrong));
    }
}

fn place(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    id: Id<Device>,
    device: &Device,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let subject = Subject::Device(id);
    let room = room_of(session, figures, device)
        .and_then(|room| project.rooms.get(room))
        .map_or("none", |room| room.name.as_str());
    row::fact(ui, "Room", room);
    row::fact(ui, "Fixed to", device.mount.name());
    row::length(ui, subject, "Height", "mm AFFL, to centre", device.height_affl, intents, |height| {
        verbs::set_height(project, &[subject], Some(height))
    });
    if let Mount::WallFace { along, .. } = device.mount {
        row::length(ui, subject, "Along wall", "mm from its start", Some(along), intents, |along| {
            let mut ids = device.clone();
            if let Mount::WallFace { along: place, .. } = &mut ids.mount {
                *place = along;
            }
            Ok(pattress_model::edit::Change::new(
                format!("Move {}", device.tag),
                vec![pattress_model::edit::Op::put(id, ids)],
            ))
        });
    }
    row::angle(ui, subject, "Turned", device.turn, intents, |turn| {
        verbs::set_turn(project, &[subject], turn)
    });
    if project.kinds.get(device.kind).is_some_and(can_be_tilted) {
        row::angle(ui, subject, "Tilted down", device.tilt, intents, |tilt| {
            verbs::set_tilt(project, &[subject], tilt)
        });
    }
}

/// How long its battery lasts, by the figures of its kind and the plan's scripts.
fn battery(ui: &mut Ui, figures: &Figures, id: Id<Device>) {
    let Some(life) = figures.batteries.get(&id) else { return };
    let words = match (life.years(), life.messages_a_day, life.years_at_most()) {
        (Some(years), Some(messages), _) => {
            format!("about {years:.1} years, an estimate: by the scripts it speaks {messages:.1} times a day")
        }
        (_, _, Some(most)) => format!("not played by any script; at most {most:.1} years, an estimate"),
        _ => "figures of the battery missing".to_owned(),
    };
    row::row(ui, "Battery", |ui| {
        ui.add(egui::Label::new(words).wrap()).on_hover_text(
            "By the figures of the kind, which are invented until the maker's are put in. Cold and age shorten it.",
        );
    });
}

/// The room before it.
fn room_of(session: &Session, figures: &Figures, device: &Device) -> Option<Id<Room>> {
    let project = session.project();
    let at = project.position_of(device)? + project.facing_of(device).direction() * 20.0;
    room_at(&figures.outlines, at)
}

/// Whether it looks out through a lens that can be tilted: what looks all round hangs level.
fn can_be_tilted(kind: &Kind) -> bool {
    kind.senses()
        .is_some_and(|detection| detection.sense.looks() && matches!(detection.pattern, Pattern::Fan { .. }))
}

fn senses(ui: &mut Ui, figures: &Figures, id: Id<Device>, kind: &Kind, theme: &Theme) {
    if let Some(found) = figures.coverage.get(&id) {
        let share = found
            .share_of_room
            .map_or(String::new(), |share| format!(", {:.0} % of its room", share * 100.0));
        row::fact(ui, "Covers", &format!("{}{share}", found.area));
    }
    if let Some(section) = figures.sections.get(&id) {
        section::ui(ui, section, theme);
    }
    if let Some(optics) = &kind.optics {
        row::fact(ui, "View", &format!("{} across, {} px", optics.field_of_view(), optics.pixels_across));
    }
    if let Some(lamp) = &kind.lamp {
        let beam = lamp.beam.map_or("all round".to_owned(), |beam| beam.to_string());
        row::fact(ui, "Light", &format!("{:.0} lm, {} K, {beam}", lamp.flux.0, lamp.colour_temperature_k));
    }
    for (role, name) in [(PointRole::Reports, "Reports"), (PointRole::Does, "Does")] {
        let points: Vec<&str> =
            kind.points.iter().filter(|point| point.role == role).map(|point| point.name.as_str()).collect();
        if !points.is_empty() {
            row::fact(ui, name, &points.join(", "));
        }
    }
}

fn zones_and_rules(ui: &mut Ui, session: &Session, id: Id<Device>, intents: &mut Vec<Intent>) {
    let project = session.project();
    let zones = project.zones.iter().filter(|(_, zone)| zone.points.iter().any(|point| point.device == id));
    let rules = project.rules.iter().filter(|(_, rule)| rule.points().iter().any(|point| point.device == id));
    let zones: Vec<(Subject, &str)> =
        zones.map(|(id, zone)| (Subject::Zone(id), zone.name.as_str())).collect();
    let rules: Vec<(Subject, &str)> =
        rules.map(|(id, rule)| (Subject::Rule(id), rule.name.as_str())).collect();
    for (name, things) in [("In zones", zones), ("In rules", rules)] {
        if things.is_empty() {
            continue;
        }
        row::row(ui, name, |ui| {
            ui.horizontal_wrapped(|ui| {
                for (subject, words) in things {
                    let response = ui.link(RichText::new(words).family(medium()));
                    if response.hovered() {
                        intents.push(Intent::PointAt(subject));
                    }
                    if response.clicked() {
                        intents.push(Intent::Select(Selecting::Only(vec![subject])));
                    }
                }
            });
        });
    }
}
