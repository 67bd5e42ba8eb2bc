//! A kind of the Kit, every field of it. Each edit is one change of the plan and of every device of the kind.

use egui::{RichText, ScrollArea, Ui, vec2};
use pattress_model::edit::verbs;
use pattress_model::id::Id;
use pattress_model::kit::{BackBox, Drives, Family, Kind, MountKind, PointSpec, Supply, Symbol};
use pattress_model::studies::rehearsal::FULL_TRAVEL;
use pattress_model::units::Length;

use super::kind_desk::Desk;
use super::{kind_battery, kind_points, kind_senses, site::read_money, title};
use crate::window::canvas::chunks::Chunks;
use crate::window::intent::Intent;
use crate::window::panels::kit::paint_sample;
use crate::window::session::Session;
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

/// What the editor keeps between frames: the ink of the sample.
#[derive(Default)]
pub struct State {
    samples: Chunks,
}

/// Shows the editor of a kind; a kind that is gone closes it.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    id: Id<Kind>,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    let project = session.project();
    let Some(kind) = project.kinds.get(id) else { return vec![Intent::CloseOverlay] };
    let mut intents = Vec::new();
    let mut edited = kind.clone();
    let mut renamed = Vec::new();
    let mut desk = Desk { id, theme, refusals: Vec::new() };
    title(ui, &kind.name, &mut intents);
    let placed = project.devices.iter().filter(|(_, device)| device.kind == id).count();
    let words = match placed {
        0 => "None of it is on the plan yet.".to_owned(),
        1 => "1 device of this kind is on the plan and changes with it.".to_owned(),
        count => format!("{count} devices of this kind are on the plan and change with it."),
    };
    lines::caption(ui, theme, words);
    let tallest = ui.ctx().content_rect().height() - 190.0;
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink([false, true]).show(
        ui,
        |ui| {
            ui.columns(2, |columns| {
                if let [left, right] = columns {
                    left.vertical(|ui| {
                        what_it_is(ui, &mut desk, &mut edited, state, fresh);
                        fitting(ui, &mut desk, &mut edited);
                        cost(ui, &mut desk, &mut edited, &project.site.currency);
                    });
                    right.vertical(|ui| {
                        renamed = kind_points::ui(ui, &mut desk, &mut edited);
                        kind_senses::ui(ui, &mut desk, &mut edited);
                        caution(ui, &mut desk, &mut edited);
                    });
                }
            });
        },
    );
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        if ui.button("Done").clicked() {
            intents.push(Intent::CloseOverlay);
        }
        if ui.button("Copy kind").on_hover_text("Copy it under another name and edit the copy.").clicked() {
            let copy = Id::from_number(project.next_id());
            let change = verbs::copy_kind(project, id, &copy_name(session, &kind.name));
            let copied = change.is_ok();
            intents.push(Intent::Change(change));
            if copied {
                intents.push(Intent::Open(crate::window::intent::Overlay::KindEditor(copy)));
            }
        }
    });
    intents.extend(desk.refusals.into_iter().map(|sentence| Intent::Change(Err(sentence))));
    if edited != *kind {
        intents.insert(0, Intent::Change(verbs::edit_kind(project, id, edited, &renamed)));
    }
    intents
}

/// A name for a copy that no kind has.
fn copy_name(session: &Session, name: &str) -> String {
    let taken = |wanted: &str| session.project().kinds.iter().any(|(_, kind)| kind.name == wanted);
    let first = format!("{name}, own");
    if !taken(&first) {
        return first;
    }
    let mut number = 2;
    while taken(&format!("{name}, own {number}")) {
        number += 1;
    }
    format!("{name}, own {number}")
}

fn what_it_is(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind, state: &mut State, fresh: bool) {
    desk.heading(ui, "What it is");
    let salt = desk.salt("Name");
    desk.row(ui, "Name", |ui, _| {
        let (response, typed) = text_field(ui, salt, "Name", &kind.name, 200.0);
        if fresh {
            response.request_focus();
        }
        if let Some(typed) = typed {
            kind.name = typed.trim().to_owned();
        }
    });
    let families = Family::ALL.map(|family| (family, family.name().to_owned()));
    if let Some(family) = desk.choice(ui, "Family", kind.family.name(), &families) {
        kind.family = family;
    }
    desk.words(ui, "Code", &mut kind.code, 64.0);
    let symbols = Symbol::ALL.map(|symbol| (symbol, symbol.name().to_owned()));
    if let Some(symbol) = desk.choice(ui, "Symbol", kind.symbol.name(), &symbols) {
        kind.symbol = symbol;
    }
    let theme = desk.theme;
    desk.row(ui, "Drawn as", |ui, _| {
        let (rect, _) = ui.allocate_exact_size(vec2(44.0, 44.0), egui::Sense::hover());
        ui.painter().rect_filled(rect, 3.0, theme.sheet);
        paint_sample(ui, kind, rect, &mut state.samples, theme);
    });
    if kind.symbol == Symbol::LinearLight {
        let before = kind.drawn_length.unwrap_or(Length::mm(1000.0));
        let mut length = before;
        desk.length(ui, "Drawn length", "mm", &mut length);
        if length != before {
            kind.drawn_length = Some(length);
        }
    }
}

