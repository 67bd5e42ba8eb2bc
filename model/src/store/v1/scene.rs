//! Scenes, named house modes and scripts as they stand in the file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Filed;
use super::action::SettingV1;
use super::figures::IdV1;
use crate::id::Id;
use crate::systems::{Mode, Scene, Script};

/// A named mode of the house.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct ModeV1 {
    id: IdV1,
    name: String,
}

impl Filed<Mode> for ModeV1 {
    fn of(id: Id<Mode>, thing: &Mode) -> Self {
        Self { id: id.into(), name: thing.name.clone() }
    }

    fn thing(self) -> (Id<Mode>, Mode) {
        (self.id.into(), Mode { name: self.name })
    }
}

/// A named list of targets with the values they are set to.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct SceneV1 {
    id: IdV1,
    name: String,
    /// The room under which it is listed; left out for the whole house.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    room: Option<IdV1>,
    settings: Vec<SettingV1>,
}

impl Filed<Scene> for SceneV1 {
    fn of(id: Id<Scene>, thing: &Scene) -> Self {
        let Scene { name, room, settings } = thing;
        Self {
            id: id.into(),
            name: name.clone(),
            room: room.map(Into::into),
            settings: settings.iter().map(Into::into).collect(),
        }
    }

    fn thing(self) -> (Id<Scene>, Scene) {
        let scene = Scene {
            name: self.name,
            room: self.room.map(Into::into),
            settings: self.settings.into_iter().map(Into::into).collect(),
        };
        (self.id.into(), scene)
    }
}

/// A script of a rehearsal, a line a step.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct ScriptV1 {
    id: IdV1,
    name: String,
    lines: Vec<String>,
}

impl Filed<Script> for ScriptV1 {
    fn of(id: Id<Script>, thing: &Script) -> Self {
        Self { id: id.into(), name: thing.name.clone(), lines: thing.lines.clone() }
    }

    fn thing(self) -> (Id<Script>, Script) {
        (self.id.into(), Script { name: self.name, lines: self.lines })
    }
}
