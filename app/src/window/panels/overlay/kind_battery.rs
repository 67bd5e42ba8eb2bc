//! The battery of a kind, and the front of a plate: figures that belong to few kinds.

use egui::Ui;
use pattress_model::kit::{Battery, Kind, Supply};

use super::kind_desk::Desk;
use crate::window::widgets::lines;

/// Shows the figures of the battery of a kind that is fed by one.
pub fn battery(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    if kind.supply != Supply::Battery {
        return;
    }
    let known = [(true, "as below".to_owned()), (false, "not known".to_owned())];
    let shown = if kind.battery.is_some() { &known[0].1 } else { &known[1].1 };
    if let Some(known) = desk.choice(ui, "Battery", shown, &known) {
        kind.battery = known.then_some(Battery::INVENTED);
    }
    let Some(battery) = &mut kind.battery else { return };
    lines::caption(ui, desk.theme, "Invented round figures until you put in the maker's.");
    desk.figure(ui, "It holds", "mAh", &mut battery.capacity_mah);
    desk.figure(ui, "While it speaks", "mA", &mut battery.speaking_ma);
    desk.figure(ui, "A message takes", "s", &mut battery.message.0);
    desk.figure(ui, "All the time", "µA", &mut battery.standby_ua);
    desk.figure(ui, "It loses by itself", "% a year", &mut battery.self_discharge_percent);
}

/// Shows the size of a plate and how its keys lie.
pub fn face(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) {
    if kind.keys().next().is_none() {
        return;
    }
    let told = [(false, "by box and keys".to_owned()), (true, "as below".to_owned())];
    let shown = if kind.face.is_some() { &told[1].1 } else { &told[0].1 };
    if let Some(own) = desk.choice(ui, "Front of the plate", shown, &told) {
        kind.face = own.then(|| kind.plate_face());
    }
    let Some(face) = &mut kind.face else { return };
    desk.length(ui, "Wide", "mm", &mut face.width);
    desk.length(ui, "High", "mm", &mut face.height);
    let columns = [1, 2, 3, 4, 5, 6, 7, 8].map(|columns: u8| (columns, columns.to_string()));
    if let Some(picked) = desk.choice(ui, "Keys side by side", &face.columns.to_string(), &columns) {
        face.columns = picked;
    }
}
