//! The forms of rule, turned into one another; what two forms can both say is kept.

use pattress_model::sentence::USUAL_RANK;
use pattress_model::systems::{
    Action, Condition, Deed, PointRef, RuleBody, Setting, SunEvent, Target, Trigger,
};
use pattress_model::units::Seconds;

/// The form of a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// When something happens.
    When,
    /// While something holds.
    While,
    /// A key wired to what it switches.
    Wired,
}

impl Form {
    /// The form that a rule has.
    pub const fn of(body: &RuleBody) -> Self {
        match body {
            RuleBody::When { .. } => Self::When,
            RuleBody::While { .. } => Self::While,
            RuleBody::Wired { .. } => Self::Wired,
        }
    }
}

/// What a rule turns to where it says nothing of the sort: a key and a target of the plan.
pub struct Spare {
    /// A key.
    pub key: Option<PointRef>,
    /// Something to switch.
    pub target: Option<Target>,
}

/// Turns a rule into another form.
///
/// # Errors
/// A sentence, where the plan has no key or nothing to switch.
pub fn turn(body: &RuleBody, to: Form, spare: Spare) -> Result<RuleBody, String> {
    Ok(match (body, to) {
        (RuleBody::When { .. }, Form::When)
        | (RuleBody::While { .. }, Form::While)
        | (RuleBody::Wired { .. }, Form::Wired) => body.clone(),
        (RuleBody::Wired { key, target }, Form::When) => RuleBody::When {
            trigger: super::rule_parts::trigger_of(key.clone(), pattress_model::kit::PointType::Event),
            conditions: Vec::new(),
            actions: vec![Action::new(Some(target.clone()), Deed::Toggle)],
        },
        (RuleBody::Wired { target, .. }, Form::While) => holding(
            Vec::new(),
            vec![Setting {
                target: target.clone(),
                value: pattress_model::systems::Value::On,
                fade: Seconds::ZERO,
            }],
        ),
        (RuleBody::When { trigger, conditions, actions }, Form::While) => {
            let mut held = conditions.clone();
            match trigger {
                Trigger::Becomes { point, comparison, value } => {
                    let point = point.clone();
                    held.insert(0, Condition::Point { point, comparison: *comparison, value: *value });
                }
                Trigger::Stays { condition, .. } => held.insert(0, condition.clone()),
                Trigger::ModeEntered(mode) => held.insert(0, Condition::Mode(*mode)),
                _ => {}
            }
            let settings = actions.iter().filter_map(|action| match (&action.target, &action.deed) {
                (Some(target), Deed::Set(value)) => {
                    Some(Setting { target: target.clone(), value: *value, fade: action.fade })
                }
                _ => None,
            });
            holding(held, settings.collect())
        }
        (RuleBody::While { conditions, settings, .. }, Form::When) => {
            let mut conditions = conditions.clone();
            let trigger = match conditions.first().cloned() {
                Some(Condition::Point { point, comparison, value }) => {
                    conditions.remove(0);
                    Trigger::Becomes { point, comparison, value }
                }
                Some(Condition::Mode(mode)) => {
                    conditions.remove(0);
                    Trigger::ModeEntered(mode)
                }
                _ => Trigger::Sun { event: SunEvent::Set, offset_minutes: 0 },
            };
            let action = |setting: &Setting| Action {
                fade: setting.fade,
                ..Action::new(Some(setting.target.clone()), Deed::Set(setting.value))
            };
            RuleBody::When { trigger, conditions, actions: settings.iter().map(action).collect() }
        }
        (RuleBody::When { .. } | RuleBody::While { .. }, Form::Wired) => wired(body, spare)?,
    })
}

fn holding(conditions: Vec<Condition>, settings: Vec<Setting>) -> RuleBody {
    RuleBody::While { conditions, linger: Seconds::ZERO, settings, rank: USUAL_RANK, yields_to_hand: true }
}

fn wired(body: &RuleBody, spare: Spare) -> Result<RuleBody, String> {
    let (key, target) = match body {
        RuleBody::When { trigger, actions, .. } => {
            let key = match trigger {
                Trigger::Event { point, .. } => Some(point.clone()),
                _ => None,
            };
            (key, actions.iter().find_map(|action| action.target.clone()))
        }
        RuleBody::While { settings, .. } => (None, settings.first().map(|setting| setting.target.clone())),
        RuleBody::Wired { key, target } => (Some(key.clone()), Some(target.clone())),
    };
    let key =
        key.or(spare.key).ok_or("there is no key on the plan that could be wired: place a plate first")?;
    let target = target
        .or(spare.target)
        .ok_or("nothing on the plan can be switched yet: place a luminaire or a module first")?;
    Ok(RuleBody::Wired { key, target })
}

#[cfg(test)]
mod tests {
    use super::*;
    use pattress_model::id::Id;
    use pattress_model::systems::{Comparison, Value};

    const fn nothing() -> Spare {
        Spare { key: None, target: None }
    }

    #[test]
    fn turning_a_rule_there_and_back_keeps_what_both_forms_say() {
        let point = PointRef::new(Id::from_number(3), "motion");
        let target = Target::Zone(Id::from_number(9));
        let set = Action { fade: Seconds(2.0), ..Action::new(Some(target), Deed::Set(Value::Number(40.0))) };
        let when = RuleBody::When {
            trigger: Trigger::Becomes { point, comparison: Comparison::Is, value: Value::On },
            conditions: vec![Condition::Dark],
            actions: vec![set],
        };
        let held = turn(&when, Form::While, nothing()).unwrap();
        let RuleBody::While { conditions, settings, .. } = &held else { panic!("still a when rule") };
        assert_eq!((conditions.len(), settings.len()), (2, 1));
        assert_eq!(turn(&held, Form::When, nothing()), Ok(when));
    }

    #[test]
    fn a_key_is_wired_to_what_the_rule_works_or_the_plan_has() {
        let key = PointRef::new(Id::from_number(3), "key 1");
        let target = Target::Zone(Id::from_number(9));
        let wired = RuleBody::Wired { key: key.clone(), target: target.clone() };
        let when = turn(&wired, Form::When, nothing()).unwrap();
        assert_eq!(turn(&when, Form::Wired, nothing()), Ok(wired.clone()));
        let held = turn(&wired, Form::While, nothing()).unwrap();
        assert!(turn(&held, Form::Wired, nothing()).unwrap_err().contains("no key"));
        assert_eq!(turn(&held, Form::Wired, Spare { key: Some(key), target: None }), Ok(wired));
    }
}
