//! Rules as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::figures::{ColourV1, Figure, IdV1, SecondsV1, TimeV1};
use super::{Filed, words};
use crate::id::Id;
use crate::systems::{
    Action, Comparison, Condition, Deed, Gesture, PointRef, Rule, RuleBody, Setting, SunEvent, Target,
    Trigger, Value,
};

/// One point of one device.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PointRefV1 {
    device: IdV1,
    point: String,
}

impl From<&PointRef> for PointRefV1 {
    fn from(PointRef { device, point }: &PointRef) -> Self {
        Self { device: (*device).into(), point: point.clone() }
    }
}

impl From<PointRefV1> for PointRef {
    fn from(PointRefV1 { device, point }: PointRefV1) -> Self {
        Self { device: device.into(), point }
    }
}

words! {
    /// What is done to a key, or what an event point tells.
    GestureV1 for Gesture { Happens, Press, PressTwice, PressThrice, Hold, Release }
}

words! {
    /// Sunrise or sunset.
    SunEventV1 for SunEvent { Rise, Set }
}

words! {
    /// How a value is compared.
    ComparisonV1 for Comparison { Is, IsNot, Below, Above }
}

/// A value that a point can have or be given.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum ValueV1 {
    On,
    Off,
    /// In the point's own unit; percent for levels and positions.
    Number(Figure),
    Colour(ColourV1),
}

impl From<Value> for ValueV1 {
    fn from(value: Value) -> Self {
        match value {
            Value::On => Self::On,
            Value::Off => Self::Off,
            Value::Number(figure) => Self::Number(Figure(figure)),
            Value::Colour(colour) => Self::Colour(ColourV1(colour)),
        }
    }
}

impl From<ValueV1> for Value {
    fn from(value: ValueV1) -> Self {
        match value {
            ValueV1::On => Self::On,
            ValueV1::Off => Self::Off,
            ValueV1::Number(figure) => Self::Number(figure.0),
            ValueV1::Colour(colour) => Self::Colour(colour.0),
        }
    }
}

/// What starts a *when* rule.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum TriggerV1 {
    /// Something happens at an event point.
    Event { point: PointRefV1, gesture: GestureV1 },
    /// A point takes a value it did not have.
    Becomes { point: PointRefV1, comparison: ComparisonV1, value: ValueV1 },
    /// A time of day comes.
    Time(TimeV1),
    /// Sunrise or sunset, so many minutes after it, or before it if below zero.
    Sun { event: SunEventV1, offset_minutes: i16 },
}

impl From<&Trigger> for TriggerV1 {
    fn from(trigger: &Trigger) -> Self {
        match trigger {
            Trigger::Event { point, gesture } => {
                Self::Event { point: point.into(), gesture: (*gesture).into() }
            }
            Trigger::Becomes { point, comparison, value } => Self::Becomes {
                point: point.into(),
                comparison: (*comparison).into(),
                value: (*value).into(),
            },
            Trigger::Time(time) => Self::Time(TimeV1(*time)),
            Trigger::Sun { event, offset_minutes } => {
                Self::Sun { event: (*event).into(), offset_minutes: *offset_minutes }
            }
        }
    }
}

impl From<TriggerV1> for Trigger {
    fn from(trigger: TriggerV1) -> Self {
        match trigger {
            TriggerV1::Event { point, gesture } => {
                Self::Event { point: point.into(), gesture: gesture.into() }
            }
            TriggerV1::Becomes { point, comparison, value } => {
                Self::Becomes { point: point.into(), comparison: comparison.into(), value: value.into() }
            }
            TriggerV1::Time(time) => Self::Time(time.0),
            TriggerV1::Sun { event, offset_minutes } => Self::Sun { event: event.into(), offset_minutes },
        }
    }
}

/// What must hold.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum ConditionV1 {
    /// A point compares so with a value.
    Point { point: PointRefV1, comparison: ComparisonV1, value: ValueV1 },
    /// Any point of this zone is on.
    AnyOf(IdV1),
    /// The clock lies between two times, over midnight if the second comes first.
    Between(TimeV1, TimeV1),
    /// The sun is below the horizon.
    Dark,
    /// The sun is above the horizon.
    Daylight,
}

impl From<&Condition> for ConditionV1 {
    fn from(condition: &Condition) -> Self {
        match condition {
            Condition::Point { point, comparison, value } => {
                Self::Point { point: point.into(), comparison: (*comparison).into(), value: (*value).into() }
            }
            Condition::AnyOf(zone) => Self::AnyOf((*zone).into()),
            Condition::Between(from, to) => Self::Between(TimeV1(*from), TimeV1(*to)),
            Condition::Dark => Self::Dark,
            Condition::Daylight => Self::Daylight,
        }
    }
}

impl From<ConditionV1> for Condition {
    fn from(condition: ConditionV1) -> Self {
        match condition {
            ConditionV1::Point { point, comparison, value } => {
                Self::Point { point: point.into(), comparison: comparison.into(), value: value.into() }
            }
            ConditionV1::AnyOf(zone) => Self::AnyOf(zone.into()),
            ConditionV1::Between(from, to) => Self::Between(from.0, to.0),
            ConditionV1::Dark => Self::Dark,
            ConditionV1::Daylight => Self::Daylight,
        }
    }
}

/// What an action works on.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum TargetV1 {
    /// One point.
    Point(PointRefV1),
    /// Every point of this zone.
    Zone(IdV1),
}

