//! What a rule does, as pickers: the deed, on what, after which wait, over which time, and whether by hand.

use egui::Ui;
use pattress_model::kit::PointType;
use pattress_model::systems::{Action, Condition, Deed, Gesture, HouseMode, PointRef, Target, Until, Value};
use pattress_model::units::{Seconds, TimeOfDay};

use super::super::offered::Point;
use super::value::{fit_deed, suits, target_unit, usual_value, value_field};
use super::{Desk, condition};
use crate::window::widgets::{lines, text_field};

/// An action to begin with; `None` where nothing on the plan obeys.
pub fn first_action(desk: &mut Desk<'_>) -> Option<Action> {
    let target = desk.first_target()?;
    let is = desk.offered.type_of(desk.project, &target);
    Some(Action::new(Some(target), Deed::Set(usual_value(is))))
}

/// A message to begin with.
pub fn message() -> Action {
    Action::new(None, Deed::notify(""))
}

/// One thing that a rule does.
pub fn action(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, action: &mut Action) {
    let point_type = action.target.as_ref().map(|target| desk.offered.type_of(desk.project, target));
    ui.horizontal_wrapped(|ui| {
        let offered = deeds(desk, point_type);
        let shown = words(&action.deed);
        if let Some(deed) = lines::choice(ui, salt.with("deed"), "Deed", shown, 140.0, &offered) {
            if !deed.has_target() {
                action.target = None;
            } else if action.target.is_none() && !matches!(deed, Deed::ReleaseHand) {
                action.target = desk.first_target();
            }
            action.deed = deed;
        }
        plain_deed(ui, desk, salt, &mut action.deed);
        if action.deed.has_target() {
            on_target(ui, desk, salt, action);
        }
    });
    ui.horizontal_wrapped(|ui| {
        desk.say(ui, "after");
        desk.seconds(ui, salt.with("after"), "After", &mut action.after);
        if matches!(
            action.deed,
            Deed::Set(_) | Deed::Step(_) | Deed::Cycle(_) | Deed::Toggle | Deed::RunScene(_)
        ) {
            desk.say(ui, "over");
            desk.seconds(ui, salt.with("fade"), "Spread over", &mut action.fade);
        }
    });
    if matches!(action.deed, Deed::Set(_) | Deed::Step(_) | Deed::Cycle(_) | Deed::Toggle | Deed::RunScene(_))
        || action.by_hand.is_some()
    {
        by_hand(ui, desk, salt.with("hand"), &mut action.by_hand);
    }
}

/// What a deed names that is no target.
fn plain_deed(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, deed: &mut Deed) {
    match deed {
        Deed::Notify { text, picture } => {
            let width = (ui.available_width() - 8.0).clamp(120.0, 300.0);
            if let (_, Some(typed)) = text_field(ui, salt.with("message"), "Message", text, width) {
                *text = typed;
            }
            let mut offered = vec![(None, "no picture".to_owned())];
            let cameras = desk.cameras_offered().into_iter();
            offered.extend(cameras.map(|(id, words)| (Some(id), format!("with a picture from {words}"))));
            let now = offered.iter().find(|(camera, _)| camera == picture);
            let shown = now.map_or("no picture", |(_, words)| words).to_owned();
            if let Some(other) = lines::choice(ui, salt.with("picture"), "Picture", &shown, 180.0, &offered) {
                *picture = other;
            }
        }
        Deed::RunScene(scene) => {
            let now = desk.project.scenes.get(*scene).map(|scene| scene.name.as_str());
            if let Some(other) = desk.one_of(ui, "Which scene", "Scene", now, Desk::scenes_offered) {
                *scene = other;
            }
        }
        Deed::Cancel(rule) => {
            let now = desk.project.rules.get(*rule).map(|rule| rule.name.as_str());
            if let Some(other) = desk.one_of(ui, "Which rule", "Rule", now, Desk::rules_offered) {
                *rule = other;
            }
        }
        Deed::EnterMode(mode) => desk.mode(ui, salt.with("mode"), "House mode", mode),
        Deed::Set(_) | Deed::Toggle | Deed::Step(_) | Deed::Cycle(_) | Deed::ReleaseHand => {}
    }
}

fn on_target(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, action: &mut Action) {
    let shown = match &action.target {
        Some(target) => desk.offered.target_words(desk.project, target),
        None if matches!(action.deed, Deed::ReleaseHand) => "everything".to_owned(),
        None => "pick what".to_owned(),
    };
    if let Some(target) = desk.target(ui, "On what", &shown) {
        fit_deed(desk.project, desk.offered, action.target.as_ref(), &target, &mut action.deed);
        action.target = Some(target);
    }
    if matches!(action.deed, Deed::ReleaseHand)
        && action.target.is_some()
        && ui.button("Everything instead").clicked()
    {
        action.target = None;
    }
    let is = action.target.as_ref();
    let is = is.map_or(PointType::State, |target| desk.offered.type_of(desk.project, target));
    let unit = target_unit(desk, action.target.as_ref());
    match &mut action.deed {
        Deed::Set(value) => {
            desk.say(ui, "to");
            value_field(ui, desk, salt.with("value"), is, unit, value);
        }
        Deed::Step(percent) => step(ui, desk, salt, percent),
        Deed::Cycle(values) => cycle(ui, desk, salt, is, unit, values),
        _ => {}
    }
}

