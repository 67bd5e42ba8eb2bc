//! The parts of a rule as pickers: trigger, condition, action, setting. Each shows what is there and offers
//! only what fits: points that exist, values of the point's own type, comparisons that suit it.

mod action;
mod condition;
mod trigger;
mod value;

use egui::{RichText, Ui};
use pattress_model::id::Id;
use pattress_model::kit::Device;
use pattress_model::project::Project;
use pattress_model::sentence::{device_words, mode_words};
use pattress_model::systems::{Gesture, HouseMode, PointRef, Rule, Scene, Setting, Target, Zone};
use pattress_model::units::{Seconds, TimeOfDay};

use super::offered::{Offered, Point};
use super::picker::{Choice, pick};
use crate::window::theme::Theme;
use crate::window::widgets::{lines, text_field};

pub use action::{action, first_action, message, wired};
pub use condition::{condition, conditions_offered};
pub use trigger::{trigger, trigger_of};
pub use value::{fit_comparison, fit_deed, fit_value, usual_value};

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

    /// Points that fit, to be picked from.
    pub fn points_offered(&self, fits: fn(&Point) -> bool) -> Vec<Choice<PointRef>> {
        let fitting = self.offered.points().iter().filter(|point| fits(point));
        fitting
            .map(|point| Choice {
                group: point.room_words.clone(),
                words: point.words.clone(),
                value: point.point.clone(),
            })
            .collect()
    }

    /// Zones and points that obey, to be picked from.
    pub fn targets_offered(&self) -> Vec<Choice<Target>> {
        let zones = self.zones_offered().into_iter().map(|(zone, words)| Choice {
            group: "Zone".to_owned(),
            words,
            value: Target::Zone(zone),
        });
        let points = self.points_offered(Point::obeys).into_iter().map(|choice| Choice {
            group: choice.group,
            words: choice.words,
            value: Target::Point(choice.value),
        });
        zones.chain(points).collect()
    }

    /// Every zone.
    pub fn zones_offered(&self) -> Vec<(Id<Zone>, String)> {
        self.project.zones.iter().map(|(id, zone)| (id, zone.name.clone())).collect()
    }

    /// Every mode of the house.
    pub fn modes_offered(&self) -> Vec<(HouseMode, String)> {
        let named = self.project.modes.ids().map(HouseMode::Named);
        std::iter::once(HouseMode::AtHome)
            .chain(named)
            .map(|mode| (mode, mode_words(self.project, mode)))
            .collect()
    }

    /// Every scene.
    pub fn scenes_offered(&self) -> Vec<(Id<Scene>, String)> {
        self.project.scenes.iter().map(|(id, scene)| (id, scene.name.clone())).collect()
    }

    /// Every rule.
    pub fn rules_offered(&self) -> Vec<(Id<Rule>, String)> {
        self.project.rules.iter().map(|(id, rule)| (id, rule.name.clone())).collect()
    }

    /// Every device that takes pictures.
    pub fn cameras_offered(&self) -> Vec<(Id<Device>, String)> {
        let sees =
            |device: &Device| self.project.kinds.get(device.kind).is_some_and(|kind| kind.optics.is_some());
        let cameras = self.project.devices.iter().filter(|(_, device)| sees(device));
        cameras.map(|(id, _)| (id, device_words(self.project, id))).collect()
    }

    /// A picker of points that fit.
    fn point(&self, ui: &mut Ui, name: &str, shown: &PointRef, fits: fn(&Point) -> bool) -> Option<PointRef> {
        pick(ui, self.theme, name, &self.offered.words(shown), || self.points_offered(fits))
    }

    /// A picker of zones and of points that obey.
    fn target(&self, ui: &mut Ui, name: &str, shown: &str) -> Option<Target> {
        pick(ui, self.theme, name, shown, || self.targets_offered())
    }

    /// A picker of one of a list that may be long, and is made only where it is opened.
    fn one_of<T: Clone>(
        &self,
        ui: &mut Ui,
        name: &str,
        group: &str,
        shown: Option<&str>,
        offered: impl FnOnce(&Self) -> Vec<(T, String)>,
    ) -> Option<T> {
        pick(ui, self.theme, name, shown.unwrap_or("(missing)"), || grouped(group, offered(self)))
    }

    fn mode(&self, ui: &mut Ui, salt: egui::Id, name: &str, mode: &mut HouseMode) {
        let shown = mode_words(self.project, *mode);
        if let Some(other) = lines::choice(ui, salt, name, &shown, 140.0, &self.modes_offered()) {
            *mode = other;
        }
        if self.project.modes.is_empty() {
            lines::caption(ui, self.theme, "Other modes are made among the zones.");
        }
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

    /// A rank, 0 to 255.
    pub fn rank(&mut self, ui: &mut Ui, salt: egui::Id, rank: &mut u8) {
        let parse = |typed: &str| {
            let typed = typed.trim();
            typed.parse::<u8>().map_err(|_| format!("“{typed}” is not a rank: type 0 to 255"))
        };
        if let Some(read) = self.read(ui, salt, "Rank", &rank.to_string(), 40.0, parse) {
            *rank = read;
        }
    }

    fn first(&self, fits: fn(&Point) -> bool) -> Option<&Point> {
        self.offered.points().iter().find(|point| fits(point))
    }

    /// What a new action or setting works on until something is picked: the first zone, else the first point that
    /// obeys.
    pub fn first_target(&mut self) -> Option<Target> {
        let zone = self.project.zones.ids().next().map(Target::Zone);
        let found = zone.or_else(|| self.first(Point::obeys).map(|point| Target::Point(point.point.clone())));
        if found.is_none() {
            self.refusals.push(
                "nothing on the plan can be switched or set yet: place a luminaire, a module or a motor first"
                    .to_owned(),
            );
        }
        found
    }

    /// Something that happens at a point: which, and how.
    fn event(&self, ui: &mut Ui, salt: egui::Id, point: &mut PointRef, gesture: &mut Gesture) {
        if let Some(other) = self.point(ui, "What happens", point, Point::is_event) {
            fit_gesture(&other, gesture);
            *point = other;
        }
        let offered: Vec<_> = gestures(point).iter().map(|each| (*each, each.phrase().to_owned())).collect();
        let picked = lines::choice(ui, salt.with("gesture"), "How", gesture.phrase(), 140.0, &offered);
        if let Some(other) = picked {
            *gesture = other;
        }
    }
}

