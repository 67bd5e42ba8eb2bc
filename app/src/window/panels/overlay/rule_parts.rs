//! The parts of a rule as pickers: trigger, condition, action, setting. Each shows what is there and offers
//! only what fits: points that exist, values of the point's own type, comparisons that suit it.

use egui::{RichText, Ui};
use pattress_model::kit::PointType;
use pattress_model::project::Project;
use pattress_model::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Setting, SunEvent, Target, Trigger, Value,
};
use pattress_model::units::{Seconds, TimeOfDay};

use super::offered::{Offered, Point, unit_of};
use super::picker::{Choice, pick};
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

/// What the parts read, and where their refusals go.
pub struct Desk<'a> {
    /// The plan.
    pub project: &'a Project,
    /// What can be picked.
    pub offered: &'a Offered,
    /// Colours.
    pub theme: &'a Theme,
    /// Sentences that say what could not be read.
    pub refusals: Vec<String>,
}

impl Desk<'_> {
    fn say(&self, ui: &mut Ui, words: &str) {
        ui.label(RichText::new(words).color(self.theme.quiet));
    }

    /// A picker of points that fit.
    fn point(&self, ui: &mut Ui, name: &str, shown: &PointRef, fits: fn(&Point) -> bool) -> Option<PointRef> {
        pick(ui, self.theme, name, &self.offered.words(shown), || {
            let fitting = self.offered.points().iter().filter(|point| fits(point));
            fitting
                .map(|point| Choice {
                    group: point.room_words.clone(),
                    words: point.words.clone(),
                    value: point.point.clone(),
                })
                .collect()
        })
    }

    /// A picker of zones and of points that obey.
    fn target(&self, ui: &mut Ui, name: &str, shown: &str) -> Option<Target> {
        pick(ui, self.theme, name, shown, || {
            let zones = self.project.zones.iter().map(|(id, zone)| Choice {
                group: "Zone".to_owned(),
                words: zone.name.clone(),
                value: Target::Zone(id),
            });
            let points = self.offered.points().iter().filter(|point| point.obeys()).map(|point| Choice {
                group: point.room_words.clone(),
                words: point.words.clone(),
                value: Target::Point(point.point.clone()),
            });
            zones.chain(points).collect()
        })
    }

    /// A field that is read in its own way; what can't be read is refused with a sentence.
    fn read<T>(
        &mut self,
        ui: &mut Ui,
        salt: egui::Id,
        name: &str,
        value: &str,
        width: f32,
        parse: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        let (_, typed) = text_field(ui, salt, name, value, width);
        match parse(&typed?) {
            Ok(read) => Some(read),
            Err(sentence) => {
                self.refusals.push(sentence);
                None
            }
        }
    }

    /// A span of time.
    pub fn seconds(&mut self, ui: &mut Ui, salt: egui::Id, name: &str, value: &mut Seconds) {
        if let Some(read) = self.read(ui, salt, name, &value.to_string(), 64.0, Seconds::parse) {
            *value = read;
        }
    }

    fn time(&mut self, ui: &mut Ui, salt: egui::Id, name: &str, value: &mut TimeOfDay) {
        if let Some(read) = self.read(ui, salt, name, &value.to_string(), 52.0, TimeOfDay::parse) {
            *value = read;
        }
    }

    fn first(&self, fits: fn(&Point) -> bool) -> Option<&Point> {
        self.offered.points().iter().find(|point| fits(point))
    }
}

