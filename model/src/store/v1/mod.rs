//! The structs of format version 1: what stands in `project.json`, field by field.
//!
//! One struct for each sort of thing, ids as bare numbers, points `[x, y]` in millimetres, angles in degrees
//! anticlockwise from +x, money in hundredths. Once issued, nothing here may change meaning: what must
//! change becomes the next version, with a migration from this one.

// These structs are known to this module's parent alone; their schema, comments included, is issued.
#![allow(missing_docs)]

mod action;
mod capability;
mod change;
mod condition;
mod device;
mod figures;
mod kit;
mod plan;
mod room_line;
mod rule;
mod scene;
mod site;
mod spot;
mod value;
mod zone;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub(super) use change::ChangeV1;
pub(super) use device::DeviceV1;
pub(super) use figures::{IdV1, TagNumber};
pub(super) use kit::KindV1;
pub(super) use plan::{JoineryV1, LevelV1, OpeningV1, RoomV1, UnderlayV1, WallV1};
pub(super) use room_line::RoomLineV1;
pub(super) use rule::RuleV1;
pub(super) use scene::{ModeV1, SceneV1, ScriptV1};
pub(super) use site::SiteV1;
pub(super) use spot::{SpotV1, WalkV1};
pub(super) use zone::ZoneV1;

use crate::id::Id;

/// How a thing stands in the file: with its number, in file units.
pub(super) trait Filed<T>: Sized {
    fn of(id: Id<T>, thing: &T) -> Self;
    fn thing(self) -> (Id<T>, T);
}

/// A plan as a whole: `project.json`.
#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PlanV1 {
    /// Always `pattress-plan`.
    pub format: String,
    /// Version of the format: 1.
    pub version: u32,
    /// The release that wrote it.
    pub written_by: String,
    /// The next number to give to a thing; numbers are never given twice.
    pub next_id: IdV1,
    /// The highest number given under each tag code, removed devices included.
    pub highest_tags: BTreeMap<String, TagNumber>,
    /// Title block and site facts.
    pub site: SiteV1,
    /// Storeys.
    pub levels: Vec<LevelV1>,
    /// Walls.
    pub walls: Vec<WallV1>,
    /// Doors, windows and plain openings.
    pub openings: Vec<OpeningV1>,
    /// Rooms.
    pub rooms: Vec<RoomV1>,
    /// Lines between rooms that no wall parts; left out where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub room_lines: Vec<RoomLineV1>,
    /// Joinery.
    pub joinery: Vec<JoineryV1>,
    /// Pictures to trace.
    pub underlays: Vec<UnderlayV1>,
    /// Places that matter to what the house senses.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spots: Vec<SpotV1>,
    /// Ways that people take.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub walks: Vec<WalkV1>,
    /// The kinds of device used.
    pub kinds: Vec<KindV1>,
    /// Devices placed.
    pub devices: Vec<DeviceV1>,
    /// Zones.
    pub zones: Vec<ZoneV1>,
    /// House modes, at home apart; left out where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub modes: Vec<ModeV1>,
    /// Scenes; left out where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub scenes: Vec<SceneV1>,
    /// Scripts of rehearsals.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub scripts: Vec<ScriptV1>,
    /// Rules.
    pub rules: Vec<RuleV1>,
}

/// Declares a file enum of plain words for a domain enum of the same variants, and conversion both ways.
macro_rules! words {
    ($(#[$doc:meta])* $filed:ident for $domain:ty { $($variant:ident),+ $(,)? }) => {
        words!($(#[$doc])* $filed for $domain as "snake_case" { $($variant),+ });
    };
    ($(#[$doc:meta])* $filed:ident for $domain:ty as $case:literal { $($variant:ident),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
        #[serde(rename_all = $case)]
        pub(in crate::store) enum $filed { $($variant),+ }

        impl From<$domain> for $filed {
            fn from(value: $domain) -> Self {
                match value { $(<$domain>::$variant => Self::$variant),+ }
            }
        }

        impl From<$filed> for $domain {
            fn from(value: $filed) -> Self {
                match value { $($filed::$variant => Self::$variant),+ }
            }
        }
    };
}
use words;
