//! What starts a rule, as pickers.

use egui::Ui;
use pattress_model::kit::PointType;
use pattress_model::systems::{
    Comparison, Condition, Gesture, HouseMode, PointRef, SunEvent, Trigger, Value,
};
use pattress_model::units::{Seconds, TimeOfDay};

use super::super::offered::Point;
use super::value::{compared, usual_comparison};
use super::{Desk, condition, fit_gesture, is_key};
use crate::window::widgets::lines;

/// What starts a rule.
pub fn trigger(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, trigger: &mut Trigger) {
    ui.horizontal_wrapped(|ui| {
        let offered = triggers_offered(desk, trigger);
        let shown = words(trigger);
        if let Some(other) = lines::choice(ui, salt.with("form"), "When", shown, 150.0, &offered) {
            *trigger = other;
        }
        match trigger {
            Trigger::Event { point, gesture } => desk.event(ui, salt, point, gesture),
            Trigger::Becomes { point, comparison, value } => {
                compared(ui, desk, salt, point, comparison, value);
            }
            Trigger::Time(time) => desk.time(ui, salt.with("time"), "Time of day", time),
            Trigger::Sun { event, offset_minutes } => sun(ui, desk, salt, event, offset_minutes),
            Trigger::ModeEntered(mode) => desk.mode(ui, salt.with("mode"), "House mode", mode),
            Trigger::Stays { lasting, .. } => {
                desk.say(ui, "for");
                desk.seconds(ui, salt.with("lasting"), "Lasting", lasting);
                desk.say(ui, "on end:");
            }
        }
    });
    if let Trigger::Stays { condition: inner, .. } = trigger {
        condition(ui, desk, salt.with("stays"), inner, 1);
    }
}

fn words(trigger: &Trigger) -> &'static str {
    match trigger {
        Trigger::Event { .. } => "something happens",
        Trigger::Becomes { .. } => "something becomes",
        Trigger::Stays { .. } => "something stays so",
        Trigger::Time(_) => "a time comes",
        Trigger::Sun { .. } => "the sun rises or sets",
        Trigger::ModeEntered(_) => "a house mode is entered",
    }
}

/// The triggers that can be picked on this plan, each as it starts; of a point it stays with the same.
fn triggers_offered(desk: &Desk<'_>, now: &Trigger) -> Vec<(Trigger, String)> {
    let mut offered = Vec::new();
    if let Some(point) = desk.first(Point::is_event) {
        offered.push(trigger_of(point.point.clone(), PointType::Event));
    }
    let held = match now {
        Trigger::Becomes { point, comparison, value } => {
            Some(Condition::Point { point: point.clone(), comparison: *comparison, value: *value })
        }
        Trigger::Stays { condition, .. } => Some(condition.clone()),
        _ => desk.first(Point::has_value).map(|point| {
            let (comparison, value) = usual_comparison(point.spec.point_type);
            Condition::Point { point: point.point.clone(), comparison, value }
        }),
    };
    if let Some(Condition::Point { point, comparison, value }) = &held {
        offered.push(Trigger::Becomes { point: point.clone(), comparison: *comparison, value: *value });
    }
    let condition = held.unwrap_or(Condition::Dark);
    offered.extend([
        Trigger::Stays { condition, lasting: Seconds(300.0) },
        Trigger::Time(TimeOfDay { minutes: 7 * 60 }),
        Trigger::Sun { event: SunEvent::Set, offset_minutes: 0 },
        Trigger::ModeEntered(HouseMode::AtHome),
    ]);
    let said = |trigger| {
        let words = words(&trigger).to_owned();
        (trigger, words)
    };
    offered.into_iter().map(said).collect()
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

/// The trigger that a point starts as.
pub fn trigger_of(point: PointRef, point_type: PointType) -> Trigger {
    match point_type {
        PointType::Event => {
            let mut gesture = if is_key(&point) { Gesture::Press } else { Gesture::Happens };
            fit_gesture(&point, &mut gesture);
            Trigger::Event { point, gesture }
        }
        PointType::Number => {
            Trigger::Becomes { point, comparison: Comparison::Above, value: Value::Number(50.0) }
        }
        _ => Trigger::Becomes { point, comparison: Comparison::Is, value: Value::On },
    }
}
