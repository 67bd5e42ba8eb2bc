//! A rule that moves a gate, a garage door or a lock: it can crush, trap or let someone in with nobody there.
//!
//! Every such rule is told. It is serious where the rule may open the way though nobody is there to see it (no key or
//! keypad starts it, no presence is among its conditions), or where the motor's kind reports no obstruction, so that
//! the plan shows no protective device.

use super::house::{COMMON_PRACTICE, is_powered_way};
use super::life_safety_rule::targets;
use super::scripted::Stage;
use super::{Check, Finding, House, Severity};
use crate::edit::Subject;
use crate::kit::{Drives, Family, Kind};
use crate::project::Project;
use crate::systems::{Comparison, Condition, Gesture, HouseMode, PointRef, Rule, RuleBody, Trigger, Value};

pub(super) const CHECK: Check = Check { name: "powered-way-rule", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let stage = Stage::of(house.project);
    for (id, rule) in house.project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let moved = targets(house, rule).into_iter().find_map(|device| {
            let device = house.project.devices.get(device)?;
            let kind = house.project.kinds.get(device.kind)?;
            is_powered_way(kind).then_some((device, kind))
        });
        let Some((device, kind)) = moved else { continue };
        let wants = match (is_attended(house.project, rule), shows_protection(kind)) {
            (true, true) => "",
            (false, true) => {
                ", and it may open with nobody there: let a key or a presence sensor be part of it"
            }
            (true, false) => ", and the plan shows none that reports an obstruction",
            (false, false) => {
                ", the plan shows none that reports an obstruction, and it may open with nobody there"
            }
        };
        let sentence = format!(
            "The rule “{}” moves {}: it needs protective devices of its own, and a way out without power{wants}; have \
             both checked by someone competent before the rule is switched on.",
            rule.name, device.tag
        );
        let severity = if wants.is_empty() { Severity::Warning } else { Severity::Serious };
        let script = stage.runs(&format!("{} moves", device.tag), &[id]);
        let finding = house.of_subject(Subject::Rule(id), severity, CHECK.name, sentence, COMMON_PRACTICE);
        found.push(finding.shown_by(script));
    }
}

/// Whether somebody is there: a key or keypad starts the rule, or it asks for presence.
fn is_attended(project: &Project, rule: &Rule) -> bool {
    let family = |point: &PointRef| {
        let device = project.devices.get(point.device)?;
        Some(project.kinds.get(device.kind)?.family)
    };
    let by_person = match &rule.body {
        RuleBody::Wired { .. } => true,
        RuleBody::When { trigger: Trigger::Event { point, gesture }, .. } => {
            *gesture != Gesture::Happens || matches!(family(point), Some(Family::Keypads | Family::Plates))
        }
        _ => false,
    };
    by_person
        || rule.conditions().into_iter().any(|condition| match condition {
            Condition::Point { point, comparison: Comparison::Is, value: Value::On } => {
                family(point) == Some(Family::Presence)
            }
            Condition::Mode(mode) => *mode == HouseMode::AtHome,
            _ => false,
        })
}

/// Whether the kind tells of an obstruction; locks crush nobody.
fn shows_protection(kind: &Kind) -> bool {
    kind.point("obstructed").is_some() || kind.drives == Some(Drives::Lock)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, MountKind};
    use crate::small_house::{bare_house, key_rule, plain_kind};
    use crate::systems::{PointRef, Target};

    #[test]
    fn gates_doors_and_locks_are_cautioned_and_blinds_are_not() {
        // Whatever it is called: what it drives counts.
        for (drives, expected) in [
            (Some(Drives::Gate), 1),
            (Some(Drives::GarageDoor), 1),
            (Some(Drives::Lock), 1),
            (Some(Drives::Blind), 0),
            (None, 0),
        ] {
            let mut house = bare_house();
            let mut kind = plain_kind("Motor", Family::Motors, "M", MountKind::Wall, &["position"]);
            kind.drives = drives;
            let kind = house.put(kind);
            let motor = house.place(kind, house.on_wall(0, 1000.0), Some(500.0));
            let target = Target::Point(PointRef::new(motor, "position"));
            house.put(key_rule("Away", None, motor, "position", target));
            let found_there = found(CHECK, &house.project);
            assert_eq!(found_there.len(), expected, "{drives:?}");
            assert!(found_there.iter().all(|finding| finding.sentence.contains("protective devices")));
        }
    }

    #[test]
    fn opening_with_nobody_there_or_without_protection_is_serious() {
        use crate::kit::{PointRole, PointSpec, PointType};
        use crate::systems::{Rule, RuleBody, Trigger};
        use crate::units::TimeOfDay;
        for (obstructed, by_clock, expected) in [
            (true, false, Severity::Warning),
            (true, true, Severity::Serious),
            (false, false, Severity::Serious),
        ] {
            let mut house = bare_house();
            let mut kind = plain_kind("Gate motor", Family::Motors, "GM", MountKind::Wall, &["position"]);
            kind.drives = Some(Drives::Gate);
            if obstructed {
                let (name, role) = ("obstructed".to_owned(), PointRole::Reports);
                kind.points.push(PointSpec { name, point_type: PointType::State, role });
            }
            let kind = house.put(kind);
            let motor = house.place(kind, house.on_wall(0, 1000.0), Some(500.0));
            let target = Target::Point(PointRef::new(motor, "position"));
            let rule = key_rule("Gate", None, motor, "position", target);
            let RuleBody::When { actions, conditions, .. } = rule.body.clone() else { unreachable!() };
            let trigger = Trigger::Time(TimeOfDay { minutes: 420 });
            let body =
                if by_clock { RuleBody::When { trigger, conditions, actions } } else { rule.body.clone() };
            house.put(Rule { body, ..rule });
            let told = found(CHECK, &house.project);
            assert_eq!(told.iter().map(|finding| finding.severity).collect::<Vec<_>>(), [expected]);
        }
    }
}
