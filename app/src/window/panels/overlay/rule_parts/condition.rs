//! What must hold, as pickers; conditions of which one holds, and one that must not hold, stand within them.

use egui::{Margin, Ui};
use pattress_model::calendar::Weekday;
use pattress_model::systems::{Condition, HouseMode, Weekdays};
use pattress_model::units::TimeOfDay;

use super::super::offered::Point;
use super::Desk;
use super::value::{compared, parse_figure, usual_comparison};
use crate::window::widgets::lines;

/// Conditions may lie this deep within each other; deeper is more than anybody reads.
const DEEPEST: usize = 7;

/// Something that must hold, at a depth within others.
pub fn condition(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, condition: &mut Condition, depth: usize) {
    ui.horizontal_wrapped(|ui| {
        let offered = conditions_offered(desk, Some(condition), depth);
        let shown = words(condition);
        if let Some(other) = lines::choice(ui, salt.with("form"), "Condition", shown, 160.0, &offered) {
            *condition = other;
        }
        fields(ui, desk, salt, condition);
    });
    let margin = Margin { left: 24, right: 0, top: 2, bottom: 2 };
    egui::Frame::NONE.inner_margin(margin).show(ui, |ui| match condition {
        Condition::Not(inner) => self::condition(ui, desk, salt.with("not"), inner, depth + 1),
        Condition::OneOf(inner) => one_of(ui, desk, salt, inner, depth + 1),
        _ => {}
    });
}

fn one_of(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, inner: &mut Vec<Condition>, depth: usize) {
    let mut removed = None;
    for (index, each) in inner.iter_mut().enumerate() {
        condition(ui, desk, salt.with(("either", index)), each, depth);
        if lines::small_button(ui, "Remove", &format!("Remove alternative {}", index + 1)).clicked() {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        inner.remove(index);
    }
    let offered = conditions_offered(desk, None, depth);
    let words = "Add an alternative";
    inner.extend(lines::choice(ui, salt.with("add either"), words, words, 150.0, &offered));
}

fn fields(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, condition: &mut Condition) {
    match condition {
        Condition::Point { point, comparison, value } => compared(ui, desk, salt, point, comparison, value),
        Condition::AnyOf(zone) | Condition::AllOf(zone) => {
            let now = desk.project.zones.get(*zone).map(|zone| zone.name.as_str());
            if let Some(other) = desk.one_of(ui, "Zone", "Zone", now, Desk::zones_offered) {
                *zone = other;
            }
        }
        Condition::Between(from, to) => {
            desk.time(ui, salt.with("from"), "From", from);
            desk.say(ui, "and");
            desk.time(ui, salt.with("to"), "To", to);
        }
        Condition::SunHigher { degrees } | Condition::SunLower { degrees } => {
            degrees_field(ui, desk, salt.with("height"), "Height of the sun", -90.0, 90.0, degrees);
            desk.say(ui, "° above the horizon");
        }
        Condition::SunBetween { from_degrees, to_degrees } => {
            degrees_field(ui, desk, salt.with("from"), "Bearing from", 0.0, 360.0, from_degrees);
            desk.say(ui, "° and");
            degrees_field(ui, desk, salt.with("to"), "Bearing to", 0.0, 360.0, to_degrees);
            desk.say(ui, "° clockwise from north");
        }
        Condition::Weekdays(days) => {
            for day in Weekday::ALL {
                let mut is_in = days.contains(day);
                let short: String = day.name().chars().take(3).collect();
                let response = ui.checkbox(&mut is_in, short);
                response.widget_info(|| {
                    egui::WidgetInfo::selected(egui::Role::CheckBox, true, days.contains(day), day.name())
                });
                if is_in != days.contains(day) {
                    *days = days.with(day, is_in);
                }
            }
        }
        Condition::Mode(mode) => desk.mode(ui, salt.with("mode"), "House mode", mode),
        Condition::Dark | Condition::Daylight | Condition::Not(_) | Condition::OneOf(_) => {}
    }
}

fn degrees_field(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    salt: egui::Id,
    name: &str,
    least: f64,
    most: f64,
    degrees: &mut f64,
) {
    let parse = |typed: &str| {
        let read = parse_figure(typed)?;
        let fits = (least..=most).contains(&read);
        fits.then_some(read).ok_or_else(|| format!("“{}” is not between {least}° and {most}°", typed.trim()))
    };
    if let Some(read) = desk.read(ui, salt, name, &degrees.to_string(), 52.0, parse) {
        *degrees = read;
    }
}

/// The conditions that can be picked on this plan, each as it starts; what is there already goes into those that
/// hold others.
pub fn conditions_offered(
    desk: &Desk<'_>,
    now: Option<&Condition>,
    depth: usize,
) -> Vec<(Condition, String)> {
    let mut offered = Vec::new();
    if let Some(point) = desk.first(Point::has_value) {
        let (comparison, value) = usual_comparison(point.spec.point_type);
        offered.push(Condition::Point { point: point.point.clone(), comparison, value });
    }
    if let Some(zone) = desk.project.zones.ids().next() {
        offered.extend([Condition::AnyOf(zone), Condition::AllOf(zone)]);
    }
    offered.extend([
        Condition::Dark,
        Condition::Daylight,
        Condition::Between(TimeOfDay { minutes: 22 * 60 }, TimeOfDay { minutes: 6 * 60 }),
        Condition::Weekdays(Weekdays::WORKING),
        Condition::Mode(HouseMode::AtHome),
        Condition::SunHigher { degrees: 10.0 },
        Condition::SunLower { degrees: 10.0 },
        Condition::SunBetween { from_degrees: 90.0, to_degrees: 270.0 },
    ]);
    if depth < DEEPEST {
        let inner = now.cloned().unwrap_or(Condition::Dark);
        offered.push(match &inner {
            Condition::Not(already) => Condition::OneOf(vec![already.as_ref().clone()]),
            _ => Condition::Not(Box::new(inner.clone())),
        });
        offered.push(Condition::OneOf(vec![inner]));
    }
    let said = |condition| {
        let words = words(&condition).to_owned();
        (condition, words)
    };
    offered.into_iter().map(said).collect()
}

const fn words(condition: &Condition) -> &'static str {
    match condition {
        Condition::Point { .. } => "something is so",
        Condition::AnyOf(_) => "any of a zone is on",
        Condition::AllOf(_) => "all of a zone is on",
        Condition::Between(..) => "it is between",
        Condition::Dark => "it is dark outside",
        Condition::Daylight => "it is light outside",
        Condition::SunHigher { .. } => "the sun is higher than",
        Condition::SunLower { .. } => "the sun is lower than",
        Condition::SunBetween { .. } => "the sun is between",
        Condition::Weekdays(_) => "it is one of these days",
        Condition::Mode(_) => "the house is in a mode",
        Condition::Not(_) => "it is not so that",
        Condition::OneOf(_) => "one of these holds",
    }
}
