//! Rules as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::action::{ActionV1, SettingV1, TargetV1};
use super::condition::ConditionV1;
use super::figures::{IdV1, SecondsV1, TimeV1};
use super::value::{ComparisonV1, GestureV1, HouseModeV1, PointRefV1, ValueV1};
use super::{Filed, words};
use crate::id::Id;
use crate::systems::{Rule, RuleBody, SunEvent, Trigger};

words! {
    /// Sunrise or sunset.
    SunEventV1 for SunEvent { Rise, Set }
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
    /// The house goes into this mode.
    ModeEntered(HouseModeV1),
    /// A condition has held for so long without a break.
    Stays { condition: ConditionV1, lasting: SecondsV1 },
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
            Trigger::ModeEntered(mode) => Self::ModeEntered((*mode).into()),
            Trigger::Stays { condition, lasting } => {
                Self::Stays { condition: condition.into(), lasting: (*lasting).into() }
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
            TriggerV1::ModeEntered(mode) => Self::ModeEntered(mode.into()),
            TriggerV1::Stays { condition, lasting } => {
                Self::Stays { condition: condition.into(), lasting: lasting.into() }
            }
        }
    }
}

/// The forms of rule.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum RuleBodyV1 {
    /// When something happens, if all conditions hold, do.
    When { trigger: TriggerV1, conditions: Vec<ConditionV1>, actions: Vec<ActionV1> },
    /// While all conditions hold, and `linger` after, hold targets at values.
    While {
        conditions: Vec<ConditionV1>,
        linger: SecondsV1,
        settings: Vec<SettingV1>,
        rank: u8,
        /// Whether what is done by hand goes over it; left out where it does.
        #[serde(default = "yields", skip_serializing_if = "is_yielding")]
        yields_to_hand: bool,
    },
    /// A key is wired to what it switches, hub or no hub.
    Wired { key: PointRefV1, target: TargetV1 },
}

const fn yields() -> bool {
    true
}

// Asked by the serializer, which hands over a reference.
#[allow(clippy::trivially_copy_pass_by_ref)]
const fn is_yielding(yields_to_hand: &bool) -> bool {
    *yields_to_hand
}

impl From<&RuleBody> for RuleBodyV1 {
    fn from(body: &RuleBody) -> Self {
        match body {
            RuleBody::When { trigger, conditions, actions } => Self::When {
                trigger: trigger.into(),
                conditions: conditions.iter().map(Into::into).collect(),
                actions: actions.iter().map(Into::into).collect(),
            },
            RuleBody::While { conditions, linger, settings, rank, yields_to_hand } => Self::While {
                conditions: conditions.iter().map(Into::into).collect(),
                linger: (*linger).into(),
                settings: settings.iter().map(Into::into).collect(),
                rank: *rank,
                yields_to_hand: *yields_to_hand,
            },
            RuleBody::Wired { key, target } => Self::Wired { key: key.into(), target: target.into() },
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
            RuleBodyV1::While { conditions, linger, settings, rank, yields_to_hand } => Self::While {
                conditions: conditions.into_iter().map(Into::into).collect(),
                linger: linger.into(),
                settings: settings.into_iter().map(Into::into).collect(),
                rank,
                yields_to_hand,
            },
            RuleBodyV1::Wired { key, target } => Self::Wired { key: key.into(), target: target.into() },
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
