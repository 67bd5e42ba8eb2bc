//! What no rule and no scene may ever be: one that speaks of what is gone, or has a figure that is no number.

use super::Inspector;
use crate::edit::Subject;
use crate::systems::{
    Action, Condition, Deed, Rule, RuleBody, Scene, Setting, Target, Trigger, Until, Value,
};

/// Conditions within conditions, deeper than anyone could read.
const DEEPEST: usize = 8;

/// A rule: what it speaks of is there, its figures and times are sound.
pub(super) fn inspect_rule(inspector: &mut Inspector<'_>, rule: &Rule) {
    if let Some(room) = rule.room {
        inspector.refers(Subject::Room(room));
    }
    rule.zones().into_iter().for_each(|zone| inspector.refers(Subject::Zone(zone)));
    rule.scenes().into_iter().for_each(|scene| inspector.refers(Subject::Scene(scene)));
    rule.modes().into_iter().for_each(|mode| inspector.refers(Subject::Mode(mode)));
    rule.rules().into_iter().for_each(|other| inspector.refers(Subject::Rule(other)));
    rule.cameras().into_iter().for_each(|camera| inspector.refers(Subject::Device(camera)));
    rule.points().into_iter().for_each(|point| inspector.refers_to_point(point));
    match &rule.body {
        RuleBody::When { trigger, conditions, actions } => {
            inspect_trigger(inspector, trigger);
            conditions.iter().for_each(|condition| inspect_condition(inspector, condition));
            actions.iter().for_each(|action| inspect_action(inspector, action));
        }
        RuleBody::While { conditions, linger, settings, .. } => {
            conditions.iter().for_each(|condition| inspect_condition(inspector, condition));
            settings.iter().for_each(|setting| inspect_setting(inspector, setting));
            inspector.not_below_zero("time after", linger.0);
        }
        RuleBody::Wired { .. } => {}
    }
}

/// A scene: what it sets is there, its figures and times are sound.
pub(super) fn inspect_scene(inspector: &mut Inspector<'_>, scene: &Scene) {
    inspector.require(!scene.name.trim().is_empty(), || "give the scene a name".to_owned());
    if let Some(room) = scene.room {
        inspector.refers(Subject::Room(room));
    }
    for setting in &scene.settings {
        match &setting.target {
            Target::Point(point) => inspector.refers_to_point(point),
            Target::Zone(zone) => inspector.refers(Subject::Zone(*zone)),
        }
        inspect_setting(inspector, setting);
    }
}

fn inspect_value(inspector: &mut Inspector<'_>, value: &Value) {
    if let Value::Number(figure) = value {
        inspector.number("figure", *figure);
    }
}

fn inspect_setting(inspector: &mut Inspector<'_>, setting: &Setting) {
    inspect_value(inspector, &setting.value);
    inspector.not_below_zero("fade", setting.fade.0);
}

fn inspect_trigger(inspector: &mut Inspector<'_>, trigger: &Trigger) {
    match trigger {
        Trigger::Becomes { value, .. } => inspect_value(inspector, value),
        Trigger::Stays { condition, lasting } => {
            inspect_condition(inspector, condition);
            inspector.not_below_zero("time it must last", lasting.0);
        }
        Trigger::Event { .. } | Trigger::Time(_) | Trigger::Sun { .. } | Trigger::ModeEntered(_) => {}
    }
}

fn inspect_condition(inspector: &mut Inspector<'_>, condition: &Condition) {
    inspector.require(depth(condition) <= DEEPEST, || {
        "its conditions lie too deep within each other: write two rules".to_owned()
    });
    condition.visit(&mut |condition| match condition {
        Condition::Point { value, .. } => inspect_value(inspector, value),
        Condition::SunHigher { degrees } | Condition::SunLower { degrees } => {
            let sound = degrees.is_finite() && (-90.0..=90.0).contains(degrees);
            inspector.require(sound, || "the sun's height must lie between -90° and 90°".to_owned());
        }
        Condition::SunBetween { from_degrees, to_degrees } => {
            let sound = [from_degrees, to_degrees].iter().all(|bearing| (0.0..=360.0).contains(*bearing));
            inspector.require(sound, || "the sun's bearings must lie between 0° and 360°".to_owned());
        }
        _ => {}
    });
}

fn depth(condition: &Condition) -> usize {
    match condition {
        Condition::Not(inner) => 1 + depth(inner),
        Condition::OneOf(inner) => 1 + inner.iter().map(depth).max().unwrap_or(0),
        _ => 0,
    }
}