/// Choices that stand in one group.
pub fn grouped<T>(group: &str, offered: Vec<(T, String)>) -> Vec<Choice<T>> {
    let choice = |(value, words)| Choice { group: group.to_owned(), words, value };
    offered.into_iter().map(choice).collect()
}

/// What can be done to a key, or what an event tells.
fn gestures(point: &PointRef) -> &'static [Gesture] {
    if is_key(point) { &Gesture::ALL[1..] } else { &Gesture::ALL[..1] }
}

/// Whether a point is a key that hands press.
pub fn is_key(point: &PointRef) -> bool {
    point.point.starts_with("key")
}

/// Makes a gesture one that the point has.
pub fn fit_gesture(point: &PointRef, gesture: &mut Gesture) {
    if !gestures(point).contains(gesture) {
        *gesture = gestures(point)[0];
    }
}

/// What a rule holds, or a scene sets, at what.
pub fn setting(ui: &mut Ui, desk: &mut Desk<'_>, salt: egui::Id, setting: &mut Setting) {
    desk.say(ui, "bring");
    let shown = desk.offered.target_words(desk.project, &setting.target);
    if let Some(target) = desk.target(ui, "What is held", &shown) {
        fit_value(desk.project, desk.offered, &setting.target, &target, &mut setting.value);
        setting.target = target;
    }
    desk.say(ui, "to");
    let is = desk.offered.type_of(desk.project, &setting.target);
    let unit = value::target_unit(desk, Some(&setting.target));
    value::value_field(ui, desk, salt.with("value"), is, unit, &mut setting.value);
    desk.say(ui, "over");
    desk.seconds(ui, salt.with("fade"), "Spread over", &mut setting.fade);
}
