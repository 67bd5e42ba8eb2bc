//! The points of a device, each with what a hand can do to it: keys to press, states to switch, figures to set.

use egui::{Align, Button, Layout, RichText, Slider, Ui, vec2};
use pattress_model::id::Id;
use pattress_model::kit::{Device, PointRole, PointSpec, PointType};
use pattress_model::sentence::shown_words;
use pattress_model::studies::rehearsal::{Has, Incoming, PointNumber, Showing};
use pattress_model::systems::{Gesture, PointRef, RuleBody, Trigger, Value};

use crate::window::intent::{Intent, Rehearsing};
use crate::window::rehearsal::LivePlan;
use crate::window::theme::{Theme, medium};
use crate::window::widgets::{lines, text_field};

/// Colours offered at a lamp that has one.
const COLOURS: [([u8; 3], &str); 6] = [
    ([255, 255, 255], "White"),
    ([255, 160, 40], "Amber"),
    ([255, 0, 0], "Red"),
    ([0, 200, 60], "Green"),
    ([0, 60, 255], "Blue"),
    ([150, 0, 255], "Violet"),
];

/// Width of the names.
const NAMES: f32 = 76.0;

/// Shows every point of a device.
pub fn of_device(ui: &mut Ui, live: &LivePlan, id: Id<Device>, theme: &Theme, intents: &mut Vec<Intent>) {
    let project = live.plan();
    let Some(device) = project.devices.get(id) else { return };
    let Some(kind) = project.kinds.get(device.kind) else { return };
    if kind.points.is_empty() {
        lines::caption(ui, theme, "It reports nothing and does nothing by itself.");
    }
    for spec in &kind.points {
        let point = PointRef::new(id, spec.name.as_str());
        let Some(number) = live.book().number(&point) else { continue };
        ui.push_id(&spec.name, |ui| match (spec.point_type, spec.role) {
            (PointType::Event, PointRole::Reports) if spec.name.starts_with("key") => {
                key(ui, live, &point, number, theme, intents);
            }
            (PointType::Event, _) => event(ui, spec, number, intents),
            (PointType::State, _) => switch(ui, live, &point, &spec.name, theme, intents),
            (PointType::Number, _) => figure(ui, live, spec, number, theme, intents),
            (PointType::Colour, _) => colour(ui, live, number, theme, intents),
        });
    }
}

fn comes(what: Incoming) -> Intent {
    Intent::Rehearse(Rehearsing::Do(what))
}

/// A key: pressed once, twice, three times, held, let go; with the names of the rules that listen to it.
fn key(
    ui: &mut Ui,
    live: &LivePlan,
    point: &PointRef,
    number: PointNumber,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let name = &point.point;
    let gestures = [
        (Gesture::Press, "Press", format!("Press {name}")),
        (Gesture::PressTwice, "2×", format!("Press {name} twice")),
        (Gesture::PressThrice, "3×", format!("Press {name} three times")),
        (Gesture::Hold, "Hold", format!("Hold {name}")),
        (Gesture::Release, "Let go", format!("Let {name} go")),
    ];
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.allocate_ui_with_layout(vec2(44.0, 22.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_width(44.0);
            ui.label(RichText::new(name).family(medium()));
        });
        for (gesture, words, full) in gestures {
            let heard = listens(live, point, gesture);
            let response = ui.add(Button::new(RichText::new(words).color(if heard.is_empty() {
                theme.quiet
            } else {
                theme.ink
            })));
            response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &full));
            let tip = if heard.is_empty() {
                format!("{full}: no rule listens.")
            } else {
                format!("{full}: {}.", heard.join(", "))
            };
            if response.on_hover_text(tip).clicked() {
                intents.push(comes(Incoming::Gesture { point: number, gesture }));
            }
        }
    });
    let all: Vec<String> =
        Gesture::ALL.into_iter().flat_map(|gesture| listens(live, point, gesture)).collect();
    if !all.is_empty() {
        lines::caption(ui, theme, all.join(", "));
    }
}

/// The rules that listen to a gesture.
fn listens(live: &LivePlan, at: &PointRef, made: Gesture) -> Vec<String> {
    let rules = live.plan().rules.iter().map(|(_, rule)| rule).filter(|rule| rule.enabled);
    let heard = rules.filter(|rule| match &rule.body {
        RuleBody::When { trigger: Trigger::Event { point, gesture }, .. } => point == at && *gesture == made,
        RuleBody::Wired { key, .. } => key == at && made == Gesture::Press,
        _ => false,
    });
    heard.map(|rule| rule.name.clone()).collect()
}

