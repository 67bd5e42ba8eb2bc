//! What the sensors of a room answer: how much they cover, what stays blind, and how far somebody walks in before the
//! light comes on, each way in with a bar as long as the way.

use egui::{Rect, RichText, Role, Sense, Ui, WidgetInfo, pos2, vec2};
use pattress_model::project::Project;
use pattress_model::studies::coverage::RoomCoverage;
use pattress_model::studies::coverage::rooms::Entry;
use pattress_model::units::Length;

use super::row;
use crate::window::theme::Theme;

/// Height of a bar, points.
const BAR: f32 = 10.0;

/// Shows the answers of a room.
pub fn ui(ui: &mut Ui, project: &Project, room: &RoomCoverage, theme: &Theme) {
    for (sense, share) in &room.floor.shares {
        let blind = room.floor.blind_by_sense.get(sense);
        let rest = blind.map_or(String::new(), |blind| match blind.largest().as_m2() {
            largest if largest > 0.0 => format!("; largest blind part {largest:.1} m²"),
            _ => String::new(),
        });
        let mut name = sense.name().to_owned();
        name[..1].make_ascii_uppercase();
        row::fact(ui, &name, &format!("covers {:.0} %{rest}", share * 100.0));
    }
    if room.entries.is_empty() || room.lighters.is_empty() {
        return;
    }
    ui.add_space(4.0);
    ui.label(RichText::new("First seen, walking in").size(12.0).color(theme.quiet));
    let longest = room.entries.iter().filter_map(way_length).fold(1.0_f32, f32::max);
    for entry in &room.entries {
        entry_line(ui, project, entry, longest, theme);
    }
}

/// How far an entry can be walked, as a part of a bar, mm.
fn way_length(entry: &Entry) -> Option<f32> {
    let lines = [entry.straight, entry.to_middle].into_iter().flatten();
    lines.map(|line| line.length.as_mm() as f32).reduce(f32::max)
}

/// One way in: where from, a bar (dark until seen, lit beyond), and the figures.
fn entry_line(ui: &mut Ui, project: &Project, entry: &Entry, longest: f32, theme: &Theme) {
    let from = entry.way_in.from.and_then(|room| project.rooms.get(room));
    let from = from.map_or("outside", |room| room.name.as_str());
    let said = match (entry.first_seen(), entry.time()) {
        (Some(seen), Some(time)) => {
            let by = project.devices.get(seen.by).map_or(String::new(), |device| device.tag.to_string());
            format!("{} m, {:.1} s, {by}", metres(seen.after), time.0)
        }
        _ => "not seen".to_owned(),
    };
    row::row(ui, from, |ui| {
        let width = 64.0;
        let (rect, response) = ui.allocate_exact_size(vec2(width, BAR), Sense::hover());
        let length = way_length(entry).unwrap_or(longest) / longest * width;
        let dark = entry
            .first_seen()
            .map_or(length, |seen| (seen.after.as_mm() as f32 / longest * width).min(length));
        let part = |from: f32, to: f32| {
            Rect::from_min_max(pos2(rect.left() + from, rect.top()), pos2(rect.left() + to, rect.bottom()))
        };
        ui.painter().rect_filled(part(0.0, dark), 0.0, theme.quiet);
        ui.painter().rect_stroke(
            part(0.0, length),
            0.0,
            egui::Stroke::new(1.0, theme.quiet),
            egui::StrokeKind::Inside,
        );
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("From {from}: {said}")));
        ui.label(said);
    });
}

fn metres(length: Length) -> String {
    format!("{:.1}", length.as_m())
}