fn fitting(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    desk.heading(ui, "How it is fitted");
    let mounts = MountKind::ALL.map(|mount| (mount, mount.name().to_owned()));
    if let Some(mount) = desk.choice(ui, "Fixed to", kind.mount.name(), &mounts) {
        kind.mount = mount;
    }
    let decided = [(true, "decided".to_owned()), (false, "for each to be decided".to_owned())];
    let shown = if kind.default_height.is_some() { &decided[0].1 } else { &decided[1].1 };
    if let Some(decided) = desk.choice(ui, "Usual height", shown, &decided) {
        kind.default_height = decided.then_some(Length::mm(1200.0));
    }
    if let Some(height) = &mut kind.default_height {
        desk.length(ui, "Its centre at", "mm AFFL", height);
    }
    let single = BackBox { gangs: 1, depth: Length::mm(35.0) };
    let boxes = [
        (None, "none".to_owned()),
        (Some(single), "single".to_owned()),
        (Some(BackBox { gangs: 2, ..single }), "double".to_owned()),
    ];
    let shown = match kind.back_box.map(|back_box| back_box.gangs) {
        None => "none",
        Some(1) => "single",
        Some(_) => "double",
    };
    if let Some(picked) = desk.choice(ui, "Back box", shown, &boxes) {
        let depth = kind.back_box.map(|back_box| back_box.depth);
        kind.back_box = picked.map(|picked| BackBox { depth: depth.unwrap_or(picked.depth), ..picked });
    }
    if let Some(back_box) = &mut kind.back_box {
        // Depths of the trade's boxes (BS 4662 names them; from memory).
        let depths = [16.0, 25.0, 35.0, 47.0].map(|depth| (Length::mm(depth), format!("{depth} mm")));
        let shown = format!("{} mm", back_box.depth);
        if let Some(depth) = desk.choice(ui, "Depth of box", &shown, &depths) {
            back_box.depth = depth;
        }
    }
    supply(ui, desk, kind);
    kind_battery::battery(ui, desk, kind);
    kind_battery::face(ui, desk, kind);
    desk.figure(ui, "Load at most", "W", &mut kind.load.0);
    if kind.family == Family::Motors {
        let mut offered = vec![(None, "nothing".to_owned())];
        offered.extend(Drives::ALL.map(|what| (Some(what), what.name().to_owned())));
        let shown = kind.drives.map_or("nothing", Drives::name);
        if let Some(what) = desk.choice(ui, "Sets in motion", shown, &offered) {
            kind.drives = what;
        }
    }
    if kind.points.iter().any(PointSpec::travels) {
        let mut travel = kind.full_travel.unwrap_or(FULL_TRAVEL);
        let before = travel;
        desk.figure(ui, "Whole travel takes", "s", &mut travel.0);
        if travel != before {
            kind.full_travel = Some(travel);
        }
    }
}

fn supply(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    let mut offered = vec![Supply::Mains, Supply::Battery, Supply::None];
    offered.extend([12, 24, 48].map(|volts| Supply::ExtraLow { volts }));
    offered.extend([2, 3, 4, 6, 8].map(|class| Supply::PowerOverEthernet { class }));
    let offered: Vec<_> = offered.into_iter().map(|supply| (supply, supply.name())).collect();
    if let Some(supply) = desk.choice(ui, "Fed by", &kind.supply.name(), &offered) {
        kind.supply = supply;
    }
}

fn cost(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind, currency: &str) {
    desk.heading(ui, "What it costs");
    let salt = desk.salt("Price");
    desk.row(ui, "Price of one", |ui, desk| {
        let (_, typed) = text_field(ui, salt, "Price of one", &kind.price.to_string(), 76.0);
        lines::caption(ui, desk.theme, currency);
        match typed.map(|typed| read_money(&typed)) {
            Some(Ok(price)) => kind.price = price,
            Some(Err(sentence)) => desk.refusals.push(sentence),
            None => {}
        }
    });
    let mut minutes = f64::from(kind.minutes);
    desk.figure(ui, "To fit one", "minutes", &mut minutes);
    if (0.0..=10_000.0).contains(&minutes) {
        kind.minutes = minutes.round() as u32;
    } else {
        desk.refusals.push("minutes to fit one are 0 to 10000".to_owned());
    }
}

fn caution(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    desk.heading(ui, "Caution");
    lines::caption(ui, desk.theme, "Shown on screen and on paper wherever one is placed.");
    let salt = desk.salt("Caution");
    let now = kind.caution.clone().unwrap_or_default();
    let width = ui.available_width() - 8.0;
    if let (_, Some(typed)) = text_field(ui, salt, "Caution", &now, width) {
        let typed = typed.trim();
        kind.caution = (!typed.is_empty()).then(|| typed.to_owned());
    }
    if let Some(caution) = &kind.caution {
        ui.add(egui::Label::new(RichText::new(caution).size(12.0).color(desk.theme.wrong)).wrap());
    }
}