/// What starts a rule.
pub fn trigger(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, trigger: &mut Trigger) {
    ui.horizontal_wrapped(|ui| {
        let mut offered = vec![
            (Trigger::Time(TimeOfDay { minutes: 7 * 60 }), "a time comes".to_owned()),
            (Trigger::Sun { event: SunEvent::Set, offset_minutes: 0 }, "the sun rises or sets".to_owned()),
        ];
        if let Some(point) = desk.first(Point::has_value) {
            let (comparison, value) = usual_comparison(point.spec.point_type);
            let becomes = Trigger::Becomes { point: point.point.clone(), comparison, value };
            offered.insert(0, (becomes, "something becomes".to_owned()));
        }
        if let Some(point) = desk.first(Point::is_event) {
            let event = Trigger::Event { point: point.point.clone(), gesture: gestures(&point.point)[0] };
            offered.insert(0, (event, "something happens".to_owned()));
        }
        let shown = match trigger {
            Trigger::Event { .. } => "something happens",
            Trigger::Becomes { .. } => "something becomes",
            Trigger::Time(_) => "a time comes",
            Trigger::Sun { .. } => "the sun rises or sets",
            Trigger::ModeEntered(_) => "the house mode changes",
            Trigger::Stays { .. } => "something stays so",
        };
        if let Some(other) = lines::choice(ui, salt.with("form"), "When", shown, 150.0, &offered) {
            *trigger = other;
        }
        match trigger {
            Trigger::Event { point, gesture } => {
                if let Some(other) = desk.point(ui, "What happens", point, Point::is_event) {
                    if !gestures(&other).contains(gesture) {
                        *gesture = gestures(&other)[0];
                    }
                    *point = other;
                }
                let offered: Vec<_> =
                    gestures(point).iter().map(|each| (*each, each.phrase().to_owned())).collect();
                let picked =
                    lines::choice(ui, salt.with("gesture"), "How", gesture.phrase(), 140.0, &offered);
                if let Some(other) = picked {
                    *gesture = other;
                }
            }
            Trigger::Becomes { point, comparison, value } => {
                compared(ui, desk, salt, point, comparison, value);
            }
            Trigger::Time(time) => desk.time(ui, salt.with("time"), "Time of day", time),
            Trigger::Sun { event, offset_minutes } => sun(ui, desk, salt, event, offset_minutes),
            Trigger::Stays { lasting, .. } => {
                desk.say(ui, "for");
                desk.seconds(ui, salt.with("lasting"), "Lasting", lasting);
            }
            Trigger::ModeEntered(_) => {}
        }
    });
}

fn sun(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, event: &mut SunEvent, offset_minutes: &mut i16) {
    let words = |event: SunEvent| match event {
        SunEvent::Rise => "sunrise".to_owned(),
        SunEvent::Set => "sunset".to_owned(),
    };
    let offered = [SunEvent::Rise, SunEvent::Set].map(|each| (each, words(each)));
    if let Some(other) = lines::choice(ui, salt.with("sun"), "Which", &words(*event), 90.0, &offered) {
        *event = other;
    }
    let shown = offset_minutes.to_string();
    let parse = |typed: &str| {
        typed
            .trim()
            .parse::<i16>()
            .map_err(|_| format!("“{}” is not a number of minutes: type 30, or -30 for before", typed.trim()))
    };
    if let Some(read) = desk.read(ui, salt.with("offset"), "Minutes after", &shown, 48.0, parse) {
        *offset_minutes = read;
    }
    desk.say(ui, "min after (below zero: before)");
}

/// Something that must hold.
pub fn condition(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, condition: &mut Condition) {
    let offered = conditions_offered(desk);
    if let Some(other) =
        lines::choice(ui, salt.with("form"), "Condition", condition_words(condition), 150.0, &offered)
    {
        *condition = other;
    }
    match condition {
        Condition::Point { point, comparison, value } => compared(ui, desk, salt, point, comparison, value),
        Condition::AnyOf(zone) | Condition::AllOf(zone) => {
            let shown = desk.project.zones.get(*zone).map_or("(missing)", |zone| zone.name.as_str());
            let offered: Vec<_> =
                desk.project.zones.iter().map(|(id, zone)| (id, zone.name.clone())).collect();
            if let Some(other) = lines::choice(ui, salt.with("zone"), "Zone", shown, 150.0, &offered) {
                *zone = other;
            }
        }
        Condition::Between(from, to) => {
            desk.time(ui, salt.with("from"), "From", from);
            desk.say(ui, "and");
            desk.time(ui, salt.with("to"), "To", to);
        }
        _ => {}
    }
}

/// The conditions that can be picked on this plan, each as it starts.
pub fn conditions_offered(desk: &Desk<'_>) -> Vec<(Condition, String)> {
    let mut offered = vec![
        Condition::Dark,
        Condition::Daylight,
        Condition::Between(TimeOfDay { minutes: 22 * 60 }, TimeOfDay { minutes: 6 * 60 }),
    ];
    if let Some((zone, _)) = desk.project.zones.iter().next() {
        offered.insert(0, Condition::AnyOf(zone));
    }
    if let Some(point) = desk.first(Point::has_value) {
        let (comparison, value) = usual_comparison(point.spec.point_type);
        offered.insert(0, Condition::Point { point: point.point.clone(), comparison, value });
    }
    offered
        .into_iter()
        .map(|condition| {
            let words = condition_words(&condition).to_owned();
            (condition, words)
        })
        .collect()
}

