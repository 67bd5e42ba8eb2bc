//! A lamp that some rule lights and no rule ever puts out: it burns until someone pulls the fuse.
//!
//! What is found here follows from the rules' words alone; whether a lamp that some rule does put out may still be
//! left burning is tried step by step by `studies::rehearsal::proof`.

use std::collections::{BTreeMap, BTreeSet};

use super::house::COMMON_PRACTICE;
use super::rules_disagree::points;
use super::{Check, Finding, House, Severity};
use crate::project::Project;
use crate::systems::{Action, Deed, PointRef, Rule, RuleBody, Target, Until, Value};

pub(super) const CHECK: Check = Check { name: "never-put-out", limits: &[], run };

fn run(house: &House<'_>, found: &mut Vec<Finding>) {
    let project = house.project;
    let mut lit_by: BTreeMap<PointRef, &str> = BTreeMap::new();
    let mut put_out: BTreeSet<PointRef> = BTreeSet::new();
    for (_, rule) in project.rules.iter().filter(|(_, rule)| rule.enabled) {
        let (lit, out) = works(project, rule);
        for point in lit {
            lit_by.entry(point).or_insert(&rule.name);
        }
        put_out.extend(out);
    }
    for (point, rule) in lit_by.iter().filter(|(point, _)| !put_out.contains(point)) {
        let Some(device) = project.devices.get(point.device) else { continue };
        let kind = project.kinds.get(device.kind);
        if !kind.is_some_and(|kind| kind.lamp.is_some() && kind.point(&point.point).is_some()) {
            continue;
        }
        let sentence = format!(
            "{}: the rule “{rule}” turns its {} on and no rule turns it off: write what puts it out.",
            house.called(device),
            point.point
        );
        let about = (point.device, device);
        found.push(house.of_device(about, Severity::Warning, CHECK.name, sentence, COMMON_PRACTICE));
    }
}

/// Points that a rule may light for good, and points that it may put out. A hold ends by itself.
fn works(project: &Project, rule: &Rule) -> (Vec<PointRef>, Vec<PointRef>) {
    let (mut lit, mut out) = (Vec::new(), Vec::new());
    match &rule.body {
        RuleBody::Wired { target, .. } => out.extend(points(project, target)),
        RuleBody::While { .. } => {}
        RuleBody::When { actions, .. } => {
            for action in actions {
                work(project, action, &mut lit, &mut out);
            }
        }
    }
    (lit, out)
}

fn work(project: &Project, action: &Action, lit: &mut Vec<PointRef>, out: &mut Vec<PointRef>) {
    let target = || action.target.as_ref().map_or_else(Vec::new, |target| points(project, target));
    // What is by hand ends by itself, but for what waits to be given back.
    let ends = action.by_hand.as_ref().is_some_and(|until| *until != Until::Released);
    let mut set = |points: Vec<PointRef>, value: Value| {
        if !is_on(value) || ends {
            out.extend(points);
        } else {
            lit.extend(points);
        }
    };
    match &action.deed {
        Deed::Set(value) => set(target(), *value),
        Deed::RunScene(scene) => {
            let settings = project.scenes.get(*scene).map(|scene| scene.settings.iter());
            for setting in settings.into_iter().flatten() {
                set(points(project, &setting.target), setting.value);
            }
        }
        Deed::Cycle(values) if values.iter().all(|value| is_on(*value)) => lit.extend(target()),
        Deed::Step(percent) if *percent > 0 => lit.extend(target()),
        Deed::Toggle | Deed::Cycle(_) | Deed::Step(_) => out.extend(target()),
        Deed::ReleaseHand => match &action.target {
            Some(Target::Zone(_) | Target::Point(_)) => out.extend(target()),
            None => {}
        },
        Deed::Notify { .. } | Deed::Cancel(_) | Deed::EnterMode(_) => {}
    }
}

fn is_on(value: Value) -> bool {
    match value {
        Value::On => true,
        Value::Off => false,
        Value::Number(figure) => figure > 0.0,
        Value::Colour(colour) => colour != [0; 3],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::tests::found;
    use crate::kit::{Family, Lamp, Mount, MountKind};
    use crate::small_house::{bare_house, key_rule, plain_kind};
    use crate::units::{Lumens, Seconds};

    #[test]
    fn a_lamp_that_is_only_lit_is_found_and_one_that_a_key_turns_over_is_not() {
        use Value::{Number, Off, On};
        for (deeds, expected) in [
            (vec![Deed::Set(On)], 1),
            (vec![Deed::Set(Number(20.0)), Deed::Step(10)], 1),
            (vec![Deed::Cycle(vec![Number(20.0), On])], 1),
            (vec![Deed::Set(On), Deed::Set(Off)], 0),
            (vec![Deed::Set(On), Deed::Toggle], 0),
            (vec![Deed::Set(On), Deed::Step(-10)], 0),
            (vec![Deed::Set(Off)], 0),
        ] {
            let mut house = bare_house();
            let mut lamp = plain_kind("Lamp", Family::Luminaires, "DL", MountKind::Ceiling, &["level"]);
            lamp.lamp =
                Some(Lamp { flux: Lumens(650.0), beam: None, colour_temperature_k: 2700, dims: true });
            let lamp = house.put(lamp);
            let lamp = house.place(lamp, Mount::Ceiling { at: (1000.0, 1000.0).into() }, None);
            for deed in &deeds {
                let mut rule =
                    key_rule("Test", None, lamp, "level", Target::Point(PointRef::new(lamp, "level")));
                let RuleBody::When { actions, .. } = &mut rule.body else { unreachable!() };
                actions[0].deed = deed.clone();
                actions[0].fade = Seconds(1.0);
                house.put(rule);
            }
            assert_eq!(found(CHECK, &house.project).len(), expected, "{deeds:?}");
        }
    }
}
