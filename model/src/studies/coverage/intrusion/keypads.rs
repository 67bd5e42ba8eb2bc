//! What each keypad can set: by itself, and by the rules that act when somebody uses it.

use kurbo::Point;

use crate::building::Whereabouts;
use crate::id::Id;
use crate::kit::{Device, Family, PointRole};
use crate::plan::{Level, Room};
use crate::project::Project;
use crate::systems::{Rule, RuleBody, Target, Trigger};

/// What a keypad can do.
#[derive(Clone, Debug, PartialEq)]
pub struct KeypadPowers {
    /// The keypad.
    pub device: Id<Device>,
    /// The storey it is on.
    pub level: Id<Level>,
    /// The room it is in.
    pub room: Option<Id<Room>>,
    /// A touch before its wall's face, mm.
    pub at: Point,
    /// Whether it can set and unset by itself.
    pub sets_by_itself: bool,
    /// Enabled rules by which it sets or unsets.
    pub rules: Vec<Id<Rule>>,
}

impl KeypadPowers {
    /// Whether it can set and unset at all.
    pub fn can_set(&self) -> bool {
        self.sets_by_itself || !self.rules.is_empty()
    }
}

/// Every keypad and reader that people use; the panel is none.
pub(super) fn keypads(project: &Project) -> Vec<KeypadPowers> {
    let whereabouts = Whereabouts::of(project);
    let mut found = Vec::new();
    for (id, device) in project.devices.iter() {
        let Some(kind) = project.kinds.get(device.kind) else { continue };
        let is_used = kind.points.iter().any(|point| {
            point.role == PointRole::Reports && point.point_type == crate::kit::PointType::Event
        });
        if kind.family != Family::Keypads || !is_used {
            continue;
        }
        let Some(at) = Whereabouts::stands_at(project, device) else { continue };
        found.push(KeypadPowers {
            device: id,
            level: device.level,
            room: whereabouts.room_of(project, device),
            at,
            sets_by_itself: kind.point("armed").is_some_and(|point| point.role == PointRole::Does),
            rules: rules_that_set(project, id),
        });
    }
    found
}

/// Enabled rules that start at a keypad and act on `armed`.
fn rules_that_set(project: &Project, keypad: Id<Device>) -> Vec<Id<Rule>> {
    let starts = |rule: &Rule| matches!(&rule.body, RuleBody::When { trigger: Trigger::Event { point, .. }, .. } if point.device == keypad);
    let arms = |rule: &Rule| {
        rule.targets().iter().any(|target| match target {
            Target::Point(point) => point.point == "armed",
            Target::Zone(zone) => project
                .zones
                .get(*zone)
                .is_some_and(|zone| zone.points.iter().any(|point| point.point == "armed")),
        })
    };
    let rules = project.rules.iter().filter(|(_, rule)| rule.enabled && starts(rule) && arms(rule));
    rules.map(|(id, _)| id).collect()
}
