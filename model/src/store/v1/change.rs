//! A change as it stands on one line of the recovery log.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::figures::IdV1;
use super::{
    DeviceV1, Filed, JoineryV1, KindV1, LevelV1, ModeV1, OpeningV1, RoomLineV1, RoomV1, RuleV1, SceneV1,
    ScriptV1, SiteV1, SpotV1, UnderlayV1, WalkV1, WallV1, ZoneV1,
};
use crate::edit::{Change, Entity, Op, Subject};
use crate::project::Kept;

/// Ops under one label.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct ChangeV1 {
    label: String,
    ops: Vec<OpV1>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum OpV1 {
    Put(Box<EntityV1>),
    Remove(SubjectV1),
}

macro_rules! filed_things {
    ($($name:ident as $filed:ident),+ $(,)?) => {
        #[derive(Debug, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        enum EntityV1 {
            Site(SiteV1),
            $($name($filed)),+
        }

        #[derive(Debug, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        enum SubjectV1 {
            Site,
            $($name(IdV1)),+
        }

        impl From<&Entity> for EntityV1 {
            fn from(entity: &Entity) -> Self {
                match entity {
                    Entity::Site(site) => Self::Site(site.as_ref().into()),
                    $(Entity::$name(id, thing) => Self::$name($filed::of(*id, thing))),+
                }
            }
        }

        impl From<EntityV1> for Entity {
            fn from(entity: EntityV1) -> Self {
                match entity {
                    EntityV1::Site(site) => Self::Site(Arc::new(site.into())),
                    $(EntityV1::$name(filed) => {
                        let (id, thing) = filed.thing();
                        Kept::entity(id, Arc::new(thing))
                    }),+
                }
            }
        }

        impl From<Subject> for SubjectV1 {
            fn from(subject: Subject) -> Self {
                match subject {
                    Subject::Site => Self::Site,
                    $(Subject::$name(id) => Self::$name(id.into())),+
                }
            }
        }

        impl From<SubjectV1> for Subject {
            fn from(subject: SubjectV1) -> Self {
                match subject {
                    SubjectV1::Site => Self::Site,
                    $(SubjectV1::$name(id) => Self::$name(id.into())),+
                }
            }
        }
    };
}

filed_things! {
    Level as LevelV1,
    Wall as WallV1,
    Opening as OpeningV1,
    Room as RoomV1,
    RoomLine as RoomLineV1,
    Joinery as JoineryV1,
    Underlay as UnderlayV1,
    Spot as SpotV1,
    Walk as WalkV1,
    Kind as KindV1,
    Device as DeviceV1,
    Zone as ZoneV1,
    Mode as ModeV1,
    Scene as SceneV1,
    Script as ScriptV1,
    Rule as RuleV1,
}

impl From<&Change> for ChangeV1 {
    fn from(Change { label, ops }: &Change) -> Self {
        let ops = ops
            .iter()
            .map(|op| match op {
                Op::Put(entity) => OpV1::Put(Box::new(entity.into())),
                Op::Remove(subject) => OpV1::Remove((*subject).into()),
            })
            .collect();
        Self { label: label.clone(), ops }
    }
}

impl From<ChangeV1> for Change {
    fn from(ChangeV1 { label, ops }: ChangeV1) -> Self {
        let ops = ops
            .into_iter()
            .map(|op| match op {
                OpV1::Put(entity) => Op::Put((*entity).into()),
                OpV1::Remove(subject) => Op::Remove(subject.into()),
            })
            .collect();
        Self { label, ops }
    }
}