fn step(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, percent: &mut i8) {
    desk.say(ui, "by");
    let parse = |typed: &str| {
        let figure = typed.trim().trim_end_matches('%').trim().parse::<i8>().ok();
        figure
            .filter(|figure| (-100..=100).contains(figure) && *figure != 0)
            .ok_or_else(|| format!("“{}” is not a step: type 10 to raise, -10 to lower", typed.trim()))
    };
    let now = percent.to_string();
    if let Some(read) = desk.read(ui, salt.with("step"), "Step", &now, 48.0, parse) {
        *percent = read;
    }
    desk.say(ui, "%");
}

fn cycle(
    ui: &mut Ui,
    desk: &mut Desk<'_>,
    salt: egui::Id,
    is: PointType,
    unit: &str,
    values: &mut Vec<Value>,
) {
    desk.say(ui, "one after the other:");
    let mut removed = None;
    for (index, value) in values.iter_mut().enumerate() {
        value_field(ui, desk, salt.with(("cycle", index)), is, unit, value);
        if lines::small_button(ui, "×", &format!("Remove value {}", index + 1)).clicked() {
            removed = Some(index);
        }
    }
    if let Some(index) = removed {
        values.remove(index);
    }
    if lines::small_button(ui, "Add a value", "Add a value").clicked() {
        values.push(usual_value(is));
    }
}

/// Whether it goes over what rules hold, and until when.
fn by_hand(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, until: &mut Option<Until>) {
    ui.horizontal_wrapped(|ui| {
        let offered = untils_offered(desk);
        let shown = until_words(until.as_ref());
        if let Some(other) = lines::choice(ui, salt, "By hand", shown, 250.0, &offered) {
            *until = other;
        }
        match until {
            None | Some(Until::Released) => {}
            Some(Until::For(time)) => desk.seconds(ui, salt.with("for"), "By hand for", time),
            Some(Until::Time(time)) => desk.time(ui, salt.with("time"), "By hand until", time),
            Some(Until::Holds { lasting, .. }) => {
                desk.say(ui, "for");
                desk.seconds(ui, salt.with("lasting"), "Lasting", lasting);
                desk.say(ui, "on end:");
            }
            Some(Until::Event { point, gesture }) => desk.event(ui, salt.with("event"), point, gesture),
        }
    });
    if let Some(Until::Holds { condition: inner, .. }) = until {
        condition(ui, desk, salt.with("holds"), inner, 1);
    }
}

fn untils_offered(desk: &Desk<'_>) -> Vec<(Option<Until>, String)> {
    let mut offered = vec![
        None,
        Some(Until::Released),
        Some(Until::For(Seconds(2.0 * 3600.0))),
        Some(Until::Time(TimeOfDay { minutes: 6 * 60 })),
        Some(Until::Holds { condition: Condition::Daylight, lasting: Seconds(600.0) }),
    ];
    if let Some(point) = desk.first(Point::is_event) {
        let mut gesture = Gesture::Press;
        super::fit_gesture(&point.point, &mut gesture);
        offered.push(Some(Until::Event { point: point.point.clone(), gesture }));
    }
    let said = |until: Option<Until>| {
        let words = until_words(until.as_ref()).to_owned();
        (until, words)
    };
    offered.into_iter().map(said).collect()
}

const fn until_words(until: Option<&Until>) -> &'static str {
    match until {
        None => "beneath what rules hold",
        Some(Until::Released) => "by hand until it is given back",
        Some(Until::For(_)) => "by hand for a time",
        Some(Until::Time(_)) => "by hand until a time of day",
        Some(Until::Holds { .. }) => "by hand until something stays so",
        Some(Until::Event { .. }) => "by hand until something happens",
    }
}

/// The deeds that can be picked for a target of that type, each as it starts.
fn deeds(desk: &Desk<'_>, point_type: Option<PointType>) -> Vec<(Deed, String)> {
    let is = point_type.unwrap_or(PointType::Number);
    let mut offered = vec![
        Deed::Set(usual_value(is)),
        Deed::Toggle,
        Deed::Step(10),
        Deed::Cycle(match is {
            PointType::Colour => vec![usual_value(is), Value::Off],
            PointType::Number => vec![Value::Number(20.0), Value::Number(100.0), Value::Off],
            PointType::State | PointType::Event => vec![Value::On, Value::Off],
        }),
    ];
    offered.extend(desk.project.scenes.ids().next().map(Deed::RunScene));
    offered.push(Deed::notify("Someone is at the door"));
    offered.push(Deed::EnterMode(HouseMode::AtHome));
    offered.extend(desk.project.rules.ids().next().map(Deed::Cancel));
    offered.push(Deed::ReleaseHand);
    let fitting = offered.into_iter().filter(|deed| suits(deed, is));
    let said = |deed| {
        let words = words(&deed).to_owned();
        (deed, words)
    };
    fitting.map(said).collect()
}

const fn words(deed: &Deed) -> &'static str {
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

/// A key and what it is wired to.
pub fn wired(ui: &mut Ui, desk: &Desk<'_>, key: &mut PointRef, target: &mut Target) {
    let is_key = |point: &Point| point.is_event() && super::is_key(&point.point);
    if let Some(other) = desk.point(ui, "Which key", key, is_key) {
        *key = other;
    }
    desk.say(ui, "is wired to");
    let shown = desk.offered.target_words(desk.project, target);
    if let Some(other) = desk.target(ui, "Wired to", &shown) {
        *target = other;
    }
}
