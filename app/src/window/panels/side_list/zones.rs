//! Zones: what acts as one, with its devices, its purpose and what it draws together.

use egui::{Align, Label, Layout, RichText, Role, Sense, Ui, WidgetInfo, vec2};
use pattress_model::edit::{Subject, verbs};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::Project;
use pattress_model::systems::{PointRef, Zone, ZonePurpose};
use pattress_model::units::Watts;

use super::{State, pick};
use crate::window::command::Command;
use crate::window::intent::Intent;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

/// What stands above the zones.
pub fn head(ui: &mut Ui, session: &Session, theme: &Theme, intents: &mut Vec<Intent>) {
    let devices = selected_devices(session);
    ui.horizontal(|ui| {
        let words = match devices.len() {
            0 => "Select devices to make a zone of them.".to_owned(),
            1 => "1 device selected".to_owned(),
            count => format!("{count} devices selected"),
        };
        lines::caption(ui, theme, words);
        if !devices.is_empty() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.button("Make a zone").on_hover_text(Command::MakeZone.row().tip).clicked() {
                    intents.push(Intent::Run(Command::MakeZone));
                }
            });
        }
    });
}

/// Shows the zones.
pub fn ui(ui: &mut Ui, session: &Session, state: &mut State, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = session.project();
    if project.zones.is_empty() {
        lines::nothing(ui, theme, "No zones yet. A zone is a set of devices that act as one.");
    }
    for purpose in ZonePurpose::ALL {
        let zones: Vec<(Id<Zone>, &Zone)> =
            project.zones.iter().filter(|(_, zone)| zone.purpose == purpose).collect();
        if zones.is_empty() {
            continue;
        }
        let mut words = purpose.name().to_owned();
        words[..1].make_ascii_uppercase();
        lines::group(ui, theme, &words);
        for (id, zone) in zones {
            zone_line(ui, session, state, id, zone, theme, intents);
        }
    }
}

fn zone_line(
    ui: &mut Ui,
    session: &Session,
    state: &mut State,
    id: Id<Zone>,
    zone: &Zone,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let project = session.project();
    let subject = Subject::Zone(id);
    let at_hand = session.pointed_at().into_iter().chain(session.selection().iter().copied());
    let marked = at_hand.into_iter().any(|other| {
        other == subject || zone.points.iter().any(|point| other == Subject::Device(point.device))
    });
    let line = lines::line(ui, theme, marked, |ui| {
        ui.push_id(id.number(), |ui| {
            let open = state.open_zone == Some(id);
            ui.horizontal(|ui| zone_head(ui, session, state, id, zone, theme, intents));
            if open {
                editor(ui, project, id, zone, theme, intents);
            }
            let pointed = members(ui, project, id, zone, open, theme, intents);
            let load = load_of(project, zone);
            if !session.client_view() && load.0 > 0.0 {
                lines::caption(ui, theme, format!("{load} together"));
            }
            membership(ui, session, id, zone, intents);
            pointed
        })
        .inner
    });
    match line.inner {
        Some(thing) => intents.push(Intent::PointAt(thing)),
        None if line.hovered => intents.push(Intent::PointAt(subject)),
        None => {}
    }
}

fn zone_head(
    ui: &mut Ui,
    session: &Session,
    state: &mut State,
    id: Id<Zone>,
    zone: &Zone,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let name = &zone.name;
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        if lines::small_button(ui, "Remove", &format!("Remove zone {name}")).clicked() {
            let change = verbs::remove_things(session.project(), &[Subject::Zone(id)]);
            intents.push(Intent::Change(change));
        }
        let open = state.open_zone == Some(id);
        let (words, tip) = if open { ("Done", "Done with zone") } else { ("Edit", "Edit zone") };
        if lines::small_button(ui, words, &format!("{tip} {name}")).clicked() {
            state.open_zone = (!open).then_some(id);
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let response = lines::name_button(ui, name, &format!("Zone {name}"), theme.ink);
            if response.clicked() {
                pick(Subject::Zone(id), intents);
            }
            if response.has_focus() {
                intents.push(Intent::PointAt(Subject::Zone(id)));
            }
        });
    });
}