fn inspect_action(inspector: &mut Inspector<'_>, action: &Action) {
    match &action.deed {
        Deed::Set(value) => inspect_value(inspector, value),
        Deed::Cycle(values) => values.iter().for_each(|value| inspect_value(inspector, value)),
        _ => {}
    }
    inspector.not_below_zero("wait", action.after.0);
    inspector.not_below_zero("fade", action.fade.0);
    match &action.by_hand {
        Some(Until::For(time)) => inspector.not_below_zero("time by hand", time.0),
        Some(Until::Holds { condition, lasting }) => {
            inspect_condition(inspector, condition);
            inspector.not_below_zero("time it must last", lasting.0);
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use crate::edit::Entity;
    use crate::edit::invariant::inspect;
    use crate::id::Id;
    use crate::kit::Device;
    use crate::small_house::bare_house;
    use crate::systems::{
        Action, Condition, Deed, Gesture, HouseMode, PointRef, Rule, RuleBody, Scene, Setting, Target,
        Trigger, Until, Value,
    };
    use crate::units::{Seconds, TimeOfDay};

    fn rule(body: RuleBody) -> Entity {
        let rule = Rule { name: String::new(), room: None, enabled: true, comment: String::new(), body };
        Entity::Rule(Id::from_number(90), rule.into())
    }

    fn when(actions: Vec<Action>) -> Entity {
        let trigger = Trigger::Time(TimeOfDay { minutes: 0 });
        rule(RuleBody::When { trigger, conditions: Vec::new(), actions })
    }

    fn only_if(condition: Condition) -> Entity {
        let trigger = Trigger::Time(TimeOfDay { minutes: 0 });
        rule(RuleBody::When { trigger, conditions: vec![condition], actions: Vec::new() })
    }

    fn about(entity: &Entity, words: &str) -> bool {
        let mut breaches = Vec::new();
        inspect(&bare_house().project, entity, &mut breaches);
        breaches.iter().any(|refusal| refusal.sentence.contains(words))
    }

    fn is_sound(entity: &Entity) -> bool {
        let mut breaches = Vec::new();
        inspect(&bare_house().project, entity, &mut breaches);
        breaches.is_empty()
    }

    #[test]
    fn figures_and_times_of_rules_are_finite() {
        let action = |after: f64, figure: f64| Action {
            after: Seconds(after),
            ..Action::new(None, Deed::Set(Value::Number(figure)))
        };
        let held = |linger: f64| {
            rule(RuleBody::While {
                conditions: Vec::new(),
                linger: Seconds(linger),
                settings: Vec::<Setting>::new(),
                rank: 0,
                yields_to_hand: true,
            })
        };
        assert!(is_sound(&when(vec![action(5.0, 20.0)])));
        assert!(about(&when(vec![action(f64::NAN, 20.0)]), "wait"));
        assert!(about(&when(vec![action(-1.0, 20.0)]), "wait"));
        assert!(about(&when(vec![action(0.0, f64::INFINITY)]), "figure"));
        assert!(about(&when(vec![Action::new(None, Deed::Cycle(vec![Value::Number(f64::NAN)]))]), "figure"));
        assert!(about(&held(f64::INFINITY), "time after"));
        assert!(!about(&held(30.0), "time after"));
        assert!(is_sound(&only_if(Condition::SunHigher { degrees: 12.5 })));
        assert!(about(&only_if(Condition::SunLower { degrees: 91.0 }), "height"));
        assert!(about(
            &only_if(Condition::SunBetween { from_degrees: 90.0, to_degrees: f64::NAN }),
            "bearings"
        ));
        let by_hand = |until| when(vec![Action { by_hand: Some(until), ..action(0.0, 1.0) }]);
        assert!(about(&by_hand(Until::For(Seconds(-1.0))), "by hand"));
        let deep = (0..9).fold(Condition::Dark, |inner, _| Condition::Not(Box::new(inner)));
        assert!(about(&only_if(deep), "too deep"));
    }

    #[test]
    fn nothing_that_a_rule_or_a_scene_speaks_of_may_be_missing() {
        let nothing: Id<Device> = Id::from_number(77);
        let point = || PointRef::new(nothing, "level");
        let deed = |deed| when(vec![Action::new(None, deed)]);
        let mode = HouseMode::Named(Id::from_number(77));
        let wired = RuleBody::Wired { key: point(), target: Target::Zone(Id::from_number(77)) };
        let until = Until::Event { point: point(), gesture: Gesture::Press };
        let by_hand = Action { by_hand: Some(until), ..Action::new(None, Deed::Toggle) };
        for (entity, what) in [
            (deed(Deed::RunScene(Id::from_number(77))), "scene 77"),
            (deed(Deed::Cancel(Id::from_number(77))), "rule 77"),
            (deed(Deed::EnterMode(mode)), "mode 77"),
            (deed(Deed::Notify { text: String::new(), picture: Some(nothing) }), "device 77"),
            (when(vec![by_hand]), "device 77"),
            (rule(wired), "zone 77"),
            (only_if(Condition::Not(Box::new(Condition::Mode(mode)))), "mode 77"),
            (only_if(Condition::OneOf(vec![Condition::AllOf(Id::from_number(77))])), "zone 77"),
        ] {
            assert!(about(&entity, what), "{entity:?}");
        }
        let setting = Setting { target: Target::Point(point()), value: Value::On, fade: Seconds::ZERO };
        let scene = Scene { name: "Film".to_owned(), room: None, settings: vec![setting] };
        assert!(about(&Entity::Scene(Id::from_number(90), scene.into()), "device 77"));
    }
}
