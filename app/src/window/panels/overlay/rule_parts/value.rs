//! Values as pickers, and values, comparisons and deeds made to fit what they are of.

use egui::Ui;
use pattress_model::kit::PointType;
use pattress_model::project::Project;
use pattress_model::systems::{Comparison, Deed, PointRef, Target, Value};

use super::super::offered::{Offered, Point, unit_of};
use super::Desk;
use crate::window::widgets::lines;

/// A warm white, sRGB.
const WARM: [u8; 3] = [255, 214, 170];

/// The value a target of that type starts at.
pub fn usual_value(point_type: PointType) -> Value {
    match point_type {
        PointType::Event | PointType::State => Value::On,
        PointType::Number => Value::Number(100.0),
        PointType::Colour => Value::Colour(WARM),
    }
}

/// How a point of that type is compared at first.
pub fn usual_comparison(point_type: PointType) -> (Comparison, Value) {
    match point_type {
        PointType::Number => (Comparison::Above, Value::Number(50.0)),
        other => (Comparison::Is, usual_value(other)),
    }
}

/// Makes a comparison one that the other point can be put to.
pub fn fit_comparison(
    offered: &Offered,
    was: &PointRef,
    is: &PointRef,
    comparison: &mut Comparison,
    value: &mut Value,
) {
    let type_of = |point| offered.get(point).map_or(PointType::State, |found| found.spec.point_type);
    let (was, is) = (type_of(was), type_of(is));
    if was != is {
        (*comparison, *value) = usual_comparison(is);
    }
}

/// Makes a value one that the other target can take.
pub fn fit_value(project: &Project, offered: &Offered, was: &Target, is: &Target, value: &mut Value) {
    let (was, is) = (offered.type_of(project, was), offered.type_of(project, is));
    if was != is {
        *value = usual_value(is);
    }
}

/// Makes a deed one that can be done to the other target.
pub fn fit_deed(project: &Project, offered: &Offered, was: Option<&Target>, is: &Target, deed: &mut Deed) {
    let was = was.map(|target| offered.type_of(project, target));
    let is = offered.type_of(project, is);
    let of_another_type = was.is_some_and(|was| was != is) && matches!(deed, Deed::Set(_) | Deed::Cycle(_));
    if of_another_type || !suits(deed, is) {
        *deed = Deed::Set(usual_value(is));
    }
}

/// Whether a deed can be done to a target of that type.
pub fn suits(deed: &Deed, point_type: PointType) -> bool {
    match deed {
        Deed::Toggle => matches!(point_type, PointType::State | PointType::Number),
        Deed::Step(_) => point_type == PointType::Number,
        Deed::Cycle(_) => point_type != PointType::Event,
        _ => true,
    }
}

/// The unit in which a target takes figures.
pub fn target_unit(desk: &Desk<'_>, target: Option<&Target>) -> &'static str {
    match target {
        Some(Target::Point(point)) => unit_of(&point.point),
        Some(Target::Zone(zone)) => {
            let zone = desk.project.zones.get(*zone);
            zone.and_then(|zone| zone.points.first()).map_or("", |point| unit_of(&point.point))
        }
        None => "",
    }
}

/// A point, how it is compared, and with what.
pub fn compared(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    salt: egui::Id,
    point: &mut PointRef,
    comparison: &mut Comparison,
    value: &mut Value,
) {
    if let Some(other) = desk.point(ui, "Of what", point, Point::has_value) {
        fit_comparison(desk.offered, point, &other, comparison, value);
        *point = other;
    }
    let point_type = desk.offered.get(point).map_or(PointType::State, |found| found.spec.point_type);
    let suited: &[Comparison] = match point_type {
        PointType::Number => &Comparison::ALL,
        _ => &[Comparison::Is, Comparison::IsNot],
    };
    let offered: Vec<_> = suited.iter().map(|each| (*each, each.phrase().to_owned())).collect();
    let picked = lines::choice(ui, salt.with("compare"), "Compared", comparison.phrase(), 84.0, &offered);
    if let Some(other) = picked {
        *comparison = other;
    }
    value_field(ui, desk, salt.with("value"), point_type, unit_of(&point.point), value);
}

/// A value of a type. Figures may also be set to on and off, which dimmers and blinds take too.
pub fn value_field(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    salt: egui::Id,
    point_type: PointType,
    unit: &str,
    value: &mut Value,
) {
    let words = |value: Value| match value {
        Value::On => "on",
        Value::Off => "off",
        Value::Number(_) => "a figure",
        Value::Colour(_) => "a colour",
    };
    let forms: &[Value] = match point_type {
        PointType::State | PointType::Event => &[Value::On, Value::Off],
        PointType::Number => &[Value::Number(50.0), Value::On, Value::Off],
        PointType::Colour => &[Value::Colour(WARM), Value::On, Value::Off],
    };
    let offered: Vec<_> = forms.iter().map(|each| (*each, words(*each).to_owned())).collect();
    if let Some(other) = lines::choice(ui, salt, "Value", words(*value), 76.0, &offered) {
        *value = other;
    }
    match value {
        Value::Number(figure) => {
            if let Some(read) =
                desk.read(ui, salt.with("figure"), "Figure", &figure.to_string(), 52.0, parse_figure)
            {
                *figure = read;
            }
            if !unit.is_empty() {
                desk.say(ui, unit);
            }
        }
        Value::Colour(colour) => {
            let [red, green, blue] = *colour;
            let shown = format!("#{red:02x}{green:02x}{blue:02x}");
            if let Some(read) = desk.read(ui, salt.with("colour"), "Colour", &shown, 72.0, parse_colour) {
                *colour = read;
            }
        }
        Value::On | Value::Off => {}
    }
}

/// A figure with or without its sign of percent or degrees.
pub fn parse_figure(typed: &str) -> Result<f64, String> {
    let figure = typed.trim().trim_end_matches(['%', '°']).trim().replace(',', ".").parse::<f64>();
    let sound = figure.ok().filter(|figure| figure.is_finite());
    sound.ok_or_else(|| format!("“{}” is not a figure: type one such as 40", typed.trim()))
}

fn parse_colour(typed: &str) -> Result<[u8; 3], String> {
    let refusal = || format!("“{}” is not a colour: type six figures such as #ffd6aa", typed.trim());
    let digits = typed.trim().trim_start_matches('#');
    if digits.len() != 6 || !digits.is_ascii() {
        return Err(refusal());
    }
    let part = |from: usize| u8::from_str_radix(&digits[from..from + 2], 16).map_err(|_| refusal());
    Ok([part(0)?, part(2)?, part(4)?])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_or_refused() {
        assert_eq!(parse_colour(" #ffD6aa "), Ok([255, 214, 170]));
        assert_eq!(parse_colour("000000"), Ok([0, 0, 0]));
        for typed in ["", "#fff", "red", "#gg0000", "ééé"] {
            let refusal = parse_colour(typed).unwrap_err();
            assert!(refusal.contains(typed.trim()), "{refusal}");
        }
    }

    #[test]
    fn figures_are_read_with_or_without_their_sign() {
        for (typed, figure) in [("40", 40.0), (" 12,5 % ", 12.5), ("-6°", -6.0)] {
            assert_eq!(parse_figure(typed), Ok(figure));
        }
        for typed in ["", "forty", "inf", "NaN"] {
            assert!(parse_figure(typed).is_err(), "{typed}");
        }
    }
}