fn condition_words(condition: &Condition) -> &'static str {
    match condition {
        Condition::Point { .. } => "something is so",
        Condition::AnyOf(_) => "any of a zone is on",
        Condition::AllOf(_) => "all of a zone is on",
        Condition::Between(..) => "it is between",
        Condition::Dark => "it is dark outside",
        Condition::Daylight => "it is light outside",
        Condition::SunHigher { .. } | Condition::SunLower { .. } => "the sun is so high",
        Condition::SunBetween { .. } => "the sun stands between",
        Condition::Weekdays(_) => "it is one of these days",
        Condition::Mode(_) => "the house is in a mode",
        Condition::Not(_) => "it is not so that",
        Condition::OneOf(_) => "one of these holds",
    }
}

/// A point, how it is compared, and with what.
fn compared(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    salt: egui::Id,
    point: &mut PointRef,
    comparison: &mut Comparison,
    value: &mut Value,
) {
    if let Some(other) = desk.point(ui, "Of what", point, Point::has_value) {
        let type_of = |desk: &Desk<'_>, point: &PointRef| {
            desk.offered.get(point).map_or(PointType::State, |found| found.spec.point_type)
        };
        let (was, is) = (type_of(desk, point), type_of(desk, &other));
        if was != is {
            (*comparison, *value) = usual_comparison(is);
        }
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

/// One thing that a rule does.
pub fn action(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, action: &mut Action) {
    let shown = action
        .target
        .as_ref()
        .map_or_else(|| "pick what".to_owned(), |target| desk.offered.target_words(desk.project, target));
    let point_type = action.target.as_ref().map(|target| desk.offered.type_of(desk.project, target));
    let picked =
        lines::choice(ui, salt.with("deed"), "Deed", deed_words(&action.deed), 120.0, &deeds(point_type));
    if let Some(deed) = picked {
        if !deed.has_target() {
            action.target = None;
        }
        action.deed = deed;
    }
    if let Deed::Notify { text, .. } = &mut action.deed {
        let width = (ui.available_width() - 8.0).clamp(120.0, 300.0);
        if let (_, Some(typed)) = text_field(ui, salt.with("message"), "Message", text, width) {
            *text = typed;
        }
    } else if action.deed.has_target() {
        if let Some(target) = desk.target(ui, "On what", &shown) {
            let is = desk.offered.type_of(desk.project, &target);
            if point_type.is_some_and(|was| was != is) || !suits(&action.deed, is) {
                action.deed = Deed::Set(usual_value(is));
            }
            action.target = Some(target);
        }
        let is = action
            .target
            .as_ref()
            .map_or(PointType::State, |target| desk.offered.type_of(desk.project, target));
        match &mut action.deed {
            Deed::Set(value) => {
                desk.say(ui, "to");
                value_field(ui, desk, salt.with("value"), is, target_unit(desk, &action.target), value);
            }
            Deed::Step(percent) => {
                desk.say(ui, "by");
                let parse = |typed: &str| {
                    let figure = typed.trim().trim_end_matches('%').trim().parse::<i8>().ok();
                    figure.filter(|figure| (-100..=100).contains(figure) && *figure != 0).ok_or_else(|| {
                        format!("“{}” is not a step: type 10 to raise, -10 to lower", typed.trim())
                    })
                };
                let now = percent.to_string();
                if let Some(read) = desk.read(ui, salt.with("step"), "Step", &now, 48.0, parse) {
                    *percent = read;
                }
                desk.say(ui, "%");
            }
            _ => {}
        }
    }
    desk.say(ui, "after");
    desk.seconds(ui, salt.with("after"), "After", &mut action.after);
    if matches!(action.deed, Deed::Set(_) | Deed::Step(_)) {
        desk.say(ui, "over");
        desk.seconds(ui, salt.with("fade"), "Spread over", &mut action.fade);
    }
}

/// What a rule holds at what.
pub fn setting(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, setting: &mut Setting) {
    desk.say(ui, "hold");
    let shown = desk.offered.target_words(desk.project, &setting.target);
    if let Some(target) = desk.target(ui, "What is held", &shown) {
        let (was, is) = (
            desk.offered.type_of(desk.project, &setting.target),
            desk.offered.type_of(desk.project, &target),
        );
        if was != is {
            setting.value = usual_value(is);
        }
        setting.target = target;
    }
    desk.say(ui, "at");
    let is = desk.offered.type_of(desk.project, &setting.target);
    let unit = target_unit(desk, &Some(setting.target.clone()));
    value_field(ui, desk, salt.with("value"), is, unit, &mut setting.value);
    desk.say(ui, "over");
    desk.seconds(ui, salt.with("fade"), "Spread over", &mut setting.fade);
}

fn target_unit(desk: &Desk<'_>, target: &Option<Target>) -> &'static str {
    match target {
        Some(Target::Point(point)) => unit_of(&point.point),
        Some(Target::Zone(zone)) => desk
            .project
            .zones
            .get(*zone)
            .and_then(|zone| zone.points.first())
            .map_or("", |point| unit_of(&point.point)),
        None => "",
    }
}

/// A value of a type. Figures may also be set to on and off, which dimmers and blinds take too.
fn value_field(
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
        PointType::Colour => &[Value::Colour([255, 214, 170]), Value::On, Value::Off],
    };
    let offered: Vec<_> = forms.iter().map(|each| (*each, words(*each).to_owned())).collect();
    if let Some(other) = lines::choice(ui, salt, "Value", words(*value), 76.0, &offered) {
        *value = other;
    }
    match value {
        Value::Number(figure) => {
            let parse = |typed: &str| {
                let figure = typed.trim().trim_end_matches('%').trim().replace(',', ".").parse::<f64>();
                figure
                    .ok()
                    .filter(|figure| figure.is_finite())
                    .ok_or_else(|| format!("“{}” is not a figure: type one such as 40", typed.trim()))
            };
            let shown = figure.to_string();
            if let Some(read) = desk.read(ui, salt.with("figure"), "Figure", &shown, 52.0, parse) {
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

fn parse_colour(typed: &str) -> Result<[u8; 3], String> {
    let refusal = || format!("“{}” is not a colour: type six figures such as #ffd6aa", typed.trim());
    let digits = typed.trim().trim_start_matches('#');
    if digits.len() != 6 || !digits.is_ascii() {
        return Err(refusal());
    }
    let part = |from: usize| u8::from_str_radix(&digits[from..from + 2], 16).map_err(|_| refusal());
    Ok([part(0)?, part(2)?, part(4)?])
}

/// What can be done to a key, or what an event tells.
fn gestures(point: &PointRef) -> &'static [Gesture] {
    if point.point.starts_with("key") { &Gesture::ALL[1..] } else { &Gesture::ALL[..1] }
}

fn usual_comparison(point_type: PointType) -> (Comparison, Value) {
    match point_type {
        PointType::Number => (Comparison::Above, Value::Number(50.0)),
        other => (Comparison::Is, usual_value(other)),
    }
}

/// The value a target of that type starts at.
pub fn usual_value(point_type: PointType) -> Value {
    match point_type {
        PointType::Event | PointType::State => Value::On,
        PointType::Number => Value::Number(100.0),
        PointType::Colour => Value::Colour([255, 214, 170]),
    }
}

fn deeds(point_type: Option<PointType>) -> Vec<(Deed, String)> {
    let is = point_type.unwrap_or(PointType::Number);
    [Deed::Set(usual_value(is)), Deed::Toggle, Deed::Step(10), Deed::notify("Someone is at the door")]
        .into_iter()
        .filter(|deed| suits(deed, is))
        .map(|deed| {
            let words = deed_words(&deed).to_owned();
            (deed, words)
        })
        .collect()
}

fn suits(deed: &Deed, point_type: PointType) -> bool {
    match deed {
        Deed::Toggle => matches!(point_type, PointType::State | PointType::Number),
        Deed::Step(_) => point_type == PointType::Number,
        _ => true,
    }
}

fn deed_words(deed: &Deed) -> &'static str {
    match deed {
        Deed::Set(_) => "set",
        Deed::Toggle => "switch over",
        Deed::Step(_) => "raise or lower",
        Deed::Notify { .. } => "send a message",
        Deed::Cycle(_) => "give the next value",
        Deed::RunScene(_) => "run a scene",
        Deed::Cancel(_) => "drop what a rule waits to do",
        Deed::EnterMode(_) => "set the house mode",
        Deed::ReleaseHand => "give back to its rules",
    }
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
    fn steps_are_for_figures_only() {
        for (point_type, count) in
            [(PointType::State, 3), (PointType::Number, 4), (PointType::Colour, 2), (PointType::Event, 2)]
        {
            assert_eq!(deeds(Some(point_type)).len(), count, "{point_type:?}");
        }
    }
}
