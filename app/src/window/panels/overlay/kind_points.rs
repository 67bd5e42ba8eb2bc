//! The points of a kind: what each device of it reports and does.

use egui::Ui;
use pattress_model::kit::{Kind, PointRole, PointSpec, PointType};

use super::kind_desk::Desk;
use crate::window::widgets::{lines, text_field};

/// Shows the points. Returns those that were renamed, the former name first.
pub fn ui(ui: &mut Ui, desk: &mut Desk<'_>, kind: &mut Kind) -> Vec<(String, String)> {
    let mut renamed = Vec::new();
    let mut removed = None;
    desk.heading(ui, "Points");
    lines::caption(ui, desk.theme, "What it reports and does; rules and zones join these.");
    for (index, point) in kind.points.iter_mut().enumerate() {
        ui.horizontal(|ui| {
            let former = point.name.clone();
            let salt = desk.salt("point").with(index);
            let (_, typed) = text_field(ui, salt, &format!("Point {}", index + 1), &former, 96.0);
            if let Some(typed) = typed {
                point.name = typed.trim().to_owned();
                renamed.push((former, point.name.clone()));
            }
            let roles = [PointRole::Reports, PointRole::Does].map(|role| (role, role_words(role).to_owned()));
            let words = role_words(point.role);
            if let Some(role) = lines::choice(ui, salt.with("role"), "Role", words, 66.0, &roles) {
                point.role = role;
            }
            let types = PointType::ALL.map(|each| (each, each.name().to_owned()));
            let words = point.point_type.name();
            if let Some(picked) = lines::choice(ui, salt.with("type"), "Type", words, 66.0, &types) {
                point.point_type = picked;
            }
            if lines::small_button(ui, "Remove", &format!("Remove point {}", point.name)).clicked() {
                removed = Some(index);
            }
        });
    }
    if let Some(index) = removed {
        kind.points.remove(index);
    }
    if ui.button("Add a point").clicked() {
        let mut number = kind.points.len() + 1;
        while kind.point(&format!("point {number}")).is_some() {
            number += 1;
        }
        let name = format!("point {number}");
        kind.points.push(PointSpec { name, point_type: PointType::State, role: PointRole::Reports });
    }
    renamed
}

const fn role_words(role: PointRole) -> &'static str {
    match role {
        PointRole::Reports => "reports",
        PointRole::Does => "does",
    }
}