impl From<&Target> for TargetV1 {
    fn from(target: &Target) -> Self {
        match target {
            Target::Point(point) => Self::Point(point.into()),
            Target::Zone(zone) => Self::Zone((*zone).into()),
        }
    }
}

impl From<TargetV1> for Target {
    fn from(target: TargetV1) -> Self {
        match target {
            TargetV1::Point(point) => Self::Point(point.into()),
            TargetV1::Zone(zone) => Self::Zone(zone.into()),
        }
    }
}

/// What is done.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum DeedV1 {
    /// Give it a value.
    Set(ValueV1),
    /// On if off, off if on.
    Toggle,
    /// Raise or lower by so many percent.
    Step(i8),
    /// Send the household a message.
    Notify(String),
}

impl From<&Deed> for DeedV1 {
    fn from(deed: &Deed) -> Self {
        match deed {
            Deed::Set(value) => Self::Set((*value).into()),
            Deed::Toggle => Self::Toggle,
            Deed::Step(percent) => Self::Step(*percent),
            Deed::Notify(text) => Self::Notify(text.clone()),
        }
    }
}

impl From<DeedV1> for Deed {
    fn from(deed: DeedV1) -> Self {
        match deed {
            DeedV1::Set(value) => Self::Set(value.into()),
            DeedV1::Toggle => Self::Toggle,
            DeedV1::Step(percent) => Self::Step(percent),
            DeedV1::Notify(text) => Self::Notify(text),
        }
    }
}

/// One thing that a *when* rule does.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct ActionV1 {
    /// Left out for a message alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    target: Option<TargetV1>,
    deed: DeedV1,
    /// So long after the trigger.
    #[serde(default = "SecondsV1::none", skip_serializing_if = "SecondsV1::is_none")]
    after: SecondsV1,
    /// Spread over so long.
    #[serde(default = "SecondsV1::none", skip_serializing_if = "SecondsV1::is_none")]
    fade: SecondsV1,
}

impl From<&Action> for ActionV1 {
    fn from(Action { target, deed, after, fade }: &Action) -> Self {
        Self {
            target: target.as_ref().map(Into::into),
            deed: deed.into(),
            after: (*after).into(),
            fade: (*fade).into(),
        }
    }
}

impl From<ActionV1> for Action {
    fn from(ActionV1 { target, deed, after, fade }: ActionV1) -> Self {
        Self { target: target.map(Into::into), deed: deed.into(), after: after.into(), fade: fade.into() }
    }
}

/// A target held at a value by a *while* rule.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct SettingV1 {
    target: TargetV1,
    value: ValueV1,
    /// Spread over so long.
    #[serde(default = "SecondsV1::none", skip_serializing_if = "SecondsV1::is_none")]
    fade: SecondsV1,
}

impl From<&Setting> for SettingV1 {
    fn from(Setting { target, value, fade }: &Setting) -> Self {
        Self { target: target.into(), value: (*value).into(), fade: (*fade).into() }
    }
}

impl From<SettingV1> for Setting {
    fn from(SettingV1 { target, value, fade }: SettingV1) -> Self {
        Self { target: target.into(), value: value.into(), fade: fade.into() }
    }
}

/// The two forms of rule.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum RuleBodyV1 {
    /// When something happens, if all conditions hold, do.
    When { trigger: TriggerV1, conditions: Vec<ConditionV1>, actions: Vec<ActionV1> },
    /// While all conditions hold, and `linger` after, hold targets at values.
    While { conditions: Vec<ConditionV1>, linger: SecondsV1, settings: Vec<SettingV1>, rank: u8 },
}

impl From<&RuleBody> for RuleBodyV1 {
    fn from(body: &RuleBody) -> Self {
        match body {
            RuleBody::When { trigger, conditions, actions } => Self::When {
                trigger: trigger.into(),
                conditions: conditions.iter().map(Into::into).collect(),
                actions: actions.iter().map(Into::into).collect(),
            },
            RuleBody::While { conditions, linger, settings, rank } => Self::While {
                conditions: conditions.iter().map(Into::into).collect(),
                linger: (*linger).into(),
                settings: settings.iter().map(Into::into).collect(),
                rank: *rank,
            },
        }
    }
}

impl From<RuleBodyV1> for RuleBody {
    fn from(body: RuleBodyV1) -> Self {
        match body {
            RuleBodyV1::When { trigger, conditions, actions } => Self::When {
                trigger: trigger.into(),
                conditions: conditions.into_iter().map(Into::into).collect(),
                actions: actions.into_iter().map(Into::into).collect(),
            },
            RuleBodyV1::While { conditions, linger, settings, rank } => Self::While {
                conditions: conditions.into_iter().map(Into::into).collect(),
                linger: linger.into(),
                settings: settings.into_iter().map(Into::into).collect(),
                rank,
            },
        }
    }
}

/// A rule.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct RuleV1 {
    id: IdV1,
    name: String,
    /// The room under which it is listed; left out for the whole house.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    room: Option<IdV1>,
    enabled: bool,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    comment: String,
    body: RuleBodyV1,
}

impl Filed<Rule> for RuleV1 {
    fn of(id: Id<Rule>, thing: &Rule) -> Self {
        let Rule { name, room, enabled, comment, body } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            room: room.map(Into::into),
            enabled: *enabled,
            comment: comment.clone(),
            body: body.into(),
        }
    }

    fn thing(self) -> (Id<Rule>, Rule) {
        let rule = Rule {
            name: self.name,
            room: self.room.map(Into::into),
            enabled: self.enabled,
            comment: self.comment,
            body: self.body.into(),
        };
        (self.id.into(), rule)
    }
}
