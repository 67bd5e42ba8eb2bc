//! What a rule speaks of: points, zones, scenes, modes, other rules, cameras, in the order in which it does.

use super::{Action, Condition, Deed, Rule, RuleBody, Setting, Target, Trigger, Until};
use crate::id::Id;
use crate::kit::Device;
use crate::systems::{HouseMode, Mode, PointRef, Scene, Zone};

/// One thing that a rule or a scene speaks of.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Reference<'a> {
    Point(&'a PointRef),
    Zone(Id<Zone>),
    Scene(Id<Scene>),
    Mode(Id<Mode>),
    Rule(Id<Rule>),
    Camera(Id<Device>),
}

impl Rule {
    /// Every point the rule speaks of, in the order in which it does.
    pub fn points(&self) -> Vec<&PointRef> {
        self.references(|reference| match reference {
            Reference::Point(point) => Some(point),
            _ => None,
        })
    }

    /// Every zone the rule speaks of, in the order in which it does.
    pub fn zones(&self) -> Vec<Id<Zone>> {
        self.references(|reference| match reference {
            Reference::Zone(zone) => Some(zone),
            _ => None,
        })
    }

    /// Every scene the rule runs.
    pub fn scenes(&self) -> Vec<Id<Scene>> {
        self.references(|reference| match reference {
            Reference::Scene(scene) => Some(scene),
            _ => None,
        })
    }

    /// Every mode the rule speaks of, `at home` apart, which every house has.
    pub fn modes(&self) -> Vec<Id<Mode>> {
        self.references(|reference| match reference {
            Reference::Mode(mode) => Some(mode),
            _ => None,
        })
    }

    /// Every rule whose waiting actions the rule drops.
    pub fn rules(&self) -> Vec<Id<Rule>> {
        self.references(|reference| match reference {
            Reference::Rule(rule) => Some(rule),
            _ => None,
        })
    }

    /// Every camera whose picture goes with a message.
    pub fn cameras(&self) -> Vec<Id<Device>> {
        self.references(|reference| match reference {
            Reference::Camera(camera) => Some(camera),
            _ => None,
        })
    }

    /// Every device the rule speaks of: those of its points, and its cameras.
    pub fn devices(&self) -> Vec<Id<Device>> {
        self.references(|reference| match reference {
            Reference::Point(point) => Some(point.device),
            Reference::Camera(camera) => Some(camera),
            _ => None,
        })
    }

    /// What the rule works on: targets of its actions or settings, and what its key is wired to. What a scene
    /// sets is asked of the scene.
    pub fn targets(&self) -> Vec<&Target> {
        match &self.body {
            RuleBody::When { actions, .. } => {
                actions.iter().filter_map(|action| action.target.as_ref()).collect()
            }
            RuleBody::While { settings, .. } => settings.iter().map(|setting| &setting.target).collect(),
            RuleBody::Wired { target, .. } => vec![target],
        }
    }

    /// Every condition of the rule, those within others included, wherever it stands.
    pub fn conditions(&self) -> Vec<&Condition> {
        let mut found = Vec::new();
        let mut on = |condition| found.push(condition);
        match &self.body {
            RuleBody::When { trigger, conditions, actions } => {
                if let Trigger::Stays { condition, .. } = trigger {
                    condition.visit(&mut on);
                }
                conditions.iter().for_each(|condition| condition.visit(&mut on));
                for action in actions {
                    if let Some(Until::Holds { condition, .. }) = &action.by_hand {
                        condition.visit(&mut on);
                    }
                }
            }
            RuleBody::While { conditions, .. } => {
                conditions.iter().for_each(|condition| condition.visit(&mut on));
            }
            RuleBody::Wired { .. } => {}
        }
        found
    }

    /// The rule with each of its points put through `change`.
    pub fn with_points(&self, change: &impl Fn(&PointRef) -> PointRef) -> Self {
        let mut rule = self.clone();
        let mut in_condition = |condition: &mut Condition| {
            if let Condition::Point { point, .. } = condition {
                *point = change(point);
            }
        };
        match &mut rule.body {
            RuleBody::When { trigger, conditions, actions } => {
                match trigger {
                    Trigger::Event { point, .. } | Trigger::Becomes { point, .. } => *point = change(point),
                    Trigger::Stays { condition, .. } => condition.visit_mut(&mut in_condition),
                    Trigger::Time(_) | Trigger::Sun { .. } | Trigger::ModeEntered(_) => {}
                }
                conditions.iter_mut().for_each(|condition| condition.visit_mut(&mut in_condition));
                for Action { target, by_hand, .. } in actions {
                    target.iter_mut().for_each(|target| target.change_point(change));
                    match by_hand {
                        Some(Until::Holds { condition, .. }) => condition.visit_mut(&mut in_condition),
                        Some(Until::Event { point, .. }) => *point = change(point),
                        _ => {}
                    }
                }
            }
            RuleBody::While { conditions, settings, .. } => {
                conditions.iter_mut().for_each(|condition| condition.visit_mut(&mut in_condition));
                settings.iter_mut().for_each(|setting| setting.target.change_point(change));
            }
            RuleBody::Wired { key, target } => {
                *key = change(key);
                target.change_point(change);
            }
        }
        rule
    }

