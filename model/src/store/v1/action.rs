//! Actions and settings as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::condition::ConditionV1;
use super::figures::{IdV1, SecondsV1, TimeV1};
use super::value::{GestureV1, HouseModeV1, PointRefV1, ValueV1};
use crate::systems::{Action, Deed, Setting, Target, Until};

/// What an action works on.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum TargetV1 {
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
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum DeedV1 {
    /// Give it a value.
    Set(ValueV1),
    /// All off if any is on, all on if none is.
    Toggle,
    /// Raise or lower by so many percent.
    Step(i8),
    /// Give it the next of these values.
    Cycle(Vec<ValueV1>),
    /// Set all that this scene sets.
    RunScene(IdV1),
    /// Send the household a message.
    Notify(String),
    /// Send the household a message with a still picture of this camera.
    NotifyWithPicture { text: String, camera: IdV1 },
    /// Drop what this rule still waits to do.
    Cancel(IdV1),
    /// Put the house into this mode.
    EnterMode(HouseModeV1),
    /// End what was done by hand at the target, everywhere where there is none.
    ReleaseHand,
}

impl From<&Deed> for DeedV1 {
    fn from(deed: &Deed) -> Self {
        match deed {
            Deed::Set(value) => Self::Set((*value).into()),
            Deed::Toggle => Self::Toggle,
            Deed::Step(percent) => Self::Step(*percent),
            Deed::Cycle(values) => Self::Cycle(values.iter().map(|value| (*value).into()).collect()),
            Deed::RunScene(scene) => Self::RunScene((*scene).into()),
            Deed::Notify { text, picture: None } => Self::Notify(text.clone()),
            Deed::Notify { text, picture: Some(camera) } => {
                Self::NotifyWithPicture { text: text.clone(), camera: (*camera).into() }
            }
            Deed::Cancel(rule) => Self::Cancel((*rule).into()),
            Deed::EnterMode(mode) => Self::EnterMode((*mode).into()),
            Deed::ReleaseHand => Self::ReleaseHand,
        }
    }
}

impl From<DeedV1> for Deed {
    fn from(deed: DeedV1) -> Self {
        match deed {
            DeedV1::Set(value) => Self::Set(value.into()),
            DeedV1::Toggle => Self::Toggle,
            DeedV1::Step(percent) => Self::Step(percent),
            DeedV1::Cycle(values) => Self::Cycle(values.into_iter().map(Into::into).collect()),
            DeedV1::RunScene(scene) => Self::RunScene(scene.into()),
            DeedV1::Notify(text) => Self::Notify { text, picture: None },
            DeedV1::NotifyWithPicture { text, camera } => Self::Notify { text, picture: Some(camera.into()) },
            DeedV1::Cancel(rule) => Self::Cancel(rule.into()),
            DeedV1::EnterMode(mode) => Self::EnterMode(mode.into()),
            DeedV1::ReleaseHand => Self::ReleaseHand,
        }
    }
}

/// How long what is done by hand stands over what rules hold.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum UntilV1 {
    /// Until a rule gives it back.
    Released,
    /// For so long.
    For(SecondsV1),
    /// Until that time of day next comes.
    Time(TimeV1),
    /// Until a condition has held for so long on end.
    Holds { condition: ConditionV1, lasting: SecondsV1 },
    /// Until something happens.
    Event { point: PointRefV1, gesture: GestureV1 },
}

impl From<&Until> for UntilV1 {
    fn from(until: &Until) -> Self {
        match until {
            Until::Released => Self::Released,
            Until::For(time) => Self::For((*time).into()),
            Until::Time(time) => Self::Time(TimeV1(*time)),
            Until::Holds { condition, lasting } => {
                Self::Holds { condition: condition.into(), lasting: (*lasting).into() }
            }
            Until::Event { point, gesture } => {
                Self::Event { point: point.into(), gesture: (*gesture).into() }
            }
        }
    }
}

impl From<UntilV1> for Until {
    fn from(until: UntilV1) -> Self {
        match until {
            UntilV1::Released => Self::Released,
            UntilV1::For(time) => Self::For(time.into()),
            UntilV1::Time(time) => Self::Time(time.0),
            UntilV1::Holds { condition, lasting } => {
                Self::Holds { condition: condition.into(), lasting: lasting.into() }
            }
            UntilV1::Event { point, gesture } => Self::Event { point: point.into(), gesture: gesture.into() },
        }
    }
}

/// One thing that a *when* rule does.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ActionV1 {
    /// Left out where the deed needs none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    target: Option<TargetV1>,
    deed: DeedV1,
    /// So long after the trigger.
    #[serde(default = "SecondsV1::none", skip_serializing_if = "SecondsV1::is_none")]
    after: SecondsV1,
    /// Spread over so long.
    #[serde(default = "SecondsV1::none", skip_serializing_if = "SecondsV1::is_none")]
    fade: SecondsV1,
    /// Done by hand, over what rules hold, until this; left out where it sets what lies beneath.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    by_hand: Option<UntilV1>,
}

impl From<&Action> for ActionV1 {
    fn from(Action { target, deed, after, fade, by_hand }: &Action) -> Self {
        Self {
            target: target.as_ref().map(Into::into),
            deed: deed.into(),
            after: (*after).into(),
            fade: (*fade).into(),
            by_hand: by_hand.as_ref().map(Into::into),
        }
    }
}

impl From<ActionV1> for Action {
    fn from(ActionV1 { target, deed, after, fade, by_hand }: ActionV1) -> Self {
        Self {
            target: target.map(Into::into),
            deed: deed.into(),
            after: after.into(),
            fade: fade.into(),
            by_hand: by_hand.map(Into::into),
        }
    }
}

/// A target held at a value by a *while* rule, or set to it by a scene.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct SettingV1 {
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