/// Something that happens: a ring, a code, a release.
fn event(ui: &mut Ui, spec: &PointSpec, number: PointNumber, intents: &mut Vec<Intent>) {
    let mut words = spec.name.clone();
    words[..1].make_ascii_uppercase();
    if ui.add(Button::new(words).min_size(vec2(96.0, 24.0))).clicked() {
        let what = match spec.role {
            PointRole::Reports => Incoming::Gesture { point: number, gesture: Gesture::Happens },
            PointRole::Does => Incoming::Value { point: number, value: Value::On },
        };
        intents.push(comes(what));
    }
}

/// A state, to be switched.
pub fn switch(
    ui: &mut Ui,
    live: &LivePlan,
    point: &PointRef,
    name: &str,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let Some(number) = live.book().number(point) else { return };
    let on = live.run().seen(number).is_on();
    named(ui, name, |ui| {
        let now = shown_words(&point.point, if on { Value::On } else { Value::Off });
        if lines::switch(ui, theme, on, &format!("{name}: {now}")).clicked() {
            let value = if on { Value::Off } else { Value::On };
            intents.push(comes(Incoming::Value { point: number, value }));
        }
        ui.label(now);
        source(ui, live, number, theme);
    });
}

/// A figure: a slider where it is percent, else a field with its unit.
fn figure(
    ui: &mut Ui,
    live: &LivePlan,
    spec: &PointSpec,
    number: PointNumber,
    theme: &Theme,
    intents: &mut Vec<Intent>,
) {
    let (Has::Number(goal), Has::Number(shown)) = (live.run().seen(number), live.run().shown(number)) else {
        return;
    };
    let words = shown_words(&spec.name, Value::Number(goal));
    let percent = words.ends_with('%') || words.ends_with("open") || words == "shut";
    named(ui, &spec.name, |ui| {
        if percent && spec.role == PointRole::Does {
            let mut value = goal;
            ui.spacing_mut().slider_width = 96.0;
            let slider = Slider::new(&mut value, 0.0..=100.0).step_by(1.0).show_value(false);
            let response = ui.add(slider);
            response.widget_info(|| egui::WidgetInfo::slider(true, value, &spec.name));
            if response.changed() {
                intents.push(comes(Incoming::Value { point: number, value: Value::Number(value) }));
            }
        } else {
            let salt = egui::Id::unique(("rehearsal figure", number.0));
            let typed = (goal * 10.0).round() / 10.0;
            if let (_, Some(text)) = text_field(ui, salt, &spec.name, &typed.to_string(), 64.0) {
                intents.push(match text.trim().replace(',', ".").parse::<f64>() {
                    Ok(value) if value.is_finite() => {
                        comes(Incoming::Value { point: number, value: Value::Number(value) })
                    }
                    _ => Intent::Change(Err(format!("“{}” is no figure: type one such as 21", text.trim()))),
                });
            }
        }
        let on_the_way = shown_words(&spec.name, Value::Number(shown));
        ui.label(if on_the_way == words { words } else { format!("{on_the_way} → {words}") });
    });
    if live.run().showing(number) != Showing::Base {
        named(ui, "", |ui| source(ui, live, number, theme));
    }
}

/// A colour, from a few.
fn colour(ui: &mut Ui, live: &LivePlan, number: PointNumber, theme: &Theme, intents: &mut Vec<Intent>) {
    let Has::Colour(now) = live.run().seen(number) else { return };
    named(ui, "colour", |ui| {
        let [red, green, blue] = now;
        let words = pattress_model::sentence::colour_word(now);
        ui.label(format!("{words} #{red:02x}{green:02x}{blue:02x}"));
        source(ui, live, number, theme);
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        for (offered, words) in COLOURS {
            if ui.selectable_label(offered == now, words).clicked() {
                intents.push(comes(Incoming::Value { point: number, value: Value::Colour(offered) }));
            }
        }
    });
}

/// What of a point shows, where that is not simply what it was set to.
fn source(ui: &mut Ui, live: &LivePlan, number: PointNumber, theme: &Theme) {
    let words = match live.run().showing(number) {
        Showing::Base => return,
        Showing::Hand => "by hand".to_owned(),
        Showing::Held(rule) => {
            let name = live.plan().rules.get(rule).map_or("", |rule| rule.name.as_str());
            format!("held by “{name}”")
        }
    };
    lines::caption(ui, theme, words);
}

fn named<R>(ui: &mut Ui, name: &str, content: impl FnOnce(&mut Ui) -> R) -> R {
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(vec2(NAMES, 22.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_width(NAMES);
            let quiet = ui.visuals().weak_text_color();
            ui.add(egui::Label::new(RichText::new(name).color(quiet)).truncate());
        });
        content(ui)
    })
    .inner
}