    fn references<'a, T>(&'a self, wanted: impl Fn(Reference<'a>) -> Option<T>) -> Vec<T> {
        let mut found = Vec::new();
        self.visit(&mut |reference| found.extend(wanted(reference)));
        found
    }

    fn visit<'a>(&'a self, on: &mut impl FnMut(Reference<'a>)) {
        match &self.body {
            RuleBody::When { trigger, conditions, actions } => {
                match trigger {
                    Trigger::Event { point, .. } | Trigger::Becomes { point, .. } => {
                        on(Reference::Point(point));
                    }
                    Trigger::ModeEntered(mode) => mode_in(*mode, on),
                    Trigger::Stays { condition, .. } => in_condition(condition, on),
                    Trigger::Time(_) | Trigger::Sun { .. } => {}
                }
                conditions.iter().for_each(|condition| in_condition(condition, on));
                actions.iter().for_each(|action| in_action(action, on));
            }
            RuleBody::While { conditions, settings, .. } => {
                conditions.iter().for_each(|condition| in_condition(condition, on));
                settings.iter().for_each(|setting| in_target(&setting.target, on));
            }
            RuleBody::Wired { key, target } => {
                on(Reference::Point(key));
                in_target(target, on);
            }
        }
    }
}

fn in_condition<'a>(condition: &'a Condition, on: &mut impl FnMut(Reference<'a>)) {
    condition.visit(&mut |condition| match condition {
        Condition::Point { point, .. } => on(Reference::Point(point)),
        Condition::AnyOf(zone) | Condition::AllOf(zone) => on(Reference::Zone(*zone)),
        Condition::Mode(mode) => mode_in(*mode, on),
        _ => {}
    });
}

fn in_action<'a>(action: &'a Action, on: &mut impl FnMut(Reference<'a>)) {
    action.target.iter().for_each(|target| in_target(target, on));
    match &action.deed {
        Deed::RunScene(scene) => on(Reference::Scene(*scene)),
        Deed::Notify { picture: Some(camera), .. } => on(Reference::Camera(*camera)),
        Deed::Cancel(rule) => on(Reference::Rule(*rule)),
        Deed::EnterMode(mode) => mode_in(*mode, on),
        _ => {}
    }
    match &action.by_hand {
        Some(Until::Holds { condition, .. }) => in_condition(condition, on),
        Some(Until::Event { point, .. }) => on(Reference::Point(point)),
        _ => {}
    }
}

fn in_target<'a>(target: &'a Target, on: &mut impl FnMut(Reference<'a>)) {
    match target {
        Target::Point(point) => on(Reference::Point(point)),
        Target::Zone(zone) => on(Reference::Zone(*zone)),
    }
}

fn mode_in<'a>(mode: HouseMode, on: &mut impl FnMut(Reference<'a>)) {
    if let HouseMode::Named(mode) = mode {
        on(Reference::Mode(mode));
    }
}

impl Target {
    fn change_point(&mut self, change: &impl Fn(&PointRef) -> PointRef) {
        if let Self::Point(point) = self {
            *point = change(point);
        }
    }
}

impl Scene {
    /// The scene with each of its points put through `change`.
    pub fn with_points(&self, change: &impl Fn(&PointRef) -> PointRef) -> Self {
        let mut scene = self.clone();
        scene.settings.iter_mut().for_each(|setting: &mut Setting| setting.target.change_point(change));
        scene
    }

    /// Every point the scene sets by itself.
    pub fn points(&self) -> impl Iterator<Item = &PointRef> {
        self.settings.iter().filter_map(|setting| match &setting.target {
            Target::Point(point) => Some(point),
            Target::Zone(_) => None,
        })
    }

    /// Every zone the scene sets.
    pub fn zones(&self) -> impl Iterator<Item = Id<Zone>> {
        self.settings.iter().filter_map(|setting| match setting.target {
            Target::Zone(zone) => Some(zone),
            Target::Point(_) => None,
        })
    }
}