/// Name and purpose, to be changed.
fn editor(
    ui: &mut Ui,
    project: &Project,
    id: Id<Zone>,
    zone: &Zone,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    ui.horizontal(|ui| {
        let salt = egui::Id::unique(("zone name", id.number()));
        if let (_, Some(name)) = text_field(ui, salt, "Name of the zone", &zone.name, 150.0) {
            intents.push(Intent::Change(verbs::rename_zone(project, id, &name)));
        }
        let offered = ZonePurpose::ALL.map(|purpose| (purpose, purpose.name().to_owned()));
        let salt = egui::Id::unique(("zone purpose", id.number()));
        let picked = lines::choice(ui, salt, "Purpose", zone.purpose.name(), 100.0, &offered);
        if let Some(purpose) = picked {
            intents.push(Intent::Change(verbs::set_zone_purpose(project, id, purpose)));
        }
    });
    lines::caption(ui, theme, "Click a device to take it out.");
}

/// The devices of a zone by tag. Returns the one that is pointed at.
fn members(
    ui: &mut Ui,
    project: &Project,
    id: Id<Zone>,
    zone: &Zone,
    open: bool,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) -> Option<Subject> {
    let mut pointed = None;
    if zone.points.is_empty() {
        lines::caption(ui, theme, "Nothing in it yet.");
    }
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = 16.0;
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = vec2(8.0, 2.0);
            for point in &zone.points {
                let Some(device) = project.devices.get(point.device) else { continue };
                let tag = device.tag.to_string();
                let text = RichText::new(&tag).size(12.0).color(theme.accent).underline();
                let response = ui.add(Label::new(text).sense(Sense::click()));
                let name = if open { format!("Take {tag} out of {}", zone.name) } else { tag };
                response.widget_info(|| WidgetInfo::labeled(Role::Link, true, &name));
                lines::ring_if_focused(ui, &response);
                if response.hovered() || response.has_focus() {
                    pointed = Some(Subject::Device(point.device));
                }
                if response.clicked() && open {
                    let change = verbs::take_from_zone(project, id, std::slice::from_ref(point));
                    intents.push(Intent::Change(change));
                } else if response.clicked() {
                    pick(Subject::Device(point.device), intents);
                }
            }
        });
    });
    pointed
}

/// Buttons that put the selected devices in and take them out.
fn membership(ui: &mut Ui, session: &Session, id: Id<Zone>, zone: &Zone, intents: &mut Vec<Intent>) {
    let project = session.project();
    let selected = selected_devices(session);
    let inside: Vec<PointRef> =
        zone.points.iter().filter(|point| selected.contains(&point.device)).cloned().collect();
    let outside: Vec<Id<Device>> = selected
        .into_iter()
        .filter(|device| zone.points.iter().all(|point| point.device != *device))
        .collect();
    let fitting = verbs::zone_points_of(project, zone.purpose, &outside);
    if inside.is_empty() && fitting.is_empty() {
        return;
    }
    let counted = |count: usize| if count == 1 { "1 device".to_owned() } else { format!("{count} devices") };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        if !fitting.is_empty() {
            let name = format!("Add {} selected to {}", counted(fitting.len()), zone.name);
            if lines::small_button(ui, &format!("Add {}", counted(fitting.len())), &name).clicked() {
                intents.push(Intent::Change(verbs::add_to_zone(project, id, fitting)));
            }
        }
        if !inside.is_empty() {
            let name = format!("Take {} selected out of {}", counted(inside.len()), zone.name);
            if lines::small_button(ui, &format!("Take {} out", counted(inside.len())), &name).clicked() {
                intents.push(Intent::Change(verbs::take_from_zone(project, id, &inside)));
            }
        }
    });
}

fn selected_devices(session: &Session) -> Vec<Id<Device>> {
    let device = |subject: &Subject| match subject {
        Subject::Device(id) => Some(*id),
        _ => None,
    };
    session.selection().iter().filter_map(device).collect()
}

fn load_of(project: &Project, zone: &Zone) -> Watts {
    let kinds = zone
        .points
        .iter()
        .filter_map(|point| project.devices.get(point.device))
        .filter_map(|device| project.kinds.get(device.kind));
    Watts(kinds.map(|kind| kind.load.0).sum())
}
